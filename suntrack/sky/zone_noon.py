"""Whether a time zone can belong to a longitude: where the sun stands at the clock's noon.

A zone forgotten when a config was copied puts every step hours off, in silence.
"""

from __future__ import annotations

from datetime import datetime, timedelta
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from zoneinfo import ZoneInfo

EARLIEST_H, LATEST_H = -4.0, 5.0
"""How far standard time may run ahead of the sun's own.  The far west of China runs 3.2 h ahead
with its capital's clock, the most of any inhabited place (tz database, from memory); beyond these
a zone was forgotten, and what lies between is doubted by `setup`.  [h]"""


def ahead_of_sun_h(zone: ZoneInfo, *, longitude_deg: float, year: int = 2026) -> float:
    """Return how far a zone's standard time runs ahead of the sun at a longitude.  [h]

    Parameters
    ----------
    zone : ZoneInfo
    longitude_deg : float
        East positive.  [deg]
    year : int
        Whose rules count: standard time is the smaller of its offsets in January and July.

    Returns
    -------
    ahead : float
        Above -12, up to 12; days do not matter, the date line runs where people want it.  [h]

    Examples
    --------
    >>> from zoneinfo import ZoneInfo
    >>> round(ahead_of_sun_h(ZoneInfo("UTC"), longitude_deg=15.0), 1)
    -1.0
    """
    offsets = [datetime(year, month, 1, 12, tzinfo=zone).utcoffset() for month in (1, 7)]
    standard_h = min(offset or timedelta(0) for offset in offsets) / timedelta(hours=1)
    return 12.0 - (12.0 - (standard_h - longitude_deg / 15.0)) % 24.0


def can_belong(zone: ZoneInfo, *, longitude_deg: float) -> bool:
    """Return whether people at a longitude may live by a zone's clock.  [deg]"""
    return EARLIEST_H <= ahead_of_sun_h(zone, longitude_deg=longitude_deg) <= LATEST_H
