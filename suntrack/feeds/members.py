"""Members that stopped, stop early or never began; rows at the end that nobody knows."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING, Any

import numpy as np

from suntrack.feeds.fault import content
from suntrack.sky.localday import only, sun_known

if TYPE_CHECKING:
    from numpy.typing import NDArray

    from suntrack.sky.forecast import Forecast

LEAST_KNOWN = 0.5
"""Share of the best member's hours below which a member counts as dead (our choice)."""
FEWEST_MEMBERS = 5
"""Fewer tell no chance (our choice)."""


def trimmed(forecast: Forecast) -> Forecast:
    """Return a forecast without dead members and without the hours that not all know.

    Raises
    ------
    FeedError
        If there were many members and hardly any is left.
    """
    light = _sun(forecast)
    if light is None:
        return forecast
    known = np.isfinite(light).sum(axis=1)
    if not known.any():
        return forecast
    alive = known >= max(1.0, LEAST_KNOWN * float(known.max()))
    kept = with_members(forecast, alive)
    return _common(kept) if forecast.members > 1 else _without_tail(kept)


def with_members(forecast: Forecast, alive: NDArray[np.bool_]) -> Forecast:
    """Return a forecast with some of its members, chosen by a mask; raise FeedError for few."""
    if alive.all():
        return forecast
    left = int(np.count_nonzero(alive))
    if left < (FEWEST_MEMBERS if forecast.members > 1 else 1):
        raise content(f"Only {left} of the forecast's {forecast.members} members can be used.")
    fields: dict[str, Any] = {
        name: values[alive] for name, values in forecast.member_arrays().items()
    }
    note = f"Left out: {forecast.members - left} of {forecast.members} members."
    return replace(forecast, notes=(*forecast.notes, note), **fields)


def _sun(forecast: Forecast) -> NDArray[np.float64] | None:
    """Return what a forecast says of the sun: light, or else cloud."""
    light = forecast.global_horizontal_w_m2
    return forecast.cloud if light is None else light


def _common(forecast: Forecast) -> Forecast:
    """Return the hours up to the last that every member knows."""
    light = _sun(forecast)
    assert light is not None
    shared = np.flatnonzero(np.isfinite(light).all(axis=0))
    last = int(shared[-1]) if shared.size else -1
    return only(forecast, np.arange(light.shape[1]) <= last)


def _without_tail(forecast: Forecast) -> Forecast:
    """Return the hours up to the last of which anything is known of the sun."""
    known = np.flatnonzero(sun_known(forecast))
    last = int(known[-1]) if known.size else -1
    return only(forecast, np.arange(forecast.starts_at_s.size) <= last)
