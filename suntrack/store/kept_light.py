"""The light of a day as its plans have told it, kept in the journal with each plan shown.

A plan that is shown later knows more: what its forecast says of an hour, be it still to come
or already past, stands for that hour.
"""

from __future__ import annotations

from datetime import datetime
from typing import TYPE_CHECKING, Any

import numpy as np

from suntrack.plan.records import SkyHour
from suntrack.sky.forecast import Forecast

if TYPE_CHECKING:
    from collections.abc import Iterable, Sequence

    from suntrack.store.journal import Entry


def hour_row(hour: SkyHour) -> list[Any]:
    """Return an hour as plain JSON: start, end, W/m2, C, m/s."""
    return [
        hour.starts_at.isoformat(),
        hour.ends_at.isoformat(),
        hour.global_w_m2,
        hour.air_c,
        hour.wind_m_s,
    ]


def kept_hours(entries: Iterable[Entry], *, place: str) -> tuple[SkyHour, ...]:
    """Return the hours that the plans of a day have told; damaged rows are passed over."""
    rows = [
        row
        for entry in entries
        if entry.kind == "plan" and entry.data.get("place", place) == place
        for row in entry.data.get("light") or ()
    ]
    return tuple(hour for row in rows if (hour := _hour(row)) is not None)


def _hour(row: Sequence[Any]) -> SkyHour | None:
    """Return an hour from plain JSON; None for what is none."""
    try:
        start, end, light_w_m2, air_c, wind_m_s = row
        return SkyHour(
            starts_at=datetime.fromisoformat(start),
            ends_at=datetime.fromisoformat(end),
            global_w_m2=float(light_w_m2),
            air_c=None if air_c is None else float(air_c),
            wind_m_s=None if wind_m_s is None else float(wind_m_s),
        )
    except (ValueError, TypeError):
        return None


def told_by(hours: Sequence[SkyHour]) -> Forecast | None:
    """Return hours as a forecast again, the later told in the place of the earlier.

    None where there is none.
    """
    kept: list[SkyHour] = []
    for hour in reversed(hours):
        fits = all(hour.ends_at <= one.starts_at or hour.starts_at >= one.ends_at for one in kept)
        if fits and hour.ends_at > hour.starts_at:
            kept.append(hour)
    if not kept:
        return None
    kept.sort(key=lambda hour: hour.starts_at)
    return Forecast(
        feed="journal",
        kind="radiation",
        starts_at_s=np.array([hour.starts_at.timestamp() for hour in kept]),
        ends_at_s=np.array([hour.ends_at.timestamp() for hour in kept]),
        fetched_at=kept[-1].ends_at,
        global_horizontal_w_m2=np.array([[hour.global_w_m2 for hour in kept]]),
        air_c=_known([hour.air_c for hour in kept]),
        wind_m_s=_known([hour.wind_m_s for hour in kept]),
    )


def _known(values: Sequence[float | None]) -> np.ndarray[Any, np.dtype[np.float64]]:
    return np.array([[np.nan if value is None else value for value in values]])
