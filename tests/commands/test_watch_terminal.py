"""The dashboard in a real terminal: a real watch, tmux as the terminal and as the keyboard."""

from __future__ import annotations

import os
import shlex
import shutil
import subprocess
import sys
import threading
from collections.abc import Callable, Iterator
from datetime import timedelta
from pathlib import Path

import pytest

from suntrack.clock import SystemClock
from suntrack.store.journal import Entry, Journal

EXAMPLE = Path(__file__).parents[2] / "config" / "suntrack.toml"
MOST_S = 60.0
"""For a watch to start on a busy machine."""
pytestmark = pytest.mark.skipif(shutil.which("tmux") is None, reason="tmux is not installed")


class Terminal:
    """A terminal of tmux in which one command runs; its end is said by `STATUS n`."""

    def __init__(self, home: Path) -> None:
        self.home, self._socket = home, home / "tmux"

    def start(self, *words: str, columns: int, rows: int, **env: str) -> None:
        kept = {"PATH": os.environ["PATH"], "SUNTRACK_HOME": str(self.home), "LANG": "C.UTF-8"}
        kept |= {"NUMBA_CACHE_DIR": os.environ["NUMBA_CACHE_DIR"], "HOME": str(self.home)}
        settings = " ".join(f"{name}={shlex.quote(value)}" for name, value in (kept | env).items())
        command = shlex.join([sys.executable, "-m", "suntrack", *words])
        # It waits for a line at its end, so that the last screen can still be read.
        run = f"cd {shlex.quote(str(self.home))}; env {settings} {command}; echo STATUS $?; read x"
        size = ("-x", str(columns), "-y", str(rows))
        self._tmux("-f", os.devnull, "new-session", "-d", *size, run)

    def _tmux(self, *words: str) -> str:
        command = ["tmux", "-S", str(self._socket), *words]
        # Nothing of ours: a COLUMNS that is left over would count for more than the real size.
        env = {"PATH": os.environ["PATH"], "LANG": "C.UTF-8", "TERM": "xterm-256color"}
        run = subprocess.run(command, capture_output=True, check=True, encoding="utf-8", env=env)
        return run.stdout

    def press(self, *keys: str) -> None:
        self._tmux("send-keys", *keys)

    def resize(self, columns: int, rows: int) -> None:
        self._tmux("resize-window", "-x", str(columns), "-y", str(rows))

    def screen(self, *, styled: bool = False) -> str:
        return self._tmux("capture-pane", "-p", *(["-e"] if styled else []))

    def until(self, words: str, *, gone: bool = False) -> str:
        """Wait until some words stand on the screen, or do not; return the screen."""
        return self.when(lambda screen: (words in screen) is not gone, words)

    def when(self, is_so: Callable[[str], bool], what: str) -> str:
        """Wait until something is so; return the screen."""
        clock, never = SystemClock(), threading.Event()
        until_s = clock.monotonic() + MOST_S
        while clock.monotonic() < until_s:
            screen = self.screen()
            if is_so(screen):
                return screen
            clock.wait(never, 0.05)
        raise AssertionError(f"never came: {what}\n{self.screen()}")

    def kill(self) -> None:
        subprocess.run(
            ["tmux", "-S", str(self._socket), "kill-server"], capture_output=True, check=False
        )


@pytest.fixture
def terminal(tmp_path: Path) -> Iterator[Terminal]:
    text = EXAMPLE.read_text(encoding="utf-8").replace("desktop = true ", "desktop = false")
    (tmp_path / "mine.toml").write_text(text, encoding="utf-8")
    made = Terminal(tmp_path)
    yield made
    made.kill()


def noted(home: Path) -> list[Entry]:
    """Return what was noted yesterday, today or tomorrow, wherever midnight is."""
    today = SystemClock().now().date()
    days = [today + timedelta(days=days) for days in (-1, 0, 1)]
    with Journal.open(home / "journal.db") as journal:
        entries = [entry for day in days for entry in journal.entries(day)]
    return [entry for entry in entries if entry.kind not in ("plan", "clock")]


def test_a_cook_reads_notes_and_leaves(terminal: Terminal) -> None:
    terminal.start("watch", "--config", "mine.toml", columns=80, rows=24)
    terminal.until("q quit")
    terminal.press("r")
    terminal.until("What does the oven thermometer show?")
    terminal.press("warm", "Enter")
    terminal.until("note: found 'warm'")
    terminal.press("BSpace", "BSpace", "BSpace", "BSpace")
    terminal.when(lambda screen: "\nwarm" not in screen, "an empty line")
    terminal.press("245F", "Enter")
    terminal.until("the box reads 118 °C.")
    assert [(entry.kind, round(entry.data["box_c"], 1)) for entry in noted(terminal.home)] == [
        ("reading", 118.3)  # 245 F
    ]
    terminal.press("?")
    terminal.until("Escape goes back")
    terminal.press("Escape")
    terminal.until("Escape goes back", gone=True)
    for columns, rows in ((40, 12), (200, 50), (80, 24)):
        terminal.resize(columns, rows)
        terminal.when(
            lambda screen, rows=rows: "q quit" in screen.splitlines()[rows - 1],  # type: ignore[misc]
            f"the keys on the last of {rows} rows",
        )
    terminal.press("q")
    assert "STATUS 0" in terminal.until("STATUS")


def test_ctrl_c_leaves_and_the_terminal_is_as_before(terminal: Terminal) -> None:
    terminal.start("watch", "--config", "mine.toml", columns=60, rows=20)
    terminal.until("q quit")
    terminal.press("C-c")
    screen = terminal.until("STATUS 0")
    assert "q quit" not in screen
    assert "Traceback" not in screen


def test_no_color_has_no_colour_in_a_real_terminal(terminal: Terminal) -> None:
    """The codes of colours are 30 to 37, 90 to 97, 38 and 48 (ECMA-48, SGR)."""
    terminal.start("watch", "--config", "mine.toml", columns=80, rows=24, NO_COLOR="1")
    terminal.until("q quit")
    codes = {
        code
        for part in terminal.screen(styled=True).split("\x1b[")[1:]
        for code in part.partition("m")[0].split(";")
    }
    assert "7" in codes, "the keys stand out without colour"
    colours = {str(n) for n in (*range(30, 39), *range(40, 49), *range(90, 98), *range(100, 108))}
    assert codes & colours == set()


@pytest.mark.parametrize("env", [{"TERM": "dumb"}, {}])
def test_a_dumb_terminal_and_plain_get_lines(terminal: Terminal, env: dict[str, str]) -> None:
    words = ("--plain",) if not env else ()
    replay = ("--replay", "max", "--date", "2026-11-25")
    terminal.start("watch", "--config", "mine.toml", *words, *replay, columns=100, rows=60, **env)
    screen = terminal.until("STATUS 0")
    assert "q quit" not in screen
    assert "Set out the" in screen
