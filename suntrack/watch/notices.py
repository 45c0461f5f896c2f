"""From orders to one notice for each way: what is due at once is told at once, together."""

from __future__ import annotations

import logging
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from datetime import datetime
from typing import TYPE_CHECKING

from suntrack.alerts.history import AlertHistory
from suntrack.notify.channel import Notice
from suntrack.screen.text.watch import (
    TimeText,
    doubt_words,
    missed_words,
    too_late_words,
    undelivered_words,
)

if TYPE_CHECKING:
    from suntrack.alerts.alert import Alert, Urgency
    from suntrack.alerts.decide import Actions, Send

Words = Callable[["Alert", datetime], tuple[str, str]]
"""From an alert and the moment to a title and a body."""
LOUDER: Mapping[Urgency, int] = {"low": 0, "normal": 1, "urgent": 2}
log = logging.getLogger(__name__)


@dataclass(frozen=True, slots=True, kw_only=True)
class Writer:
    """Writes the notices of one moment."""

    words: Words
    """From an alert to its title and line."""
    time_text: TimeText
    """From a moment to how the cook reads it."""
    now: datetime
    """The moment of writing."""
    stories: Mapping[str, AlertHistory]
    """What became of each alert so far, by key."""
    asleep: str = ""
    """The line for a stretch in which nothing could be told; often empty."""
    doubts: Sequence[Alert] = ()
    """What may have been told, or not, and has not been spoken of yet."""

    def notices(self, orders: Actions, ways: Sequence[str]) -> dict[str, Notice]:
        """Return the notice of each way that has something to tell."""
        found = {}
        for way in ways:
            sends = [send for send in orders.send if send.way == way]
            if sends:
                found[way] = self._together(_loudest_first(sends), orders, way)
        too_late = lost(orders)
        if too_late and not found:
            return dict.fromkeys(ways, self._only_too_late(too_late))
        return found

    def _together(self, sends: Sequence[Send], orders: Actions, way: str) -> Notice:
        """Return one notice for everything that a way has to tell now."""
        first = sends[0]
        title, body = self._say(first)
        more = [". ".join(part for part in self._say(send) if part) for send in sends[1:]]
        too_late = [self._too_late(alert) for alert in lost(orders)]
        doubt = doubt_words(say(self.words, a, self.now)[0] for a in self.doubts)
        lines = [body, *more, *too_late, self.asleep, missed_words(orders.missed), doubt]
        return Notice(
            key=first.alert.key,
            title=title,
            body="\n".join(line for line in lines if line),
            urgency=max((send.alert.urgency for send in sends), key=LOUDER.__getitem__),
            replaces=self._replaces(first, orders, way),
        )

    def _say(self, send: Send) -> tuple[str, str]:
        """Return title and body of one alert, marked when it was told before."""
        alert, story = send.alert, self.stories.get(send.alert.key, AlertHistory())
        title, body = say(self.words, alert, self.now)
        if story.on(send.way).state in ("sending", "unknown", "sent"):
            title = f"Again: {title}"
        return title, body

    def _too_late(self, alert: Alert) -> str:
        """Return a line for food that could not be called for in time at all."""
        title, _ = say(self.words, alert, self.now)
        return too_late_words(alert, title, time_text=self.time_text)

    def _only_too_late(self, alerts: Sequence[Alert]) -> Notice:
        """Return the notice when such food is all there is to tell."""
        lines = [*(self._too_late(alert) for alert in alerts), self.asleep]
        return Notice(
            key=alerts[0].key,
            title=missed_words(alerts).rstrip("."),
            body="\n".join(line for line in lines if line),
            urgency="urgent",
        )

    def _replaces(self, first: Send, orders: Actions, way: str) -> str | None:
        """Return the way's name for the notice whose place this one takes."""
        keys = [first.alert.key]
        keys += [old.key for old, new in orders.replace if new.key == first.alert.key]
        ids = [self.stories.get(key, AlertHistory()).on(way).notice_id for key in keys]
        return next((id_ for id_ in ids if id_), None)


def lost(orders: Actions) -> list[Alert]:
    """Return the urgent alerts that lapsed untold; these are never dropped silently."""
    lapsed = {alert.key for alert in orders.lapse}
    return [a for a in orders.missed if a.urgency == "urgent" and a.key in lapsed]


def told_lines(
    known: Sequence[tuple[Alert, AlertHistory]], words: Words, now: datetime
) -> tuple[str, ...]:
    """Return the lines for what no way took, and for what may have been told."""
    nobody = [alert for alert, story in known if story.is_undelivered]
    doubt = [alert for alert, story in known if story.is_in_doubt]
    lines = [
        line_of(say(words, alert, now)[0] for alert in alerts)
        for line_of, alerts in ((undelivered_words, nobody), (doubt_words, doubt))
    ]
    return tuple(line for line in lines if line)


def say(words: Words, alert: Alert, now: datetime) -> tuple[str, str]:
    """Return an alert's words; plain ones when the wording fails, since it has to be told."""
    try:
        return words(alert, now)
    except Exception:
        log.exception("no words for %s", alert.key)
        return " ".join(part for part in (alert.kind, alert.dish) if part), alert.detail


def _loudest_first(sends: Sequence[Send]) -> list[Send]:
    """Return the sends with the most urgent first, then the newest."""
    return sorted(
        sends,
        key=lambda send: (LOUDER[send.alert.urgency], send.alert.due_at.timestamp()),
        reverse=True,
    )
