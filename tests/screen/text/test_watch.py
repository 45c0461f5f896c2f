"""The few words of the watch itself."""

from __future__ import annotations

from datetime import UTC, datetime, timedelta
from typing import get_args

import pytest

from suntrack.alerts.alert import Alert, Kind
from suntrack.screen.text.watch import MISSED_WORDS, missed_words, too_late_words
from suntrack.units import span_words

NOON = datetime(2026, 11, 25, 12, 0, tzinfo=UTC)


def alert(kind: Kind, number: int = 1) -> Alert:
    return Alert(
        key=f"2026-11-25/{kind}-{number}", kind=kind, due_at=NOON, lapses_at=NOON + timedelta(1)
    )


def test_every_kind_of_alert_can_be_missed() -> None:
    assert set(MISSED_WORDS) == set(get_args(Kind))


@pytest.mark.parametrize(
    ("kinds", "line"),
    [
        ([], ""),
        (["turn"], "Missed: 1 turn."),
        (["turn", "preheat", "turn"], "Missed: 3 turns."),
        (["load", "turn", "turn"], "Missed: 1 dish to put in, 2 turns."),
    ],
)
def test_several_missed_things_are_one_line(kinds: list[Kind], line: str) -> None:
    assert missed_words([alert(kind, i) for i, kind in enumerate(kinds)]) == line


@pytest.mark.parametrize(
    ("minutes", "text"), [(0, "0 min"), (59, "59 min"), (60, "1 h"), (125, "2 h 5 min")]
)
def test_spans_are_said_in_hours_and_minutes(minutes: int, text: str) -> None:
    assert span_words(timedelta(minutes=minutes)) == text
    assert span_words(-timedelta(minutes=minutes)) == text


def test_food_past_saving_is_never_sent_to_the_stove() -> None:
    """And where it can still be judged, the local food authority has the word."""
    late = too_late_words(alert("stove"), "Chicken", time_text=lambda at: "12:00")
    assert "throw it out" in late
    over = too_late_words(alert("danger"), "Chicken", time_text=lambda at: "12:00")
    assert "throw it away. Do not taste it" in over
    for kind in ("stove", "pull", "pull by"):
        words = too_late_words(alert(kind), "Chicken", time_text=lambda at: "12:00")
        assert "food authority" in words
        assert "12:00" in words
