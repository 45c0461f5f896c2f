"""Food that has to come out: every screen says so, in every width and unit."""

from __future__ import annotations

from dataclasses import replace

import pytest
from planned_day import at
from rich.console import Console

from suntrack.plan.records import DayPlan, TakeOut
from suntrack.plan.standing import as_of
from suntrack.screen.blocks import now_block, today_block
from suntrack.screen.dashboard.view import Dashboard, DashboardView
from suntrack.screen.json.day import now_json, plan_json
from suntrack.screen.moment import now_view
from suntrack.screen.plain import now_lines, today_lines
from suntrack.screen.sheet.page import sheet_html
from suntrack.screen.text.take_out import take_out_words
from suntrack.units import Units

UNITS = Units()
STOVE = ("kitchen stove", "to the stove", "stove at once")
LARGE = TakeOut(
    kind="refused",
    dish="whole-chicken",
    name="Whole chicken",
    loaded_at=at(15),
    reason="It is too large.",
)


@pytest.fixture
def spoiled(plan: DayPlan) -> DayPlan:
    """Return the day in the evening: the chicken went in and its clock ran out at 15:00."""
    chicken = replace(plan.dishes[1], red_at=at(15))
    return as_of(replace(plan, dishes=(plan.dishes[0], chicken), made_at=at(20)), at=at(20))


def screens(plan: DayPlan, width: int) -> dict[str, str]:
    """Return every screen of the evening as one line each."""
    view = now_view(plan, at=at(20, 35), sun_elevation_deg=-20.0, sun_azimuth_deg=240.0)
    shown = {
        "now": now_block(view, plan, UNITS, width),
        "today": today_block(plan, UNITS, width),
        "watch": Dashboard(DashboardView(plan=plan, now=view), units=UNITS).top(height=24),
    }
    drawn = {}
    for name, block in shown.items():
        console = Console(width=width, color_system=None)
        with console.capture() as capture:
            console.print(block)
        drawn[name] = " ".join(capture.get().split())
    return drawn | {
        "now, plain": " ".join(now_lines(view, plan, UNITS)),
        "today, plain": " ".join(today_lines(plan, UNITS)),
        "sheet": sheet_html(plan, UNITS),
    }


@pytest.mark.parametrize("width", [40, 80, 200])
def test_every_screen_says_throw_it_away_and_none_speaks_of_the_stove(
    spoiled: DayPlan, width: int
) -> None:
    """USDA FSIS: thrown away, never tasted (consumer advice, from memory)."""
    for name, said in screens(spoiled, width).items():
        assert "Throw it away. Do not taste it" in said, name
        assert "food authority" in said, name
        assert not [words for words in STOVE if words in said], name
        assert "No step is left" not in said, name


@pytest.mark.parametrize("width", [40, 80, 200])
def test_every_screen_says_that_refused_food_has_to_come_out(plan: DayPlan, width: int) -> None:
    for name, said in screens(replace(plan, take_out=(LARGE,)), width).items():
        assert "Whole chicken, in the box since 15:00, by your note: take it out now." in said, name
        assert "It is too large." in said, name


def test_before_its_clock_runs_out_the_stove_may_still_save_it(plan: DayPlan) -> None:
    chicken = replace(plan.dishes[1], red_at=at(15))
    early = replace(plan, dishes=(plan.dishes[0], chicken))
    assert as_of(early, at=at(14, 59)) == early


def test_programs_are_told_too(spoiled: DayPlan) -> None:
    view = now_view(spoiled, at=at(20, 35), sun_elevation_deg=-20.0, sun_azimuth_deg=240.0)
    for said in (now_json(view), plan_json(spoiled)):
        assert [(one["kind"], one["dish"]) for one in said["take_out"]] == [
            ("spoiled", "chicken-stew")
        ]
    assert plan_json(spoiled)["dishes"][1]["status"] == "spoiled"
    assert plan_json(spoiled)["dishes"][1]["stove_by"] is None


def test_warm_is_said_in_the_units_of_the_cook() -> None:
    """The one-hour rule holds above 90 F (USDA FSIS, from memory)."""
    assert "above 90 °F," in take_out_words(LARGE, Units(temperature="F"))


def test_a_dish_the_day_does_not_have_is_not_called_safe() -> None:
    said = take_out_words(replace(LARGE, kind="not wanted", reason=""), UNITS)
    assert "none of today's dishes" in said
    assert "no safety clock of it is watched" in said
