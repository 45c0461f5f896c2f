"""The week on every screen: a line a day, the best first, and the same for programs."""

from __future__ import annotations

from dataclasses import replace
from datetime import timedelta
from io import StringIO
from pathlib import Path

import pytest
from rich.console import Console

from suntrack.plan.records import DayPlan, SkyNote, Verdict
from suntrack.screen.charset import Charset
from suntrack.screen.text.week import (
    WEEK_KEYS,
    answer,
    reason,
    week_block,
    week_json,
    week_lines,
)
from suntrack.units import Units

METRIC = Units()
ROOT = Path(__file__).parents[3]


@pytest.fixture
def week(plan: DayPlan, skied_plan: DayPlan) -> list[DayPlan]:
    """Return three days: one with a forecast, one clear, one on which the box stays cool."""
    later = replace(plan, date=plan.date + timedelta(days=1))
    cool = replace(
        plan,
        date=plan.date + timedelta(days=2),
        verdict=Verdict(cook=False, chance=0.04, reason="Because."),
        window=replace(plan.window, opens_at=None, closes_at=None, peak_c=71.0),
        sky=SkyNote(source="typical sky", issued_at=None),
    )
    return [skied_plan, later, cool]


def test_every_day_has_its_answer_and_its_reason_in_one_line(week: list[DayPlan]) -> None:
    title, first, second, third, *notes = week_lines(week, METRIC)
    assert title == "Gaborone: 3 days from Wednesday 25 November 2026, best first"
    assert first.startswith("1. Wednesday 25 November 2026: likely, 7 of 10 such days. 1 of 2")
    assert "hot enough from 9:05 to 16:20; gusts; rain may come." in first
    assert "yes, if the sky is clear" in second
    assert "no, fewer than 1 of 10 such days" in third
    assert "the box gets to 71 °C only" in third
    assert notes[0].startswith("Wed 25 Nov: Forecast: the weather office")


def test_where_the_sky_came_from_is_said_once_for_all_days(plan: DayPlan) -> None:
    days = [replace(plan, date=plan.date + timedelta(days=n)) for n in range(7)]
    notes = week_lines(days, METRIC)[8:]
    assert notes == ("Planned for a clear sky and ordinary air; no forecast was used.",)


def test_a_day_without_dishes_is_told_by_its_box(plan: DayPlan) -> None:
    assert reason(replace(plan, dishes=()), METRIC) == "Hot enough from 9:05 to 16:20."


def test_a_skipped_day_is_a_plain_no(plan: DayPlan) -> None:
    skipped = Verdict(cook=False, chance=None, reason="You have skipped today.")
    assert answer(replace(plan, verdict=skipped)) == "no"


@pytest.mark.parametrize("width", [40, 63, 64, 100, 200])
def test_no_line_is_wider_than_the_screen(week: list[DayPlan], width: int) -> None:
    out = StringIO()
    console = Console(file=out, width=width, no_color=True)
    console.print(week_block(week, METRIC, width, ink=Charset(ascii=True)))
    text = out.getvalue()
    assert max(map(len, text.splitlines())) <= width
    assert "1 Wed 25 Nov" in text
    assert text.isascii()


def test_every_key_is_listed_with_its_meaning(week: list[DayPlan]) -> None:
    data = week_json(week, METRIC)
    found = {"site"} | {f"days[].{key}" for day in data["days"] for key in day}
    assert found == set(WEEK_KEYS)
    assert data["days"][2]["opens_at"] is None
    assert [day["rank"] for day in data["days"]] == [1, 2, 3]
