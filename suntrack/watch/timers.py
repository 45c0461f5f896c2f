"""A timer that wakes the watch at the next moment; it holds nothing and decides nothing.

The library's jobs are given one meaning only: wake up and look.  Why no more: measured,
its own store loses or doubles jobs when it is killed, its calendar rules skip a day when
clocks change, and a job more than a second late is dropped by default.  So: in memory,
one date in UTC at a time, and no limit on being late.
"""

from __future__ import annotations

import logging
from collections.abc import Callable
from datetime import UTC, datetime

from apscheduler.events import EVENT_JOB_ERROR, EVENT_JOB_MAX_INSTANCES, EVENT_JOB_MISSED
from apscheduler.schedulers.background import BackgroundScheduler
from apscheduler.triggers.date import DateTrigger

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
