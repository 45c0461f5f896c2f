"""The ways out as the watch uses them: what is on its way, what came back, what fails.

Each is written down as a line of the journal before and after it is handed over.
"""

from __future__ import annotations

import logging
from collections.abc import Collection, Mapping, Sequence
from datetime import UTC, datetime
from typing import TYPE_CHECKING, Any

from suntrack.alerts.history import AlertEvent
from suntrack.alerts.lifecycle import Event
from suntrack.notify.channel import Accepted, Notice, Notifier, Outcome, Refused, Unknown
from suntrack.notify.delivery import Handing
from suntrack.screen.text.watch import way_words
from suntrack.watch.notices import lost

if TYPE_CHECKING:
    from collections.abc import Iterable, Mapping, Sequence
    from datetime import datetime

    from suntrack.alerts.alert import Alert
    from suntrack.alerts.decide import Actions, Send
    from suntrack.alerts.history import AlertEvent


SOON_S = 0.9
"""How long a look waits for the ways; who needs longer is asked at a later look.  [s]"""
AT_HAND: frozenset[str] = frozenset({"terminal", "sound"})
"""Ways that cannot tell whether anybody is there; no backup waits for them to fail."""


log = logging.getLogger(__name__)


class Hands:
    """Hands notices to the ways and remembers which alerts each of them stands for."""

    def __init__(self, ways: Sequence[Notifier], *, backups: Collection[str] = ()) -> None:
        self.names = tuple(way.name for way in ways)
        self.leads: Mapping[str, Sequence[str]] = {
            name: tuple(lead for lead in self.names[:i] if lead not in AT_HAND)
            for i, name in enumerate(self.names)
            if name in backups
        }
        self._handing = Handing(ways)
        self._sends: dict[str, tuple[Send, ...]] = {}
        self._covers: dict[str, set[str]] = {}
        self._failing: dict[str, str] = {}

    @property
    def free(self) -> tuple[str, ...]:
        """The ways that can be given a notice now."""
        return tuple(name for name in self.names if name not in self._handing.busy)

    def start(self, sends: Sequence[Send], notices: Mapping[str, Notice]) -> None:
        """Hand the notices of one moment to their ways."""
        for way, notice in notices.items():
            self._sends[way] = tuple(send for send in sends if send.way == way)
            told = {send.alert.key for send in self._sends[way]}
            self._covers.setdefault(notice.key, set()).update(told)
        self._handing.start(notices)

    def tell(self, notice: Notice) -> None:
        """Hand over a notice that stands for no alert, by every way that is free."""
        self.start((), dict.fromkeys(self.free, notice))

    def outcomes(self, now: datetime, *, wait_s: float) -> list[AlertEvent]:
        """Return what the ways have answered since, as lines for the journal.  [s]"""
        events: list[AlertEvent] = []
        for way, outcome in self._handing.outcomes(wait_s=wait_s).items():
            self._note(way, outcome)
            told = ", ".join(send.alert.key for send in self._sends.get(way, ()))
            log.info("%s by %s: %s", told or "a word of the watch", way, _said(outcome))
            events += outcome_events(self._sends.pop(way, ()), {way: outcome}, now)
        return events

    def covered(self, key: str) -> frozenset[str]:
        """Return the alerts that the notice under a key has told of, itself included."""
        return frozenset(self._covers.get(key, ())) | {key}

    def trouble(self) -> tuple[str, ...]:
        """Return a line for every way that did not take its last notice."""
        return tuple(
            way_words(way, reason, backup=self._backup_of(way))
            for way, reason in self._failing.items()
        )

    def _backup_of(self, way: str) -> str | None:
        """Return the way that is used instead of one that fails."""
        return next((name for name, leads in self.leads.items() if way in leads), None)

    def _note(self, way: str, outcome: Outcome) -> None:
        """Remember whether a way works; one that never gives receipts is taken at its word."""
        failing = {name: reason for name, reason in self._failing.items() if name != way}
        if isinstance(outcome, Refused) or (isinstance(outcome, Unknown) and outcome.repeat):
            failing[way] = outcome.reason
        # A new dict each time: a screen may be reading the old one in its own thread.
        self._failing = failing


def _said(outcome: Outcome) -> str:
    """Return an outcome as the log has it."""
    if isinstance(outcome, Refused):
        return f"refused, {outcome.reason}"
    return f"nobody knows, {outcome.reason}" if isinstance(outcome, Unknown) else "accepted"


def order_events(orders: Actions, now: datetime) -> list[AlertEvent]:
    """Return what has to be written down before anything is sent."""
    last = lost(orders)
    return [
        *(_event(alert, "settle", now) for alert in orders.settle),
        *(_event(alert, "move", now) for alert in orders.move),
        *lapse_events([alert for alert in orders.lapse if alert not in last], now),
        *(_event(old, "replace", now, due_at=_utc(old), by=new.key) for old, new in orders.replace),
        *(
            _event(send.alert, send.event, now, way=send.way, due_at=_utc(send.alert))
            for send in orders.send
        ),
    ]


def lapse_events(alerts: Iterable[Alert], now: datetime) -> list[AlertEvent]:
    """Return the ends of alerts that are no longer worth telling."""
    return [_event(alert, "lapse", now, due_at=_utc(alert)) for alert in alerts]


def outcome_events(
    sends: Sequence[Send], outcomes: Mapping[str, Outcome], now: datetime
) -> list[AlertEvent]:
    """Return what the ways answered; every alert of a notice shares its outcome."""
    events = []
    for send in (send for send in sends if send.way in outcomes):
        event, data = _in_words(outcomes[send.way])
        events.append(_event(send.alert, event, now, way=send.way, **data))
    return events


def _in_words(outcome: Outcome) -> tuple[Event, dict[str, Any]]:
    """Return the event an outcome is, and what is kept of it."""
    if isinstance(outcome, Accepted):
        return "accepted", {"id": outcome.id} if outcome.id is not None else {}
    if isinstance(outcome, Refused):
        return "refused", {"reason": outcome.reason}
    return "no answer", {"reason": outcome.reason, "repeat": outcome.repeat}


def _event(
    alert: Alert, event: Event, now: datetime, *, way: str | None = None, **data: Any
) -> AlertEvent:
    """Return one line about an alert."""
    return AlertEvent(key=alert.key, event=event, at=now, way=way, data=data)


def _utc(alert: Alert) -> str:
    """Return when an alert was due, as the journal writes it."""
    return alert.due_at.astimezone(UTC).isoformat()
