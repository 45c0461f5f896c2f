"""The reserve: room that is there when the disk has none, on a disk that is really full."""

from __future__ import annotations

import os
import shutil
import subprocess
import sys
from pathlib import Path

import pytest

from suntrack.store.reserve import Reserve

SMALL = 64 * 1024


def test_it_takes_up_real_room_and_gives_it_back(tmp_path: Path) -> None:
    reserve = Reserve(tmp_path / "journal.db", size=SMALL)
    assert reserve.make()
    stat = reserve.path.stat()
    assert stat.st_size == SMALL
    assert stat.st_blocks * 512 >= SMALL, "a sparse file would free nothing"
    assert reserve.make()
    assert reserve.give_up()
    assert not reserve.path.exists()
    assert not reserve.give_up()


def test_it_is_not_made_where_there_is_little_room(tmp_path: Path) -> None:
    free = shutil.disk_usage(tmp_path).free
    reserve = Reserve(tmp_path / "journal.db", size=SMALL, room=free * 2)
    assert not reserve.make()
    assert not reserve.path.exists()


def test_a_folder_that_is_gone_is_no_error(tmp_path: Path) -> None:
    assert not Reserve(tmp_path / "gone" / "journal.db").make()


# A disk of 2 MB of its own, which only this process and its children can see.
FULL = """
import os, sys
from datetime import UTC, date, datetime
from pathlib import Path
from suntrack.alerts.history import AlertEvent
from suntrack.store.journal import Journal
from suntrack.watch import ledger
folder = Path(sys.argv[1])
at, day = datetime(2026, 11, 25, 10, tzinfo=UTC), date(2026, 11, 25)

def told(number):
    return [AlertEvent(key=f"2026-11-25/turn-{number}", event="send", at=at, way="terminal")]

with Journal.open(folder / "journal.db") as journal:
    book = ledger.Ledger(journal)
    book._reserve._write()  # it is not made on a disk as small as this one
    filler = os.open(folder / "filler", os.O_CREAT | os.O_WRONLY)
    try:
        while True:
            os.write(filler, b"x" * 4096)
    except OSError:
        pass
    for number in range(60):
        book.record(told(number))
    assert book.trouble is None, book.trouble
    assert book.on_reserve
    print(len(journal.alert_states(day)), flush=True)
    for number in range(60, 3000):
        book.record(told(number))
        if book.trouble:
            break
    assert "full" in (book.trouble or ""), book.trouble
    last = number
    assert len(book.stories(day)) == last + 1, "memory goes on"
    os.ftruncate(filler, 0)
    book.flush()
    assert book.trouble is None
    print(len(journal.alert_states(day)) == last + 1, flush=True)
"""


@pytest.mark.promise("A full disk")
@pytest.mark.skipif(
    shutil.which("unshare") is None
    or subprocess.run(
        ["unshare", "-Urm", "mount", "-t", "tmpfs", "none", "/mnt"],
        check=False, capture_output=True,
    ).returncode != 0,
    reason="this machine gives no file system of one's own (unshare, tmpfs)",
)  # fmt: skip
def test_on_a_full_disk_the_journal_writes_its_last_lines(tmp_path: Path) -> None:
    """A real file system with no room left: tmpfs gives ENOSPC, as any disk does."""
    (tmp_path / "full.py").write_text(FULL)
    disk = tmp_path / "disk"
    disk.mkdir()
    script = f'mount -t tmpfs -o size=2m none "{disk}" && exec "$0" "$1" "{disk}"'
    run = subprocess.run(
        ["unshare", "-Urm", "sh", "-c", script, sys.executable, str(tmp_path / "full.py")],
        capture_output=True,
        text=True,
        check=False,
        env=dict(os.environ),
    )
    assert run.returncode == 0, run.stderr
    assert run.stdout.split() == ["60", "True"]
