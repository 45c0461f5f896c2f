"""Locks on files that end with the process that holds them.

Three uses: only one watch at a time may call the cook, only one process at a time may open,
check and repair the journal, and only one may ask a weather service.  A lock is the
kernel's, not a number in a file, so a killed process leaves nothing behind; the number in
the file only says whom to look for.
"""

from __future__ import annotations

import os
import sys
from contextlib import contextmanager
from typing import TYPE_CHECKING, BinaryIO

from suntrack.errors import SuntrackError

if TYPE_CHECKING:
    from collections.abc import Iterator
    from pathlib import Path
    from types import TracebackType

TEMPORARY_FAILURE = 75
"""EX_TEMPFAIL of the BSD sysexits: try again later."""


class AlreadyRunningError(SuntrackError):
    """Another process holds the lock."""

    exit_status = TEMPORARY_FAILURE

    def __init__(self, path: Path, pid: int | None) -> None:
        self.path, self.pid = path, pid
        who = f"process {pid}" if pid else "another process"
        super().__init__(f"suntrack watch is already running here ({who}, lock {path}).")


class SingleLock:
    """A lock that one process holds for as long as it lives, or until `release`."""

    def __init__(self, path: Path) -> None:
        self._path = path
        self._file: BinaryIO | None = None

    def take(self) -> SingleLock:
        """Take the lock at once; raise AlreadyRunningError naming who has it."""
        self._path.parent.mkdir(parents=True, exist_ok=True)
        file = open(self._path, "a+b")  # noqa: PTH123, SIM115 - kept open for as long as it is held
        try:
            _lock(file, wait=False)
        except OSError:
            file.close()
            raise AlreadyRunningError(self._path, _pid_in(self._path)) from None
        file.truncate(0)
        file.write(f"{os.getpid()}\n".encode())
        file.flush()
        self._file = file
        return self

    def release(self) -> None:
        """Give the lock back; the file stays, since removing it would open a race."""
        if self._file is not None:
            self._file.close()
            self._file = None

    def __enter__(self) -> SingleLock:
        """Take the lock."""
        return self.take()

    def __exit__(
        self,
        kind: type[BaseException] | None,
        error: BaseException | None,
        trace: TracebackType | None,
    ) -> None:
        """Give it back."""
        self.release()


@contextmanager
def one_at_a_time(path: Path) -> Iterator[None]:
    """Wait for the lock, hold it for the length of the block."""
    with path.open("a+b") as file:
        _lock(file, wait=True)
        yield


@contextmanager
def if_free(path: Path) -> Iterator[bool]:
    """Hold the lock for the length of the block, if nobody else has it; give whether we do."""
    with path.open("a+b") as file:
        try:
            _lock(file, wait=False)
        except OSError:
            yield False
        else:
            yield True


def _pid_in(path: Path) -> int | None:
    """Return the process that wrote its number into a lock file, if it can be read."""
    try:
        return int(path.read_text(encoding="ascii").strip())
    except (OSError, ValueError):
        return None


if sys.platform == "win32":  # pragma: no cover - not run here

    def _lock(file: BinaryIO, *, wait: bool) -> None:
        """Lock the first byte; raise OSError when it is taken (after ten seconds if waiting)."""
        import msvcrt

        file.seek(0)
        msvcrt.locking(file.fileno(), msvcrt.LK_LOCK if wait else msvcrt.LK_NBLCK, 1)
else:

    def _lock(file: BinaryIO, *, wait: bool) -> None:
        """Lock the whole file; raise OSError when it is taken and we do not wait."""
        import fcntl

        fcntl.flock(file, fcntl.LOCK_EX | (0 if wait else fcntl.LOCK_NB))
