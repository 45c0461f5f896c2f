"""From the plan's curves to charts: which stretch, which scale, which labels."""

from __future__ import annotations

import math
from datetime import timedelta
from typing import TYPE_CHECKING

from suntrack.screen.chart import Scale, Series, curve, framed

if TYPE_CHECKING:
    from collections.abc import Sequence
    from datetime import datetime

    from suntrack.plan.records import BoxSample, DayPlan
    from suntrack.screen.charset import Charset
    from suntrack.screen.runs import Row
    from suntrack.units import Units

ROWS = 7
GRAIN_C = 20.0
"""The scale starts at a multiple of this.  [C]"""
HOUR_STEPS = (1, 2, 3, 4, 6, 12)


def box_chart(plan: DayPlan, *, units: Units, width: int, ink: Charset) -> tuple[Row, ...]:
    """Return the box's day as a chart of a given width; nothing without two samples."""
    if len(plan.box) < 2:
        return ()
    low, high = box_range_c(plan.box, plan.window.threshold_c)
    texts = [ink.text(units.temperature_text(c)) for c in (high, plan.window.threshold_c, low)]
    columns = width - max(len(text) for text in texts) - 2
    scale = Scale(
        starts_s=plan.box[0].at.timestamp(),
        ends_s=plan.box[-1].at.timestamp(),
        low=low,
        high=high,
        columns=columns,
        rows=ROWS,
    )
    at_s = [sample.at.timestamp() for sample in plan.box]
    plot = curve(
        Series(at_s=at_s, values=[sample.box_c for sample in plan.box]),
        over=Series(at_s=at_s, values=[sample.empty_c for sample in plan.box]),
        threshold=plan.window.threshold_c,
        scale=scale,
        ink=ink,
    )
    threshold_row = ROWS - 1 - max(scale.eighths(plan.window.threshold_c) - 1, 0) // 8
    labels = {0: texts[0], ROWS - 1: texts[2], threshold_row: texts[1]}
    ticks = hour_ticks(plan.box[0].at, plan.box[-1].at, scale=scale, units=units)
    return framed(plot, labels=labels, ticks=ticks, ink=ink)


def box_range_c(samples: Sequence[BoxSample], threshold_c: float) -> tuple[float, float]:
    """Return the lowest and the highest temperature to show.  [C]"""
    known = [c for s in samples for c in (s.box_c, s.empty_c) if not math.isnan(c)]
    low = math.floor(min([*known, threshold_c]) / GRAIN_C) * GRAIN_C
    return low, max([*known, threshold_c, low + 1.0])


def hour_ticks(
    starts_at: datetime, ends_at: datetime, *, scale: Scale, units: Units
) -> list[tuple[int, str]]:
    """Return whole hours and the columns they fall in, as many as stand clear."""
    per_hour = scale.columns / max((scale.ends_s - scale.starts_s) / 3600.0, 1e-9)
    wanted = len(hour_text(starts_at.replace(hour=12), units)) + 2
    every = next((step for step in HOUR_STEPS if step * per_hour >= wanted), 24)
    first = starts_at.replace(minute=0, second=0, microsecond=0)
    ticks = []
    for number in range(1, round((ends_at - starts_at) / timedelta(hours=1)) + 2):
        at = first + timedelta(hours=number)
        if at <= ends_at and at.hour % every == 0:
            ticks.append((scale.column(at.timestamp()), hour_text(at, units)))
    return ticks


def hour_text(at: datetime, units: Units) -> str:
    """Return a whole hour, such as `9:00` or `9 am`."""
    return units.time_text(at).replace(":00 ", " ")
