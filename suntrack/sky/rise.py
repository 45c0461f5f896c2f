"""The next sunrise, without waking the slow library: what a cook asks in the dark.

Elevations come from astral; its own sunrise functions are left alone, because they fail
for many places on the day when the event falls near midnight UTC.
"""

from __future__ import annotations

from collections.abc import Callable
from datetime import datetime, timedelta

HORIZON_DEG = -0.8333
"""True height of the sun's centre at sunrise: half its width and the usual refraction
(astronomical convention, 16 and 34 arc minutes).  [deg]"""
LOOK = timedelta(minutes=10)
HOURS_AHEAD = 30


def next_sunrise(after: datetime, *, latitude_deg: float, longitude_deg: float) -> datetime | None:
    """Return the next moment at which the sun rises over a level horizon.

    Parameters
    ----------
    after : datetime
        Aware; the answer has its time zone.
    latitude_deg, longitude_deg : float
        North and east are positive.  [deg]

    Returns
    -------
    rises_at : datetime or None
        To the second; None when it does not rise within 30 hours.
    """
    from astral import Observer
    from astral.sun import elevation

    observer = Observer(latitude=latitude_deg, longitude=longitude_deg, elevation=0.0)

    def is_up(at: datetime) -> bool:
        return bool(elevation(observer, at, with_refraction=False) > HORIZON_DEG)

    low = after
    for _ in range(int(timedelta(hours=HOURS_AHEAD) / LOOK)):
        high = low + LOOK
        if is_up(high) and not is_up(low):
            return _narrow(low, high, is_up)
        low = high
    return None


def _narrow(low: datetime, high: datetime, is_up: Callable[[datetime], bool]) -> datetime:
    """Return the moment between two at which the answer turns, by halving, to the second."""
    while high - low > timedelta(seconds=1):
        middle = low + (high - low) / 2
        low, high = (low, middle) if is_up(middle) else (middle, high)
    return high.replace(microsecond=0)
