"""What can still be read in a damaged journal, put into the new one.

Read from both ends, since damage is a page and not the file: forwards until it breaks,
backwards until it breaks, then whatever single entries lie between.  The damaged file
itself stays as it was found; it is a copy that is read.
"""

from __future__ import annotations

import json
import shutil
import sqlite3
from contextlib import closing
from datetime import date, datetime, timedelta
from itertools import pairwise
from typing import TYPE_CHECKING, Any

from suntrack.store.journal_schema import checksum

if TYPE_CHECKING:
    from collections.abc import Iterator
    from pathlib import Path

Row = tuple[int, str, str, str, str | None, str, int | None]
COLUMNS = "id, at, day, kind, subject, data, crc"
OLD_COLUMNS = "id, at, day, kind, subject, data, NULL"
"""Of a file from before there were checksums."""
MOST_BETWEEN = 20_000
"""So many single entries are tried between the two ends, and no more."""
SIDE_FILES = ("-wal", "-shm")


def salvage(connection: sqlite3.Connection, damaged: Path) -> int:
    """Put the entries of a damaged journal that the new one lacks into it; return how many."""
    newest = connection.execute("SELECT coalesce(max(id), 0) FROM entry").fetchone()[0]
    rows = [row for row in _readable(damaged) if row[0] > newest and _is_whole(row)]
    connection.execute("BEGIN IMMEDIATE")
    try:
        connection.executemany(
            f"INSERT OR IGNORE INTO entry ({COLUMNS}) VALUES (?, ?, ?, ?, ?, ?, ?)",  # noqa: S608
            rows,
        )
        connection.execute("COMMIT")
    except BaseException:
        if connection.in_transaction:
            connection.execute("ROLLBACK")
        raise
    return len(rows)


def _readable(damaged: Path) -> list[Row]:
    """Return every row that can be read, in order; none when nothing can."""
    copy = damaged.with_name(damaged.name + ".reading")
    copies = [(damaged, copy)]
    copies += [(_beside(damaged, suffix), _beside(copy, suffix)) for suffix in SIDE_FILES]
    try:
        for source, target in copies:
            if source.exists():
                shutil.copyfile(source, target)
        with closing(sqlite3.connect(copy)) as connection:
            connection.text_factory = bytes
            return _rows(connection)
    except (sqlite3.Error, OSError):
        return []
    finally:
        for _, target in copies:
            target.unlink(missing_ok=True)


def _rows(connection: sqlite3.Connection) -> list[Row]:
    """Return the rows from both ends, and the single ones between them."""
    for columns in (COLUMNS, OLD_COLUMNS):
        query = f"SELECT {columns} FROM entry"  # noqa: S608 - our own words
        found = {row[0]: row for row in _fetched(connection, f"{query} ORDER BY id ASC")}
        found |= {row[0]: row for row in _fetched(connection, f"{query} ORDER BY id DESC")}
        if found:
            break
    ids = sorted(found)
    gaps = [i for a, b in pairwise(ids) for i in range(a + 1, min(b, a + MOST_BETWEEN))]
    for number in gaps[:MOST_BETWEEN]:
        found |= {row[0]: row for row in _fetched(connection, f"{query} WHERE id = {number:d}")}
    return [found[number] for number in sorted(found)]


def _fetched(connection: sqlite3.Connection, query: str) -> Iterator[Row]:
    """Yield rows until one cannot be read."""
    try:
        for row in connection.execute(query):
            texts: list[Any] = [p.decode() if isinstance(p, bytes) else p for p in row]
            if isinstance(texts[0], int):
                number, at, day, kind, subject, data, crc = texts
                yield number, at, day, kind, subject, data, crc
    except (sqlite3.Error, UnicodeDecodeError, OverflowError):
        return


def _is_whole(row: Row) -> bool:
    """Return True for a row that the journal itself could have written."""
    number, at, day, kind, subject, data, crc = row
    try:
        if crc is not None and crc != checksum(at, day, kind, subject, data):
            return False
        is_utc = datetime.fromisoformat(at).utcoffset() == timedelta(0)
        date.fromisoformat(day)
        content = json.loads(data)
    except (ValueError, TypeError, AttributeError):
        return False
    is_text = isinstance(kind, str) and (subject is None or isinstance(subject, str))
    is_alert = kind != "alert" or (
        isinstance(content, dict) and {"event", "way"} <= set(content) and bool(subject)
    )
    return is_utc and number > 0 and is_text and is_alert and isinstance(content, dict)


def _beside(path: Path, suffix: str) -> Path:
    return path.with_name(path.name + suffix)
