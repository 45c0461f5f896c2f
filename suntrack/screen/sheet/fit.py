"""How large type may be for a day to stay on one sheet of paper, by counting its lines.

A style sheet cannot ask how much is on a page, and a browser prints what does not fit on a
second one.  The letters are reckoned wide, so that a kitchen's own font still fits.

How large type may be is reckoned by counting lines; under 7 points the curves go on a second
sheet instead.  Lost: a template engine (one template, and nothing in it that a function does not
say more strictly), and ever smaller print (8 dishes at 6 points).
"""

from __future__ import annotations

import math
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from collections.abc import Iterable

PAGE_MM = 250.0
"""Of Letter (279 mm) inside margins of 9 mm, with a reserve; A4 is longer.  [mm]"""
WIDE_MM, COLUMN_MM = 190.0, 92.0
"""Of A4 (210 mm), which is the narrower.  [mm]"""
POINT_MM = 25.4 / 72.0
LETTER = 0.52
"""Mean width of a letter, as a share of the size of its type; wide sans serifs have so much."""
LINE = 1.25
SMALL = 0.88
SIZES_PT = tuple(11.0 - 0.25 * i for i in range(23))
"""From good to read at the wall down to small print."""
LEAST_PT = 7.0
"""Rather than smaller than this the curves go on a second sheet (our choice).  [pt]"""
ROW_MM, BELOW_MM = 32.0, 74.0
"""How high three curves are side by side, and one below the other on a sheet of their own."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Amount:
    """What stands on a sheet, as texts."""

    head: tuple[str, ...]
    """Lines above the steps."""
    why: tuple[str, ...]
    """Lines of reasons."""
    steps: tuple[tuple[str, str], ...]
    """What to do, and the hint below it that is printed; empty for none."""
    dishes: tuple[tuple[str, ...], ...]
    """The name of each and what is said of it."""
    charts: int
    """How many there are."""
    care: tuple[str, ...]
    """Lines of cautions."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Fit:
    """How a sheet is printed."""

    size_pt: float
    """How large type may be.  [pt]"""
    chart_mm: float
    """How high a chart may be; 0 for another sheet.  [mm]"""
    curves_apart: bool
    """True when the curves have a second sheet."""


def fitting(amount: Amount) -> Fit:
    """Return the largest type that stays on one sheet; the curves leave it before it is small."""
    for size_pt in SIZES_PT:
        if size_pt < LEAST_PT:
            break
        if height_mm(amount, size_pt=size_pt) <= PAGE_MM:
            return Fit(size_pt=size_pt, chart_mm=ROW_MM, curves_apart=False)
    work = replace(amount, charts=0)
    fits = (size for size in SIZES_PT if height_mm(work, size_pt=size) <= PAGE_MM)
    return Fit(size_pt=next(fits, SIZES_PT[-1]), chart_mm=BELOW_MM, curves_apart=True)


def height_mm(amount: Amount, *, size_pt: float) -> float:
    """Return about how high a sheet is, its curves in one row.  [mm]"""
    em = size_pt * POINT_MM
    title = 1.7 * LINE * em
    # Steps and dishes flow through two columns; what may not be broken leaves a gap.
    blocks = [_step(what, hint, em) for what, hint in amount.steps]
    blocks += [_dish(texts, em) for texts in amount.dishes]
    columns = (
        sum(blocks, start=2.0 * title + 2.0 * LINE * em) / 2.0 + max(blocks, default=0.0) / 2.0
    )
    head = _rows(amount.head, WIDE_MM, em) + _rows(amount.why, WIDE_MM, SMALL * em)
    care = _rows(amount.care, COLUMN_MM - 5.0, em) / 2.0 + title
    curves = title + LINE * em + ROW_MM if amount.charts else 0.0
    return head + columns + care + curves


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
