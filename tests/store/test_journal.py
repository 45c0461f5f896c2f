"""The journal: what it has taken it keeps, and what is not its own it leaves alone."""

from __future__ import annotations

import json
import signal
import sqlite3
import subprocess
import sys
import tempfile
import threading
from collections.abc import Iterator
from contextlib import closing
from datetime import UTC, date, datetime, timedelta
from pathlib import Path
from typing import Any, get_args
from zoneinfo import ZoneInfo

import pytest
from hypothesis import HealthCheck, example, given, settings
from hypothesis import strategies as st

from suntrack.alerts.history import AlertEvent
from suntrack.alerts.lifecycle import IllegalEventError
from suntrack.errors import JournalError
from suntrack.store import journal_schema
from suntrack.store.journal import Entry, EntryKind, Journal

DAY = date(2026, 11, 25)
NOON = datetime(2026, 11, 25, 12, 0, tzinfo=ZoneInfo("Africa/Gaborone"))
KEY = "2026-11-25/pull-lentil-soup"


@pytest.fixture
def path(tmp_path: Path) -> Path:
    return tmp_path / "data" / "journal.db"


@pytest.fixture(params=["on disk", "in memory"])
def journal(request: pytest.FixtureRequest, path: Path) -> Iterator[Journal]:
    """Each kind of journal has to keep the same promises."""
    made = Journal.open(path) if request.param == "on disk" else Journal.in_memory()
    with made:
        yield made


def noted(kind: EntryKind = "turned", **changes: Any) -> Entry:
    return Entry(**{"at": NOON, "kind": kind, "day": DAY, **changes})


def test_entries_come_back_in_order_and_by_day(journal: Journal) -> None:
    first = noted("loaded", subject="lentil-soup")
    second = noted("reading", at=NOON + timedelta(minutes=5), data={"box_c": 118.0})
    other_day = noted(day=date(2026, 11, 26))
    ids = [journal.append(entry) for entry in (first, second, other_day)]
    assert ids == sorted(set(ids))
    assert journal.entries(DAY) == (first, second)
    assert journal.entries(date(2026, 11, 27)) == ()


def test_times_come_back_in_utc_and_a_naive_one_is_refused(journal: Journal) -> None:
    journal.append(noted())
    (entry,) = journal.entries(DAY)
    assert entry.at.utcoffset() == timedelta(0)
    assert entry.at == NOON
    with pytest.raises(ValueError, match="time zone"):
        journal.append(noted(at=NOON.replace(tzinfo=None)))
    assert len(journal.entries(DAY)) == 1


JSON = st.recursive(
    st.none() | st.booleans() | st.integers(-(2**53), 2**53) | st.text()
    | st.floats(allow_nan=False, allow_infinity=False),
    lambda inner: st.lists(inner, max_size=3) | st.dictionaries(st.text(), inner, max_size=3),
    max_leaves=8,
)  # fmt: skip


@given(
    at=st.datetimes(
        min_value=datetime(2001, 1, 1),  # noqa: DTZ001
        max_value=datetime(2099, 1, 1),  # noqa: DTZ001
        timezones=st.timezones(),
    ),
    kind=st.sampled_from([kind for kind in get_args(EntryKind) if kind != "alert"]),
    subject=st.none() | st.text(st.characters(exclude_categories=["Cs"])),
    data=st.dictionaries(st.text(st.characters(exclude_categories=["Cs"])), JSON, max_size=4),
)
def test_what_goes_in_comes_out(
    at: datetime, kind: EntryKind, subject: str | None, data: dict[str, Any]
) -> None:
    # In UTC already: Python holds times in the hour a clock change repeats or skips for
    # unequal in every other zone (PEP 495), though they are the same instant.
    utc = at.astimezone(UTC)
    entry = noted(kind, at=utc, subject=subject, data=json.loads(json.dumps(data)))
    with Journal.in_memory() as journal:
        journal.append(noted(kind, at=at, subject=subject, data=entry.data))
        assert journal.entries(DAY) == (entry,)


def test_the_last_id_changes_with_what_the_cook_notes_and_with_nothing_else(
    journal: Journal,
) -> None:
    """A plan that is written down, or an alert that is sent, must not ask for a new plan."""
    assert journal.last_id(DAY) == 0
    first = journal.append(noted())
    journal.append(noted("plan"))
    journal.record_alert(KEY, "send", NOON, "terminal")
    assert journal.last_id(DAY) == first
    assert journal.last_id(DAY) < journal.append(noted("skipped"))


def test_nothing_written_can_be_changed_or_taken_out(path: Path) -> None:
    with Journal.open(path) as journal:
        journal.append(noted())
    with closing(sqlite3.connect(path)) as shell:
        for sql in ("UPDATE entry SET kind = 'pulled'", "DELETE FROM entry"):
            with pytest.raises(sqlite3.IntegrityError, match="only grows"):
                shell.execute(sql)


def test_the_file_can_be_read_with_the_sqlite_shell(path: Path) -> None:
    """Plain columns: ISO 8601 in UTC, JSON text."""
    with Journal.open(path) as journal:
        journal.append(noted("reading", data={"box_c": 118.5}))
    with closing(sqlite3.connect(path)) as shell:
        row = shell.execute("SELECT at, day, kind, data ->> 'box_c' FROM entry").fetchone()
    assert row == ("2026-11-25T10:00:00.000000+00:00", "2026-11-25", "reading", 118.5)


@pytest.mark.promise("What was said to be saved survives a power cut")
def test_what_is_committed_is_synced_to_disk(path: Path) -> None:
    """WAL with synchronous FULL (2) syncs at every commit.

    https://www.sqlite.org/pragma.html#pragma_synchronous (found).
    """
    with Journal.open(path) as journal:
        pragma = journal._connection.execute
        assert pragma("PRAGMA journal_mode").fetchone()[0] == "wal"
        assert pragma("PRAGMA synchronous").fetchone()[0] == 2


# Alerts.


def test_an_alert_has_the_state_its_events_add_up_to(journal: Journal) -> None:
    assert journal.record_alert(KEY, "send", NOON, "terminal") == "sending"
    assert journal.record_alert(KEY, "accepted", NOON, "terminal", {"id": "4"}) == "sent"
    assert journal.alert_states(DAY) == {KEY: "sent"}
    assert journal.alert_stories(DAY)[KEY].on("terminal").notice_id == "4"
    assert journal.entries(DAY) == ()


def test_an_event_that_cannot_be_is_not_written(journal: Journal) -> None:
    journal.record_alert(KEY, "acknowledge", NOON)
    with pytest.raises(IllegalEventError):
        journal.record_alert(KEY, "send", NOON, "terminal")
    assert journal.alert_states(DAY) == {KEY: "acknowledged"}
    assert len(journal.alert_events(DAY)) == 1


def test_several_events_are_written_all_or_none(journal: Journal) -> None:
    good = AlertEvent(key=KEY, event="send", at=NOON, way="terminal")
    bad = AlertEvent(key="2026-11-25/turn-1", event="accepted", at=NOON, way="terminal")
    worse = AlertEvent(key="2026-11-25/turn-1", event="again", at=NOON, way="terminal")
    with pytest.raises(IllegalEventError):
        journal.record_alerts([good, bad, worse])
    assert journal.alert_events(DAY) == ()


# Opening.


def header(path: Path) -> dict[str, int]:
    """Return the marks in the file's header."""
    with closing(sqlite3.connect(path)) as shell:
        names = ("application_id", "user_version")
        return {name: shell.execute(f"PRAGMA {name}").fetchone()[0] for name in names}


def test_a_new_journal_is_marked_and_remembers_how_it_was_made(path: Path) -> None:
    Journal.open(path, now=NOON).close()
    assert header(path) == {
        "application_id": int.from_bytes(b"SUNT", "big"),
        "user_version": len(journal_schema.MIGRATIONS),
    }
    with closing(sqlite3.connect(path)) as shell:
        names = [row[0] for row in shell.execute("SELECT name FROM migration ORDER BY rowid")]
    assert names == [name for name, _ in journal_schema.MIGRATIONS]


@pytest.mark.parametrize("content", [b"", b"not a database at all" * 100, b"SQLite format 3\x00"])
def test_a_damaged_file_is_put_aside_and_told(path: Path, content: bytes) -> None:
    path.parent.mkdir()
    path.write_bytes(content)
    with Journal.open(path, now=NOON) as journal:
        assert journal.told is not None
        journal.append(noted())
        assert len(journal.entries(DAY)) == 1
    aside = path.with_name("journal.db.corrupt-20261125T100000Z")
    assert aside.read_bytes() == content
    assert aside.name in (journal.told or "")


def test_damaged_pages_in_the_middle_are_noticed(path: Path) -> None:
    with Journal.open(path) as journal:
        for i in range(500):
            journal.append(noted("reading", data={"box_c": float(i)}))
    content = bytearray(path.read_bytes())
    content[8192:16384] = b"\xa5" * 8192
    path.write_bytes(content)
    with Journal.open(path, now=NOON) as journal:
        assert journal.told is not None
    assert path.with_name("journal.db.corrupt-20261125T100000Z").read_bytes() == bytes(content)


def test_two_damaged_files_in_one_second_are_both_kept(path: Path) -> None:
    path.parent.mkdir()
    for content in (b"first broken file", b"second broken file"):
        path.write_bytes(content)
        Journal.open(path, now=NOON).close()
    asides = sorted(path.parent.glob("journal.db.corrupt-*"))
    assert {aside.read_bytes() for aside in asides} >= {b"first broken file", b"second broken file"}


@pytest.mark.promise("A journal that is damaged, empty or gone")
def test_the_last_copy_comes_back_when_the_journal_breaks(path: Path) -> None:
    entry = noted("loaded", subject="lentil-soup")
    with Journal.open(path) as journal:
        journal.append(entry)
        journal.backup()
    path.write_bytes(b"rubbish")
    with Journal.open(path, now=NOON) as journal:
        assert "copy" in (journal.told or "")
        assert journal.entries(DAY) == (entry,)
        journal.append(noted("pulled", subject="lentil-soup"))


def filled(path: Path, count: int = 500) -> tuple[Entry, ...]:
    """Write many entries and return them."""
    with Journal.open(path) as journal:
        for i in range(count):
            journal.append(noted("reading", data={"box_c": float(i), "text": "x" * 60}))
        return journal.entries(DAY)


def test_what_can_be_read_of_a_damaged_journal_is_read() -> None:
    """Two pages of many overwritten: all but what stood on them comes back, in order."""
    with tempfile.TemporaryDirectory() as folder:
        path = Path(folder) / "journal.db"
        entries = filled(path)
        content = bytearray(path.read_bytes())
        content[24576:32768] = b"\xa5" * 8192
        path.write_bytes(content)
        with Journal.open(path, now=NOON) as journal:
            back = journal.entries(DAY)
            assert len(back) > 0.7 * len(entries)
            assert [entry for entry in entries if entry in back] == list(back)
            assert f"{len(back)} entries" in (journal.told or "")
            assert journal.append(noted()) > len(entries) - 50
        assert not list(path.parent.glob("*.reading*"))


def test_what_was_noted_since_the_last_copy_comes_back_too(path: Path) -> None:
    with Journal.open(path) as journal:
        journal.append(noted("loaded", subject="lentil-soup"))
        journal.backup()
        for _ in range(300):
            journal.append(noted("turned", data={"text": "x" * 100}))
        entries = journal.entries(DAY)
    content = bytearray(path.read_bytes())
    content[-4096:] = b"\x00" * 4096
    path.write_bytes(content)
    with Journal.open(path, now=NOON) as journal:
        if journal.told is None:
            pytest.skip("the last page held nothing that SQLite looks at")
        assert "copy" in journal.told
        assert len(journal.entries(DAY)) > 200
        assert journal.entries(DAY)[0] == entries[0]


@pytest.mark.promise("A journal that is damaged, empty or gone")
@settings(max_examples=100, suppress_health_check=list(HealthCheck))
@given(cut=st.none() | st.floats(0.0, 1.0), flips=st.lists(st.floats(0.0, 0.999999), max_size=12))
@example(cut=None, flips=[0.07434300303183535]).via("a flipped letter in the name of a column")
def test_however_it_is_cut_or_flipped_it_opens_and_takes_notes(
    cut: float | None, flips: list[float]
) -> None:
    """A journal, or a plain refusal that leaves the file alone; never another error."""
    with tempfile.TemporaryDirectory() as folder:
        path = Path(folder) / "journal.db"
        path.write_bytes(WHOLE)
        content = bytearray(WHOLE if cut is None else WHOLE[: int(cut * len(WHOLE))])
        for flip in flips:
            if content:
                content[int(flip * len(content))] ^= 0x55
        path.write_bytes(content)
        try:
            with Journal.open(path, now=NOON) as journal:
                journal.append(noted("pulled", subject="lentil-soup"))
                journal.alert_stories(DAY)
                assert journal.entries(DAY)[-1].kind == "pulled"
        except JournalError:
            kept = [file for file in path.parent.glob("journal.db*") if file.stat().st_size]
            assert bytes(content) in [file.read_bytes() for file in kept] or not content


def whole_journal() -> bytes:
    """Return the bytes of a journal with some notes and an alert."""
    with tempfile.TemporaryDirectory() as folder:
        path = Path(folder) / "journal.db"
        filled(path, 60)
        with Journal.open(path) as journal:
            journal.record_alert(KEY, "send", NOON, "terminal")
        return path.read_bytes()


WHOLE = whole_journal()


@pytest.mark.promise("Journals of other versions")
def test_a_new_layout_keeps_the_old_file_beside_it(
    path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Each change commits with its own record, and the file as it was stays whole."""
    entries = filled(path, 3)

    def add(connection: sqlite3.Connection) -> None:
        connection.execute("CREATE TABLE more (x TEXT) STRICT")

    changes = (*journal_schema.MIGRATIONS, ("more", add), ("still more", lambda c: None))
    before = len(journal_schema.MIGRATIONS)
    monkeypatch.setattr(journal_schema, "MIGRATIONS", changes)
    with Journal.open(path) as journal:
        assert journal.entries(DAY) == entries
    assert header(path)["user_version"] == before + 2
    with closing(sqlite3.connect(path)) as shell:
        names = [row[0] for row in shell.execute("SELECT name FROM migration ORDER BY rowid")]
    assert names[-2:] == ["more", "still more"]
    monkeypatch.undo()
    old = path.with_name(f"journal.db.version-{before}")
    assert header(old)["user_version"] == before
    with Journal.open(old) as journal:
        assert journal.entries(DAY) == entries


def untouched(path: Path, remark: str) -> None:
    """Check that opening is refused and not a byte of the file is changed."""
    before = path.read_bytes()
    with pytest.raises(JournalError, match=remark):
        Journal.open(path)
    assert path.read_bytes() == before
    assert not list(path.parent.glob("*.corrupt-*"))


@pytest.mark.promise("Journals of other versions")
def test_a_newer_journal_is_refused_and_left_untouched(path: Path) -> None:
    Journal.open(path).close()
    with closing(sqlite3.connect(path)) as shell:
        shell.execute(f"PRAGMA user_version = {len(journal_schema.MIGRATIONS) + 1}")
    untouched(path, "newer")


def test_another_programs_database_is_refused_and_left_untouched(path: Path) -> None:
    path.parent.mkdir()
    with closing(sqlite3.connect(path)) as shell:
        shell.execute("PRAGMA application_id = 7")
        shell.execute("CREATE TABLE recipes (name TEXT)")
    untouched(path, "not a journal")


def test_an_unmarked_database_of_somebody_else_is_refused_too(path: Path) -> None:
    path.parent.mkdir()
    with closing(sqlite3.connect(path)) as shell:
        shell.execute("CREATE TABLE recipes (name TEXT)")
    with pytest.raises(JournalError, match="not a journal"):
        Journal.open(path)
    with closing(sqlite3.connect(path)) as shell:
        assert shell.execute("SELECT name FROM sqlite_master").fetchall() == [("recipes",)]


def test_a_change_that_fails_leaves_the_file_at_the_version_before(
    path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    Journal.open(path).close()
    before = header(path)

    def half(connection: sqlite3.Connection) -> None:
        connection.execute("CREATE TABLE half (x TEXT) STRICT")
        raise sqlite3.OperationalError("the power went")

    changes = (*journal_schema.MIGRATIONS, ("half a change", half))
    monkeypatch.setattr(journal_schema, "MIGRATIONS", changes)
    with pytest.raises(JournalError):
        Journal.open(path)
    assert header(path) == before
    with closing(sqlite3.connect(path)) as shell:
        tables = {row[0] for row in shell.execute("SELECT name FROM sqlite_master")}
    assert "half" not in tables


def test_a_folder_that_cannot_be_made_is_our_error(tmp_path: Path) -> None:
    (tmp_path / "file").write_text("in the way")
    with pytest.raises(JournalError):
        Journal.open(tmp_path / "file" / "journal.db")


# Several users, and kills.


def test_two_open_journals_see_each_other(path: Path) -> None:
    """`suntrack note` writes while the watch reads."""
    with Journal.open(path) as watch, Journal.open(path) as note:
        assert watch.last_id(DAY) == 0
        written = note.append(noted())
        assert watch.last_id(DAY) == written


def test_many_threads_may_write_at_once(path: Path) -> None:
    with Journal.open(path) as journal:
        threads = [
            threading.Thread(target=lambda: [journal.append(noted()) for _ in range(20)])
            for _ in range(4)
        ]
        for thread in threads:
            thread.start()
        for thread in threads:
            thread.join()
        assert len(journal.entries(DAY)) == 80


WRITER = """
import sys
from datetime import UTC, date, datetime
from suntrack.store.journal import Entry, Journal
with Journal.open(sys.argv[1]) as journal:
    while True:
        entry = Entry(at=datetime(2026, 11, 25, tzinfo=UTC), kind="turned", day=date(2026, 11, 25))
        print(journal.append(entry), flush=True)
"""


@pytest.mark.parametrize("after", [1, 7, 40])
def test_what_append_returned_survives_a_kill(path: Path, after: int) -> None:
    """SIGKILL at an arbitrary moment: every id that was printed is in the file."""
    command = [sys.executable, "-c", WRITER, str(path)]
    with subprocess.Popen(command, stdout=subprocess.PIPE, text=True) as writer:
        assert writer.stdout is not None
        try:
            seen = [int(writer.stdout.readline()) for _ in range(after)]
        finally:
            writer.send_signal(signal.SIGKILL)
        seen += [
            int(line) for line in writer.stdout.read().splitlines(keepends=True) if "\n" in line
        ]
    with Journal.open(path) as journal:
        assert journal.told is None
        assert len(journal.entries(DAY)) >= len(seen)
        assert journal.append(noted()) > max(seen)


def test_a_full_disk_is_our_error_and_loses_nothing(path: Path) -> None:
    """SQLite's own page limit gives the same SQLITE_FULL as a full disk does."""
    with Journal.open(path) as journal:
        journal.append(noted())
        pages = journal._connection.execute("PRAGMA page_count").fetchone()[0]
        journal._connection.execute(f"PRAGMA max_page_count = {pages}")
        with pytest.raises(JournalError, match="full"):
            for _ in range(200):
                journal.append(noted("plan", data={"text": "x" * 500}))
        kept = len(journal.entries(DAY))
        journal._connection.execute("PRAGMA max_page_count = 100000")
        journal.append(noted())
        assert len(journal.entries(DAY)) == kept + 1
