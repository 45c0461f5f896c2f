"""The cook's answers to the calls, written into the journal by a command.

The watch may be running meanwhile, or be off; what stands in the journal counts for it.
"""

from __future__ import annotations

from datetime import UTC, date, datetime, timedelta
from typing import TYPE_CHECKING

from suntrack.alerts.history import AlertEvent
from suntrack.alerts.lifecycle import IllegalEventError

if TYPE_CHECKING:
    from suntrack.alerts.history import AlertHistory
    from suntrack.store.journal import Journal

LOOK_BACK_DAYS = 3
"""Food of so many days before may still be called for."""


def open_calls(journal: Journal, today: date) -> dict[str, AlertHistory]:
    """Return the stories of what was told, is still open, and waits for an answer."""
    days = (today + timedelta(days=back) for back in range(-LOOK_BACK_DAYS, 2))
    return {
        key: story
        for day in days
        for key, story in journal.alert_stories(day).items()
        if story.was_told and not story.is_over
    }


def answer_calls(
    journal: Journal, *, today: date, now: datetime, until: datetime | None = None
) -> tuple[str, ...]:
    """Answer every open call: done, or to be told again at `until`; return their keys."""
    return tuple(
        key for key in open_calls(journal, today) if _is_answered(journal, key, now, until)
    )


def _is_answered(journal: Journal, key: str, now: datetime, until: datetime | None) -> bool:
    """Write one answer; False when the watch has closed the alert in the meantime."""
    try:
        journal.record_alerts([_answer(key, now, until)])
    except IllegalEventError:
        return False
    return True


def _answer(key: str, now: datetime, until: datetime | None) -> AlertEvent:
    if until is None:
        return AlertEvent(key=key, event="acknowledge", at=now)
    data = {"until": until.astimezone(UTC).isoformat()}
    return AlertEvent(key=key, event="snooze", at=now, data=data)
