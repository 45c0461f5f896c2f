"""A day planned under many skies: earlier, surer, and still good under the sky planned for."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from datetime import timedelta
from typing import Any

import numpy as np
import pytest

from suntrack.plan.inputs import DayInputs
from suntrack.plan.records import DayPlan
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


def test_skies_like_the_planned_one_are_sure(
    inputs: DayInputs, replan: Replan, plan: DayPlan
) -> None:
    """A limit: no doubt of the sky, so everything is ready with no more turns than else."""
    sure = replan(weather=under(inputs.weather, [1.0] * 5))
    assert sure.chances is not None
    assert sure.chances.good == 1.0
    assert [dish.status for dish in sure.dishes] == [dish.status for dish in plan.dishes]
    assert len(sure.turns.turns) <= len(plan.turns.turns)


def test_duller_skies_move_loads_earlier_on_the_whole(
    inputs: DayInputs, replan: Replan, dull: DayPlan
) -> None:
    before, after = loads(replan(weather=under(inputs.weather, [1.0] * 21))), loads(dull)
    # One may go in later, where the others now take the box first.
    moved = [before[key] - after[key] for key in before]
    assert sum(moved, timedelta()) > timedelta(0)


def test_every_dish_is_still_ready_under_the_sky_planned_for(dull: DayPlan, plan: DayPlan) -> None:
    assert [dish.status for dish in dull.dishes] == [dish.status for dish in plan.dishes]


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


def test_a_dish_that_makes_the_others_late_is_left_to_the_kitchen(
    inputs: DayInputs, replan: Replan
) -> None:
    """Under half the sun not all of it is ready; what is left out leaves more ready."""
    half = inputs.weather
    lights: dict[str, Any] = {name: 0.6 * getattr(half, name) for name in LIGHTS}
    dim = replan(weather=replace(half, **lights))
    status = [dish.status for dish in dim.dishes]
    if "late" in status:
        going = [d for d in dim.dishes if d.load_at is not None]
        for out in going:
            wishes = tuple(w for w in inputs.wishes if w.dish != out.key)
            fewer = replan(weather=replace(half, **lights), wishes=wishes)
            ready = [dish.status for dish in fewer.dishes].count("ready")
            assert ready <= status.count("ready")
