"""What a forecast foresees of a day's light, hour by hour, as a clear-sky index.

Radiation is a mean over its interval, so it is divided by the mean of the cloudless light
over the same interval, with the sun where it stands then and not at the interval's label.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from suntrack.sky.decomposition import light_under_cloud, shading_cloud

if TYPE_CHECKING:
    from collections.abc import Iterator

    from numpy.typing import NDArray

    from suntrack.sky.forecast import Forecast
    from suntrack.sky.sun import SunTable
    from suntrack.sky.weather import Weather

HOUR_S = 3600.0
LOW_SUN_DEG = 8.0
"""Under this height an index is noise, and the nearest hour with more sun stands for it.  [deg]"""


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Pieces:
    """A day cut into pieces of an hour at most, each within one interval of the forecast."""

    starts_at_s: NDArray[np.float64]
    """Shape (pieces,).  [s]"""
    ends_at_s: NDArray[np.float64]
    """The start of the next one, shape (pieces,).  [s]"""
    interval: NDArray[np.intp]
    """Which interval of the forecast a piece lies in; -1 for none.  [-]"""

    @property
    def mid_at_s(self) -> NDArray[np.float64]:
        """The middle of each piece.  [s]"""
        return 0.5 * (self.starts_at_s + self.ends_at_s)

    def of_step(self, weather: Weather) -> NDArray[np.intp]:
        """Return the piece that the middle of each step lies in, shape (steps,)."""
        mid_s = weather.at_s + weather.step_s / 2.0
        before = np.searchsorted(self.starts_at_s, mid_s, side="right") - 1
        return np.clip(before, 0, self.starts_at_s.size - 1)

    def of_interval(self, values: NDArray[np.float64], *, missing: float) -> NDArray[np.float64]:
        """Return for each piece what is given for its interval, (..., intervals)."""
        none = np.full((*values.shape[:-1], 1), missing)
        # Interval -1 is the one put behind the last.
        return np.concatenate([values, none], axis=-1)[..., self.interval]

    def mean(self, values: NDArray[np.float64], weather: Weather) -> NDArray[np.float64]:
        """Return the mean over each piece of what is given for each step."""
        return interval_means(values, weather, self.starts_at_s, self.ends_at_s)


def interval_means(
    values: NDArray[np.float64],
    weather: Weather,
    starts_at_s: NDArray[np.float64],
    ends_at_s: NDArray[np.float64],
) -> NDArray[np.float64]:
    """Return means over intervals of what is given for each step; 0 where no step lies."""
    mid_s = weather.at_s + weather.step_s / 2.0
    first, last = np.searchsorted(mid_s, starts_at_s), np.searchsorted(mid_s, ends_at_s)
    sums = np.concatenate([[0.0], np.cumsum(values)])
    return np.asarray((sums[last] - sums[first]) / np.maximum(last - first, 1))


def day_pieces(forecast: Forecast | None, *, clear: Weather) -> Pieces:
    """Return the day of `clear` in pieces, along the forecast's intervals where there are any.

    Parameters
    ----------
    forecast : Forecast or None
        None for a day of which nothing is known.
    clear : Weather
        Only its steps are looked at.

    Returns
    -------
    pieces : Pieces
        Without gaps, from the first step to the end of the last.
    """
    starts_s = float(clear.at_s[0])
    ends_s = float(clear.at_s[-1]) + clear.step_s
    spans = list(_spans(forecast, starts_s, ends_s))
    cuts = [(cut, interval) for first, last, interval in spans for cut in _cuts(first, last)]
    starts = np.array([cut for cut, _ in cuts])
    return Pieces(
        starts_at_s=starts,
        ends_at_s=np.append(starts[1:], ends_s),
        interval=np.array([interval for _, interval in cuts], np.intp),
    )


def _spans(
    forecast: Forecast | None, starts_s: float, ends_s: float
) -> Iterator[tuple[float, float, int]]:
    """Yield the intervals within the day, and the gaps between them as number -1."""
    reached_s = starts_s
    bounds = [] if forecast is None else zip(forecast.starts_at_s, forecast.ends_at_s, strict=True)
    for interval, (first, last) in enumerate(bounds):
        first_s, last_s = max(float(first), starts_s), min(float(last), ends_s)
        if first_s >= last_s:
            continue
        if first_s > reached_s:
            yield reached_s, first_s, -1
        yield first_s, last_s, interval
        reached_s = last_s
    if reached_s < ends_s:
        yield reached_s, ends_s, -1


def _cuts(first_s: float, last_s: float) -> list[float]:
    """Return where equal pieces of an hour at most begin."""
    count = max(1, int(np.ceil((last_s - first_s) / HOUR_S - 1e-9)))
    return [first_s + i * (last_s - first_s) / count for i in range(count)]


def foreseen_index(
    forecast: Forecast, pieces: Pieces, *, clear: Weather, sun: SunTable
) -> NDArray[np.float64]:
    """Return the foreseen clear-sky index of each piece.

    Parameters
    ----------
    forecast : Forecast
    pieces : Pieces
        Of the same forecast.
    clear : Weather
        The cloudless day, one sky.
    sun : SunTable
        At the middle of each step of `clear`.

    Returns
    -------
    index : ndarray, shape (members, pieces)
        From the radiation where it is given, else from the cloud; nan where neither is
        known.  At low sun that of the nearest hour with more.  [-]
    """
    index = np.full((forecast.members, forecast.starts_at_s.size), np.nan)
    if forecast.global_horizontal_w_m2 is not None:
        index = _radiation_index(forecast, clear=clear, sun=sun)
    cloud = shading_cloud(
        cloud=forecast.cloud,
        low=forecast.cloud_low,
        mid=forecast.cloud_mid,
        high=forecast.cloud_high,
    )
    if cloud is not None:
        index = np.where(np.isnan(index), light_under_cloud(cloud), index)
    return pieces.of_interval(index, missing=np.nan)


def _radiation_index(forecast: Forecast, *, clear: Weather, sun: SunTable) -> NDArray[np.float64]:
    """Return the index of each interval from its radiation, shape (members, intervals)."""
    assert forecast.global_horizontal_w_m2 is not None
    clear_w_m2 = interval_means(
        clear.global_horizontal_w_m2[0], clear, forecast.starts_at_s, forecast.ends_at_s
    )
    height_deg = np.interp(forecast.mid_at_s, sun.at_s, sun.elevation_deg, left=-90.0, right=-90.0)
    high = (height_deg > LOW_SUN_DEG) & (clear_w_m2 > 0.0)
    index = forecast.global_horizontal_w_m2 / np.where(high, clear_w_m2, 1.0)
    if not high.any():
        return np.full(index.shape, np.nan)
    # The number of the nearest interval with the sun high enough; itself where it is.
    places, lit = np.arange(high.size), np.flatnonzero(high)
    nearest = lit[np.abs(places[:, None] - lit).argmin(axis=1)]
    return np.maximum(index[:, nearest], 0.0)


def mean_known(foreseen: NDArray[np.float64]) -> NDArray[np.float64]:
    """Return the mean over the members that know an hour; nan where none does."""
    known = ~np.isnan(foreseen)
    total = np.where(known, foreseen, 0.0).sum(axis=0)
    return np.where(known.any(axis=0), total / np.maximum(known.sum(axis=0), 1), np.nan)
