"""The part of a forecast that belongs to one local day, and how much of the day it covers.

Feeds speak UTC; days are the cook's.  A day has 23, 24, 25 or some other number of hours,
and in many places midnight falls on the half hour.
"""

from __future__ import annotations

from dataclasses import replace
from datetime import date, datetime, time, timedelta
from typing import TYPE_CHECKING, Any

import numpy as np

if TYPE_CHECKING:
    from zoneinfo import ZoneInfo

    from numpy.typing import NDArray

    from suntrack.sky.forecast import Forecast


def day_bounds_s(on: date, zone: ZoneInfo) -> tuple[float, float]:
    """Return the first moment of a local date and of the next, seconds since 1970 UTC.  [s]"""
    starts, ends = (
        datetime.combine(day, time(0, 0), tzinfo=zone).timestamp()
        for day in (on, on + timedelta(days=1))
    )
    return starts, ends


def on_day(forecast: Forecast, on: date, zone: ZoneInfo) -> Forecast:
    """Return the intervals of a forecast that lie in a local day, wholly or in part."""
    starts_s, ends_s = day_bounds_s(on, zone)
    kept = (forecast.ends_at_s > starts_s) & (forecast.starts_at_s < ends_s)
    return only(forecast, kept)


def only(forecast: Forecast, kept: NDArray[np.bool_]) -> Forecast:
    """Return a forecast with some of its intervals, chosen by a mask of shape (intervals,)."""
    fields: dict[str, Any] = {
        name: values[:, kept] for name, values in forecast.member_arrays().items()
    }
    return replace(
        forecast,
        starts_at_s=forecast.starts_at_s[kept],
        ends_at_s=forecast.ends_at_s[kept],
        **fields,
    )


def sun_known(forecast: Forecast) -> NDArray[np.bool_]:
    """Return where a forecast says anything of the sun, shape (intervals,).

    One member is enough; light or cloud is enough.
    """
    known = np.zeros(forecast.starts_at_s.shape, bool)
    for values in (forecast.global_horizontal_w_m2, forecast.cloud):
        if values is not None:
            known |= np.isfinite(values).any(axis=0)
    return known


def covered(forecast: Forecast, *, starts_s: float, ends_s: float) -> float:
    """Return the share of a stretch of time for which the forecast knows the sun, 0 to 1.

    Parameters
    ----------
    forecast : Forecast
    starts_s, ends_s : float
        Seconds since 1970 UTC, such as `day_bounds_s` returns.  [s]

    Raises
    ------
    ValueError
        If the stretch is empty.
    """
    if not ends_s > starts_s:
        raise ValueError("the stretch ends before it starts")
    overlap_s = np.minimum(forecast.ends_at_s, ends_s) - np.maximum(forecast.starts_at_s, starts_s)
    known_s = np.where(sun_known(forecast), np.maximum(overlap_s, 0.0), 0.0).sum()
    return float(known_s / (ends_s - starts_s))
