"""The lock: one watch at a time, and nothing left behind by a killed one."""

from __future__ import annotations

import os
import signal
import subprocess
import sys
from pathlib import Path

import pytest

from suntrack.store.lock import AlreadyRunningError, SingleLock, one_at_a_time

HOLD = """
import sys, threading
from pathlib import Path
from suntrack.store.lock import SingleLock
lock = SingleLock(Path(sys.argv[1])).take()
print("held", flush=True)
threading.Event().wait()
"""
TRY = """
import sys
from pathlib import Path
from suntrack.store.lock import SingleLock
from suntrack.errors import SuntrackError
try:
    SingleLock(Path(sys.argv[1])).take()
except SuntrackError as error:
    print(error, file=sys.stderr)
    sys.exit(error.exit_status)
"""


def child(script: str, path: Path) -> subprocess.Popen[str]:
    """Start a program that works on a lock file."""
    return subprocess.Popen(
        [sys.executable, "-c", script, str(path)],
        stdout=subprocess.PIPE,
        stderr=subprocess.PIPE,
        text=True,
    )


@pytest.mark.promise("A second watch is refused with status 75 and told whom to look for")
def test_a_second_watch_is_refused_and_told_whom_to_look_for(tmp_path: Path) -> None:
    """EX_TEMPFAIL is 75 in the BSD sysexits; https://man.freebsd.org/sysexits (from memory)."""
    path = tmp_path / "watch.lock"
    with SingleLock(path):
        second = child(TRY, path)
        _, complaint = second.communicate(timeout=30)
    assert second.returncode == 75
    assert str(os.getpid()) in complaint


def test_a_killed_holder_leaves_the_lock_free(tmp_path: Path) -> None:
    path = tmp_path / "watch.lock"
    with child(HOLD, path) as holder:
        try:
            assert holder.stdout is not None
            assert holder.stdout.readline() == "held\n"
            with pytest.raises(AlreadyRunningError) as caught:
                SingleLock(path).take()
            assert caught.value.pid == holder.pid
        finally:
            holder.send_signal(signal.SIGKILL)
    with SingleLock(path):
        assert path.read_text() == f"{os.getpid()}\n"


def test_a_released_lock_can_be_taken_again(tmp_path: Path) -> None:
    lock = SingleLock(tmp_path / "watch.lock")
    for _ in range(3):
        with lock:
            pass


def test_one_at_a_time_lets_the_next_one_in_after_an_error(tmp_path: Path) -> None:
    path = tmp_path / "opening"
    with pytest.raises(RuntimeError, match="in between"), one_at_a_time(path):
        raise RuntimeError("in between")
    with one_at_a_time(path):
        assert path.exists()
