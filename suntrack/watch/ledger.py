"""The stories of the alerts, in memory and in the journal at once.

The journal is the truth, and is read when a day begins.  When it cannot be written (a full
disk) the reserve beside it is given up; when that is used too the stories go on in memory,
so that the cook is still called, and what is missing is written as soon as there is room.
"""

from __future__ import annotations

import contextlib
import logging
import threading
from datetime import timedelta
from typing import TYPE_CHECKING

from suntrack.alerts.decide import Note
from suntrack.alerts.history import AlertEvent, AlertHistory
from suntrack.alerts.leftover import LOOK_BACK, leftover_alerts
from suntrack.alerts.lifecycle import IllegalEventError
from suntrack.errors import JournalError
from suntrack.store.journal import NOTED, Entry, Journal
from suntrack.store.leftover import still_inside
from suntrack.store.reserve import Reserve

if TYPE_CHECKING:
    from collections.abc import Mapping, Sequence
    from datetime import date, datetime

    from suntrack.alerts.alert import Alert

log = logging.getLogger(__name__)


class Ledger:
    """The journal, as the watch needs it."""

    def __init__(self, journal: Journal) -> None:
        self._journal = journal
        self._days: dict[date, Mapping[str, AlertHistory]] = {}
        self._notes: dict[date, tuple[int, tuple[Note, ...]]] = {}
        self._unsaved: list[AlertEvent] = []
        self._version = 0
        # A screen in its own thread must not put an older reading over newer events.
        self._lock = threading.RLock()
        self._reserve = Reserve(journal.path) if journal.path else None
        if self._reserve is not None:
            self._reserve.make()
        self.on_reserve = False
        """True while the journal lives on the room that was kept for a full disk."""
        self.trouble: str | None = None
        """Why the journal cannot be read or written at the moment; None when it can."""

    def look_again(self) -> bool:
        """Forget what is in memory when somebody else has written; True when somebody has."""
        try:
            version = self._journal.version()
        except JournalError as error:
            self._note_trouble(error)
            return False
        with self._lock:
            if version == self._version or self._unsaved:
                return False
            self._version = version
            self._days.clear()
        return True

    def stories(self, day: date) -> Mapping[str, AlertHistory]:
        """Return what has become of the alerts of a day, up to now; it never changes."""
        with self._lock:
            if day not in self._days:
                try:
                    self._days[day] = self._journal.alert_stories(day)
                except JournalError as error:
                    self._note_trouble(error)
                    self._days[day] = {}
            return self._days[day]

    def record(self, events: Sequence[AlertEvent]) -> None:
        """Take down what happens, in memory always and on disk if at all possible."""
        with self._lock:
            for happened in events:
                self._take(happened)
            self._unsaved.extend(events)
            self.flush()

    def _take(self, happened: AlertEvent) -> None:
        """Take an event down in memory; raise IllegalEventError when it cannot be."""
        before = self.stories(happened.day)
        story = before.get(happened.key, AlertHistory()).then(happened)
        # A new dict each time: a screen may be reading the old one meanwhile.
        self._days[happened.day] = {**before, happened.key: story}

    def flush(self) -> None:
        """Write what could not be written before."""
        with self._lock:
            if self._unsaved:
                self._flush()

    def _flush(self) -> None:
        """Write the events at hand, and keep those that there is no room for."""
        try:
            self._write_all()
            self._unsaved = []
        except JournalError as error:
            self._note_trouble(error)
        except IllegalEventError:
            # Somebody else wrote about our alerts: what is on disk counts.
            log.exception("the journal tells another story; reading it again")
            self._unsaved = self._write_one_by_one()
            self._days.clear()
            for happened in self._unsaved:
                with contextlib.suppress(IllegalEventError):
                    self._take(happened)
        if not self._unsaved:
            self.trouble = None
            if self.on_reserve:
                self._renew_reserve()

    def _write_all(self) -> None:
        """Write everything in one go; on a full disk once more, on the reserve."""
        try:
            self._journal.record_alerts(self._unsaved)
        except JournalError:
            if self._reserve is None or not self._reserve.give_up():
                raise
            log.warning("the disk is full; the journal goes on with its reserve")
            self.on_reserve = True
            self._journal.record_alerts(self._unsaved)

    def _write_one_by_one(self) -> list[AlertEvent]:
        """Write what the journal's own story allows; return what there is no room for."""
        left = []
        for happened in self._unsaved:
            try:
                self._journal.record_alerts([happened])
            except IllegalEventError:
                log.warning("left out: %s for %s", happened.event, happened.key)
            except JournalError as error:
                self._note_trouble(error)
                left.append(happened)
        return left

    def notes(self, day: date) -> tuple[Note, ...]:
        """Return what the cook noted on a day; read again only when there is more."""
        newest = self.last_id(day)
        kept = self._notes.get(day)
        if kept is None or kept[0] != newest:
            try:
                entries = self._journal.entries(day)
            except JournalError as error:
                self._note_trouble(error)
                return kept[1] if kept else ()
            kept = (newest, tuple(_note(entry) for entry in entries if entry.kind in NOTED))
            self._notes[day] = kept
        return kept[1]

    def leftover(self, today: date) -> dict[date, tuple[Alert, ...]]:
        """Return the calls for food that earlier days left in the box."""
        days = [today - timedelta(days=back) for back in range(1, LOOK_BACK.days + 1)]
        return {day: found for day in days if (found := self._left_on(day))}

    def _left_on(self, day: date) -> tuple[Alert, ...]:
        """Return the calls for food that one earlier day left in the box."""
        try:
            inside = still_inside(self._journal.entries(day))
        except JournalError as error:
            self._note_trouble(error)
            return ()
        return leftover_alerts(day, inside, self.stories(day)) if inside else ()

    def last_id(self, day: date) -> int:
        """Return a number that changes when the cook notes something."""
        try:
            return self._journal.last_id(day)
        except JournalError as error:
            self._note_trouble(error)
            return self._notes.get(day, (0, ()))[0]

    def newest_at(self) -> datetime | None:
        """Return the time of the newest entry of all."""
        try:
            return self._journal.last_at()
        except JournalError as error:
            self._note_trouble(error)
            return None

    def append(self, entry: Entry) -> None:
        """Write an entry; one that cannot be written is not worth stopping for."""
        try:
            self._journal.append(entry)
        except JournalError as error:
            self._note_trouble(error)

    def _renew_reserve(self) -> None:
        """Take up the reserve's room again, once there is room."""
        if self._reserve is not None:
            self.on_reserve = not self._reserve.make()

    def backup(self) -> None:
        """Keep a copy of the journal beside it."""
        try:
            self._journal.backup()
        except (JournalError, OSError) as error:
            self._note_trouble(error)

    def forget_before(self, day: date) -> None:
        """Drop the stories of earlier days from memory; the journal keeps them."""
        with self._lock:
            self._days = {kept: stories for kept, stories in self._days.items() if kept >= day}

    def _note_trouble(self, error: Exception) -> None:
        """Remember why the journal failed; log it once and not every second."""
        if self.trouble != str(error):
            log.warning("not saved: %s", error)
        self.trouble = str(error)


def _note(entry: Entry) -> Note:
    """Return an entry as what the alerts need of it."""
    return Note(kind=entry.kind, at=entry.at, subject=entry.subject)
