"""Learning from several logged days: days taken as clear that were dull out, the rest fitted."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from suntrack.box.fit import Fit, fit_box

if TYPE_CHECKING:
    from collections.abc import Mapping
    from datetime import date

    from suntrack.box.heat.network import Thermal
    from suntrack.box.residuals import LoggedDay

DULL = 0.9
"""A day taken as clear, whose own light comes out below this share of the clear sky, was not
clear, and says little of the box (our choice).  [-]"""
ENOUGH_DAYS = 3
"""Fewer days than this are told to be few (our choice).  [-]"""
MOST_DAYS = 20
"""Only the last so many days are learned from: they say how the box is now (our choice).  [-]"""


@dataclass(frozen=True, slots=True, kw_only=True)
class Lesson:
    """What was learned, from which days."""

    fit: Fit
    """The factors and how sure they are."""
    days: tuple[date, ...]
    """The days that count."""
    dull: tuple[date, ...]
    """Days that were left out, because they were taken as clear and were not."""
    told: tuple[date, ...]
    """Those of `days` whose sky was told by a forecast, not taken as clear."""
    older: int = 0
    """Days that were left out because enough came after them."""

    @property
    def few(self) -> bool:
        """True when there are too few days to trust the factors far."""
        return len(self.days) < ENOUGH_DAYS

    @property
    def all_dull(self) -> bool:
        """True when even the brightest day was not clear, and no sky was told: of no use."""
        return not self.told and max(self.fit.day_light) < DULL


def learn(parts: Thermal, logged: Mapping[date, LoggedDay], *, on_new_days: bool = True) -> Lesson:
    """Return what the logged days teach, the dull ones left out as long as one is left.

    Parameters
    ----------
    parts : Thermal
        The box as its sizes have it.  [-]
    logged : mapping of date to LoggedDay
        At least one day.
    on_new_days : bool
        As for `fit_box`.

    Raises
    ------
    ValueError
        If there is no reading.
    """
    every = dict(sorted(logged.items()))
    kept = dict(list(every.items())[-MOST_DAYS:])
    dull: list[date] = []
    while len(kept) > 1 and (darkest := _darkest(kept, parts)) is not None:
        dull.append(darkest)
        del kept[darkest]
    return Lesson(
        fit=fit_box(parts, list(kept.values()), on_new_days=on_new_days),
        days=tuple(kept),
        dull=tuple(sorted(dull)),
        told=tuple(on for on, day in kept.items() if not is_taken_as_clear(day)),
        older=len(every) - len(kept) - len(dull),
    )


def is_taken_as_clear(day: LoggedDay) -> bool:
    """Return whether more hours of a day are taken as clear than were told."""
    return bool(day.only_dimmer.mean() > 0.5) if day.only_dimmer.size else True


def _darkest(kept: Mapping[date, LoggedDay], parts: Thermal) -> date | None:
    """Return the darkest of the days taken as clear, when it was dull."""
    if not any(map(is_taken_as_clear, kept.values())):
        return None
    fit = fit_box(parts, list(kept.values()), on_new_days=False)
    lights = {
        on: light
        for (on, day), light in zip(kept.items(), fit.day_light, strict=True)
        if is_taken_as_clear(day)
    }
    darkest = min(lights, key=lambda on: lights[on], default=None)
    return darkest if darkest is not None and lights[darkest] < DULL else None
