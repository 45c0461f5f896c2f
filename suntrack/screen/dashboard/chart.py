"""The box so far: the plan's curve with its band, the cook's readings, and where now is.

`@` is a reading and `:` the band of the skies; below the band it is filled.

120 C |        ::::::::
 90 C |-----@::########:::---
 20 C |=:######################
      +------------------------
       7:00   9:00    11:00
             ^ now
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import TYPE_CHECKING

from suntrack.screen.chart import ASCII_BLOCKS, BLOCKS, Scale, Series, framed, value_at
from suntrack.screen.curves import GRAIN_C, box_range_c, hour_ticks
from suntrack.screen.runs import Cell, Row, Run, runs_of

if TYPE_CHECKING:
    from collections.abc import Sequence
    from datetime import datetime

    from suntrack.plan.records import BoxSample, DayPlan
    from suntrack.screen.charset import Charset
    from suntrack.units import Units

ROWS = 7


@dataclass(frozen=True, slots=True, kw_only=True)
class Reading:
    """What the cook has read off the oven thermometer."""

    at: datetime
    """The moment."""
    box_c: float
    """What it showed.  [C]"""


@dataclass(frozen=True, slots=True, kw_only=True)
class Expected:
    """What the plan says of the box at one moment."""

    box_c: float
    """[C]"""
    low_c: float
    """A tenth of the skies make it cooler; nan without skies.  [C]"""
    high_c: float
    """A tenth of the skies make it hotter; nan without skies.  [C]"""


def expected_at(samples: Sequence[BoxSample], at: datetime) -> Expected:
    """Return what the plan says of a moment; nan outside its stretch."""
    box, low, high = (value_at(series, at.timestamp()) for series in _series(samples))
    return Expected(box_c=box, low_c=low, high_c=high)


def _series(samples: Sequence[BoxSample]) -> tuple[Series, Series, Series]:
    """Return the box, and the two edges of its band."""
    at_s = [sample.at.timestamp() for sample in samples]
    nan = float("nan")
    edges = (
        [sample.box_c for sample in samples],
        [nan if sample.low_c is None else sample.low_c for sample in samples],
        [nan if sample.high_c is None else sample.high_c for sample in samples],
    )
    box, low, high = (Series(at_s=at_s, values=values) for values in edges)
    return box, low, high


def has_band(samples: Sequence[BoxSample]) -> bool:
    """Return True when many skies stand behind the curve."""
    return any(sample.low_c is not None and sample.high_c is not None for sample in samples)


def watched_chart(
    plan: DayPlan,
    readings: Sequence[Reading],
    *,
    now: datetime,
    units: Units,
    width: int,
    ink: Charset,
) -> tuple[Row, ...]:
    """Return the chart of a given width, top row first; nothing without two samples."""
    if len(plan.box) < 2:
        return ()
    scale, labels = _scale(plan, readings, units=units, width=width, ink=ink)
    fills = _fills(plan.box, scale)
    line, read = _row(plan.window.threshold_c, scale), _read(readings, scale)
    plot = [
        runs_of(
            [
                (ink.mark("reading"), "reading")
                if (column, row) in read
                else _cell(*fill, row=row, line=line, ink=ink)
                for column, fill in enumerate(fills)
            ]
        )
        for row in reversed(range(ROWS))
    ]
    ticks = hour_ticks(plan.box[0].at, plan.box[-1].at, scale=scale, units=units)
    edge = max(len(text) for text in labels.values()) + 2
    rows = framed(plot, labels=labels, ticks=ticks, ink=ink)
    return (*rows, *_now_row(now, scale, edge=edge, ink=ink))


def _scale(
    plan: DayPlan, readings: Sequence[Reading], *, units: Units, width: int, ink: Charset
) -> tuple[Scale, dict[int, str]]:
    """Return the window of the chart and the labels of its rows."""
    threshold_c = plan.window.threshold_c
    low, high = box_range_c(plan.box, threshold_c)
    read = [reading.box_c for reading in readings]
    coldest = min([low, *(s.low_c for s in plan.box if s.low_c is not None), *read])
    low = math.floor(coldest / GRAIN_C) * GRAIN_C
    high = max([high, *(s.high_c for s in plan.box if s.high_c is not None), *read])
    texts = [ink.text(units.temperature_text(c)) for c in (high, threshold_c, low)]
    scale = Scale(
        starts_s=plan.box[0].at.timestamp(),
        ends_s=plan.box[-1].at.timestamp(),
        low=low,
        high=high,
        columns=width - max(len(text) for text in texts) - 2,
        rows=ROWS,
    )
    line = ROWS - 1 - _row(threshold_c, scale)
    return scale, {0: texts[0], ROWS - 1: texts[2], line: texts[1]}


def _row(value_c: float, scale: Scale) -> int:
    """Return the row, counted from the bottom, that a temperature falls in."""
    return max(scale.eighths(value_c) - 1, 0) // 8


def _fills(samples: Sequence[BoxSample], scale: Scale) -> list[tuple[int, int]]:
    """Return for every column how high it is filled, and how high its band goes.  [eighths]

    With a band the filling goes up to its lower edge, without one up to the curve.
    """
    box, low, high = _series(samples)
    times = [scale.middle_s(column) for column in range(scale.columns)]
    filled = low if has_band(samples) else box
    return [
        (scale.eighths(value_at(filled, at_s)), scale.eighths(value_at(high, at_s)))
        for at_s in times
    ]


def _cell(filled: int, top: int, *, row: int, line: int, ink: Charset) -> Cell:
    """Return one character of the plot and its role."""
    fill, middle = filled - 8 * row, 8 * row + 4
    if fill < 4 and top > middle:
        return ink.mark("band"), "band"
    drawn = (ASCII_BLOCKS if ink.ascii else BLOCKS)[min(max(fill, 0), 8)]
    if drawn != " ":
        return drawn, "hot" if row >= line else "warm"
    return (ink.mark("threshold"), "threshold") if row == line else (" ", "blank")


def _read(readings: Sequence[Reading], scale: Scale) -> set[tuple[int, int]]:
    """Return where the readings stand, as columns and rows from the bottom."""
    return {
        (scale.column(reading.at.timestamp()), _row(reading.box_c, scale))
        for reading in readings
        if scale.starts_s <= reading.at.timestamp() <= scale.ends_s
    }


def _now_row(now: datetime, scale: Scale, *, edge: int, ink: Charset) -> tuple[Row, ...]:
    """Return the line below the hours that points to now; nothing when now is not shown."""
    at_s = now.timestamp()
    if not scale.starts_s <= at_s <= scale.ends_s:
        return ()
    column, mark = scale.column(at_s), ink.mark("now")
    # At the right end the word stands before its mark.
    if column + 5 <= scale.columns:
        text = " " * (edge + column) + f"{mark} now"
    else:
        text = " " * (edge + column - 4) + f"now {mark}"
    return ((Run(text=text, role="now"),),)
