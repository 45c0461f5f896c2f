"""The ledger: what is in memory and what is on disk come to the same."""

from __future__ import annotations

from collections.abc import Iterable
from datetime import UTC, date, datetime, timedelta
from pathlib import Path

import pytest

from suntrack.alerts.history import AlertEvent, AlertHistory
from suntrack.alerts.lifecycle import Event, IllegalEventError
from suntrack.errors import JournalError
from suntrack.store.journal import Entry, Journal
from suntrack.store.journal_answers import answer_calls
from suntrack.watch.ledger import Ledger

DAY = date(2026, 11, 25)
NOON = datetime(2026, 11, 25, 10, 0, tzinfo=UTC)
KEY = "2026-11-25/turn-1"


def happened(event: Event, way: str | None = None) -> AlertEvent:
    return AlertEvent(key=KEY, event=event, at=NOON, way=way)


def test_memory_and_disk_tell_the_same_story() -> None:
    with Journal.in_memory() as journal:
        ledger = Ledger(journal)
        ledger.record([happened("send", "terminal")])
        ledger.record([happened("accepted", "terminal"), happened("acknowledge")])
        assert ledger.stories(DAY) == journal.alert_stories(DAY)
        assert Ledger(journal).stories(DAY) == ledger.stories(DAY)


def test_what_a_screen_is_reading_does_not_change_under_it() -> None:
    with Journal.in_memory() as journal:
        ledger = Ledger(journal)
        read = ledger.stories(DAY)
        ledger.record([happened("send", "terminal")])
        assert dict(read) == {}
        assert list(ledger.stories(DAY)) == [KEY]


def test_another_tale_on_disk_is_believed(tmp_path: Path) -> None:
    """Somebody acknowledged through another journal; what is on disk counts."""
    with Journal.open(tmp_path / "j.db") as journal, Journal.open(tmp_path / "j.db") as other:
        ledger = Ledger(journal)
        ledger.record([happened("send", "terminal")])
        other.record_alert(KEY, "acknowledge", NOON)
        ledger.record([happened("accepted", "terminal")])
        ledger.record([happened("again", "terminal")])
        assert ledger.stories(DAY)[KEY].state == "acknowledged"
        assert ledger.trouble is None


def test_notes_are_read_again_when_there_is_more() -> None:
    with Journal.in_memory() as journal:
        ledger = Ledger(journal)
        assert ledger.notes(DAY) == ()
        journal.append(Entry(at=NOON, kind="pulled", day=DAY, subject="lentil-soup"))
        journal.append(Entry(at=NOON, kind="plan", day=DAY))
        assert [(note.kind, note.subject) for note in ledger.notes(DAY)] == [
            ("pulled", "lentil-soup")
        ]


def test_events_the_journals_own_story_forbids_are_left_out_one_by_one(
    tmp_path: Path, caplog: pytest.LogCaptureFixture
) -> None:
    """Of a batch that does not fit, what does fit is kept: one bad line costs no other."""
    other_key = "2026-11-25/turn-2"
    with Journal.open(tmp_path / "j.db") as journal, Journal.open(tmp_path / "j.db") as other:
        ledger = Ledger(journal)
        ledger.record([happened("send", "terminal")])
        other.record_alert(KEY, "acknowledge", NOON)
        fits = AlertEvent(key=other_key, event="send", at=NOON, way="terminal")
        ledger.record([happened("accepted", "terminal"), happened("again", "terminal"), fits])
        written = [(event.key, event.event) for event in journal.alert_events(DAY)]
        assert written == [
            (KEY, "send"),
            (KEY, "acknowledge"),
            (KEY, "accepted"),
            (other_key, "send"),
        ]
        assert ledger.stories(DAY)[other_key].state == "sending"
    assert "left out: again" in caplog.text


def test_food_an_earlier_day_left_in_the_box_is_found() -> None:
    with Journal.in_memory() as journal:
        journal.append(Entry(at=NOON, kind="loaded", day=DAY, subject="lentil-soup"))
        ledger = Ledger(journal)
        assert ledger.leftover(DAY) == {}
        for days in (1, 3):
            (alert,) = ledger.leftover(DAY + timedelta(days=days))[DAY]
            assert alert.key == "2026-11-25/pull-lentil-soup"
        assert ledger.leftover(DAY + timedelta(days=4)) == {}


def test_what_another_process_answers_is_seen_at_the_next_look(tmp_path: Path) -> None:
    with Journal.open(tmp_path / "j.db") as journal, Journal.open(tmp_path / "j.db") as other:
        ledger = Ledger(journal)
        ledger.record([happened("send", "terminal"), happened("accepted", "terminal")])
        ledger.look_again()
        assert not ledger.look_again(), "its own writing is not news"
        assert ledger.stories(DAY)[KEY].state == "sent"
        answer_calls(other, today=DAY, now=NOON)
        assert ledger.look_again()
        assert ledger.stories(DAY)[KEY].state == "acknowledged"
        assert not ledger.look_again()


def test_what_there_is_no_room_for_is_kept_while_the_rest_is_written_one_by_one(
    monkeypatch: pytest.MonkeyPatch, caplog: pytest.LogCaptureFixture
) -> None:
    """A full disk in the middle of it: what could not be written is written later."""
    with Journal.in_memory() as journal:
        ledger, write, full = Ledger(journal), journal.record_alerts, [True]

        def record(events: Iterable[AlertEvent]) -> dict[str, AlertHistory]:
            batch = list(events)
            if len(batch) > 1:
                raise IllegalEventError("planned", "accepted")
            if full[0] and batch[0].key.endswith("turn-2"):
                raise JournalError("database or disk is full")
            return write(batch)

        monkeypatch.setattr(journal, "record_alerts", record)
        second = AlertEvent(key="2026-11-25/turn-2", event="send", at=NOON, way="terminal")
        ledger.record([happened("send", "terminal"), second])
        assert [event.key for event in journal.alert_events(DAY)] == [KEY]
        assert "full" in (ledger.trouble or "")
        assert ledger.stories(DAY)[second.key].state == "sending", "or it would be told again"
        full[0] = False
        ledger.flush()
        assert [event.key for event in journal.alert_events(DAY)] == [KEY, second.key]
        assert ledger.trouble is None
