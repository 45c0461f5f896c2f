"""What has to happen to the alerts at this moment: a pure decision, asked every second.

    alerts of the plan + their stories + the cook's notes + now  ->  orders

Asking twice changes nothing: what the first answer ordered is in the stories the second
time.  The daemon carries the orders out; nothing here sends or writes.

What was handed over once is handed over again, but bounded in every case: a cook who is
called too often stops listening.
"""

from __future__ import annotations

from dataclasses import dataclass, field
from datetime import datetime, timedelta
from typing import TYPE_CHECKING

from suntrack.alerts.alert import Kind
from suntrack.alerts.history import MOST_DOUBTS, AlertHistory
from suntrack.alerts.lifecycle import FINAL
from suntrack.alerts.quiet import NEVER, Quiet

if TYPE_CHECKING:
    from collections.abc import Collection, Iterable, Mapping, Sequence

    from suntrack.alerts.alert import Alert
    from suntrack.alerts.history import Delivery
    from suntrack.alerts.lifecycle import Event


TOGETHER = timedelta(seconds=60)
"""What is due this soon after something else is told in the same notice; never a pull."""
CLEARLY_LATER = timedelta(minutes=10)
"""A new plan has to move an alert this far before it is told once more."""

NOTE_FOR: Mapping[Kind, str] = {
    "preheat": "turned", "turn": "turned", "load": "loaded", "prepare": "loaded",
    "evening before": "loaded", "pull": "pulled", "pull by": "pulled", "stove": "pulled",
    "done": "pulled", "danger near": "pulled", "danger": "pulled",
}  # fmt: skip
"""The note with which a cook says that it is done."""
STALE_WITH: Mapping[Kind, tuple[Kind, ...]] = {
    "turn": ("preheat", "turn"),
    "cover": ("preheat", "turn", "window opens", "window closes", "gust", "rain"),
    "window closes": ("window opens",),
    "load": ("evening before", "prepare"),
    "pull": ("evening before", "prepare", "load", "done"),
    "pull by": ("pull", "done"),
    "stove": ("evening before", "prepare", "load", "danger near"),
    "danger": ("stove", "danger near"),
    "slower": ("slower", "cloud"),
    "cloud": ("slower", "cloud"),
}
"""Once the first is due, the others have nothing to say any more (of the same dish)."""
NO_LEADS: Mapping[str, Sequence[str]] = {}
"""When no way is only a backup."""
ANSWERED_WITH: Mapping[Kind, tuple[str, str]] = {
    "pull by": ("/pull-by-", "/pull-"),
    "danger near": ("/danger-near-", "/stove-"),
    "danger": ("/danger-", "/stove-"),
}
"""Of which call an answer answers these too: what to put into the key instead of what."""
FOOD_OUT: tuple[Kind, ...] = ("pull", "pull by", "stove", "danger near", "danger", "cover")


@dataclass(frozen=True, slots=True, kw_only=True)
class Note:
    """Something the cook says has been done."""

    kind: str
    """turned, loaded, pulled or skipped."""
    at: datetime
    """When it happened, as the cook noted it."""
    subject: str | None = None
    """The dish it is about; None for the box."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Send:
    """One alert to hand over by one way."""

    alert: Alert
    """What is handed over."""
    way: str
    """The name of the way it goes."""
    event: Event
    """send, or again."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Actions:
    """Everything to do now; empty most of the time."""

    settle: tuple[Alert, ...] = ()
    """The cook's notes have answered these."""
    move: tuple[Alert, ...] = ()
    """A new plan has these at another time."""
    lapse: tuple[Alert, ...] = ()
    """It is too late for these."""
    replace: tuple[tuple[Alert, Alert], ...] = ()
    """The stale one, and the one that says it better."""
    send: tuple[Send, ...] = ()
    """What is handed over now, way by way."""
    missed: tuple[Alert, ...] = ()
    """Lapsed or replaced without ever having been told; none that was only nice to know."""

    def plus(self, other: Actions) -> Actions:
        """Return the orders of both."""
        return Actions(
            settle=self.settle + other.settle,
            move=self.move + other.move,
            lapse=self.lapse + other.lapse,
            replace=self.replace + other.replace,
            send=self.send + other.send,
            missed=self.missed + other.missed,
        )


@dataclass(slots=True)
class _Desk:
    """The alerts that are still open while a decision is made."""

    stories: Mapping[str, AlertHistory]
    """What became of each alert so far, by key."""
    ways: Sequence[str]
    """Names of the ways, the first choice first."""
    leads: Mapping[str, Sequence[str]]
    """Which ways each backup stands in for."""
    quiet: Quiet
    """The hours of peace."""
    now: datetime
    """The moment that is decided for."""
    open: dict[str, Alert] = field(default_factory=dict)
    """Alerts nobody has answered, by key."""

    def story(self, alert: Alert) -> AlertHistory:
        """Return what has become of an alert so far."""
        return self.stories.get(alert.key, AlertHistory())

    def take(self, alerts: Iterable[Alert]) -> tuple[Alert, ...]:
        """Take alerts off the desk and return them."""
        taken = tuple(alerts)
        for alert in taken:
            self.open.pop(alert.key, None)
        return taken


def decide(
    alerts: Sequence[Alert],
    *,
    stories: Mapping[str, AlertHistory],
    notes: Sequence[Note],
    ways: Sequence[str],
    now: datetime,
    leads: Mapping[str, Sequence[str]] = NO_LEADS,
    quiet: Quiet = NEVER,
) -> Actions:
    """Return what to do with the alerts of a day at this moment.

    `ways` are those that are free now.  `leads` names, for a backup way, the ways that
    have to fail before it is used.
    """
    desk = _Desk(stories, ways, leads, quiet, now)
    move = tuple(alert for alert in alerts if _is_moved(alert, desk.story(alert), now=now))
    moved = {alert.key for alert in move}
    desk.open = {
        alert.key: alert
        for alert in alerts
        if alert.key not in moved and not desk.story(alert).is_over
    }
    settle = desk.take(a for a in list(desk.open.values()) if _is_settled(a, desk, notes))
    desk.take(_held_back(desk, notes))
    # Replaced before lapsed: a turn ends at the very moment at which the next one is due,
    # and the next one should know whose place it takes.
    due = [a for a in desk.open.values() if _is_due(a, desk.story(a), now=now)]
    stale = _stale([alert for alert in due if alert.lapses_at > now], desk, now=now)
    desk.take(old for old, _ in stale)
    lapse = desk.take(a for a in list(desk.open.values()) if a.lapses_at <= now)
    due = [alert for alert in due if alert.key in desk.open]
    return Actions(
        settle=settle,
        move=move,
        lapse=lapse,
        replace=stale,
        send=_sends(due, desk),
        missed=tuple(a for a in (*lapse, *(old for old, _ in stale)) if _is_missed(a, desk)),
    )


def next_moment(
    alerts: Sequence[Alert],
    *,
    stories: Mapping[str, AlertHistory],
    ways: Sequence[str],
    now: datetime,
    quiet: Quiet = NEVER,
) -> datetime | None:
    """Return when there is something to decide next, as far as is known; None for never."""
    quiet_ends_at = quiet.ends_at(now)
    moments: list[datetime] = [] if quiet_ends_at is None else [quiet_ends_at]
    for alert in alerts:
        story = stories.get(alert.key, AlertHistory())
        if story.is_over:
            continue
        moments += [alert.due_at, alert.lapses_at]
        if story.state == "snoozed" and story.snoozed_until is not None:
            moments.append(story.snoozed_until)
        tries = [next_try(alert, story.on(way)) for way in ways]
        moments += [found[1] for found in tries if found is not None and found[1] is not None]
    return min((moment for moment in moments if moment > now), default=None)


def _is_moved(alert: Alert, story: AlertHistory, *, now: datetime) -> bool:
    """Return True when an alert that had its time has it once more.

    Either a new plan moved it clearly later than it was told, or the clock was set back
    before it was ever told.  What was told is never repeated for a clock set back.
    """
    if story.due_at is None or story.state in (*FINAL, "planned") or alert.due_at <= now:
        return False
    return alert.due_at - story.due_at >= CLEARLY_LATER or not story.was_told


def _is_settled(alert: Alert, desk: _Desk, notes: Sequence[Note]) -> bool:
    """Return True when the cook noted it as done, or answered the pull it belongs to."""
    kind, start = NOTE_FOR.get(alert.kind), alert.noted_from
    if start is not None and any(
        note.kind == kind and note.at >= start and note.subject in (None, alert.subject)
        for note in notes
    ):
        return True
    if alert.kind == "turn" and _is_turn_again(alert, desk):
        return True
    if alert.kind not in ANSWERED_WITH:
        return False
    first_call = desk.stories.get(alert.key.replace(*ANSWERED_WITH[alert.kind]), AlertHistory())
    return first_call.state in FINAL


def _is_turn_again(alert: Alert, desk: _Desk) -> bool:
    """Return True for a turn that a new plan only moved a little after it was told.

    Turns are named by their time, so that a new plan can have more or fewer of them.
    """
    day = f"{alert.day.isoformat()}/turn-"
    return any(
        key.startswith(day)
        and key != alert.key
        and story.was_told
        and story.due_at is not None
        and abs(story.due_at - alert.due_at) < CLEARLY_LATER
        for key, story in desk.stories.items()
    )


def _held_back(desk: _Desk, notes: Sequence[Note]) -> list[Alert]:
    """Return what is not told on a day the cook skips: all but food that is in the box."""
    if not any(note.kind == "skipped" for note in notes):
        return []
    inside = {note.subject for note in notes if note.kind == "loaded"}
    return [alert for alert in desk.open.values() if not _lets_food_out(alert, inside)]


def _lets_food_out(alert: Alert, inside: Collection[str | None]) -> bool:
    """Return True for a call that food in the box still needs, whatever was skipped."""
    if alert.kind not in FOOD_OUT:
        return False
    return alert.in_box or bool(inside and alert.subject in {*inside, None})


def _is_missed(alert: Alert, desk: _Desk) -> bool:
    """Return True for what was never told and is worth a word; what is only nice to know is not."""
    return alert.urgency != "low" and not desk.story(alert).was_told


def _is_due(alert: Alert, story: AlertHistory, *, now: datetime) -> bool:
    """Return True when an alert's time has come, and any snooze is over."""
    until = story.snoozed_until if story.state == "snoozed" else None
    return alert.due_at <= now and (until is None or until <= now)


def _stale(due: Sequence[Alert], desk: _Desk, *, now: datetime) -> tuple[tuple[Alert, Alert], ...]:
    """Return pairs of an alert with nothing left to say, and the newest one that replaces it.

    Only what is due replaces; a snoozed alert is replaced too, since its time is past.
    """
    pairs = []
    for old in [alert for alert in desk.open.values() if alert.due_at <= now]:
        better = [new for new in due if _says_it_better(new, old)]
        if better:
            pairs.append((old, max(better, key=lambda alert: alert.due_at)))
    return tuple(pairs)


def _says_it_better(new: Alert, old: Alert) -> bool:
    """Return True when a due alert makes another one pointless."""
    return (
        old.kind in STALE_WITH.get(new.kind, ())
        and (new.due_at, new.key) > (old.due_at, old.key)
        and (old.subject == new.subject or new.subject is None)
    )


def _sends(due: Sequence[Alert], desk: _Desk) -> tuple[Send, ...]:
    """Return what goes out now; with it what is due within the minute, but never a pull."""
    sends = [send for alert in due for send in _sends_of(alert, desk)]
    if sends:
        soon = [
            alert
            for alert in desk.open.values()
            if desk.now < alert.due_at <= desk.now + TOGETHER
            and alert.kind not in FOOD_OUT
            and desk.story(alert).state == "planned"
        ]
        sends += [send for alert in soon for send in _sends_of(alert, desk)]
    return tuple(sends)


def _sends_of(alert: Alert, desk: _Desk) -> list[Send]:
    """Return the ways on which an alert goes out now; none while it has to be quiet."""
    if desk.quiet.holds(alert.urgency, desk.now):
        return []
    story, found = desk.story(alert), []
    for way in desk.ways:
        tried = next_try(alert, story.on(way))
        is_time = tried is not None and (tried[1] is None or tried[1] <= desk.now)
        if tried is not None and is_time and _is_asked(way, story, desk.leads):
            found.append(Send(alert=alert, way=way, event=tried[0]))
    return found


def _is_asked(way: str, story: AlertHistory, leads: Mapping[str, Sequence[str]]) -> bool:
    """Return True for a way that is always used, and for a backup whose turn has come."""
    return all(has_failed(story.on(lead)) for lead in leads.get(way, ()))


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
