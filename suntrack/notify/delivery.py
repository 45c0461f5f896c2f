"""Handing notices to all ways at once, so that none waits for another.

A way has its own limit; the one here is the second fence, for a way that does not keep it.
A slow way does not hold up the watch either: what has not answered soon is asked for its
outcome at a later look.
"""

from __future__ import annotations

import logging
import queue
import threading
from dataclasses import dataclass
from typing import TYPE_CHECKING

from suntrack.clock import SystemClock
from suntrack.notify.channel import Notice, Notifier, Outcome, Refused, Unknown

if TYPE_CHECKING:
    from collections.abc import Mapping, Sequence

LIMIT_S = 8.0
"""How long a way is waited for that names no limit of its own.  [s]"""
GRACE_S = 1.0
"""What a way gets beyond its own limit.  [s]"""
CLOCK = SystemClock()
"""For the limits on waiting, which are real time even when a day is replayed."""
log = logging.getLogger(__name__)


@dataclass(frozen=True, slots=True)
class _Flight:
    """One notice on its way out."""

    way: str
    """Its name."""
    ends_at_s: float
    """When nobody waits for it any more, on the running clock.  [s]"""


class Handing:
    """The ways, and what is on its way out by each; one notice at a time on each way."""

    def __init__(self, ways: Sequence[Notifier], *, limit_s: float = LIMIT_S) -> None:
        self._ways = {way.name: way for way in ways}
        self._limit_s = limit_s
        self._flights: dict[str, _Flight] = {}
        self._landed: queue.SimpleQueue[tuple[_Flight, Outcome]] = queue.SimpleQueue()

    @property
    def busy(self) -> frozenset[str]:
        """The ways that have not answered yet."""
        return frozenset(self._flights)

    def start(self, notices: Mapping[str, Notice]) -> None:
        """Give each way its notice, by its name; a busy one must not be given another.

        The threads are daemons: a way that hangs for good does not keep the program alive.
        """
        for name, notice in notices.items():
            flight = _Flight(name, CLOCK.monotonic() + self._patience_s(name))
            self._flights[name] = flight
            work = (flight, self._ways[name], notice)
            threading.Thread(target=self._send, args=work, daemon=True).start()

    def _patience_s(self, name: str) -> float:
        """Return how long a way is waited for.  [s]"""
        own_s = getattr(self._ways[name], "limit_s", None)
        return self._limit_s if own_s is None else float(own_s) + GRACE_S

    def outcomes(self, *, wait_s: float) -> dict[str, Outcome]:
        """Return what came of the notices, waiting at most so long for those still out.  [s]"""
        found: dict[str, Outcome] = {}
        ends_at_s = CLOCK.monotonic() + wait_s
        while self._flights:
            soonest_s = min(flight.ends_at_s for flight in self._flights.values())
            left_s = min(ends_at_s, soonest_s) - CLOCK.monotonic()
            try:
                flight, outcome = self._landed.get(timeout=max(0.0, left_s))
            except queue.Empty:
                break
            # One that was given up may answer after all; its try is closed already.
            if self._flights.get(flight.way) is flight:
                found[flight.way] = outcome
                del self._flights[flight.way]
        return found | self._given_up()

    def _given_up(self) -> dict[str, Outcome]:
        """Close the tries that have taken too long; nobody can tell how they will end."""
        over = [f.way for f in self._flights.values() if f.ends_at_s <= CLOCK.monotonic()]
        for way in over:
            del self._flights[way]
        return {
            way: Unknown(f"{way} did not answer in {self._patience_s(way):.0f} s") for way in over
        }

    def _send(self, flight: _Flight, way: Notifier, notice: Notice) -> None:
        """Send in a thread of its own; a way that breaks has refused."""
        try:
            self._landed.put((flight, way.send(notice)))
        except Exception as error:
            log.exception("the way %s broke", way.name)
            self._landed.put((flight, Refused(f"{way.name} broke: {error!r}")))


def hand_over(
    notices: Mapping[str, Notice], ways: Sequence[Notifier], *, limit_s: float = LIMIT_S
) -> dict[str, Outcome]:
    """Give each way its notice, wait for all of them, and return what came of it."""
    handing = Handing(ways, limit_s=limit_s)
    handing.start({way.name: notices[way.name] for way in ways if way.name in notices})
    outcomes: dict[str, Outcome] = {}
    while handing.busy:
        outcomes |= handing.outcomes(wait_s=limit_s)
    return {way.name: outcomes[way.name] for way in ways if way.name in outcomes}
