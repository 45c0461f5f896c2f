"""Asking a feed: made known, counted, and again only a few times, after a while.

The waiting and the dice are arguments, so that no test ever waits.
"""

from __future__ import annotations

import random
import threading
from dataclasses import dataclass, field, replace
from datetime import datetime
from typing import TYPE_CHECKING, Any, Protocol

from suntrack.clock import SystemClock
from suntrack.errors import FeedError
from suntrack.feeds.reading import json_of
from suntrack.feeds.status import refuse_failures
from suntrack.feeds.wire import NetworkWire, Reply, Request, Wire

if TYPE_CHECKING:
    from collections.abc import Callable

WAITS_S = (5.0, 15.0)
"""Before the second and the third attempt, each half as long again at most (our choice; the
US service asks for five).  [s]"""


@dataclass(frozen=True, slots=True, kw_only=True)
class Answer:
    """A good answer."""

    reply: Reply
    """Of status 200, 203 or 304."""
    data: Any
    """Its JSON; None for a 304, which has no body."""


class Ask(Protocol):
    """What a feed's module needs of the network: a request in, a good answer out."""

    def __call__(self, request: Request) -> Answer:
        """Return an answer that can be read; raise FeedError for every other."""
        ...  # pragma: no cover


def _wait(seconds: float) -> None:
    SystemClock().wait(threading.Event(), seconds)


@dataclass(frozen=True, slots=True, kw_only=True)
class Tools:
    """What touches the world."""

    wire: Wire = field(default_factory=NetworkWire)
    wait: Callable[[float], None] = _wait
    dice: Callable[[], float] = random.SystemRandom().random
    """A number from 0 to 1, another one each time."""


def asker(
    *,
    origin: str,
    identification: str,
    now: datetime,
    tools: Tools,
    attempts: int,
    spend: Callable[[float], None],
) -> Ask:
    """Return the way to ask one feed.

    `spend` is told the weight of every attempt before it is made, and may refuse it.
    """

    def ask(request: Request) -> Answer:
        known = replace(request, headers={"User-Agent": identification, **request.headers})
        for attempt in range(attempts):
            spend(request.weight)
            try:
                return _answer(tools.wire.get(origin, known), now=now)
            except FeedError as fault:
                if not fault.again or attempt + 1 == attempts:
                    raise
                tools.wait(_pause_s(attempt, tools.dice()))
        raise ValueError(f"attempts is {attempts}; it has to be 1 or more")

    return ask


def _answer(reply: Reply, *, now: datetime) -> Answer:
    """Return a good answer; half a body is as bad as none, and may be whole the next time."""
    refuse_failures(reply, now=now)
    return Answer(reply=reply, data=None if reply.status == 304 else json_of(reply))


def _pause_s(attempt: int, dice: float) -> float:
    """Return how long to wait after an attempt, so that many programs do not come together."""
    return WAITS_S[min(attempt, len(WAITS_S) - 1)] * (1.0 + 0.5 * dice)
