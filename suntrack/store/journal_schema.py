"""The journal's tables, and the ordered, named changes that made them what they are.

A change and the record that it ran are committed together or not at all.  A released
change is never edited; a new one is added below it.  Reading and writing entries is in
`suntrack.store.journal`.
"""

from __future__ import annotations

import sqlite3
import zlib
from collections.abc import Callable
from datetime import UTC, datetime
from typing import TYPE_CHECKING

from suntrack.errors import JournalError

if TYPE_CHECKING:
    from pathlib import Path

APPLICATION_ID = 0x53554E54
"""Marks the file as ours, in SQLite's own header field: "SUNT" in ASCII."""
HEADER_BYTES = 100
MAGIC = b"SQLite format 3\x00"
# Where two numbers stand in the 100-byte header, big-endian: "The Database Header",
# https://www.sqlite.org/fileformat2.html
USER_VERSION_AT, APPLICATION_ID_AT = 60, 68


def _first_tables(connection: sqlite3.Connection) -> None:
    """Make the one table of entries, which only grows."""
    connection.execute("""
        CREATE TABLE entry (
            id      INTEGER PRIMARY KEY AUTOINCREMENT,
            at      TEXT NOT NULL CHECK (at LIKE '____-__-__T__:__:__%+00:00'),
            day     TEXT NOT NULL CHECK (day LIKE '____-__-__'),
            kind    TEXT NOT NULL,
            subject TEXT,
            data    TEXT NOT NULL CHECK (json_valid(data))
        ) STRICT
    """)
    connection.execute("CREATE INDEX entry_by_day ON entry (day, kind, subject)")
    for verb in ("UPDATE", "DELETE"):
        connection.execute(
            f"CREATE TRIGGER entry_no_{verb.lower()} BEFORE {verb} ON entry "
            "BEGIN SELECT RAISE(ABORT, 'the journal only grows'); END"
        )


def _checksums(connection: sqlite3.Connection) -> None:
    """Give each entry a checksum, so that one with a flipped bit is not taken for a note."""
    connection.execute("ALTER TABLE entry ADD COLUMN crc INTEGER")


MIGRATIONS: tuple[tuple[str, Callable[[sqlite3.Connection], None]], ...] = (
    ("first tables", _first_tables),
    ("checksums", _checksums),
)
"""In order; the file's user_version is how many of them it has."""


def checksum(at: str, day: str, kind: str, subject: str | None, data: str) -> int:
    """Return the CRC-32 of an entry's columns; entries from before it have none."""
    return zlib.crc32("\0".join((at, day, kind, subject or "", data)).encode())


def refuse_foreign(path: Path) -> None:
    """Raise JournalError when the file is another program's, or a newer version's.

    Reads the header's bytes only, so that the file stays untouched.
    """
    with path.open("rb") as file:
        header = file.read(HEADER_BYTES)
    if len(header) < HEADER_BYTES or not header.startswith(MAGIC):
        return  # damaged, which is another matter
    application = int.from_bytes(header[APPLICATION_ID_AT : APPLICATION_ID_AT + 4], "big")
    version = int.from_bytes(header[USER_VERSION_AT : USER_VERSION_AT + 4], "big")
    refuse(path, application=application, version=version)


def refuse(path: Path | str, *, application: int, version: int) -> None:
    """Raise JournalError for a file that is not ours to write."""
    if application not in (0, APPLICATION_ID):
        raise JournalError(
            f"{path} is not a journal of suntrack (application id {application:#x}). "
            "It was left as it is; choose another folder."
        )
    if version > len(MIGRATIONS):
        raise JournalError(
            f"{path} was written by a newer suntrack (journal version {version}; this one "
            f"knows {len(MIGRATIONS)}). It was left as it is; install the newer version."
        )


def refuse_strange(connection: sqlite3.Connection, *, path: Path | str) -> None:
    """Raise JournalError for an open file that is not ours; reads only."""
    application = int(connection.execute("PRAGMA application_id").fetchone()[0])
    version = int(connection.execute("PRAGMA user_version").fetchone()[0])
    refuse(path, application=application, version=version)
    tables = int(connection.execute("SELECT count(*) FROM sqlite_master").fetchone()[0])
    if application == 0 and tables:
        raise JournalError(
            f"{path} is not a journal of suntrack: it has somebody else's tables. "
            "It was left as it is; choose another folder."
        )


def old_version(connection: sqlite3.Connection) -> int | None:
    """Return the version of a file that has to be changed; None for a new or a present one."""
    version = int(connection.execute("PRAGMA user_version").fetchone()[0])
    return version if 0 < version < len(MIGRATIONS) else None


def migrate(connection: sqlite3.Connection, *, now: datetime) -> None:
    """Bring the file to the newest version, one committed change at a time."""
    version = int(connection.execute("PRAGMA user_version").fetchone()[0])
    for number, (name, change) in enumerate(MIGRATIONS[version:], start=version + 1):
        connection.execute("BEGIN IMMEDIATE")
        try:
            _apply(connection, number, name, change, now=now)
        except BaseException:
            connection.execute("ROLLBACK")
            raise
        connection.execute("COMMIT")


def _apply(
    connection: sqlite3.Connection,
    number: int,
    name: str,
    change: Callable[[sqlite3.Connection], None],
    *,
    now: datetime,
) -> None:
    """Make one change with its record, unless another process was quicker."""
    if int(connection.execute("PRAGMA user_version").fetchone()[0]) >= number:
        return
    connection.execute(
        "CREATE TABLE IF NOT EXISTS migration (name TEXT PRIMARY KEY, at TEXT NOT NULL) STRICT"
    )
    change(connection)
    connection.execute(
        "INSERT INTO migration (name, at) VALUES (?, ?)", (name, now.astimezone(UTC).isoformat())
    )
    connection.execute(f"PRAGMA application_id = {APPLICATION_ID}")
    connection.execute(f"PRAGMA user_version = {number}")
