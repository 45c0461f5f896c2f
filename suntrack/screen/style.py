"""How roles and words look on a terminal: colours from blue to orange, never colour alone.

Blue against orange stays apart for nearly every kind of colour sight.  The sixteen basic
colours are used, so that the cook's own terminal colours keep their contrast; words take
only those that can be read on black and on white (plain blue cannot on black, yellow not
on white), and what has to be noticed is turned inside out.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from rich.console import Console
from rich.text import Text

from suntrack.screen.charset import MARKS, Charset
from suntrack.screen.runs import Role, Row

if TYPE_CHECKING:
    from collections.abc import Mapping
    from typing import IO

    from suntrack.plan.records import DishStatus

ROLE_STYLES: Mapping[Role, str] = {
    "label": "dim",
    "hot": "yellow",
    "warm": "bright_blue",
    "empty box": "yellow",
    "threshold": "bold",
    "axis": "dim",
    "blank": "",
    "sun": "bold red",
    "box": "bold bright_blue",
    "aim": "bold",
    "ring": "dim",
    "letter": "bold",
    "band": "bright_blue",
    "reading": "bold",
    "now": "bold",
}
STATUS_STYLES: Mapping[DishStatus, str] = {
    "ready": "bold bright_blue",
    "late": "bold magenta",
    "not done": "bold magenta",
    "not safe": "bold reverse",
    "refused": "bold reverse",
    "spoiled": "bold reverse",
}
YES, NO = "bold bright_blue", "bold reverse"


def row_of(row: Row) -> Text:
    """Return a row of runs with its styles."""
    text = Text(no_wrap=True, overflow="crop")
    for run in row:
        text.append(run.text, ROLE_STYLES[run.role])
    return text


def can_show_marks(stream: IO[str]) -> bool:
    """Return whether a stream's encoding has every mark; False when it names none."""
    wanted = "°█░▁▏∙↑" + "".join(drawn for drawn, _ in MARKS.values())
    try:
        wanted.encode(getattr(stream, "encoding", None) or "ascii")
    except (LookupError, UnicodeEncodeError):
        return False
    return True


def is_dumb(stream: IO[str], env: Mapping[str, str]) -> bool:
    """Return whether a stream wants plain lines: not a terminal, or one without commands."""
    return not stream.isatty() or env.get("TERM", "").lower() in ("dumb", "unknown")


def ink_for(stream: IO[str]) -> Charset:
    """Return the ink that a stream can show."""
    return Charset(ascii=not can_show_marks(stream))


def make_console(stream: IO[str], env: Mapping[str, str], width: int | None = None) -> Console:
    """Return a console for a stream; `ink_for` says which characters it can show.

    NO_COLOR (set, not empty) takes every colour away; bold stays.
    """
    return Console(
        file=stream,
        width=width,
        no_color=bool(env.get("NO_COLOR")),
        highlight=False,
        markup=False,
        emoji=False,
        safe_box=True,
        legacy_windows=False,
        _environ=env,
    )
