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

from suntrack.day.records import DishPlan, DishStatus
from suntrack.day.spoiled import THROW_AWAY, is_spoiled

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
def test_only_a_dish_that_does_not_come_good_spoils(status: DishStatus) -> None:
    spoils = is_spoiled(replace(CHICKEN, status=status), at=RED)
    assert spoils == (status in ("not done", "not safe"))


def test_a_dish_that_never_went_in_or_has_no_clock_does_not_spoil() -> None:
    assert not is_spoiled(replace(CHICKEN, load_at=None), at=RED)
    assert not is_spoiled(replace(CHICKEN, red_at=None), at=RED)


def test_what_is_said_forbids_the_taste_and_the_stove_and_names_who_decides() -> None:
    for words in ("Throw it away", "Do not taste it", "do not cook it on", "food authority"):
        assert words in THROW_AWAY
