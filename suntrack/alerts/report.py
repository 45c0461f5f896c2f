"""What became of the calls of a day: due, handed over, taken, answered; and how late."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime, timedelta
from typing import TYPE_CHECKING

from suntrack.alerts.history import SENDS, AlertHistory, fold

if TYPE_CHECKING:
    from collections.abc import Mapping, Sequence

    from suntrack.alerts.history import AlertEvent
    from suntrack.alerts.lifecycle import Event, State

ANSWERS: tuple[Event, ...] = ("acknowledge", "settle")


@dataclass(frozen=True, slots=True, kw_only=True)
class Reported:
    """One call."""

    key: str
    """Of the alert."""
    state: State
    """One word for all ways together."""
    due_at: datetime | None
    """None for one that was answered before it was due."""
    sent_at: datetime | None
    """When it was first handed over; None for never."""
    tries: int
    """How often it was handed over, on all ways together."""
    ways: Mapping[str, State]
    """The same for each way."""
    answered_at: datetime | None
    """When the cook answered; None for not."""

    @property
    def late(self) -> timedelta | None:
        """How long after it was due it was first handed over; None for never."""
        if self.sent_at is None or self.due_at is None:
            return None
        return max(self.sent_at - self.due_at, timedelta(0))


def reported(events: Sequence[AlertEvent]) -> tuple[Reported, ...]:
    """Return the calls of a day from its events, in the order in which they were due."""
    stories = fold(events)
    found = [_reported(key, story, events) for key, story in stories.items()]
    return tuple(sorted(found, key=lambda call: (call.due_at or events[0].at, call.key)))


def _reported(key: str, story: AlertHistory, events: Sequence[AlertEvent]) -> Reported:
    mine = [event for event in events if event.key == key]
    sends = [event for event in mine if event.event in SENDS]
    due = next((event.data["due_at"] for event in mine if "due_at" in event.data), None)
    return Reported(
        key=key,
        state=story.state,
        due_at=datetime.fromisoformat(due) if due else None,
        sent_at=sends[0].at if sends else None,
        tries=len(sends),
        ways={way: line.state for way, line in story.ways.items()},
        answered_at=next((event.at for event in mine if event.event in ANSWERS), None),
    )
