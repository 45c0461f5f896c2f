"""Puts real screens into README.md: `python tests/make_screens.py` writes them anew.

A screen stands under a comment that says how it is made, and is cut after `rows` lines:

    <!-- screen rows=24: suntrack today --at 2026-11-25T05:00+02:00 -->
    ```text
    ...
    ```

`snapshot NAME` in the place of a command is a kept screen of the dashboard, from
`tests/screen/snapshots`.  A command runs at a pseudo-terminal 88 columns wide, without colour,
with the example config and a home of its own, so that the same plan gives the same screen.
"""

from __future__ import annotations

import contextlib
import fcntl
import os
import pty
import re
import shlex
import struct
import subprocess
import sys
import tempfile
import termios
from dataclasses import dataclass
from pathlib import Path

ROOT = Path(__file__).parents[1]
README = ROOT / "README.md"
SNAPSHOTS = ROOT / "tests" / "screen" / "snapshots"
COLUMNS, ROWS = 88, 50
SCREEN = re.compile(
    r"<!-- screen(?: rows=(?P<rows>\d+))?: (?P<command>(?:suntrack|snapshot) [^\n]*?) -->\n"
    r"```text\n(?P<shown>.*?)```",
    re.DOTALL,
)
ESCAPES = re.compile(r"\x1b\[[0-9;?]*[A-Za-z]")


@dataclass(frozen=True, slots=True, kw_only=True)
class Screen:
    """One screen of a document."""

    command: str
    rows: int
    """Lines that are shown; 0 for all."""
    shown: str


def screens_of(text: str) -> tuple[Screen, ...]:
    """Return the screens of a document."""
    return tuple(
        Screen(command=found["command"], rows=int(found["rows"] or 0), shown=found["shown"])
        for found in SCREEN.finditer(text)
    )


def made_anew(text: str, home: Path) -> str:
    """Return a document with every screen as its command prints it now."""

    def fresh(found: re.Match[str]) -> str:
        start = found.start("shown") - found.start()
        shown = shot(found["command"], rows=int(found["rows"] or 0), home=home)
        return f"{found[0][:start]}{shown}```"

    return SCREEN.sub(fresh, text)


def shot(command: str, *, rows: int, home: Path) -> str:
    """Return what a command prints at a terminal, without spaces at the ends of lines."""
    program, *words = shlex.split(command)
    if program == "snapshot":
        return (SNAPSHOTS / f"{words[0]}.txt").read_text(encoding="utf-8")
    printed = ESCAPES.sub("", at_terminal(words, home=home))
    lines = [line.rstrip() for line in printed.replace("\r\n", "\n").rstrip().split("\n")]
    if rows and len(lines) > rows:
        lines = [*lines[:rows], "[and so on]"]
    return "\n".join(lines) + "\n"


def at_terminal(words: list[str], *, home: Path) -> str:
    """Run suntrack at a pseudo-terminal and return all it prints there."""
    kept = {name: os.environ[name] for name in ("PATH", "NUMBA_CACHE_DIR") if name in os.environ}
    own = {"SUNTRACK_HOME": str(home), "SUNTRACK_CONFIG": str(ROOT / "config" / "suntrack.toml")}
    looks = {"TERM": "xterm", "NO_COLOR": "1", "LANG": "C.UTF-8", "PYTHONIOENCODING": "utf-8"}
    ours, theirs = pty.openpty()
    fcntl.ioctl(theirs, termios.TIOCSWINSZ, struct.pack("HHHH", ROWS, COLUMNS, 0, 0))
    with subprocess.Popen(
        [sys.executable, "-m", "suntrack", *words],
        env=kept | own | looks, cwd=home, stdin=theirs, stdout=theirs, stderr=subprocess.DEVNULL,
    ) as running:  # fmt: skip
        os.close(theirs)
        parts = []
        # A terminal whose other end is closed ends with an error on Linux.
        with contextlib.suppress(OSError):
            while part := os.read(ours, 65536):
                parts.append(part)
        os.close(ours)
    if running.returncode != 0:
        raise RuntimeError(f"suntrack {shlex.join(words)} left with {running.returncode}")
    return b"".join(parts).decode("utf-8")


if __name__ == "__main__":
    with tempfile.TemporaryDirectory() as folder:
        old = README.read_text(encoding="utf-8")
        README.write_text(made_anew(old, Path(folder)), encoding="utf-8")
    print(f"{len(screens_of(old))} screens written anew.")
