"""Done and safe on the dashboard: two ways, never one for the other."""

from __future__ import annotations

import io
from dataclasses import replace
from datetime import datetime, timedelta
from zoneinfo import ZoneInfo

import pytest
from hypothesis import given
from hypothesis import strategies as st
from rich.console import Console

from suntrack.plan.records import DayPlan, DishPlan, DishStatus
from suntrack.screen.charset import Charset
from suntrack.screen.dashboard.dishes import cooking_progress, done_progress, safe_progress
from suntrack.screen.moment import DishNow, NowView
from suntrack.units import Units

ZONE = ZoneInfo("Africa/Gaborone")
UNITS = Units()
SOUP = DishNow(
    key="lentil-soup", name="Lentil soup", core_c=60.0, done=0.5, safe=False, status="ready"
)  # fmt: skip


def at(hour: int, minute: int = 0) -> datetime:
    return datetime(2026, 11, 25, hour, minute, tzinfo=ZONE)


@pytest.fixture
def soup(plan: DayPlan) -> DishPlan:
    """Return the soup: in at 9:30, at safe heat at 11:25, done at 12:20."""
    return plan.dishes[0]


def test_on_the_way_both_say_how_far_and_when(soup: DishPlan) -> None:
    done = done_progress(SOUP, soup, UNITS)
    assert (done.share, done.words) == (0.5, "50 %, done at 12:20")
    safe = safe_progress(SOUP, soup, UNITS, at=at(9, 53))
    assert safe.share == pytest.approx(23 / 115), "23 of the 115 minutes from 9:30 to 11:25"
    assert safe.words == "not yet, at 11:25"


def test_safe_and_not_done_and_done_and_not_safe_are_both_told(soup: DishPlan) -> None:
    safe = replace(SOUP, safe=True)
    assert safe_progress(safe, soup, UNITS, at=at(11, 30)).words == "reached since 11:25"
    assert done_progress(safe, soup, UNITS).words == "50 %, done at 12:20"
    done = replace(SOUP, done=1.0)
    assert done_progress(done, soup, UNITS).words == "done since 12:20"
    assert safe_progress(done, soup, UNITS, at=at(11)).words == "not yet, at 11:25"


@pytest.mark.parametrize("status", ["not safe", "refused"])
@given(core_c=st.floats(0.0, 130.0), safe=st.booleans(), done=st.floats(0.0, 1.0))
def test_what_the_plan_does_not_call_safe_never_gets_a_way_to_safe(
    plan: DayPlan, status: DishStatus, core_c: float, safe: bool, done: float
) -> None:
    dish = replace(SOUP, core_c=core_c, safe=safe, done=done, status=status)
    found = safe_progress(dish, plan.dishes[0], UNITS, at=at(18))
    assert found.share is None
    assert "reached" not in found.words
    assert found.words.startswith("not ")


def test_without_a_planned_time_for_it_none_is_made_up(soup: DishPlan) -> None:
    never = replace(soup, safe_at=None)
    assert safe_progress(SOUP, never, UNITS, at=at(11)).share is None
    assert safe_progress(SOUP, never, UNITS, at=at(11)).words == "not reached by the plan"
    assert done_progress(SOUP, replace(soup, done_at=None), UNITS).words == "50 %, not today"


@given(minutes=st.integers(-60, 600))
def test_a_share_is_never_less_than_none_or_more_than_all(plan: DayPlan, minutes: int) -> None:
    when = at(9, 30) + timedelta(minutes=minutes)
    share = safe_progress(SOUP, plan.dishes[0], UNITS, at=when).share
    assert share is not None
    assert 0.0 <= share < 1.0, "a full bar is for what is reached"


def test_what_was_due_and_is_not_reached_says_both(soup: DishPlan) -> None:
    assert safe_progress(SOUP, soup, UNITS, at=at(11, 26)).words == "not yet, was due at 11:25"


@pytest.mark.parametrize("width", [40, 60, 120])
def test_each_way_has_its_name_its_bar_and_its_words_on_one_line(
    plan: DayPlan, view: NowView, width: int
) -> None:
    out = io.StringIO()
    console = Console(file=out, width=width)
    console.print(cooking_progress(view, plan, UNITS, width=width, ink=Charset()))
    lines = [" ".join(line.split()) for line in out.getvalue().splitlines()]
    assert any(line.startswith("done █") and line.endswith("done at 12:20") for line in lines)
    assert any(line.startswith("safe heat █") and line.endswith("at 11:25") for line in lines)
    assert "not measured" in " ".join(lines)
