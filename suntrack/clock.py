"""The clock: the one module that asks the system for the time, and one that is driven.

Decisions take `now` as an argument; only what waits takes a clock.
"""

from __future__ import annotations

import math
import threading
import time
from datetime import UTC, datetime, timedelta
from typing import Protocol


class Clock(Protocol):
    """What a thing that waits needs of time."""

    def now(self) -> datetime:
        """Return the wall clock, aware, in UTC."""
        ...  # pragma: no cover

    def monotonic(self) -> float:
        """Return seconds that no clock change touches.  [s]"""
        ...  # pragma: no cover

    def wait(self, stop: threading.Event, seconds: float) -> bool:
        """Wait until `stop` is set or the time is over; True when it was set.  [s]"""
        ...  # pragma: no cover


class SystemClock:
    """The computer's clock."""

    def now(self) -> datetime:
        """Return the wall clock, aware, in UTC."""
        return datetime.now(UTC)

    def monotonic(self) -> float:
        """Return seconds that no clock change touches.  [s]"""
        return time.monotonic()

    def wait(self, stop: threading.Event, seconds: float) -> bool:
        """Wait until `stop` is set or the time is over; True when it was set.  [s]"""
        return stop.wait(seconds)


class ReplayClock:
    """A day's clock that runs as fast as it is told, for a replay.

    With a speed, waiting really waits, `speed` times shorter.  Without one, waiting moves
    the clock on at once and nothing waits at all.
    """

    def __init__(self, starts_at: datetime, *, speed: float | None) -> None:
        if starts_at.tzinfo is None:
            raise ValueError("starts_at has no time zone; it has to be aware")
        if speed is not None and not 0.0 < speed < math.inf:
            raise ValueError(f"speed is {speed}; it has to be above 0, or None")
        self._at = starts_at.astimezone(UTC)
        self._elapsed_s = 0.0
        self._speed = speed

    def now(self) -> datetime:
        """Return the replayed wall clock, aware, in UTC."""
        return self._at

    def monotonic(self) -> float:
        """Return the replayed seconds since the start.  [s]"""
        return self._elapsed_s

    def wait(self, stop: threading.Event, seconds: float) -> bool:
        """Move on by `seconds`, really waiting when there is a speed.  [s]"""
        stopped = stop.wait(seconds / self._speed) if self._speed else stop.is_set()
        self._at += timedelta(seconds=seconds)
        self._elapsed_s += seconds
        return stopped
