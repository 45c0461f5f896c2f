"""Screens of the dashboard as text: `python tests/make_snapshots.py` writes them anew.

Each file in tests/screen/snapshots is one moment of `dashboard_days` at one size of terminal,
character by character, without the blanks at the ends of lines.  They guard against change that
nobody meant: after making them anew, read what `git diff` shows, and look at each new one.
"""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

from dashboard_days import moments, screen_of

FOLDER = Path(__file__).parent / "screen" / "snapshots"
WHOLE = ((40, 110), (80, 80), (120, 52), (200, 46))
"""So high that next to nothing has to be scrolled.  [columns], [rows]"""
COMMON = ((40, 24), (80, 24))
SIZES = {
    "no-plan": COMMON,
    "morning": WHOLE,
    "cooking": (*COMMON, *WHOLE),
    "cooking-clear-sky": ((40, 110), (120, 52)),
    "cooking-ascii": ((40, 110), (80, 80)),
    "cooking-american": ((40, 110), (80, 80)),
    "due": COMMON,
    "evening": (*COMMON, *WHOLE),
    "nothing-cooks": (*COMMON, *WHOLE),
    "spoiled": (*COMMON, (120, 52)),
    "ask-turned": COMMON,
    "ask-loaded": COMMON,
    "ask-reading": COMMON,
    "help": (*COMMON, (200, 46)),
}


def names() -> Iterator[tuple[str, int, int]]:
    """Yield every moment with every size it is kept at.  [columns], [rows]"""
    for name, sizes in SIZES.items():
        yield from ((name, width, height) for width, height in sizes)


def path_of(name: str, width: int, height: int) -> Path:
    """Return where a screen is kept."""
    return FOLDER / f"{name}-{width}x{height}.txt"


def shot(name: str, width: int, height: int) -> str:
    """Return a screen as it is drawn now."""
    rows = screen_of(moments()[name], width=width, height=height)
    return "".join(f"{row.rstrip()}\n" for row in rows)


def main() -> None:
    """Write them all, and take away what is asked for no more."""
    FOLDER.mkdir(exist_ok=True)
    for old in set(FOLDER.glob("*.txt")) - {path_of(*name) for name in names()}:
        old.unlink()
    for name in names():
        path_of(*name).write_text(shot(*name), encoding="utf-8")
    print(f"{len(list(names()))} screens in {FOLDER}. Read them: git diff, and each new one.")


if __name__ == "__main__":
    main()
