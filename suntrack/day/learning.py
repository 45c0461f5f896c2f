"""Learning from several logged days: dull days out, what is left fitted."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from suntrack.box.fit import Fit, fit_box

if TYPE_CHECKING:
    from collections.abc import Mapping
    from datetime import date

    from suntrack.box.fit import LoggedDay
    from suntrack.box.thermal import Thermal

DULL = 0.9
"""A day whose own light comes out below this share of the clear sky was not clear, and says
little of the box (our choice).  [-]"""
ENOUGH_DAYS = 3
"""Fewer clear days than this are told to be few (our choice).  [-]"""


@dataclass(frozen=True, slots=True, kw_only=True)
class Lesson:
    """What was learned, from which days."""

    fit: Fit
    days: tuple[date, ...]
    """The days that count."""
    dull: tuple[date, ...]
    """Days that were left out, because their sky was not clear."""

    @property
    def few(self) -> bool:
        """True when there are too few days to trust the factors far."""
        return len(self.days) < ENOUGH_DAYS


def learn(parts: Thermal, logged: Mapping[date, LoggedDay]) -> Lesson:
    """Return what the logged days teach, the dull ones left out as long as one is left.

    Parameters
    ----------
    parts : Thermal
        The box as its sizes have it.  [-]
    logged : mapping of date to LoggedDay
        At least one day.

    Raises
    ------
    ValueError
        If there is no reading.
    """
    kept, dull = dict(sorted(logged.items())), []
    fit = fit_box(parts, list(kept.values()))
    while len(kept) > 1 and min(fit.day_light) < DULL:
        darkest = list(kept)[fit.day_light.index(min(fit.day_light))]
        dull.append(darkest)
        del kept[darkest]
        fit = fit_box(parts, list(kept.values()))
    return Lesson(fit=fit, days=tuple(kept), dull=tuple(sorted(dull)))
