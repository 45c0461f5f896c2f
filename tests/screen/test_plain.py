"""Plain lines, for ears and logs."""

from __future__ import annotations

import unicodedata
from dataclasses import replace
from datetime import datetime
from zoneinfo import ZoneInfo

import pytest

from suntrack.plan.records import DayPlan
from suntrack.screen.charset import Charset
from suntrack.screen.moment import NowView
from suntrack.screen.plain import event_line, now_lines, today_lines
from suntrack.screen.text import day as words
from suntrack.screen.text.measures import in_units
from suntrack.units import Units

UNITS = [Units(), Units(temperature="F", clock="12")]


@pytest.mark.parametrize("units", UNITS)
def test_every_step_is_one_line_with_its_time(plan: DayPlan, units: Units) -> None:
    lines = today_lines(plan, units)
    for step in plan.steps:
        when, what = words.step_when(step, plan, units), words.step_words(step, plan, units)
        assert any(line.startswith(f"{when}: {what}") for line in lines)


def test_every_dish_says_how_it_stands(plan: DayPlan) -> None:
    lines = today_lines(plan, Units())
    assert "Lentil soup in big black pot: ready in time." in lines
    assert "Chicken stew with sweet potatoes in enamel pot: not safe in the box today." in lines
    for dish in plan.dishes:
        notes = [in_units(note, Units()) for note in dish.notes]
        assert all(f"{dish.name}, note: {note}" in lines for note in notes)


@pytest.mark.parametrize("units", UNITS)
def test_nothing_is_drawn(plan: DayPlan, view: NowView, units: Units) -> None:
    """No boxes, arrows or control characters: categories So and Cc of Unicode, save the °."""
    for line in (*today_lines(plan, units), *now_lines(view, plan, units)):
        odd = {c for c in line if unicodedata.category(c) in ("So", "Cc", "Sm", "Cf")} - {"°"}
        assert not odd, line
        assert line == line.strip()


def test_plain_lines_can_be_ascii(plan: DayPlan, view: NowView) -> None:
    ink = Charset(ascii=True)
    lines = (*today_lines(plan, Units(), ink=ink), *now_lines(view, plan, Units(), ink=ink))
    assert "".join(lines).isascii()


def test_moment_says_shadow_box_and_next(plan: DayPlan, view: NowView) -> None:
    lines = now_lines(view, plan, Units())
    assert "By the plan and your notes the box faces east, 113° on a compass." in lines
    assert words.shadow_rule(view) in lines
    assert any(line.startswith("Next, in 28 min, 10:40: Turn 25° to the left") for line in lines)
    assert any(line.startswith("Then, 10:50:") for line in lines)


def test_dish_in_the_box_says_how_far_it_is(plan: DayPlan, view: NowView) -> None:
    """42 minutes of the 170 that the curve of the plan takes to done."""
    lines = now_lines(view, plan, Units())
    assert "Lentil soup, by the plan: 24 % done, not yet at safe heat." in lines


def test_at_night_the_sun_is_told_once(plan: DayPlan, view: NowView) -> None:
    night = replace(view, sun_elevation_deg=-10.0, next_step=None, after_that=None)
    lines = now_lines(night, plan, Units())
    assert lines.count("The sun is down.") == 1
    assert "No step is left today." in lines


def test_event_is_one_line() -> None:
    at = datetime(2026, 11, 25, 13, 0, tzinfo=ZoneInfo("Africa/Gaborone"))
    assert event_line(at, "Lentil soup comes out", "Gloves.", Units()) == (
        "13:00: Lentil soup comes out. Gloves."
    )
