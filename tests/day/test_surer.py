"""Loads moved earlier for the sake of many skies: surer, and never worse under the planned one."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from typing import Any

import numpy as np
import pytest

from suntrack.day.inputs import DayInputs
from suntrack.day.records import DayPlan, DishPlan
from suntrack.food.safety import SLOW
from suntrack.sky.weather import Weather

Replan = Callable[..., DayPlan]
LIGHTS = ("global_horizontal_w_m2", "beam_normal_w_m2", "diffuse_horizontal_w_m2")


def under(weather: Weather, shares: list[float]) -> Weather:
    """Return the planned sky, and skies that each have a share of its light."""
    rows = np.array([1.0, *shares])[:, None]
    lights: dict[str, Any] = {name: rows * getattr(weather, name)[:1] for name in LIGHTS}
    return replace(
        weather,
        air_c=np.repeat(weather.air_c[:1], rows.size, axis=0),
        wind_m_s=np.repeat(weather.wind_m_s[:1], rows.size, axis=0),
        **lights,
    )


def loads(plan: DayPlan) -> dict[str, Any]:
    return {dish.key: dish.load_at for dish in plan.dishes}


@pytest.fixture(scope="module")
def dull(inputs: DayInputs, replan: Replan) -> DayPlan:
    """Return the plan with skies of half to all of the light."""
    return replan(weather=under(inputs.weather, list(np.linspace(0.5, 1.0, 21))))


def test_skies_like_the_planned_one_move_nothing(
    inputs: DayInputs, replan: Replan, plan: DayPlan
) -> None:
    assert loads(replan(weather=under(inputs.weather, [1.0] * 5))) == loads(plan)


def test_duller_skies_move_loads_earlier_and_never_later(dull: DayPlan, plan: DayPlan) -> None:
    before, after = loads(plan), loads(dull)
    assert all(after[key] <= before[key] for key in before)
    assert after != before


def test_the_planned_day_is_no_worse_for_it(dull: DayPlan, plan: DayPlan) -> None:
    """Each dish still ready, in the box until its meal, and no slower to warm up."""

    def slow(dishes: tuple[DishPlan, ...]) -> set[str]:
        return {dish.key for dish in dishes if any(SLOW in note for note in dish.notes)}

    assert [dish.status for dish in dull.dishes] == [dish.status for dish in plan.dishes]
    assert all(dish.pull_at == dish.serve_at for dish in dull.dishes)
    assert slow(dull.dishes) <= slow(plan.dishes)


def test_the_chance_is_the_better_for_it(inputs: DayInputs, replan: Replan, dull: DayPlan) -> None:
    """Against the same skies with every dish noted as put in when the clear plan says."""
    clear = replan()
    skies = under(inputs.weather, list(np.linspace(0.5, 1.0, 21)))
    noted = tuple(
        replace(wish, loaded_at=dish.load_at)
        for wish, dish in zip(inputs.wishes, clear.dishes, strict=True)
    )
    fixed = replan(weather=skies, wishes=noted)
    assert dull.chances is not None
    assert fixed.chances is not None
    assert dull.chances.good is not None
    assert fixed.chances.good is not None
    assert dull.chances.good >= fixed.chances.good + 0.03


def test_what_is_in_the_box_is_not_moved(inputs: DayInputs, replan: Replan, plan: DayPlan) -> None:
    noted = tuple(
        replace(wish, loaded_at=dish.load_at)
        for wish, dish in zip(inputs.wishes, plan.dishes, strict=True)
    )
    again = replan(weather=under(inputs.weather, [0.6, 0.8]), wishes=noted)
    assert loads(again) == loads(plan)
