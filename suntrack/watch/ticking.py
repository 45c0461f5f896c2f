"""Looking at the clock: has it jumped since the last look, and can it be believed?

The wall clock tells the time of day and can be set; the monotonic one only runs, and
stands still while a computer sleeps (Linux).  Their difference therefore changes exactly
when the clock was set or the computer slept, which look the same from here.

A timer wakes the watch at the next moment and decides nothing.  The library's jobs are given
one meaning only: wake up and look.  Why no more: measured, its own store loses or doubles
jobs when it is killed, its calendar rules skip a day when clocks change, and a job more than
a second late is dropped by default.  So: in memory, one date in UTC at a time, and no limit
on being late.  A replay goes from event to event instead, on a clock that is driven.
"""

from __future__ import annotations

import logging
import math
import threading
from collections.abc import Callable
from dataclasses import dataclass
from datetime import UTC, datetime, timedelta
from typing import TYPE_CHECKING, Protocol

from apscheduler.events import EVENT_JOB_ERROR, EVENT_JOB_MAX_INSTANCES, EVENT_JOB_MISSED
from apscheduler.schedulers.background import BackgroundScheduler
from apscheduler.triggers.date import DateTrigger

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
    """What the wall clock says."""
    before_at: datetime
    """What it said at the last look."""
    step_s: float
    """How far it jumped, forward positive; 0 when it just ran.  [s]"""
    trusted: bool
    """False while it cannot be believed."""


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


log = logging.getLogger(__name__)
TROUBLE = EVENT_JOB_ERROR | EVENT_JOB_MISSED | EVENT_JOB_MAX_INSTANCES


class WakeTimer:
    """Calls `wake` at one moment, which can be changed at any time."""

    def __init__(self, wake: Callable[[], object]) -> None:
        self._wake = wake
        self._at: datetime | None = None
        self._scheduler = BackgroundScheduler(
            timezone=UTC,
            daemon=True,
            job_defaults={"misfire_grace_time": None, "coalesce": True, "max_instances": 1},
        )
        self._scheduler.add_listener(lambda event: log.warning("timer: %s", event), TROUBLE)

    def start(self) -> None:
        """Begin to run."""
        self._scheduler.start()

    def set(self, at: datetime | None) -> None:
        """Wake at this moment instead of any set before; None for never."""
        if at == self._at:
            return
        self._at = at
        if at is None:
            self._scheduler.remove_all_jobs()
            return
        self._scheduler.add_job(
            self._wake,
            DateTrigger(run_date=at.astimezone(UTC)),
            id="next",
            replace_existing=True,
        )

    def stop(self) -> None:
        """End, without waiting for anything.

        Paused and emptied first: shut down while it takes a finished job off its list, the
        library's thread ends in a JobLookupError (seen with 3.11.3).
        """
        self._scheduler.pause()
        self._scheduler.remove_all_jobs()
        self._scheduler.shutdown(wait=False)


class Ticking(Protocol):
    """What a replay needs of a watch."""

    def tick(self) -> None:
        """Do what there is to do now."""
        ...  # pragma: no cover

    def next_at(self, now: datetime) -> datetime | None:
        """Return when there is something to do next."""
        ...  # pragma: no cover


def run_replay(
    watch: Ticking,
    *,
    clock: Clock,
    to_at: datetime,
    stop: threading.Event | None = None,
    most_s: float = math.inf,
) -> None:
    """Run a watch from where its clock stands to an instant.

    From event to event, or in steps of at most `most_s` seconds of the day for a screen
    that counts down.  Whether waiting takes real time is the clock's business.
    """
    stop = stop or threading.Event()
    while clock.now() < to_at and not stop.is_set():
        watch.tick()
        now = clock.now()
        ends_at = min(watch.next_at(now) or to_at, to_at)
        clock.wait(stop, min((ends_at - now).total_seconds(), most_s))
    if not stop.is_set():
        watch.tick()
