"""Food of an earlier day: called for once more, until somebody has answered for it."""

from __future__ import annotations

from datetime import UTC, date, datetime, timedelta

import pytest

from suntrack.alerts.history import AlertEvent, AlertHistory
from suntrack.alerts.leftover import Inside, leftover_alerts
from suntrack.alerts.lifecycle import Event

DAY = date(2026, 11, 25)
NOON = datetime(2026, 11, 25, 10, 0, tzinfo=UTC)
HOUR = timedelta(hours=1)
SOUP = Inside(dish="lentil-soup", name="Lentil soup", load_at=NOON - 3 * HOUR, pull_at=NOON + HOUR)


def story(key: str, *events: Event, way: str | None = None) -> dict[str, AlertHistory]:
    told = AlertHistory()
    for event in events:
        told = told.then(AlertEvent(key=key, event=event, at=NOON, way=way))
    return {key: told}


def test_it_is_the_call_that_the_day_itself_would_have_made() -> None:
    """The same key as the day's own, so that what was told is not told twice."""
    (alert,) = leftover_alerts(DAY, [SOUP], {})
    assert alert.key == "2026-11-25/pull-lentil-soup"
    assert (alert.kind, alert.urgency, alert.in_box) == ("pull", "urgent", True)
    assert alert.due_at == NOON + HOUR


def test_a_dish_without_a_time_to_come_out_is_called_for_all_the_same() -> None:
    inside = Inside(dish="beans", name="Beans", load_at=NOON, pull_at=None)
    (alert,) = leftover_alerts(DAY, [inside], {})
    assert NOON < alert.due_at <= NOON + 12 * HOUR


@pytest.mark.parametrize("name", ["pull", "pull-by", "stove"])
@pytest.mark.parametrize("end", ["acknowledge", "settle"])
def test_what_the_cook_has_answered_for_is_not_called_again(name: str, end: Event) -> None:
    assert leftover_alerts(DAY, [SOUP], story(f"2026-11-25/{name}-lentil-soup", end)) == ()


def test_a_dish_that_was_sent_to_the_stove_was_called_for() -> None:
    told = story("2026-11-25/stove-lentil-soup", "send", "accepted", way="terminal")
    assert leftover_alerts(DAY, [SOUP], told) == ()
