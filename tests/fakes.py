"""Stand-ins that tests drive by hand."""

from __future__ import annotations

import threading
from datetime import datetime, timedelta


class FakeClock:
    """A clock that stands still until it is set or advanced; waiting moves it on."""

    def __init__(self, at: datetime) -> None:
        self._at = at
        self._elapsed_s = 0.0

    def now(self) -> datetime:
        return self._at

    def monotonic(self) -> float:
        return self._elapsed_s

    def set(self, at: datetime) -> None:
        """Step the wall clock, as a cook or a time server would; no time passes."""
        self._at = at

    def advance(self, seconds: float) -> None:
        """Let time pass on both clocks."""
        self._at += timedelta(seconds=seconds)
        self._elapsed_s += seconds

    def wait(self, stop: threading.Event, seconds: float) -> bool:
        self.advance(seconds)
        return stop.is_set()
