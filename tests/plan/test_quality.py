"""How good the plan is: against every plan there is, and on skies it never saw."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from datetime import datetime
from itertools import product

import numpy as np
import pytest

from suntrack.plan.chance import sky_day
from suntrack.plan.dishes.candidates import cooking_of
from suntrack.plan.dishes.load_search import TRIP, Goal, cost, search_loads, trips
from suntrack.plan.dishes.oven import DayOven, day_oven
from suntrack.plan.dishes.pots import seat_dishes
from suntrack.plan.frame import frame_day
from suntrack.plan.inputs import DayInputs
from suntrack.plan.records import Wish
from suntrack.plan.turns.aims import aimer_of
from suntrack.plan.turns.settle import settle
from suntrack.sky.ensemble import typical_skies

At = Callable[[str], datetime]
DISHES = ("lentil-soup", "winter-squash", "root-stew", "white-rice", "chicken-pieces")
DAYS = 60


def random_goals(
    numbers: np.random.Generator, inputs: DayInputs, at: At
) -> tuple[list[Goal], DayOven]:
    """Return two dishes of the library with a few load times each, and a dimmed day for them."""
    frame = frame_day(inputs)
    names = numbers.choice(DISHES, 2, replace=False)
    wishes = tuple(
        Wish(dish=str(name), serve_at=at(f"{numbers.integers(11, 18)}:00"), mass_kg=1.0)
        for name in names
    )
    seats = seat_dishes(wishes, dishes=inputs.dishes, pots=inputs.pots, box=inputs.box)
    cookings = [cooking_of(inputs, seat, frame=frame) for seat in seats]
    aimer = aimer_of(
        inputs, grid=frame.day.part(frame.aimed, frame.last), first_step=frame.aimed,
        lead=frame.lead,
    )  # fmt: skip
    factors = tuple(numbers.uniform(0.5, 1.0, 2).tolist())
    oven = day_oven(
        inputs,
        aimed=aimer.day(aimer.best()[int(numbers.integers(0, 5))], name="random"),
        steps=frame.steps,
        pots=[cooking.charge for cooking in cookings],
        light_factors=factors,
    )
    goals = []
    for cooking in cookings:
        last = max(cooking.serve_step, 20)
        candidates = np.unique(np.linspace(0, last - 5, 14).astype(np.intp))
        goals.append(
            Goal(
                serve_step=cooking.serve_step,
                hold_min=cooking.dish.hold_min,
                candidates=candidates,
                judge=cooking.judge,
            )
        )
    return goals, oven


def costs(goals: list[Goal], oven: DayOven, loads: np.ndarray) -> np.ndarray:
    """Return the cost of each of many days, written out anew from the rule in the docs."""
    cores = oven(loads)
    skies = cores.shape[1]
    total = TRIP * trips(loads, visits=np.array([], np.intp))
    for i, goal in enumerate(goals):
        for sky in range(skies):
            outcome = goal.judge(cores[:, sky, i], loads[:, i])
            total += cost(outcome, goal=goal, step_min=oven.step_s / 60.0) / skies
    return np.asarray(total)


def test_the_search_is_within_one_percent_of_trying_everything(inputs: DayInputs, at: At) -> None:
    """Two dishes, fourteen load times each, two skies: all 196 days, on sixty random days.

    Real box, real dishes.  A cost below a minute is no cost to speak of.
    """
    numbers = np.random.default_rng(20261125)
    worse = []
    for _ in range(DAYS):
        goals, oven = random_goals(numbers, inputs, at)
        every = np.array(list(product(*(goal.candidates for goal in goals))), np.intp)
        best = costs(goals, oven, every).min()
        found = search_loads(goals, oven=oven, step_min=oven.step_s / 60.0)
        mine = costs(goals, oven, found[None])[0]
        if mine > 1.01 * best + 1.0:
            worse.append((best, mine))
    assert not worse


@pytest.mark.parametrize("seed", [3, 11])
def test_the_chance_holds_on_skies_the_plan_never_saw(inputs: DayInputs, at: At, seed: int) -> None:
    """Planned on a hundred skies, asked of four hundred others of the same kind."""
    wishes = (Wish(dish="lentil-soup", serve_at=at("13:30"), mass_kg=1.2),)

    frame = frame_day(inputs)

    def under(skies: int, seed: int) -> DayInputs:
        weather = typical_skies(clear=inputs.weather, sun=inputs.sun, seed=seed, skies=skies)
        return replace(inputs, weather=weather, wishes=wishes)

    planned = under(100, seed)
    settled = settle(planned, frame=frame, last_use=frame.last, stop=lambda: False)

    def chance(asked: DayInputs) -> float:
        day = sky_day(asked, frame=frame, aimed=settled.aimed, light_factor=1.0)
        assert day is not None
        return float(day.good(settled.cooked.going)[0].mean())

    told, fresh = chance(planned), chance(under(400, seed + 1000))
    spread = np.sqrt(max(fresh * (1.0 - fresh), 0.01) * (1.0 / 100 + 1.0 / 400))
    assert abs(told - fresh) <= 3.0 * spread
