"""The journal: one table that only grows, with everything that happened on a day.

What the cook noted, what was planned and what became of every alert are entries; all else
is worked out from them.  The file is plain SQLite: `sqlite3 journal.db 'select * from
entry'` shows it.  Times are UTC in ISO 8601, the rest is JSON.

The file's layout is in `journal_schema`, what happens to a damaged one in
`journal_rescue`, and how a cook writes a note in `note`.
"""

from __future__ import annotations

import json
import logging
import sqlite3
import threading
from collections.abc import Mapping
from contextlib import closing, contextmanager
from dataclasses import dataclass, field
from datetime import UTC, date, datetime
from pathlib import Path
from typing import TYPE_CHECKING, Any, Literal, cast

from suntrack.alerts.alert import day_of
from suntrack.alerts.history import AlertEvent, AlertHistory, fold
from suntrack.alerts.lifecycle import Event, State
from suntrack.clock import SystemClock
from suntrack.errors import JournalError
from suntrack.store.journal_rescue import backup, is_broken, rescue
from suntrack.store.journal_salvage import salvage
from suntrack.store.journal_schema import (
    checksum,
    migrate,
    old_version,
    refuse_foreign,
    refuse_strange,
)
from suntrack.store.lock import one_at_a_time

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator
    from types import TracebackType

EntryKind = Literal[
    "turned",
    "loaded",
    "pulled",
    "reading",
    "core",
    "skipped",
    "good",
    "failed",
    "plan",
    "alert",
    "clock",
]
NOTED: tuple[EntryKind, ...] = ("turned", "loaded", "pulled", "reading", "core", "skipped")
"""What a cook notes, and a plan therefore depends on."""
BUSY_S = 5.0
"""How long a write waits for another process.  [s]"""
log = logging.getLogger(__name__)


@dataclass(frozen=True, slots=True, kw_only=True)
class Entry:
    """One line of the journal."""

    at: datetime
    """When it was so."""
    kind: EntryKind
    """What happened."""
    day: date
    """The day at the site that it belongs to."""
    subject: str | None = None
    """Key of the dish, or of the alert."""
    data: Mapping[str, Any] = field(default_factory=dict)
    """What else was noted."""


class Journal:
    """The journal, open; may be used from several threads."""

    def __init__(self, connection: sqlite3.Connection, *, path: Path | None, told: str | None):
        self._connection = connection
        self._path = path
        self._lock = threading.RLock()
        self.told = told
        """What the cook has to know of how it was opened; None when all is well."""

    @classmethod
    def open(cls, path: Path | str, *, now: datetime | None = None) -> Journal:
        """Open the journal, making it or putting a damaged one aside when needed.

        Raises
        ------
        JournalError
            When the file is another program's or a newer version's (it stays untouched),
            or cannot be opened at all.
        """
        path = Path(path)
        now = now or SystemClock().now()
        try:
            path.parent.mkdir(parents=True, exist_ok=True)
            # Another process must not take a file that is only just being made for damaged.
            with one_at_a_time(path.with_name(path.name + ".opening")):
                if path.exists():
                    refuse_foreign(path)
                lost = rescue(path, now=now) if is_broken(path) else None
                connection = _connect(path, now=now)
                told = lost.told(salvage(connection, lost.aside)) if lost else None
                return cls(connection, path=path, told=told)
        except (sqlite3.Error, OSError) as error:
            raise JournalError(
                f"{path}: {error}. Is the disk full, or the folder closed?"
            ) from error

    @classmethod
    def in_memory(cls) -> Journal:
        """Return a journal that is gone with the process, for replaying a day."""
        return cls(_connect(":memory:", now=SystemClock().now()), path=None, told=None)

    @property
    def path(self) -> Path | None:
        """Where the file is; None for a journal that is only in memory."""
        return self._path

    def append(self, entry: Entry) -> int:
        """Write an entry; when this returns, it survives a power cut.  Return its id."""
        with self._writing() as connection:
            return _insert(connection, entry)

    def entries(self, day: date) -> tuple[Entry, ...]:
        """Return what was noted and planned on a day, oldest first; alerts are not among it."""
        rows = self._rows("WHERE day = ? AND kind <> 'alert' ORDER BY id", day.isoformat())
        return tuple(_entry(row) for row in rows)

    def days_with(self, kind: EntryKind) -> tuple[date, ...]:
        """Return the days that have an entry of a kind, in order."""
        rows = self._rows("WHERE kind = ? ORDER BY day", kind)
        return tuple(dict.fromkeys(date.fromisoformat(row["day"]) for row in rows))

    def last_id(self, day: date) -> int:
        """Return the id of the last thing the cook noted on a day; 0 for nothing.

        It changes exactly when a plan of that day has to be made again.
        """
        marks = ", ".join("?" * len(NOTED))
        where = f"WHERE day = ? AND kind IN ({marks}) ORDER BY id DESC LIMIT 1"
        rows = self._rows(where, day.isoformat(), *NOTED)
        return int(rows[0]["id"]) if rows else 0

    def record_alert(
        self,
        key: str,
        event: Event,
        at: datetime,
        way: str | None = None,
        data: Mapping[str, Any] | None = None,
    ) -> State:
        """Write what happened to an alert and return its state.

        Raises
        ------
        IllegalEventError
            When the alert's life does not allow it; nothing is written then.
        """
        happened = AlertEvent(key=key, event=event, at=at, way=way, data=data or {})
        return self.record_alerts([happened])[key].state

    def record_alerts(self, events: Iterable[AlertEvent]) -> dict[str, AlertHistory]:
        """Write several events in one go, all or none; return the stories they belong to."""
        stories: dict[str, AlertHistory] = {}
        with self._writing() as connection:
            for happened in events:
                if happened.key not in stories:
                    stories[happened.key] = self._story(happened.key)
                stories[happened.key] = stories[happened.key].then(happened)
                _insert(connection, _alert_entry(happened))
        return stories

    def alert_events(self, day: date) -> tuple[AlertEvent, ...]:
        """Return everything that happened to the alerts of a day, oldest first."""
        rows = self._rows("WHERE day = ? AND kind = 'alert' ORDER BY id", day.isoformat())
        return tuple(_alert_event(row) for row in rows)

    def alert_stories(self, day: date) -> dict[str, AlertHistory]:
        """Return what has become of each alert of a day that anything happened to."""
        return fold(self.alert_events(day))

    def alert_states(self, day: date) -> dict[str, State]:
        """Return the state of each alert of a day that anything happened to."""
        return {key: story.state for key, story in self.alert_stories(day).items()}

    def last_at(self) -> datetime | None:
        """Return when the watch last wrote something of its own; None for never.

        What the cook notes may be dated as they like, and says nothing about the clock.
        """
        rows = self._rows("WHERE kind IN ('alert', 'clock') ORDER BY id DESC LIMIT 1")
        return datetime.fromisoformat(rows[0]["at"]) if rows else None

    def version(self) -> int:
        """Return a number that changes when another process or journal has written."""
        with self._lock, _translated():
            return int(self._connection.execute("PRAGMA data_version").fetchone()[0])

    def backup(self) -> Path | None:
        """Keep a whole copy beside the journal; None for one that is only in memory."""
        if self._path is None:
            return None
        with self._lock, _translated():
            return backup(self._connection, self._path)

    def close(self) -> None:
        """Close the file."""
        with self._lock:
            self._connection.close()

    def __enter__(self) -> Journal:
        """Return itself, to be closed at the end of the block."""
        return self

    def __exit__(
        self,
        kind: type[BaseException] | None,
        error: BaseException | None,
        trace: TracebackType | None,
    ) -> None:
        """Close the file."""
        self.close()

    def _story(self, key: str) -> AlertHistory:
        """Return what has become of one alert."""
        where = "WHERE day = ? AND kind = 'alert' AND subject = ? ORDER BY id"
        rows = self._rows(where, day_of(key).isoformat(), key)
        return fold(_alert_event(row) for row in rows).get(key, AlertHistory())

    def _rows(self, where: str, *values: str) -> list[sqlite3.Row]:
        """Return rows of the table; `where` is our own text, values are bound."""
        with self._lock, _translated():
            rows = self._connection.execute(f"SELECT * FROM entry {where}", values).fetchall()  # noqa: S608
        return [row for row in rows if _is_whole(row)]

    @contextmanager
    def _writing(self) -> Iterator[sqlite3.Connection]:
        """Hold one transaction, committed at the end or taken back on any error."""
        with self._lock, _translated():
            self._connection.execute("BEGIN IMMEDIATE")
            try:
                yield self._connection
                self._connection.execute("COMMIT")
            except BaseException:
                # A full disk can have ended the transaction already.
                if self._connection.in_transaction:
                    self._connection.execute("ROLLBACK")
                raise


@contextmanager
def _translated() -> Iterator[None]:
    """Turn SQLite's errors into ours, keeping the cause."""
    try:
        yield
    except sqlite3.Error as error:
        raise JournalError(f"the journal: {error}") from error


def _connect(path: Path | str, *, now: datetime) -> sqlite3.Connection:
    """Return a connection that loses nothing it has committed."""
    connection = sqlite3.connect(
        path, timeout=BUSY_S, isolation_level=None, check_same_thread=False
    )
    connection.row_factory = sqlite3.Row
    # One garbled text must not hide the rest of its day; its checksum tells it apart.
    connection.text_factory = _text
    try:
        refuse_strange(connection, path=path)
        # Asked back, since a folder on a network may not have what WAL needs.
        mode = connection.execute("PRAGMA journal_mode = WAL").fetchone()[0]
        if mode not in ("wal", "memory"):
            connection.execute("PRAGMA journal_mode = DELETE")
        connection.execute("PRAGMA synchronous = FULL")
        before = old_version(connection)
        if before and isinstance(path, Path):
            # A change of the layout that turns out wrong must not cost the cook their notes.
            backup(connection, path, name=f".version-{before}")
        migrate(connection, now=now)
    except BaseException:
        connection.close()
        raise
    return connection


def _text(content: bytes) -> str:
    """Return a text of the file, whatever bytes it has."""
    return content.decode("utf-8", "replace")


def _insert(connection: sqlite3.Connection, entry: Entry) -> int:
    """Write one entry inside the present transaction."""
    row = (
        _utc_text(entry.at),
        entry.day.isoformat(),
        entry.kind,
        entry.subject,
        json.dumps(dict(entry.data), ensure_ascii=False, allow_nan=False, sort_keys=True),
    )
    sql = "INSERT INTO entry (at, day, kind, subject, data, crc) VALUES (?, ?, ?, ?, ?, ?)"
    with closing(connection.execute(sql, (*row, checksum(*row)))) as cursor:
        return int(cursor.lastrowid or 0)


def _utc_text(at: datetime) -> str:
    """Return an instant as UTC text that sorts by time; raise ValueError for a naive one."""
    if at.tzinfo is None:
        raise ValueError(f"{at} has no time zone")
    return at.astimezone(UTC).isoformat(timespec="microseconds")


def _is_whole(row: sqlite3.Row) -> bool:
    """Return True for an entry as it was written; a damaged one is left where it is and told."""
    columns = (row["at"], row["day"], row["kind"], row["subject"], row["data"])
    if row["crc"] is None or row["crc"] == checksum(*columns):
        return True
    log.warning("entry %s of the journal is damaged and left out", row["id"])
    return False


def _entry(row: sqlite3.Row) -> Entry:
    """Return a row as an entry."""
    return Entry(
        at=datetime.fromisoformat(row["at"]),
        kind=cast("EntryKind", row["kind"]),
        day=date.fromisoformat(row["day"]),
        subject=row["subject"],
        data=json.loads(row["data"]),
    )


def _alert_entry(happened: AlertEvent) -> Entry:
    """Return an alert's event as an entry."""
    data = {"event": happened.event, "way": happened.way, **happened.data}
    return Entry(at=happened.at, kind="alert", day=happened.day, subject=happened.key, data=data)


def _alert_event(row: sqlite3.Row) -> AlertEvent:
    """Return a row as an alert's event."""
    data = json.loads(row["data"])
    event, way = data.pop("event"), data.pop("way")
    return AlertEvent(
        key=row["subject"], event=event, at=datetime.fromisoformat(row["at"]), way=way, data=data
    )
