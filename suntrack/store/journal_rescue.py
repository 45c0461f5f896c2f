"""What is done with a journal that cannot be read: put aside, never deleted.

The last evening's copy takes its place when there is one; else the journal begins anew.
What can be read of the damaged file itself is put on top of that, by `journal_salvage`.
Either way the cook is told, and the day is planned again.
"""

from __future__ import annotations

import os
import sqlite3
from contextlib import closing
from dataclasses import dataclass
from datetime import UTC, datetime
from pathlib import Path

SIDE_FILES = ("-wal", "-shm")
COLUMNS = {"id", "at", "day", "kind", "subject", "data"}
"""What every layout of the table has had."""
BROKEN = (sqlite3.SQLITE_CORRUPT, sqlite3.SQLITE_NOTADB)


def is_broken(path: Path) -> bool:
    """Return True for a file that exists and is no whole database.

    A file of no bytes passes SQLite's own check, so it is asked for here.  A file that
    is busy or may not be read is not broken: that error is raised.
    """
    if not path.exists():
        return False
    if path.stat().st_size == 0:
        return True
    try:
        with closing(sqlite3.connect(path)) as connection:
            # The quick check does not look whether the index has what the table has.
            checked = connection.execute("PRAGMA integrity_check(1)").fetchone()[0]
            has_table = connection.execute(
                "SELECT count(*) FROM sqlite_master WHERE name = 'entry'"
            ).fetchone()[0]
            is_ours = connection.execute("PRAGMA user_version").fetchone()[0] > 0
            # A flipped letter in a column's name passes every check of SQLite's.
            columns = {row[1] for row in connection.execute("PRAGMA table_info(entry)")}
            is_whole = bool(has_table) and columns >= COLUMNS
            return bool(checked != "ok" or (is_ours and not is_whole))
    except UnicodeDecodeError:
        return True  # the complaint itself quotes what it found
    except sqlite3.DatabaseError as error:
        if error.sqlite_errorcode & 0xFF in BROKEN:
            return True
        raise


@dataclass(frozen=True, slots=True, kw_only=True)
class Rescued:
    """A damaged journal that was put aside."""

    aside: Path
    """Where it was put."""
    has_copy: bool
    """True when the last copy has taken its place."""

    def told(self, entries: int) -> str:
        """Return what the cook has to know; `entries` were read out of the damaged file."""
        start = f"The journal could not be read and was put aside as {self.aside.name}."
        place = " The last copy was brought back" if self.has_copy else " A new one was begun"
        read = f", with {entries} entries that could still be read" if entries else ""
        return f"{start}{place}{read}. Look at what you noted today, and note again what lacks."


def rescue(path: Path, *, now: datetime) -> Rescued:
    """Put a broken journal aside and bring back the last copy, if there is one that is whole."""
    aside = _free_name(path, now)
    for suffix in SIDE_FILES:
        side = path.with_name(path.name + suffix)
        if side.exists():
            side.replace(aside.with_name(aside.name + suffix))
    path.replace(aside)
    copy = backup_path(path)
    has_copy = copy.exists() and not is_broken(copy)
    if has_copy:
        _copy(copy, path)
    return Rescued(aside=aside, has_copy=has_copy)


def backup(connection: sqlite3.Connection, path: Path, *, name: str = ".backup") -> Path:
    """Keep a whole copy of an open journal beside it: the new one, or still the old one."""
    copy = path.with_name(path.name + name)
    part = copy.with_name(copy.name + ".part")
    part.unlink(missing_ok=True)
    with closing(sqlite3.connect(part)) as target:
        connection.backup(target)
        target.execute("PRAGMA journal_mode = DELETE")
    part.replace(copy)
    return copy


def backup_path(path: Path) -> Path:
    """Return where the copy of a journal is kept."""
    return path.with_name(path.name + ".backup")


def _copy(source: Path, target: Path) -> None:
    """Copy a file so that the target is whole or absent."""
    part = target.with_name(target.name + ".part")
    with part.open("wb") as file:
        file.write(source.read_bytes())
        file.flush()
        os.fsync(file.fileno())
    part.replace(target)


def _free_name(path: Path, now: datetime) -> Path:
    """Return a name for the broken file that nothing has yet."""
    stem = f"{path.name}.corrupt-{now.astimezone(UTC):%Y%m%dT%H%M%SZ}"
    names = [stem, *(f"{stem}-{i}" for i in range(2, 1000))]
    return next(p for p in map(path.with_name, names) if not p.exists())
