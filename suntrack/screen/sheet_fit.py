"""How large type may be for a day to stay on one sheet of paper, by counting its lines.

A style sheet cannot ask how much is on a page, and a browser prints what does not fit on a
second one.  The letters are reckoned wide, so that a kitchen's own font still fits.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from collections.abc import Iterable

PAGE_MM = 250.0
"""Of Letter (279 mm) inside margins of 9 mm, with a reserve; A4 is longer.  [mm]"""
WIDE_MM, COLUMN_MM = 190.0, 90.0
"""Of A4 (210 mm), which is the narrower.  [mm]"""
POINT_MM = 25.4 / 72.0
LETTER = 0.55
"""Mean width of a letter, as a share of the size of its type; wide sans serifs have so much."""
LINE = 1.25
SMALL = 0.88
SIZES_PT = tuple(9.5 - 0.25 * i for i in range(17))
"""From good to read at the wall down to small print."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Amount:
    """What stands on a sheet, as texts."""

    head: tuple[str, ...]
    why: tuple[str, ...]
    steps: tuple[tuple[str, str], ...]
    """What to do, and the hint below it that is printed; empty for none."""
    dishes: tuple[tuple[str, ...], ...]
    """The name of each and what is said of it."""
    charts: int
    care: tuple[str, ...]
    foot: str


def fitting(amount: Amount) -> tuple[float, float]:
    """Return the size of type and the height of charts.  [pt], [mm]"""
    for size_pt in SIZES_PT:
        for chart_mm in (34.0, 28.0):
            if height_mm(amount, size_pt=size_pt, chart_mm=chart_mm) <= PAGE_MM:
                return size_pt, chart_mm
    return SIZES_PT[-1], 24.0


def height_mm(amount: Amount, *, size_pt: float, chart_mm: float) -> float:
    """Return about how high a sheet is.  [mm]"""
    em = size_pt * POINT_MM
    left = sum(_step(what, hint, em) for what, hint in amount.steps)
    right = 2.5 * LINE * em + sum(_dish(texts, em) for texts in amount.dishes)
    right += amount.charts * (chart_mm + LINE * em)
    titles = 3.0 * 2.0 * LINE * em
    head = _rows(amount.head, WIDE_MM, em) + _rows(amount.why, WIDE_MM, SMALL * em)
    care = _rows(amount.care, COLUMN_MM - 5.0, em) / 2.0 + 1.5 * LINE * em
    return head + titles + max(left, right) + care + _rows([amount.foot], WIDE_MM, SMALL * em)


def _step(what: str, hint: str, em: float) -> float:
    width = COLUMN_MM - 7.4 * em
    return _rows([what], width, em) + _rows([hint], width, SMALL * em) + 0.25 * em + 0.4


def _dish(texts: tuple[str, ...], em: float) -> float:
    # The name has what the five columns of times leave.
    name, *said = texts
    return _rows([name], COLUMN_MM - 17.4 * em, em) + _rows(said, COLUMN_MM, SMALL * em) + 0.6


def _rows(texts: Iterable[str], width_mm: float, em: float) -> float:
    """Return the height of texts that wrap, each on lines of its own.  [mm]"""
    lines = sum(math.ceil(len(text) * LETTER * em / max(width_mm, em)) for text in texts)
    return lines * LINE * em
