"""The story of an alert: what the events of the journal add up to."""

from __future__ import annotations

from datetime import UTC, datetime, timedelta
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from suntrack.alerts.history import OF_A_WAY, AlertEvent, AlertHistory, fold
from suntrack.alerts.lifecycle import EVENTS, FINAL, Event, IllegalEventError

KEY = "2026-11-25/turn-1"
NOON = datetime(2026, 11, 25, 10, 0, tzinfo=UTC)


def happened(event: Event, way: str | None = None, minute: int = 0, **data: Any) -> AlertEvent:
    return AlertEvent(key=KEY, event=event, at=NOON + timedelta(minutes=minute), way=way, data=data)


def story_of(*events: AlertEvent) -> AlertHistory:
    return fold(events)[KEY]


def test_one_way_that_took_it_is_enough_to_call_it_sent() -> None:
    story = story_of(
        happened("send", "terminal"),
        happened("send", "desktop"),
        happened("refused", "desktop", reason="no service"),
        happened("accepted", "terminal"),
    )
    assert story.state == "sent"
    assert story.on("desktop").state == "refused"


def test_an_answer_reaches_every_way_and_every_way_to_come() -> None:
    story = story_of(happened("send", "terminal"), happened("acknowledge"))
    assert story.state == "acknowledged"
    with pytest.raises(IllegalEventError):
        story.then(happened("again", "terminal"))
    with pytest.raises(IllegalEventError):
        story.then(happened("send", "a way added after the answer"))


def test_a_late_yes_after_the_answer_keeps_the_answer_and_the_notice_id() -> None:
    story = story_of(
        happened("send", "desktop"),
        happened("acknowledge"),
        happened("accepted", "desktop", id="7"),
    )
    assert story.state == "acknowledged"
    assert story.on("desktop").notice_id == "7"


def test_it_knows_how_often_when_last_and_for_what_time_it_was_told() -> None:
    story = story_of(
        happened("send", "desktop", due_at=NOON.isoformat()),
        happened("no answer", "desktop", minute=1, reason="hung"),
        happened("again", "desktop", minute=2),
    )
    assert story.on("desktop").tries == 2
    assert story.on("desktop").tried_at == NOON + timedelta(minutes=2)
    assert story.due_at == NOON


def test_a_snooze_starts_the_count_again() -> None:
    until = NOON + timedelta(minutes=5)
    story = story_of(
        happened("send", "desktop"),
        happened("accepted", "desktop"),
        happened("snooze", until=until.isoformat()),
    )
    assert (story.state, story.snoozed_until) == ("snoozed", until)
    assert story.then(happened("send", "desktop")).on("desktop").tries == 1


def test_tries_nobody_knows_the_end_of_add_up_and_a_receipt_settles_them() -> None:
    """Killed, then no answer: two doubts.  A receipt after that leaves none."""
    killed_once = story_of(happened("send", "desktop"))
    assert killed_once.on("desktop").doubts == 1
    twice = story_of(
        happened("send", "desktop"), happened("again", "desktop"), happened("no answer", "desktop")
    )
    assert twice.on("desktop").doubts == 2
    received = story_of(
        happened("send", "desktop"), happened("again", "desktop"), happened("accepted", "desktop")
    )
    assert received.on("desktop").doubts == 0


@pytest.mark.parametrize(
    ("desktop", "log", "undelivered"),
    [
        ("refused", "refused", True),
        ("refused", "mute", True),
        ("refused", "accepted", False),
        ("refused", "no answer", False),
        ("mute", "mute", False),
        ("accepted", "mute", False),
    ],
)
def test_what_some_way_refused_and_none_surely_took_is_undelivered(
    desktop: str, log: str, undelivered: bool
) -> None:
    """A way that gives no receipts, such as a log, is no proof that anybody has heard."""
    events = []
    for way, outcome in (("desktop", desktop), ("log", log)):
        events.append(happened("send", way))
        event: Event = "no answer" if outcome == "mute" else outcome  # type: ignore[assignment]
        events.append(happened(event, way, repeat=outcome != "mute"))
    assert story_of(*events).is_undelivered is undelivered
    assert not story_of(*events, happened("acknowledge")).is_undelivered


WAYS = st.sampled_from(["terminal", "desktop"])
STEPS = st.lists(
    st.sampled_from(EVENTS).flatmap(
        lambda event: st.tuples(st.just(event), WAYS if event in OF_A_WAY else st.none())
    ),
    max_size=25,
)


@given(STEPS)
def test_an_illegal_event_leaves_the_story_as_it_was_and_an_end_is_an_end(
    steps: list[tuple[Event, str | None]],
) -> None:
    story, ended = AlertHistory(), None
    for event, way in steps:
        try:
            story = story.then(happened(event, way))
        except IllegalEventError:
            continue
        ended = ended or (story.state if story.whole.state in FINAL else None)
        if ended:
            assert story.state == ended
            assert {line.state for line in story.ways.values()} <= {ended}


def test_what_happens_on_one_way_leaves_the_others_alone() -> None:
    story = story_of(happened("send", "terminal"))
    assert story.on("desktop").state == "planned"
    assert story.whole.state == "planned"


@pytest.mark.parametrize(
    ("event", "way"), [("send", None), ("accepted", None), ("settle", "desktop")]
)
def test_what_happens_nowhere_is_refused(event: Event, way: str | None) -> None:
    with pytest.raises(ValueError, match=event):
        happened(event, way)
