"""From orders and outcomes to the lines that the journal keeps of them."""

from __future__ import annotations

from datetime import UTC, datetime
from typing import TYPE_CHECKING, Any

from suntrack.alerts.history import AlertEvent
from suntrack.alerts.lifecycle import Event
from suntrack.notify.channel import Accepted, Outcome, Refused
from suntrack.watch.notices import lost

if TYPE_CHECKING:
    from collections.abc import Iterable, Mapping, Sequence

    from suntrack.alerts.alert import Alert
    from suntrack.alerts.decide import Actions, Send


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
