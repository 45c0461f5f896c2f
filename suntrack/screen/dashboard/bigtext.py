"""Figures large enough to be read across a kitchen, from a grid of three by five dots."""

from __future__ import annotations

from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from collections.abc import Mapping

    from suntrack.screen.charset import Charset

DOTS: Mapping[str, tuple[str, ...]] = {
    "0": ("###", "# #", "# #", "# #", "###"),
    "1": (" # ", "## ", " # ", " # ", "###"),
    "2": ("###", "  #", "###", "#  ", "###"),
    "3": ("###", "  #", " ##", "  #", "###"),
    "4": ("# #", "# #", "###", "  #", "  #"),
    "5": ("###", "#  ", "###", "  #", "###"),
    "6": ("###", "#  ", "###", "# #", "###"),
    "7": ("###", "  #", " # ", " # ", " # "),
    "8": ("###", "# #", "###", "# #", "###"),
    "9": ("###", "# #", "###", "  #", "###"),
    " ": (" ", " ", " ", " ", " "),
}
HALVES: Mapping[tuple[bool, bool], str] = {
    (False, False): " ", (True, False): "▀", (False, True): "▄", (True, True): "█",
}  # fmt: skip
"""Two dots, one above the other, in one character."""


def big_figures(text: str, *, ink: Charset) -> tuple[str, ...]:
    """Return digits and blanks as rows of characters: three rows, five in ASCII."""
    rows = [" ".join(DOTS[figure][row] for figure in text) for row in range(5)]
    if ink.ascii:
        return tuple(rows)
    pairs = zip([*rows[0::2]], [*rows[1::2], " " * len(rows[0])], strict=True)
    return tuple(
        "".join(HALVES[above != " ", below != " "] for above, below in zip(*pair, strict=True))
        for pair in pairs
    )


def big_words(words: str, *, ink: Charset) -> tuple[str, ...]:
    """Return words with their numbers large: `1 h 12 min` stands on one line of large figures."""
    rows: list[str] = []
    for word in words.split():
        block = big_figures(word, ink=ink) if word.isdigit() else (word,)
        tall = max(len(rows), len(block))
        width = max((len(row) for row in rows), default=0)
        # Small words stand on the foot of the large figures.
        left = [" " * width] * (tall - len(rows)) + [row.ljust(width) for row in rows]
        right = [""] * (tall - len(block)) + list(block)
        gap = " " if rows else ""
        rows = [f"{a}{gap}{b}" for a, b in zip(left, right, strict=True)]
    return tuple(rows)
