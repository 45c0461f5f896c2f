"""Several ways at once: one that breaks or hangs does not hold up the others."""

from __future__ import annotations

import threading

import pytest

from suntrack.notify.channel import Accepted, Notice, Outcome, Refused, Unknown
from suntrack.notify.delivery import hand_over

TURN = Notice(key="2026-11-25/turn-1", title="Turn")


class Way:
    """A way that does what it is told to."""

    def __init__(self, name: str, answer: Outcome | Exception | threading.Event) -> None:
        self.name, self._answer = name, answer
        self.sent: list[Notice] = []

    def send(self, notice: Notice) -> Outcome:
        self.sent.append(notice)
        if isinstance(self._answer, Exception):
            raise self._answer
        if isinstance(self._answer, threading.Event):
            self._answer.wait(30)
            return Accepted()
        return self._answer


def test_each_way_gets_its_own_notice_and_the_others_none() -> None:
    told, left = Way("terminal", Accepted("1")), Way("desktop", Accepted("2"))
    assert hand_over({"terminal": TURN}, [told, left]) == {"terminal": Accepted("1")}
    assert told.sent == [TURN]
    assert left.sent == []


def test_a_way_that_breaks_has_refused(caplog: pytest.LogCaptureFixture) -> None:
    ways = [Way("terminal", Accepted()), Way("desktop", RuntimeError("oh"))]
    outcomes = hand_over({way.name: TURN for way in ways}, ways)
    assert outcomes["terminal"] == Accepted()
    assert isinstance(outcomes["desktop"], Refused)


def test_a_way_that_hangs_is_unknown_and_the_other_has_long_been_told() -> None:
    release = threading.Event()
    ways = [Way("desktop", release), Way("terminal", Accepted())]
    outcomes = hand_over({way.name: TURN for way in ways}, ways, limit_s=0.2)
    release.set()
    assert isinstance(outcomes["desktop"], Unknown)
    assert outcomes["terminal"] == Accepted()
