"""A weather forecast as data: intervals of UTC with what each feed knows of them.

A record here is already in the project's units; how a feed's words become it is the
business of `suntrack.edge.feeds`.  Everything but the intervals is optional, because every
feed leaves something out, and some of it only on some days.
"""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime, timedelta
from typing import TYPE_CHECKING, Literal

import numpy as np

from suntrack.sky.freshness import is_stale

if TYPE_CHECKING:
    from numpy.typing import NDArray

ForecastClass = Literal["radiation", "cloud only"]
"""What the sunlight of a forecast rests on; cloud alone tells far less of it."""

LEAST_INDEX_SD: dict[ForecastClass, float] = {"radiation": 0.12, "cloud only": 0.25}
"""Least error of the clear-sky index a day ahead that skies made of a forecast have to show,
as a standard deviation: half that of persistence at the clearest of seven US stations of 2018,
and twice that for cloud (our estimate from those measurements).  [-]"""
HOUR_S = 3600.0
MEMBER_FIELDS = (
    "global_horizontal_w_m2",
    "beam_normal_w_m2",
    "diffuse_horizontal_w_m2",
    "cloud",
    "cloud_low",
    "cloud_mid",
    "cloud_high",
    "air_c",
    "wind_m_s",
    "gust_m_s",
    "rain_chance",
)


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Forecast:
    """What one feed says of the coming days, for one or more equally likely members.

    Member arrays have the shape (members, intervals).  A field is None where the feed does
    not give it, and nan where it is not known for that interval: never zero instead.
    Intervals are half open, [start, end), ascending and do not overlap; they may differ in
    length and may leave gaps.
    """

    feed: str
    """Name of the feed, as the config spells it."""
    kind: ForecastClass
    """What kind of forecast it is."""
    starts_at_s: NDArray[np.float64]
    """Start of each interval, seconds since 1970 UTC, shape (intervals,).  [s]"""
    ends_at_s: NDArray[np.float64]
    """End of each interval, shape (intervals,).  [s]"""
    fetched_at: datetime
    """When it was read from the network.  Aware."""
    issued_at: datetime | None = None
    """When the feed made it; None when it does not say.  Aware."""
    global_horizontal_w_m2: NDArray[np.float64] | None = None
    """Mean over the interval, as the next two."""
    beam_normal_w_m2: NDArray[np.float64] | None = None
    """Square to the rays.  [W/m2]"""
    diffuse_horizontal_w_m2: NDArray[np.float64] | None = None
    """From the sky on level ground.  [W/m2]"""
    cloud: NDArray[np.float64] | None = None
    """Share of the sky under cloud of any height, mean over the interval, 0 to 1.  [-]"""
    cloud_low: NDArray[np.float64] | None = None
    """Share of the sky; None where it is not told.  [-]"""
    cloud_mid: NDArray[np.float64] | None = None
    """Share of the sky; None where it is not told.  [-]"""
    cloud_high: NDArray[np.float64] | None = None
    """Share of the sky; None where it is not told.  [-]"""
    air_c: NDArray[np.float64] | None = None
    """Mean air temperature 2 m above the ground."""
    wind_m_s: NDArray[np.float64] | None = None
    """Mean wind 10 m above the ground."""
    gust_m_s: NDArray[np.float64] | None = None
    """Strongest gust in the interval, 10 m above the ground."""
    rain_chance: NDArray[np.float64] | None = None
    """Chance of rain in the interval, 0 to 1.  [-]"""
    elevation_m: float | None = None
    """Height that the feed reckoned with, above sea level."""
    cell_distance_m: float | None = None
    """From the site to the middle of the feed's grid cell; None when it does not say."""
    attribution: str = ""
    """The words that the feed's terms ask to be shown."""
    notes: tuple[str, ...] = ()
    """What is missing or doubtful, in words for people."""

    def __post_init__(self) -> None:
        """Refuse shapes and intervals that do not fit together."""
        _check_intervals(self.starts_at_s, self.ends_at_s)
        shapes = {np.shape(values) for values in self.member_arrays().values()}
        if len(shapes) > 1:
            raise ValueError(f"the member arrays have the shapes {sorted(shapes)}; give them one")
        if shapes and next(iter(shapes))[1:] != self.starts_at_s.shape:
            raise ValueError(
                f"the member arrays have the shape {shapes.pop()}; "
                f"there are {self.starts_at_s.size} intervals"
            )

    def member_arrays(self) -> dict[str, NDArray[np.float64]]:
        """Return the fields that the feed gives, by name."""
        given = {name: getattr(self, name) for name in MEMBER_FIELDS}
        return {name: values for name, values in given.items() if values is not None}

    @property
    def members(self) -> int:
        """How many members there are; 1 for a plain forecast."""
        arrays = self.member_arrays()
        return next(iter(arrays.values())).shape[0] if arrays else 1

    @property
    def mid_at_s(self) -> NDArray[np.float64]:
        """The middle of each interval, where the sun stands for its mean.  [s]"""
        return 0.5 * (self.starts_at_s + self.ends_at_s)

    @property
    def coarse(self) -> NDArray[np.bool_]:
        """True where an interval is longer than an hour, and says less of each hour in it."""
        return self.ends_at_s - self.starts_at_s > 1.5 * HOUR_S

    def age(self, now: datetime) -> timedelta:
        """Return how old the forecast is: since its issue where that is known."""
        return max(now - (self.issued_at or self.fetched_at), timedelta(0))

    def usable(self, now: datetime) -> bool:
        """Return whether it may still be used: 48 hours from when it was fetched."""
        return not is_stale(self.fetched_at, now=now)


def _check_intervals(starts_at_s: NDArray[np.float64], ends_at_s: NDArray[np.float64]) -> None:
    """Refuse intervals that are empty, out of order or that overlap."""
    if starts_at_s.ndim != 1 or starts_at_s.shape != ends_at_s.shape:
        raise ValueError("starts_at_s and ends_at_s have to be rows of one length")
    if not np.all(ends_at_s > starts_at_s):
        raise ValueError("an interval ends before it starts")
    if not np.all(starts_at_s[1:] >= ends_at_s[:-1]):
        raise ValueError("the intervals overlap or are out of order")
