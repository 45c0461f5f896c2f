"""Times of day as the config writes them: their form, and what they say once it is checked."""

from __future__ import annotations

from datetime import time

DAY_MIN = 24 * 60
_BY_24 = r"([01]?[0-9]|2[0-3]):[0-5][0-9]"
_BY_12 = r"(0?[1-9]|1[0-2]):[0-5][0-9]\s*[AaPp][Mm]"
_TIME = rf"({_BY_24}|{_BY_12})"
CLOCK_TIME = rf"^{_TIME}$"
# Both ends on the same clock: "1:00-3:00 pm" does not say which half of the day it starts in.
STRETCH = rf"^({_BY_24}\s*-\s*({_BY_24}|24:00)|{_BY_12}\s*-\s*{_BY_12})$"
FREE = rf"{STRETCH}|^(until|after)\s+{_TIME}$"


def read_time(text: str) -> time:
    """Return a checked time of day such as 18:30 or 6:30 pm; 24:00 is midnight."""
    clock = text.strip().lower()
    hour, minute = clock.rstrip("apm ").split(":")
    if clock.endswith("m"):
        # Twelve comes first in each half of the day: 12:30 am is half past midnight.
        return time(int(hour) % 12 + (12 if clock.endswith("pm") else 0), int(minute))
    return time(int(hour) % 24, int(minute))


def read_stretch(text: str) -> tuple[time, time]:
    """Return a checked stretch such as 6:30-21:00, 6:30 am - 9:00 pm, until 9:00, after 16:00."""
    if text.startswith("until"):
        return time(0, 0), read_time(text.removeprefix("until"))
    if text.startswith("after"):
        return read_time(text.removeprefix("after")), time(0, 0)
    starts, ends = text.split("-")
    return read_time(starts), read_time(ends)


def minutes_of(text: str) -> tuple[int, int]:
    """Return a checked stretch in minutes of its day; midnight as an end is the next.  [min]"""
    starts, ends = read_stretch(text)
    ends_min = ends.hour * 60 + ends.minute
    return starts.hour * 60 + starts.minute, ends_min or DAY_MIN
