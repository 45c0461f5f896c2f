"""Looking at the clock: has it jumped since the last look, and can it be believed?

The wall clock tells the time of day and can be set; the monotonic one only runs, and
stands still while a computer sleeps (Linux).  Their difference therefore changes exactly
when the clock was set or the computer slept, which look the same from here.
"""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime, timedelta
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from suntrack.clock import Clock

STEP_S = 2.0
"""A change smaller than this is the clock being trimmed.  [s]"""
WILD = timedelta(hours=24)
"""A jump this far is more likely a broken clock than a long sleep."""
HOLD_S = 600.0
"""How long a wild clock is given to come back before it is believed.  [s]"""
FIRST_YEAR = 2025
"""A computer without a battery for its clock starts long before this."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Look:
    """One look at the clock."""

    at: datetime
    before_at: datetime
    """What it said at the last look."""
    step_s: float
    """How far it jumped, forward positive; 0 when it just ran.  [s]"""
    trusted: bool


class ClockEye:
    """Remembers the last look, to see what happened since."""

    def __init__(self, clock: Clock) -> None:
        self._clock = clock
        self._wall_at = clock.now()
        self._run_s = clock.monotonic()
        self._wild: tuple[datetime, float] | None = None

    def look(self, *, newest_at: datetime | None) -> Look:
        """Return what the clock says now; `newest_at` is the time of the newest entry."""
        at, run_s = self._clock.now(), self._clock.monotonic()
        ran = timedelta(seconds=run_s - self._run_s)
        step_s = (at - self._wall_at - ran).total_seconds()
        before_at, self._wall_at, self._run_s = self._wall_at, at, run_s
        if abs(step_s) > WILD.total_seconds():
            self._meet_wild_jump(at, before_at=before_at + ran, run_s=run_s)
        return Look(
            at=at,
            before_at=before_at,
            step_s=step_s if abs(step_s) > STEP_S else 0.0,
            trusted=self._is_trusted(at, run_s=run_s, newest_at=newest_at),
        )

    def _meet_wild_jump(self, at: datetime, *, before_at: datetime, run_s: float) -> None:
        """Begin to hold, or stop holding when the clock came back to where it was."""
        if self._wild is not None:
            left_at, left_run_s = self._wild
            expected_at = left_at + timedelta(seconds=run_s - left_run_s)
            if abs(at - expected_at) < WILD:
                self._wild = None
                return
        self._wild = (before_at, run_s)

    def _is_trusted(self, at: datetime, *, run_s: float, newest_at: datetime | None) -> bool:
        """Return True when alerts may go by this clock."""
        if at.year < FIRST_YEAR or (newest_at is not None and at < newest_at - WILD):
            return False
        if self._wild is not None and run_s - self._wild[1] < HOLD_S:
            return False
        self._wild = None
        return True
