"""A day run through from event to event, on a clock that is driven."""

from __future__ import annotations

import math
import threading
from datetime import datetime
from typing import TYPE_CHECKING, Protocol

if TYPE_CHECKING:
    from suntrack.clock import Clock


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
