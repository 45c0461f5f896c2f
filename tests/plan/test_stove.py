"""When a dish has to go to the kitchen stove: from what is left to cook, never a flat time."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from datetime import datetime, timedelta

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from suntrack.box.build import Pot
from suntrack.food.charge import pot_charge, settling_delta_k
from suntrack.food.dishes import builtin_dishes
from suntrack.food.stove import stove_for
from suntrack.plan.dishes.judge import Judge
from suntrack.plan.dishes.outcome import Cooking, fate_of, stove_step
from suntrack.plan.dishes.pots import PotAssignment
from suntrack.plan.records import DayPlan, Wish

At = Callable[[str], datetime]
Replan = Callable[..., DayPlan]

STEP_MIN = 2.0
STEPS = 300
SERVE = 240
"""Eight hours after the day begins."""
POT = Pot(
    name="pot", capacity_l=4.0, mass_kg=1.3, material="enamelled steel", diameter_m=0.24,
    height_m=0.12,
)  # fmt: skip


def cooking(key: str, *, load: int = 0, serve: int = SERVE) -> Cooking:
    dish = builtin_dishes()[key]
    charge = pot_charge(dish, POT, mass_kg=dish.mass_kg, boiling_c=96.6)
    serve_at = datetime.fromisoformat("2026-11-25T18:00+02:00")
    return Cooking(
        seat=PotAssignment(wish=Wish(dish=key, serve_at=serve_at, confirmed=True), pot=POT),
        dish=dish,
        charge=charge,
        judge=Judge(
            dish=dish,
            step_s=60.0 * STEP_MIN,
            air_c=np.full(STEPS + 1, 25.0),
            settling_delta_k=settling_delta_k(dish, charge, step_s=60.0 * STEP_MIN, steps=STEPS),
        ),
        stove=stove_for(dish, mass_kg=dish.mass_kg, boiling_c=96.6),
        load_step=load,
        serve_step=serve,
    )


def latest(key: str, core_c: np.ndarray, *, load: int = 0, serve: int = SERVE) -> float:
    one = cooking(key, load=load, serve=serve)
    return stove_step(one, fate_of(one, core_c), core_c=core_c, step_min=STEP_MIN)


def climbing(to_c: float, hours: float, from_c: float = 20.0) -> np.ndarray:
    """Return a core that climbs evenly and then stays."""
    steps = round(hours * 60.0 / STEP_MIN)
    rise = np.linspace(from_c, to_c, steps + 1)
    return np.concatenate((rise, np.full(STEPS - steps, to_c)))


def test_a_soup_that_does_nothing_takes_its_whole_boil() -> None:
    """Lentils: 25 min at 100 C are 38 at 96.6 C (z 19); with 2 kg to heat about an hour.

    The soup stays at 9 C, so no clock runs before the meal.
    """
    found = latest("lentil-soup", np.full(STEPS + 1, 9.0))
    before_min = (SERVE - found) * STEP_MIN
    boil_min = 25.0 * 10.0 ** ((100.0 - 96.6) / 19.0)
    heat_min = 2.0 * 3.7 * (96.6 - 9.0) / 60.0
    assert boil_min + heat_min < before_min < 1.6 * (boil_min + heat_min)


def test_a_dish_nearly_done_may_stay_longer() -> None:
    half = climbing(85.0, 2.0)
    nearly = climbing(92.0, 2.0)
    assert latest("chickpeas", nearly) > latest("chickpeas", half) + 10


def test_a_stew_waits_less_than_a_soup() -> None:
    cold = np.full(STEPS + 1, 9.0)
    assert latest("beef-stew", cold) < latest("lentil-soup", cold)


def test_the_danger_clock_comes_before_the_meal() -> None:
    """FDA appendix 4 (found copy): two hours from 70 to 135 F for poultry, out by then."""
    stalled = np.full(STEPS + 1, 40.0)
    found = latest("chicken-pieces", stalled)
    assert found * STEP_MIN < 120.0
    # The stove still needs its minutes to bring the middle past 57 C.
    assert found * STEP_MIN < 120.0 - 10.0


def test_too_late_for_the_meal_is_at_once() -> None:
    """For a dish that is in; one that is not has to begin before, in the kitchen."""
    core_c = np.full(STEPS + 1, 30.0)
    planned = cooking("beef-stew", load=100, serve=110)
    wish = replace(planned.seat.wish, loaded_at=planned.seat.wish.serve_at)
    inside = replace(planned, seat=replace(planned.seat, wish=wish))
    fate = fate_of(inside, core_c)
    assert stove_step(inside, fate, core_c=core_c, step_min=STEP_MIN) == 100
    # 110 minutes at 100 C (the library's), and the warming: over two hours before the meal.
    assert stove_step(planned, fate, core_c=core_c, step_min=STEP_MIN) < 110 - 60


@settings(deadline=None, max_examples=40)
@given(
    key=st.sampled_from(
        ["lentil-soup", "chickpeas", "beef-stew", "chicken-pieces", "fish-fillets"]
    ),
    to_c=st.floats(30.0, 90.0),
    hotter_k=st.floats(0.0, 6.0),
    hours=st.floats(0.5, 4.0),
)
def test_a_hotter_day_never_sends_it_to_the_stove_earlier(
    key: str, to_c: float, hotter_k: float, hours: float
) -> None:
    """The more is done, the later it may be.

    From 58 C on: between cold and hot a warmer core also starts its danger clock sooner.
    """
    cool = np.maximum(climbing(to_c, hours), 58.0)
    assert latest(key, cool + hotter_k) >= latest(key, cool)


@settings(deadline=None, max_examples=40)
@given(serve=st.integers(60, 280), later=st.integers(0, 20), to_c=st.floats(60.0, 95.0))
def test_a_later_meal_never_sends_it_earlier(serve: int, later: int, to_c: float) -> None:
    core_c = climbing(to_c, 1.0, from_c=60.0)
    assert latest("lentil-soup", core_c, serve=serve + later) >= latest(
        "lentil-soup", core_c, serve=serve
    )


@pytest.mark.parametrize("key", ["chickpeas", "lentil-soup"])
def test_a_dish_that_stays_out_has_its_whole_cook_before_the_meal(
    replan: Replan, at: At, key: str
) -> None:
    """Chickpeas: 75 min at 100 C, and the boil at 1010 m is slower still."""
    plan = replan(wishes=(Wish(dish=key, serve_at=at("7:00")),))
    found = plan.dishes[0]
    assert found.stove_by is not None
    minutes = {"chickpeas": 75.0, "lentil-soup": 25.0}[key]
    assert at("7:00") - found.stove_by > timedelta(minutes=minutes)


def test_a_dish_in_the_box_is_sent_in_time_for_what_is_left(replan: Replan, at: At) -> None:
    """In since nine with a meal at ten: little is cooked, so it has to go at once."""
    wish = Wish(dish="chickpeas", serve_at=at("10:00"), loaded_at=at("9:00"))
    found = replan(wishes=(wish,), made_at=at("9:05")).dishes[0]
    assert found.stove_by is not None
    assert at("8:55") <= found.stove_by <= at("9:10")
    later = replan(wishes=(replace(wish, serve_at=at("14:00")),), made_at=at("9:05")).dishes[0]
    assert later.stove_by is not None
    assert later.stove_by > found.stove_by
