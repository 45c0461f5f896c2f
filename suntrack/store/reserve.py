"""A file that only takes up room, and is given up when the disk is full.

What it frees is enough for the journal to write down what became of the alerts of a day,
so that a full disk does not make a restarted watch tell everything again.
"""

from __future__ import annotations

import contextlib
import os
import shutil
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from pathlib import Path

SIZE = 1024 * 1024
"""A line of the journal takes a few kB on the way through SQLite's log.  [bytes]"""
ROOM = 8 * SIZE
"""The reserve is made again when this much is free.  [bytes]"""


class Reserve:
    """The reserve beside a journal."""

    def __init__(self, journal: Path, *, size: int = SIZE, room: int = ROOM) -> None:
        self.path = journal.with_name(journal.name + ".reserve")
        self._size, self._room = size, room

    def make(self) -> bool:
        """Take up the room, unless it is taken already or there is too little; True if held."""
        try:
            if self.path.exists() and self.path.stat().st_size == self._size:
                return True
            if shutil.disk_usage(self.path.parent).free < self._room:
                return False
            self._write()
        except OSError:
            self.give_up()
            return False
        return True

    def give_up(self) -> bool:
        """Free the room; True when there was any to free."""
        with contextlib.suppress(OSError):
            self.path.unlink()
            return True
        return False

    def _write(self) -> None:
        """Write bytes that no file system can store in less room."""
        with self.path.open("wb") as file:
            file.write(os.urandom(self._size))
            file.flush()
            os.fsync(file.fileno())
