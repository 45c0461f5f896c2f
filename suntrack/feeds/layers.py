"""Merged hours laid out again: stretches with one value become a row of hours.

A service that joins equal neighbours says `20 % from 01:00 for ten hours` once.  The hours
are half open; an hour that no stretch covers, or whose value is null, is not known.
"""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

import numpy as np

from suntrack.feeds.durations import stretch
from suntrack.feeds.fault import content
from suntrack.feeds.reading import listed, number, table

if TYPE_CHECKING:
    from collections.abc import Mapping
    from datetime import datetime

    from numpy.typing import NDArray

HOUR_S = 3600.0

Stretch = tuple[float, float, float]
"""Start [s], end [s] and value."""


def stretches(
    layer: Any, what: str, *, factors: Mapping[str, float], now: datetime
) -> list[Stretch]:
    """Return the stretches of a layer in our unit; none for a layer that is not there.

    Raises
    ------
    FeedError
        If there are values without a unit, or in one that is not in `factors`.
    """
    if layer is None:
        return []
    values = listed(table(layer, what).get("values"), what)
    if not values:
        return []
    # Before 2020 the prefix was `unit:`, since then `wmoUnit:`.
    unit = str(layer.get("uom")).rpartition(":")[2]
    if unit not in factors:
        raise content(f"{what} comes in the unit {layer.get('uom')!r}, which we do not know.")
    return [_stretch(item, what, factor=factors[unit], now=now) for item in values]


def _stretch(item: Any, what: str, *, factor: float, now: datetime) -> Stretch:
    entry = table(item, what)
    starts, ends = stretch(entry.get("validTime"), now=now)
    return starts.timestamp(), ends.timestamp(), factor * number(entry.get("value"), what)


def on_hours(given: list[Stretch], starts_at_s: NDArray[np.float64]) -> NDArray[np.float64] | None:
    """Return the value of each hour, shape (1, hours); None when there is none at all.

    An hour takes the value of the stretch that holds its middle.
    """
    mid_s = starts_at_s + HOUR_S / 2.0
    row = np.full(starts_at_s.shape, np.nan)
    for starts_s, ends_s, value in given:
        row[(mid_s >= starts_s) & (mid_s < ends_s)] = value
    return row[None] if np.isfinite(row).any() else None


def hours_of(given: list[Stretch], *, most: int) -> NDArray[np.float64]:
    """Return the starts of the whole hours from the first stretch to the end of the last.  [s]"""
    if not given:
        return np.empty(0)
    first_s = min(starts_s for starts_s, _, _ in given)
    last_s = max(ends_s for _, ends_s, _ in given)
    first_s = np.floor(first_s / HOUR_S) * HOUR_S
    count = min(int(np.ceil((last_s - first_s) / HOUR_S)), most)
    return np.asarray(first_s + HOUR_S * np.arange(max(count, 0), dtype=np.float64))
