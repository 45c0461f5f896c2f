"""Food that an earlier day left in the box: the watch was off, and nobody was called.

The earlier day's plan is gone by then; what the journal says went in, and never came out,
is enough to call for.
"""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date, datetime, timedelta
from typing import TYPE_CHECKING

from suntrack.alerts.alert import Alert
from suntrack.alerts.history import AlertHistory
from suntrack.alerts.lifecycle import FINAL
from suntrack.alerts.rules import PULL_STAYS

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator, Mapping

LOOK_BACK = timedelta(days=3)
"""How far back food in the box is looked for (our choice)."""
NO_PULL_KNOWN = timedelta(hours=4)
"""A dish without a time to come out is called for this long after it went in (our choice)."""
CALLS_FOR = ("pull", "pull-by", "stove")
"""Names of the alerts with which a dish is called out of the box."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Inside:
    """A dish that went in on an earlier day, and did not come out as far as is known."""

    dish: str
    """Its key in the library."""
    name: str
    """As the cook reads it."""
    load_at: datetime
    """When it went in."""
    pull_at: datetime | None
    """When the last plan of that day wanted it out; None when no plan did."""


def leftover_alerts(
    on: date, inside: Iterable[Inside], stories: Mapping[str, AlertHistory]
) -> tuple[Alert, ...]:
    """Return a call for each dish of an earlier day, unless the cook has answered for it."""
    return tuple(_calls(on, inside, stories))


def _calls(
    on: date, inside: Iterable[Inside], stories: Mapping[str, AlertHistory]
) -> Iterator[Alert]:
    for dish in inside:
        keys = [f"{on.isoformat()}/{name}-{dish.dish}" for name in CALLS_FOR]
        known = [stories.get(key, AlertHistory()) for key in keys]
        # Sent to the stove is called for too; a dish has one call that counts.
        if any(story.state in FINAL for story in known) or known[-1].was_told:
            continue
        due_at = dish.pull_at or dish.load_at + NO_PULL_KNOWN
        yield Alert(
            key=keys[0],
            kind="pull",
            due_at=due_at,
            lapses_at=due_at + PULL_STAYS,
            urgency="urgent",
            dish=dish.name,
            subject=dish.dish,
            in_box=True,
            noted_from=dish.load_at,
        )
