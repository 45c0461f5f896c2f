"""What has become of an alert: its events of the journal, folded through the lifecycle.

A story never forgets: it knows for each way how often it was tried, when last, and under
which name the way keeps the notice, so that a newer notice can take its place.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field, replace
from datetime import date, datetime
from typing import TYPE_CHECKING, Any

from suntrack.alerts.alert import day_of
from suntrack.alerts.lifecycle import OUTCOMES, OVER, Event, State, after

if TYPE_CHECKING:
    from collections.abc import Iterable

MOST_DOUBTS = 2
"""After so many tries whose end nobody knows, a way is not asked to repeat any more."""
SENDS: tuple[Event, ...] = ("send", "again")
OF_A_WAY: frozenset[Event] = frozenset({*SENDS, *OUTCOMES})
"""What happens on one way; everything else happens to the alert as a whole."""
BEST: tuple[State, ...] = ("sent", "unknown", "sending", "refused", "snoozed", "planned")
"""How the lines of several ways make one state: the furthest any way has got."""


@dataclass(frozen=True, slots=True, kw_only=True)
class AlertEvent:
    """One line of the journal about an alert."""

    key: str
    """Of the alert."""
    event: Event
    """What happened to it."""
    at: datetime
    """When."""
    way: str | None = None
    """Name of the way it was sent by; None for what concerns the alert as a whole."""
    data: Mapping[str, Any] = field(default_factory=dict)
    """What else the journal keeps of it."""

    def __post_init__(self) -> None:
        """Refuse what happens nowhere: sent on no way, or acknowledged on one only."""
        if (self.way is not None) != (self.event in OF_A_WAY):
            raise ValueError(f"{self.event!r} on the way {self.way!r}")

    @property
    def day(self) -> date:
        """The day of the plan that the alert belongs to."""
        return day_of(self.key)


@dataclass(frozen=True, slots=True, kw_only=True)
class Delivery:
    """An alert on one way."""

    state: State = "planned"
    """Where it stands on this way."""
    tries: int = 0
    """How often it was sent since it was last planned or snoozed."""
    tried_at: datetime | None = None
    """When it was last handed over; None for never."""
    notice_id: str | None = None
    """What the way calls the notice."""
    may_repeat: bool = True
    """False when the way never gives receipts, so that asking again would only repeat."""
    unheard: int = 0
    """Tries that ended, and nobody knows how: no answer, or we were killed in between."""

    @property
    def doubts(self) -> int:
        """Tries whose end nobody knows; one found in the middle, by a new run, is one more."""
        return self.unheard + (self.state == "sending")

    def then(self, happened: AlertEvent) -> Delivery:
        """Return the delivery after an event; raise IllegalEventError when it is not allowed."""
        state = after(self.state, happened.event)
        data = happened.data
        if happened.event in SENDS:
            return replace(
                self,
                state=state,
                tries=self.tries + 1,
                tried_at=happened.at,
                unheard=self.doubts if happened.event == "again" else 0,
            )
        if happened.event == "move":
            return replace(self, state=state, tries=0, tried_at=None, may_repeat=True)
        if happened.event == "snooze":
            return replace(self, state=state, tries=0, may_repeat=True)
        if happened.event in OUTCOMES:
            return replace(
                self,
                state=state,
                notice_id=data.get("id", self.notice_id),
                may_repeat=data.get("repeat", True),
                unheard=_unheard_after(self.unheard, happened.event),
            )
        return replace(self, state=state)


def _unheard_after(unheard: int, outcome: Event) -> int:
    """Return the tries nobody knows the end of; a receipt settles all before it."""
    if outcome == "accepted":
        return 0
    return unheard + (outcome == "no answer")


@dataclass(frozen=True, slots=True, kw_only=True)
class AlertHistory:
    """An alert on all its ways."""

    whole: Delivery = Delivery()
    """The line of what concerns the alert as a whole; new ways begin from it."""
    ways: Mapping[str, Delivery] = field(default_factory=dict)
    """Each way it was handed to, and how that stands."""
    due_at: datetime | None = None
    """When it was due as last told, lapsed or replaced."""
    snoozed_until: datetime | None = None
    """When the cook wants it again; None when not asked for."""

    @property
    def state(self) -> State:
        """The one word for all ways together."""
        if self.whole.state in OVER or not self.ways:
            return self.whole.state
        states = {delivery.state for delivery in self.ways.values()}
        return next(state for state in BEST if state in states)

    @property
    def is_over(self) -> bool:
        """True when nothing is sent any more."""
        return self.whole.state in OVER

    @property
    def was_told(self) -> bool:
        """True when some way may have reached the cook."""
        return any(delivery.tried_at is not None for delivery in self.ways.values())

    @property
    def is_in_doubt(self) -> bool:
        """True when some way may have told it, none surely has, and none is asked again."""
        return self.state in ("sending", "unknown") and any(
            line.doubts >= MOST_DOUBTS and line.may_repeat for line in self.ways.values()
        )

    @property
    def is_undelivered(self) -> bool:
        """True when some way said no, and none has taken it or may still have."""
        lines = [] if self.is_over else list(self.ways.values())
        mute = [line.state == "unknown" and not line.may_repeat for line in lines]
        refused = [line.state == "refused" for line in lines]
        return any(refused) and all(a or b for a, b in zip(mute, refused, strict=True))

    def on(self, way: str) -> Delivery:
        """Return the alert's line on one way."""
        return self.ways.get(way, self.whole)

    def then(self, happened: AlertEvent) -> AlertHistory:
        """Return the story after an event; raise IllegalEventError when it is not allowed."""
        due = happened.data.get("due_at")
        until = happened.data.get("until")
        told = replace(
            self,
            due_at=datetime.fromisoformat(due) if due else self.due_at,
            snoozed_until=datetime.fromisoformat(until) if until else self.snoozed_until,
        )
        if happened.way is not None:
            line = self.on(happened.way).then(happened)
            return replace(told, ways={**self.ways, happened.way: line})
        return replace(
            told,
            whole=self.whole.then(happened),
            ways={way: line.then(happened) for way, line in self.ways.items()},
        )


def fold(events: Iterable[AlertEvent]) -> dict[str, AlertHistory]:
    """Return the story of every alert in a journal's events, in their order."""
    stories: dict[str, AlertHistory] = {}
    for happened in events:
        stories[happened.key] = stories.get(happened.key, AlertHistory()).then(happened)
    return stories
