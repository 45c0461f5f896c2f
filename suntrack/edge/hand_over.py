"""Handing one round of notices to all ways at once, so that none waits for another.

A way has its own limit; this is the second fence, for one that does not keep it.
"""

from __future__ import annotations

import logging
import queue
import threading
from typing import TYPE_CHECKING

from suntrack.edge.notify import Notice, Notifier, Outcome, Refused, Unknown

if TYPE_CHECKING:
    from collections.abc import Mapping, Sequence

LIMIT_S = 8.0
"""How long a round waits for a way: its own five seconds and some grace.  [s]"""
log = logging.getLogger(__name__)


def hand_over(
    notices: Mapping[str, Notice], ways: Sequence[Notifier], *, limit_s: float = LIMIT_S
) -> dict[str, Outcome]:
    """Give each way its notice, by its name, and return what came of it.

    The threads are daemons: a way that hangs for good does not keep the program alive.
    """
    answers: dict[str, queue.SimpleQueue[Outcome]] = {}
    for way in ways:
        if way.name in notices:
            answers[way.name] = queue.SimpleQueue()
            work = (way, notices[way.name], answers[way.name])
            threading.Thread(target=_send, args=work, daemon=True).start()
    return {name: _wait(answer, name, limit_s=limit_s) for name, answer in answers.items()}


def _send(way: Notifier, notice: Notice, answer: queue.SimpleQueue[Outcome]) -> None:
    """Send in a thread of its own; a way that breaks has refused."""
    try:
        answer.put(way.send(notice))
    except Exception as error:
        log.exception("the way %s broke", way.name)
        answer.put(Refused(f"{way.name} broke: {error!r}"))


def _wait(answer: queue.SimpleQueue[Outcome], name: str, *, limit_s: float) -> Outcome:
    """Return a way's answer, or unknown when it does not come."""
    try:
        return answer.get(timeout=limit_s)
    except queue.Empty:
        return Unknown(f"{name} did not answer in {limit_s:.0f} s")
