"""Charts in characters: numbers in, rows of short runs of text out.

Nothing here knows colours or terminals.  Every run carries a role, and the caller decides
how a role looks; the rows read the same without any colour.

    118 C |      .=##:
     90 C |---:########=---     the line is the threshold
     20 C |=##############
          +---------------
           6:00   12:00
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from itertools import pairwise
from typing import TYPE_CHECKING

from suntrack.screen.runs import Cell, Row, Run, runs_of

if TYPE_CHECKING:
    from collections.abc import Mapping, Sequence

    from suntrack.screen.charset import Charset

BLOCKS = " ▁▂▃▄▅▆▇█"
"""Eighths of a cell, from the bottom."""
ASCII_BLOCKS = "  ..::==#"
"""The same eighths, as far as ASCII goes."""
TRACK = "░"
"""The part of a bar that is not filled."""
PARTS = " ▏▎▍▌▋▊▉█"
"""Eighths of a cell, from the left."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Series:
    """One curve: times and values, in order of time."""

    at_s: Sequence[float]
    """When.  [s]"""
    values: Sequence[float]
    """What, at each moment."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Scale:
    """The window a chart looks through."""

    starts_s: float
    """At the left.  [s]"""
    ends_s: float
    """At the right.  [s]"""
    low: float
    """Its lower end."""
    high: float
    """Its upper end."""
    columns: int
    """How wide."""
    rows: int
    """How high."""

    def middle_s(self, column: int) -> float:
        """Return the time in the middle of a column.  [s]"""
        return self.starts_s + (self.ends_s - self.starts_s) * (column + 0.5) / self.columns

    def column(self, at_s: float) -> int:
        """Return the column a time falls in, for times the chart covers."""
        share = (at_s - self.starts_s) / (self.ends_s - self.starts_s)
        return min(math.floor(share * self.columns), self.columns - 1)

    def eighths(self, value: float) -> int:
        """Return how many eighths of a cell a value fills, from the bottom of the chart."""
        if math.isnan(value):
            return 0
        full = self.rows * 8
        return min(max(round((value - self.low) / (self.high - self.low) * full), 0), full)


def value_at(series: Series, at_s: float) -> float:
    """Return a series between two of its points; nan outside them."""
    points = zip(series.at_s, series.values, strict=True)
    for (before_s, before), (after_s, after) in pairwise(points):
        if before_s <= at_s <= after_s and after_s > before_s:
            return before + (after - before) * (at_s - before_s) / (after_s - before_s)
    return math.nan


def bar(share: float, *, width: int, ink: Charset) -> str:
    """Return a bar of a given width, filled to a share of it from the left."""
    kept = min(max(share, 0.0), 1.0)
    if ink.ascii:
        whole = round(kept * width)
        return "#" * whole + "." * (width - whole)
    whole, part = divmod(round(kept * width * 8), 8)
    return ("█" * whole + (PARTS[part] if part else "")).ljust(width, TRACK)


def curve(
    series: Series, *, over: Series | None, threshold: float, scale: Scale, ink: Charset
) -> tuple[Row, ...]:
    """Return the plot of a series as filled columns, top row first.

    `over` is a second series, drawn as points where they stand clear of the first.  The
    threshold is a line wherever nothing is drawn over it.
    """
    fills = [scale.eighths(value_at(series, scale.middle_s(c))) for c in range(scale.columns)]
    points = [0] * scale.columns
    if over is not None:
        points = [scale.eighths(value_at(over, scale.middle_s(c))) for c in range(scale.columns)]
    line = _row_of(scale.eighths(threshold))
    rows = []
    for row in reversed(range(scale.rows)):
        cells = [
            _cell(fill - 8 * row, row=row, line=line, point=_row_of(point), ink=ink)
            for fill, point in zip(fills, points, strict=True)
        ]
        rows.append(runs_of(cells))
    return tuple(rows)


def _row_of(eighths: int) -> int:
    """Return the row, counted from the bottom, in which a height ends; -1 for none."""
    return (eighths - 1) // 8 if eighths > 0 else -1


def _cell(fill: int, *, row: int, line: int, point: int, ink: Charset) -> Cell:
    """Return one character of the plot and its role."""
    drawn = (ASCII_BLOCKS if ink.ascii else BLOCKS)[min(max(fill, 0), 8)]
    if drawn != " ":
        return drawn, "hot" if row >= line else "warm"
    if point == row:
        return ink.mark("empty box"), "empty box"
    if row == line:
        return ink.mark("threshold"), "threshold"
    return " ", "blank"


def framed(
    plot: Sequence[Row],
    *,
    labels: Mapping[int, str],
    ticks: Sequence[tuple[int, str]],
    ink: Charset,
) -> tuple[Row, ...]:
    """Return a plot with labels at its left (by row from the top) and ticks below it."""
    width = max((len(text) for text in labels.values()), default=0)
    columns = sum(len(run.text) for run in plot[0]) if plot else 0
    rows: list[Row] = []
    for number, row in enumerate(plot):
        label = labels.get(number, "").rjust(width)
        edge = Run(text=f" {ink.mark('edge')}", role="axis")
        rows.append((Run(text=label, role="label"), edge, *row))
    line = " " * (width + 1) + ink.mark("corner") + ink.mark("line") * columns
    rows.append((Run(text=line, role="axis"),))
    rows.append((Run(text=" " * (width + 2) + _tick_line(ticks, columns), role="label"),))
    return tuple(rows)


def _tick_line(ticks: Sequence[tuple[int, str]], columns: int) -> str:
    """Return tick labels, each starting at its column, left out where they would collide."""
    line = ""
    for column, text in ticks:
        clear = column >= len(line) + (1 if line else 0)
        if clear and column + len(text) <= columns:
            line = line.ljust(column) + text
    return line
