"""A plan shown after it was made: food past its safety clock is thrown away, never cooked on.

That such food is thrown away and never tasted is consumer advice of USDA FSIS (from memory).
"""

from __future__ import annotations

from dataclasses import replace
from datetime import datetime, timedelta
from typing import get_args
from zoneinfo import ZoneInfo

import pytest
from hypothesis import given
from hypothesis import strategies as st

from suntrack.food.dishes import builtin_dishes
from suntrack.food.past_saving import THROW_AWAY
from suntrack.plan.records import DishPlan, DishSample, DishStatus
from suntrack.plan.standing import clock_run_on, is_spoiled

LIBRARY = builtin_dishes()
IN = datetime(2026, 11, 25, 15, tzinfo=ZoneInfo("Africa/Gaborone"))
RED = IN + timedelta(hours=4)
CHICKEN = DishPlan(
    key="chicken-pieces",
    name="Chicken pieces in sauce",
    pot="small pot",
    serve_at=IN + timedelta(hours=3),
    load_at=IN,
    done_at=None,
    safe_at=None,
    pull_at=None,
    pull_by=None,
    stove_by=IN + timedelta(hours=1),
    status="not safe",
    notes=("Cook it on the kitchen stove today.",),
    red_at=RED,
)


@given(minutes=st.integers(-600, 600))
def test_a_raw_dish_spoils_when_its_clock_runs_out_and_stays_so(minutes: int) -> None:
    assert is_spoiled(CHICKEN, at=RED + timedelta(minutes=minutes)) == (minutes >= 0)


@pytest.mark.parametrize("status", get_args(DishStatus))
def test_every_dish_that_went_in_spoils_when_its_clock_runs_out(status: DishStatus) -> None:
    """Cooked food has a clock too, once it is no longer hot; what is refused never went in."""
    spoils = is_spoiled(replace(CHICKEN, status=status), at=RED)
    assert spoils == (status != "refused")


def test_a_dish_that_never_went_in_or_has_no_clock_does_not_spoil() -> None:
    assert not is_spoiled(replace(CHICKEN, load_at=None), at=RED)
    assert not is_spoiled(replace(CHICKEN, red_at=None), at=RED)


@pytest.mark.parametrize(
    ("core_c", "hours"),
    # FDA appendix 4, as the food rules name it: four hours between 10 and 57 °C, and for
    # poultry two between 21 and 57 °C, are too long.  The curve gives the first hour.
    [(15.0, 2.0 + 1.0), (30.0, 2.0)],
)
def test_a_clock_runs_on_when_the_planned_stretch_has_ended(core_c: float, hours: float) -> None:
    """A middle that nobody knows any more is not hot: from then on both clocks run."""
    curve = tuple(
        DishSample(at=IN + timedelta(minutes=10 * i), core_c=core_c, done=0.0, safe=False)
        for i in range(7)
    )
    dish = replace(CHICKEN, red_at=None, curve=curve)
    over = IN + timedelta(hours=hours)
    assert not is_spoiled(dish, at=over - timedelta(minutes=20), known=LIBRARY["chicken-pieces"])
    assert is_spoiled(dish, at=over + timedelta(minutes=10), known=LIBRARY["chicken-pieces"])
    assert is_spoiled(dish, at=over + timedelta(days=400), known=LIBRARY["chicken-pieces"])
    assert not is_spoiled(dish, at=over + timedelta(days=1))
    out = replace(dish, pull_at=IN + timedelta(minutes=50))
    assert not is_spoiled(out, at=over + timedelta(days=1), known=LIBRARY["chicken-pieces"])


def test_a_dish_without_a_clock_never_spoils() -> None:
    """Raw squash and bread are held to no clock of warming (`none` among the food rules)."""
    curve = tuple(
        DishSample(at=IN + timedelta(minutes=10 * i), core_c=30.0, done=0.0, safe=False)
        for i in range(7)
    )
    loaf = replace(CHICKEN, key="yeast-loaf", red_at=None, curve=curve)
    assert not is_spoiled(loaf, at=IN + timedelta(days=1), known=LIBRARY["yeast-loaf"])


def test_what_is_said_forbids_the_taste_and_the_stove_and_names_who_decides() -> None:
    for words in ("Throw it away", "Do not taste it", "do not cook it on", "food authority"):
        assert words in THROW_AWAY


def test_a_clock_that_outlasts_the_plan_is_still_called() -> None:
    """Two hours from 21 to 57 C are too long for poultry (FDA, found copy); the plan is shorter."""
    curve = tuple(
        DishSample(at=IN + timedelta(minutes=10 * i), core_c=30.0, done=0.0, safe=False)
        for i in range(7)
    )
    short = replace(CHICKEN, red_at=None, curve=curve)
    found = clock_run_on(short, known=LIBRARY["chicken-pieces"])
    assert found.red_at is not None
    assert curve[-1].at < found.red_at <= IN + timedelta(hours=4)
    good = replace(short, status="ready")
    assert clock_run_on(good, known=LIBRARY["chicken-pieces"]) == good
