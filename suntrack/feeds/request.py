"""Asking a feed: made known, counted, and again only a few times, after a while.

What an answer's status means is in one table: use it, ask again, or leave the feed alone.

The waiting and the dice are arguments, so that no test ever waits.
"""

from __future__ import annotations

import json
import random
import re
import threading
from dataclasses import dataclass, field, replace
from datetime import UTC, datetime, timedelta
from email.utils import parsedate_to_datetime
from typing import TYPE_CHECKING, Any, Protocol

from suntrack.clock import SystemClock
from suntrack.errors import FeedError
from suntrack.feeds.reading import json_of
from suntrack.feeds.wire import NetworkWire, Reply, Request, Wire

if TYPE_CHECKING:
    from collections.abc import Callable

    from suntrack.feeds.wire import Reply


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
    """How a request goes out."""
    wait: Callable[[float], None] = _wait
    """How to wait between tries.  [s]"""
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


LONGEST_WAIT = timedelta(hours=24)
"""No answer keeps us away longer, whatever it says."""
GRID_EXPIRED, INVALID_POINT, MARINE = "ForecastGridExpired", "InvalidPoint", "Marine"


def refuse_failures(reply: Reply, *, now: datetime) -> None:
    """Raise the fault of an answer that is none; 200, 203 and 304 pass.

    The server's own reason decides where it gives one: a limit a minute is another thing
    than a limit a day.
    """
    if reply.status in (200, 203, 304):
        return
    why, kind = reason(reply)
    if reply.status == 429:
        raise _too_much(why, reply, now=now)
    if reply.status in (401, 403):
        raise FeedError(
            "The feed refuses us. It wants to know whom to write to: is `contact` in [feed]"
            f" your own address?{_quoted(why)}",
            kind="refused",
            wait=timedelta(hours=6),
        )
    if reply.status in (404, 410):
        raise _not_found(why, kind)
    if reply.status >= 500:
        raise _server(why, kind, reply, now=now)
    raise FeedError(
        f"The feed does not understand the request (status {reply.status}).{_quoted(why)}",
        kind="refused",
        wait=timedelta(hours=6),
    )


def reason(reply: Reply) -> tuple[str, str]:
    """Return what a failed answer says for itself, and its own name for the kind of failure.

    JSON with a `reason`, JSON problem details (RFC 9457), or a page, of which nothing is
    taken: it is somebody else's text with somebody else's markup.
    """
    try:
        data = json.loads(reply.body)
    except (ValueError, RecursionError):
        return "", ""
    if not isinstance(data, dict):
        return "", ""
    said = data.get("reason") or data.get("detail") or data.get("title") or ""
    kind = f"{data.get('type', '')} {data.get('title', '')}"
    return _tame(str(said)), kind


def _tame(text: str) -> str:
    """Return a foreign text on one line, without control characters, not too long."""
    return re.sub(r"[^ -~]+", " ", text).strip()[:160]


def _quoted(why: str) -> str:
    return f' It says: "{why}"' if why else ""


def _too_much(why: str, reply: Reply, *, now: datetime) -> FeedError:
    """Return the fault of a limit; the wait runs to when that limit's counter starts anew."""
    words = why.lower()
    if "concurrent" in words:
        return FeedError(
            "The feed is still busy with another request from here.",
            kind="busy",
            again=True,
            wait=timedelta(minutes=2),
        )
    utc = now.astimezone(UTC)
    hour = utc.replace(minute=0, second=0, microsecond=0) + timedelta(hours=1)
    midnight = utc.replace(hour=0, minute=0, second=0, microsecond=0) + timedelta(days=1)
    if "minute" in words:
        span, wait = "this minute", timedelta(minutes=2)
    elif "hour" in words:
        span, wait = "this hour", hour - utc + timedelta(minutes=1)
    elif "daily" in words or "tomorrow" in words or "day" in words:
        span, wait = "today", midnight - utc + timedelta(minutes=5)
    else:
        span, wait = "now", retry_after(reply, now=now) or timedelta(hours=1)
    return FeedError(
        f"The feed has been asked too much {span}, from here or from your network.",
        kind="limit",
        wait=wait,
    )


def _not_found(why: str, kind: str) -> FeedError:
    if INVALID_POINT in kind:
        return FeedError(
            "This feed does not cover the place of the box; choose another.",
            kind="not covered",
            wait=LONGEST_WAIT,
        )
    if MARINE in kind:
        return FeedError(
            "For this feed the place of the box lies in the sea; choose another feed.",
            kind="not covered",
            wait=LONGEST_WAIT,
        )
    return FeedError(
        f"The feed has nothing at this address any more; is suntrack up to date?{_quoted(why)}",
        kind="moved",
        wait=timedelta(hours=1),
    )


def _server(why: str, kind: str, reply: Reply, *, now: datetime) -> FeedError:
    if GRID_EXPIRED in kind:
        message = "The feed's own forecast has run out and the new one is not there yet."
    else:
        message = f"The feed has trouble of its own (status {reply.status}).{_quoted(why)}"
    wait = retry_after(reply, now=now) or timedelta(minutes=15)
    return FeedError(message, kind="busy", again=True, wait=wait)


def retry_after(reply: Reply, *, now: datetime) -> timedelta | None:
    """Return how long the server asks to be left alone (RFC 9110, 10.2.3), at most a day."""
    text = reply.headers.get("retry-after", "").strip()
    if text.isdecimal():
        return min(timedelta(seconds=int(text[:9])), LONGEST_WAIT)
    at = http_date(text)
    return None if at is None else min(max(at - now, timedelta(0)), LONGEST_WAIT)


def http_date(text: str | None) -> datetime | None:
    """Return a date as HTTP writes it (RFC 9110, 5.6.7); None when it is none."""
    try:
        at = parsedate_to_datetime(text or "")
    except (ValueError, TypeError):
        return None
    return at if at.tzinfo else at.replace(tzinfo=UTC)
