"""What became of the calls of a day, from its events."""

from __future__ import annotations

from datetime import UTC, datetime, timedelta
from typing import Any

from suntrack.alerts.history import AlertEvent
from suntrack.alerts.lifecycle import Event
from suntrack.alerts.report import reported

NOON = datetime(2026, 11, 25, 12, 0, tzinfo=UTC)
DUE = {"due_at": NOON.isoformat()}


def happened(key: str, event: Event, minute: float, way: str | None = None, **data: Any) -> Any:
    at = NOON + timedelta(minutes=minute)
    return AlertEvent(key=f"2026-11-25/{key}", event=event, at=at, way=way, data=data)


EVENTS = [
    happened("turn-1200", "settle", -5),
    happened("pull-soup", "send", 3, "terminal", **DUE),
    happened("pull-soup", "send", 3, "phone", **DUE),
    happened("pull-soup", "accepted", 3, "terminal"),
    happened("pull-soup", "refused", 3, "phone"),
    happened("pull-soup", "again", 4, "phone", **DUE),
    happened("pull-soup", "acknowledge", 9),
    happened("window-closes", "lapse", 60, **DUE),
]


def test_each_call_has_its_times_and_its_lateness() -> None:
    settled, pull, window = reported(EVENTS)
    assert (settled.state, settled.sent_at, settled.late) == ("settled", None, None)
    assert pull.due_at == NOON
    assert pull.sent_at == NOON + timedelta(minutes=3)
    assert pull.late == timedelta(minutes=3)
    assert pull.tries == 3
    assert pull.answered_at == NOON + timedelta(minutes=9)
    assert set(pull.ways) == {"terminal", "phone"}
    assert (window.state, window.sent_at, window.answered_at) == ("lapsed", None, None)


def test_a_day_without_calls_has_none() -> None:
    assert reported([]) == ()


def test_a_clock_set_back_makes_nobody_early() -> None:
    (early,) = reported([happened("pull-soup", "send", -2, "terminal", **DUE)])
    assert early.late == timedelta(0)
