"""The box chart: right scale, right labels, ticks on whole hours."""

from __future__ import annotations

from dataclasses import replace
from itertools import pairwise

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from suntrack.plan.records import BoxSample, DayPlan
from suntrack.screen.charset import Charset
from suntrack.screen.chart import Scale
from suntrack.screen.curves import box_chart, box_range_c, hour_text, hour_ticks
from suntrack.screen.runs import row_text
from suntrack.units import Units

INK = Charset()
METRIC, US = Units(), Units(temperature="F", clock="12")


@settings(deadline=None)
@given(width=st.integers(30, 200), ascii_only=st.booleans())
def test_chart_is_as_wide_as_asked(plan: DayPlan, width: int, ascii_only: bool) -> None:
    rows = box_chart(plan, units=METRIC, width=width, ink=Charset(ascii=ascii_only))
    widths = [sum(len(run.text) for run in row) for row in rows]
    assert max(widths) == width


def test_threshold_is_labelled_on_its_own_row(plan: DayPlan) -> None:
    rows = [row_text(row) for row in box_chart(plan, units=METRIC, width=80, ink=INK)]
    labelled = [row for row in rows if row.startswith(" 90 °C")]
    assert len(labelled) == 1
    assert "╌" in labelled[0]
    assert rows[0].startswith("131 °C")


def test_labels_follow_the_cook_s_units(plan: DayPlan) -> None:
    said = "\n".join(row_text(row) for row in box_chart(plan, units=US, width=80, ink=INK))
    assert "194 °F" in said, "90 C is 194 F"
    assert "12 pm" in said
    assert "°C" not in said


@pytest.mark.parametrize("units", [METRIC, US])
@pytest.mark.parametrize("columns", [20, 33, 72, 150])
def test_ticks_are_evenly_spaced_whole_hours(plan: DayPlan, columns: int, units: Units) -> None:
    starts, ends = plan.box[0].at, plan.box[-1].at
    scale = Scale(
        starts_s=starts.timestamp(),
        ends_s=ends.timestamp(),
        low=0.0,
        high=1.0,
        columns=columns,
        rows=4,
    )
    ticks = hour_ticks(starts, ends, scale=scale, units=units)
    assert ticks
    gaps = [b[0] - a[0] for a, b in pairwise(ticks)]
    assert not gaps or max(gaps) - min(gaps) <= 1
    for (column, text), (following, _) in pairwise(ticks):
        assert column + len(text) < following


def test_whole_hours_are_short_on_a_twelve_hour_clock(plan: DayPlan) -> None:
    noon = plan.box[0].at.replace(hour=12, minute=0)
    assert (hour_text(noon, METRIC), hour_text(noon, US)) == ("12:00", "12 pm")


def test_range_covers_everything_shown(plan: DayPlan) -> None:
    low, high = box_range_c(plan.box, 90.0)
    assert low <= min(min(s.box_c, s.empty_c) for s in plan.box)
    assert high >= max(max(s.box_c, s.empty_c) for s in plan.box)
    cold = (BoxSample(at=plan.box[0].at, box_c=-7.0, empty_c=float("nan")),)
    assert box_range_c(cold, 90.0) == (-20.0, 90.0)


def test_plan_without_a_curve_has_no_chart(plan: DayPlan) -> None:
    assert box_chart(replace(plan, box=()), units=METRIC, width=60, ink=INK) == ()
