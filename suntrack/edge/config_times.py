"""Times of day as the config writes them, once their form has been checked."""

from __future__ import annotations

from datetime import time

DAY_MIN = 24 * 60


def read_time(text: str) -> time:
    """Return a checked time of day such as 18:30; 24:00 is midnight."""
    hour, minute = text.strip().split(":")
    return time(int(hour) % 24, int(minute))


def read_stretch(text: str) -> tuple[time, time]:
    """Return a checked stretch such as 6:30-21:00, until 9:00 or after 16:00."""
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
