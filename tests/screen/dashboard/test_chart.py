"""The chart of the dashboard: the band, the readings and now stand where they belong."""

from __future__ import annotations

import math
from dataclasses import replace
from datetime import datetime, timedelta
from zoneinfo import ZoneInfo

import pytest
from hypothesis import given
from hypothesis import strategies as st

from suntrack.plan.records import BoxSample, DayPlan
from suntrack.screen.charset import Charset
from suntrack.screen.dashboard.chart import ROWS, Reading, expected_at, has_band, watched_chart
from suntrack.screen.runs import row_text
from suntrack.units import Units

ZONE = ZoneInfo("Africa/Gaborone")
UNITS = Units()


def at(hour: int, minute: int = 0) -> datetime:
    return datetime(2026, 11, 25, hour, minute, tzinfo=ZONE)


def chart(
    plan: DayPlan, *readings: Reading, now: datetime, width: int = 80, ascii_only: bool = False
) -> list[str]:
    ink = Charset(ascii=ascii_only)
    rows = watched_chart(plan, readings, now=now, units=UNITS, width=width, ink=ink)
    return [row_text(row) for row in rows]


def level(plan: DayPlan, *, low_c: float | None = None, high_c: float | None = None) -> DayPlan:
    """Return a day of ten hours whose box stays at 100 C."""
    samples = tuple(
        BoxSample(at=at(7 + hour), box_c=100.0, empty_c=100.0, low_c=low_c, high_c=high_c)
        for hour in range(11)
    )
    return replace(plan, box=samples, window=replace(plan.window, threshold_c=90.0))


def test_between_two_samples_the_plan_is_a_straight_line() -> None:
    """Halfway from 40 to 80 C is 60 C; the band halfway from (30, 50) to (60, 90) is 45 to 70."""
    samples = (
        BoxSample(at=at(9), box_c=40.0, empty_c=0.0, low_c=30.0, high_c=50.0),
        BoxSample(at=at(10), box_c=80.0, empty_c=0.0, low_c=60.0, high_c=90.0),
    )
    found = expected_at(samples, at(9, 30))
    assert (found.box_c, found.low_c, found.high_c) == pytest.approx((60.0, 45.0, 70.0))
    assert math.isnan(expected_at(samples, at(11)).box_c), "nothing is said of what was not planned"


def test_without_skies_there_is_no_band(plan: DayPlan) -> None:
    assert not has_band(level(plan).box)
    found = expected_at(level(plan).box, at(9))
    assert (found.box_c, math.isnan(found.low_c)) == (100.0, True)
    assert not any("▒" in row for row in chart(level(plan), now=at(9)))


def test_the_band_stands_above_what_is_reached_nine_times_of_ten(plan: DayPlan) -> None:
    """Low 50 and high 110 C on a scale from 40 C: rows of 10 C, the lowest one filled."""
    rows = chart(level(plan, low_c=50.0, high_c=110.0), now=at(9))[:ROWS]
    drawn = [row.partition("│")[2] for row in rows]
    assert [number for number, row in enumerate(drawn) if "▒" in row] == [0, 1, 2, 3, 4, 5]
    assert [number for number, row in enumerate(drawn) if "█" in row] == [6]


@given(minute=st.integers(0, 599), box_c=st.integers(81, 100), width=st.integers(40, 200))
def test_a_reading_stands_in_its_column_and_in_its_row(
    plan: DayPlan, minute: int, box_c: int, width: int
) -> None:
    """Its column is its share of the ten hours, its row its share of the scale, 80 to 100 C."""
    when = at(7) + timedelta(minutes=minute)
    rows = chart(level(plan), Reading(at=when, box_c=float(box_c)), now=at(9), width=width)[:ROWS]
    found = [(number, row.index("◆")) for number, row in enumerate(rows) if "◆" in row]
    assert len(found) == 1
    edge = rows[0].index("│") + 1
    assert found[0][1] - edge == int(minute / 600 * (width - edge))
    from_below = (box_c - 80) / 20 * ROWS
    assert abs((ROWS - 1 - found[0][0]) + 0.5 - from_below) <= 0.6


def test_a_reading_hotter_than_all_that_was_planned_is_still_shown(plan: DayPlan) -> None:
    rows = chart(level(plan), Reading(at=at(9), box_c=160.0), now=at(9))
    assert rows[0].startswith("160 °C")
    assert "◆" in rows[0]


@given(minute=st.integers(0, 600), width=st.integers(40, 200), ascii_only=st.booleans())
def test_now_is_pointed_to_below_the_hours(
    plan: DayPlan, minute: int, width: int, ascii_only: bool
) -> None:
    rows = chart(level(plan), now=at(7) + timedelta(minutes=minute), width=width,
                 ascii_only=ascii_only)  # fmt: skip
    edge = rows[0].index("|" if ascii_only else "│") + 1
    columns = width - edge
    mark = "^" if ascii_only else "▲"
    assert rows[-1].index(mark) - edge == min(int(minute / 600 * columns), columns - 1)
    assert "now" in rows[-1]
    assert len(rows[-1]) <= width


def test_in_the_night_there_is_no_now_on_the_chart(plan: DayPlan) -> None:
    assert not any("now" in row for row in chart(level(plan), now=at(3)))


def test_a_plan_without_a_box_has_no_chart(plan: DayPlan) -> None:
    assert chart(replace(plan, box=()), now=at(9)) == []
