"""When an alert that was handed over once is handed over again.

Bounded in every case: a cook who is called too often stops listening.
"""

from __future__ import annotations

from datetime import datetime, timedelta
from typing import TYPE_CHECKING

from suntrack.alerts.history import MOST_DOUBTS

if TYPE_CHECKING:
    from suntrack.alerts.alert import Alert
    from suntrack.alerts.history import Delivery
    from suntrack.alerts.lifecycle import Event

# Our choices; there is no source.
NO_ANSWER_AFTER = timedelta(minutes=1)
"""A way that did not answer is asked once more after this long."""
REFUSED_AFTER = (timedelta(minutes=1), timedelta(minutes=5), timedelta(minutes=15))
"""A way that said no is asked again after these times; urgent alerts go on with the last."""
REMIND_AFTER = timedelta(minutes=10)
REMINDERS = 3
"""An urgent alert that nobody has answered is told so often again."""


def next_try(alert: Alert, delivery: Delivery) -> tuple[Event, datetime | None] | None:
    """Return how an open alert goes out next on a way, and when; None for never again.

    The time is None for at once.  `sending` at this point means that an earlier run of
    the program was killed before it heard the answer: the first such kill costs one
    repeat.  After a second try whose end nobody knows there is no third: the cook may have
    been told, and only an urgent alert goes on with its reminders.
    """
    if delivery.state in ("planned", "snoozed"):
        return "send", None
    if delivery.state == "sending" and delivery.doubts < MOST_DOUBTS:
        return "again", None
    wait = _wait(alert, delivery)
    if wait is None or delivery.tried_at is None:
        return None
    return "again", delivery.tried_at + wait


def has_failed(delivery: Delivery) -> bool:
    """Return True when a way has been asked twice and the cook has not surely heard by it."""
    return may_have_been_told(delivery) or (delivery.state == "refused" and delivery.tries >= 2)


def _wait(alert: Alert, delivery: Delivery) -> timedelta | None:
    """Return how long after the last try the next one comes; None for never."""
    is_urgent = alert.urgency == "urgent"
    tries = delivery.tries
    if delivery.state == "refused":
        if tries > len(REFUSED_AFTER) and not is_urgent:
            return None
        return REFUSED_AFTER[min(tries, len(REFUSED_AFTER)) - 1]
    if delivery.state == "unknown" and delivery.may_repeat and delivery.doubts < MOST_DOUBTS:
        return NO_ANSWER_AFTER
    if is_urgent and tries <= REMINDERS:
        return REMIND_AFTER
    return None


def may_have_been_told(delivery: Delivery) -> bool:
    """Return True when nobody knows whether a way told it, and it is not repeated for that."""
    return (
        delivery.state in ("sending", "unknown")
        and delivery.may_repeat
        and delivery.doubts >= MOST_DOUBTS
    )
