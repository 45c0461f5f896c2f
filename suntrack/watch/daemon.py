"""The watch: wakes up, looks at clock, journal and plan, and hands over what is due.

    look at the clock -> answers of the cook -> what is due -> a new plan, if it is time

Every decision is made elsewhere: what to tell in `suntrack.alerts`, how in
`suntrack.edge`, in which words in `suntrack.screen`.  Nothing is held here that a kill
could lose; what was going to be sent is in the journal before it is sent.
"""

from __future__ import annotations

import logging
import queue
import threading
from collections.abc import Callable, Collection, Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import UTC, date, datetime, timedelta
from typing import TYPE_CHECKING

from suntrack.alerts.decide import Actions, decide, next_moment
from suntrack.alerts.history import AlertEvent, AlertHistory
from suntrack.alerts.leftover import LOOK_BACK
from suntrack.alerts.lifecycle import FINAL
from suntrack.alerts.quiet import NEVER, Quiet
from suntrack.clock import ReplayClock
from suntrack.notify.channel import Answer, Notice
from suntrack.notify.delivery import LIMIT_S
from suntrack.screen.text.watch import DISK_FULL, UNTRUSTED, TimeText, asleep_words, clock_words
from suntrack.store.journal import Entry
from suntrack.watch.channels import SOON_S, Hands, lapse_events, order_events
from suntrack.watch.ledger import Ledger
from suntrack.watch.notices import Words, Writer, lost, told_lines
from suntrack.watch.plans import EVERY, Plans, PlanSource
from suntrack.watch.ticking import ClockEye, Look, WakeTimer, run_replay

if TYPE_CHECKING:
    from suntrack.alerts.alert import Alert
    from suntrack.alerts.decide import Note
    from suntrack.alerts.lifecycle import State
    from suntrack.clock import Clock
    from suntrack.notify.channel import Notifier
    from suntrack.plan.records import DayPlan
    from suntrack.store.journal import Journal

__all__ = ["Watch", "WatchView", "run_replay"]

LOOK_EVERY_S = 1.0
"""Longest wait between two looks at the clock.  [s]"""
SNOOZE_MIN = 5.0
WORTH_TELLING_S = 60.0
"""A clock that jumped less than this is not worth a word.  [s]"""
log = logging.getLogger(__name__)


@dataclass(frozen=True, slots=True, kw_only=True)
class WatchView:
    """What a screen shows of the watch."""

    at: datetime
    """The moment that is shown."""
    plan: DayPlan | None
    """The plan that holds; None while none could be made."""
    alerts: tuple[Alert, ...]
    """What waits for an answer."""
    states: Mapping[str, State]
    """By key; what is not here is planned."""
    undelivered: tuple[Alert, ...]
    """Due, and no way took it, as far as they can tell."""
    trouble: tuple[str, ...]
    """What the cook has to know of the watch itself; often empty."""


class Watch:
    """Calls the cook, as long as `run` runs, or at every `tick`."""

    def __init__(
        self,
        *,
        clock: Clock,
        journal: Journal,
        ways: Sequence[Notifier],
        plan_source: PlanSource,
        words: Words,
        tomorrow_source: PlanSource | None = None,
        on_change: Callable[[WatchView], object] | None = None,
        time_text: TimeText | None = None,
        plan_every: timedelta = EVERY,
        backups: Collection[str] = (),
        quiet: Quiet = NEVER,
        soon_s: float | None = None,
    ) -> None:
        self._clock, self._words, self._quiet = clock, words, quiet
        # The time of a replayed day does not pass while a way is at work.
        usual_s = LIMIT_S if isinstance(clock, ReplayClock) else SOON_S
        self._soon_s = usual_s if soon_s is None else soon_s
        self._hands = Hands(ways, backups=backups)
        self._ledger = Ledger(journal)
        self._plans = Plans(plan_source, tomorrow=tomorrow_source, every=plan_every)
        self._eye = ClockEye(clock)
        self._on_change = on_change
        self._time_text = time_text or self._site_time
        self._answers: queue.SimpleQueue[tuple[str, Answer, float]] = queue.SimpleQueue()
        self._asleep = ""
        self._missed: tuple[Alert, ...] = ()
        self._doubts_told: set[str] = set()
        self._told = journal.told
        self._shown_troubles: tuple[str, ...] = ()
        self._trusted = True
        self._day: date | None = None
        self._wake = threading.Event()

    # The outside: run, or tick by tick; and the cook's answers, from any thread.

    def run(self, stop: threading.Event) -> None:
        """Watch until `stop` is set."""
        timer = WakeTimer(self._wake.set)
        timer.start()
        try:
            while not stop.is_set():
                self._tick_and_live()
                timer.set(self.next_at(self._clock.now()))
                self._clock.wait(self._wake, LOOK_EVERY_S)
                self._wake.clear()
        finally:
            timer.stop()
            self._finish()

    def answer(self, key: str, answer: Answer, *, minutes: float = SNOOZE_MIN) -> None:
        """Take the cook's answer to an alert; from any thread, dealt with at the next tick."""
        self._answers.put((key, answer, minutes))
        self._wake.set()

    def tick(self) -> None:
        """Look once at everything and do what there is to do."""
        look = self._eye.look(newest_at=self._ledger.newest_at())
        changed = self._ledger.look_again()
        changed |= self._take_outcomes(look.at, wait_s=0.0)
        changed |= self._meet_clock(look)
        changed |= self._take_answers(look.at)
        if look.trusted:
            changed |= bool(self.dispatch_due(look.at))
            if self._plans.refresh(look.at, self._ledger):
                changed = True
                self._begin_day()
                self.dispatch_due(look.at)
        self._asleep = ""
        self._ledger.flush()
        self._show(look.at, is_changed=changed)

    def _show(self, now: datetime, *, is_changed: bool) -> None:
        """Tell whoever looks on, when there is something new to see."""
        troubles = self._troubles()
        is_changed |= troubles != self._shown_troubles
        self._shown_troubles = troubles
        if is_changed and self._on_change is not None:
            self._on_change(self.view(now))

    def dispatch_due(self, now: datetime) -> tuple[Alert, ...]:
        """Hand over what is due, and return it; doing it twice changes nothing.

        The intent is on disk before anything leaves, the outcome after it.
        """
        orders = self._decide(now)
        orders = replace(orders, missed=(*self._missed, *orders.missed))
        notices = self._writer(now).notices(orders, self._hands.free)
        too_late = lost(orders)
        self._missed = () if notices else tuple(a for a in orders.missed if a not in too_late)
        if notices:
            self._doubts_told |= {alert.key for alert in self._doubts()}
        self._ledger.record(order_events(orders, now))
        if notices:
            self._hands.start(orders.send, notices)
            self._take_outcomes(now, wait_s=self._soon_s)
            # Its end is written down last: a kill before that has it told once more, not never.
            self._ledger.record(lapse_events(too_late, now))
        return tuple({send.alert.key: send.alert for send in orders.send}.values())

    def next_at(self, now: datetime) -> datetime | None:
        """Return when there is something to tell next, as far as is known."""
        moments = [
            next_moment(
                alerts,
                stories=self._ledger.stories(day),
                ways=self._hands.names,
                now=now,
                quiet=self._quiet,
            )
            for day, alerts in self._plans.alerts.items()
        ]
        return min((moment for moment in moments if moment is not None), default=None)

    def view(self, now: datetime) -> WatchView:
        """Return what a screen shows."""
        stories = self._stories()
        alerts = tuple(alert for day in self._plans.alerts.values() for alert in day)
        known = [(alert, stories.get(alert.key, AlertHistory())) for alert in alerts]
        return WatchView(
            at=now,
            plan=self._plans.plan,
            alerts=alerts,
            states={alert.key: story.state for alert, story in known},
            undelivered=tuple(a for a, story in known if story.is_undelivered),
            trouble=(*told_lines(known, self._words, now), *self._troubles()),
        )

    # The inside.

    def _troubles(self) -> tuple[str, ...]:
        """Return what is wrong with the watch itself; often nothing."""
        saved = self._ledger.trouble and f"State not saved: {self._ledger.trouble}"
        found = (
            None if self._trusted else UNTRUSTED,
            *self._hands.trouble(),
            saved,
            DISK_FULL if self._ledger.on_reserve else None,
            self._plans.trouble,
            self._told,
        )
        return tuple(trouble for trouble in found if trouble)

    def _tick_and_live(self) -> None:
        """Tick; an error of ours is logged and must not end the watch."""
        try:
            self.tick()
        except Exception:
            log.exception("a tick failed; the watch goes on")

    def _decide(self, now: datetime) -> Actions:
        """Return the orders for all days at hand."""
        orders = Actions()
        for day, alerts in self._plans.alerts.items():
            orders = orders.plus(
                decide(
                    alerts,
                    stories=self._ledger.stories(day),
                    notes=self._notes(day),
                    ways=self._hands.free,
                    now=now,
                    leads=self._hands.leads,
                    quiet=self._quiet,
                )
            )
        return orders

    def _writer(self, now: datetime) -> Writer:
        """Return the writer of this moment's notices."""
        return Writer(
            words=self._words,
            time_text=self._time_text,
            now=now,
            stories=self._stories(),
            asleep=self._asleep,
            doubts=self._doubts(),
        )

    def _doubts(self) -> list[Alert]:
        """Return what may have been told, or not, and this run has not spoken of."""
        stories = self._stories()
        return [
            alert
            for day in self._plans.alerts.values()
            for alert in day
            if alert.key not in self._doubts_told
            and stories.get(alert.key, AlertHistory()).is_in_doubt
        ]

    def _notes(self, day: date) -> list[Note]:
        """Return what was noted on a day, and the food taken out on the days after it."""
        later = [other for other in self._plans.alerts if other > day]
        out = [note for other in later for note in self._ledger.notes(other)]
        return [*self._ledger.notes(day), *(note for note in out if note.kind == "pulled")]

    def _take_outcomes(self, now: datetime, *, wait_s: float) -> bool:
        """Write down what the ways have answered; True when there was any answer."""
        events = self._hands.outcomes(now, wait_s=wait_s)
        self._ledger.record(events)
        return bool(events)

    def _finish(self) -> None:
        """Wait for the ways that are still at work, so that nothing is in doubt later."""
        while len(self._hands.free) < len(self._hands.names):
            self._take_outcomes(self._clock.now(), wait_s=LIMIT_S)
        self._ledger.flush()

    def _stories(self) -> dict[str, AlertHistory]:
        """Return the stories of all days at hand."""
        return {
            key: story
            for day in self._plans.alerts
            for key, story in self._ledger.stories(day).items()
        }

    def _take_answers(self, now: datetime) -> bool:
        """Write down what the cook answered since the last tick; True when there was any."""
        events: list[AlertEvent] = []
        while not self._answers.empty():
            lead, answer, minutes = self._answers.get()
            for key in sorted(self._hands.covered(lead)):
                events.extend(self._answer_events(key, answer, minutes, now))
        self._ledger.record(events)
        return bool(events)

    def _answer_events(
        self, key: str, answer: Answer, minutes: float, now: datetime
    ) -> list[AlertEvent]:
        """Return what an answer does to one alert; nothing to one that is over."""
        story = self._stories().get(key)
        if story is None or story.state in FINAL or (answer == "snooze" and story.is_over):
            return []
        if answer == "done":
            return [AlertEvent(key=key, event="acknowledge", at=now)]
        until = (now + timedelta(minutes=minutes)).astimezone(UTC).isoformat()
        return [AlertEvent(key=key, event="snooze", at=now, data={"until": until})]

    def _meet_clock(self, look: Look) -> bool:
        """Take notice of a jump of the clock; True when there is something to show."""
        changed = look.trusted != self._trusted
        self._trusted = look.trusted
        if look.step_s == 0.0:
            return changed
        self._plans.hurry()
        day = self._plans.plan.date if self._plans.plan else look.at.date()
        data = {"step_s": round(look.step_s, 1)}
        if look.trusted:
            self._ledger.append(Entry(at=look.at, kind="clock", day=day, data=data))
        if look.step_s >= WORTH_TELLING_S:
            self._asleep = asleep_words(look.before_at, look.at, time_text=self._time_text)
        elif look.step_s <= -WORTH_TELLING_S and look.trusted:
            key = f"{day.isoformat()}/clock"
            self._hands.tell(Notice(key=key, title=clock_words(look.step_s), urgency="low"))
            self._take_outcomes(look.at, wait_s=self._soon_s)
        return True

    def _begin_day(self) -> None:
        """Tidy up when the plan in hand is of another day than before."""
        plan = self._plans.plan
        if plan is not None and self._day != plan.date:
            self._day = plan.date
            self._ledger.forget_before(plan.date - LOOK_BACK)
            self._ledger.backup()

    def _site_time(self, at: datetime) -> str:
        """Return a time of day at the site."""
        zone = self._plans.plan.made_at.tzinfo if self._plans.plan else None
        local = at.astimezone(zone)
        return f"{local.hour}:{local.minute:02d}"
