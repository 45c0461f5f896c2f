"""Load times: the search on ovens simple enough to solve by hand."""

from __future__ import annotations

from dataclasses import replace
from itertools import product

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from suntrack.plan.dishes.load_search import (
    MARGIN_MIN,
    TRIP,
    Goal,
    Outcome,
    cost,
    search_loads,
    trips,
)

STEP_MIN = 10.0
STEPS = 30


def slow_oven(load_step: np.ndarray) -> np.ndarray:
    """One sky; each dish warms 10 K a step, half as fast while the other one is also in."""
    days, dishes = load_step.shape
    cores = np.full((days, dishes, STEPS + 1), 20.0)
    for step in range(STEPS):
        inside = load_step <= step
        rate = np.where(inside.sum(axis=1) > 1, 5.0, 10.0)[:, None]
        cores[:, :, step + 1] = cores[:, :, step] + np.where(inside, rate, 0.0)
    return cores[:, None]


def ready_at_100(core_c: np.ndarray, load_step: np.ndarray) -> Outcome:
    hot = core_c >= 100.0
    ready = np.where(hot.any(axis=1), hot.argmax(axis=1), np.inf)
    return Outcome(ready_step=ready, safe=np.isfinite(ready))


def goal(serve_step: int, candidates: range, hold_min: float = 600.0) -> Goal:
    return Goal(
        serve_step=serve_step,
        hold_min=hold_min,
        candidates=np.array(candidates, np.intp),
        judge=ready_at_100,
    )


def total(load: np.ndarray, goals: list[Goal]) -> float:
    cores = slow_oven(load[None, :])[:, 0]
    walks = float(trips(load[None, :], visits=np.array([], np.intp))[0])
    return TRIP * walks + float(
        sum(
            cost(g.judge(cores[:, i], load[None, i]), goal=g, step_min=STEP_MIN)[0]
            for i, g in enumerate(goals)
        )
    )


def test_one_dish_goes_in_as_late_as_its_margin_allows() -> None:
    """8 steps to 100 C and a margin of 12 steps before step 29: in at step 9."""
    goals = [goal(29, range(16))]
    assert search_loads(goals, oven=slow_oven, step_min=STEP_MIN).tolist() == [
        29 - 8 - int(MARGIN_MIN / STEP_MIN)
    ]


@settings(max_examples=20)
@given(first=st.integers(12, 28), second=st.integers(12, 28))
def test_search_is_close_to_trying_every_pair(first: int, second: int) -> None:
    """Within the cost of one candidate's wait of exhaustive search, on every small day."""
    goals = [goal(first, range(0, 25, 2)), goal(second, range(0, 25, 2))]
    found = total(search_loads(goals, oven=slow_oven, step_min=STEP_MIN), goals)
    best = min(total(np.array(pair, np.intp), goals) for pair in product(range(0, 25, 2), repeat=2))
    assert found <= best * 1.01 + 2 * 0.1 * 2 * STEP_MIN


def test_a_dish_already_in_stays_where_it_is() -> None:
    goals = [goal(20, range(5, 6)), goal(25, range(16))]
    assert search_loads(goals, oven=slow_oven, step_min=STEP_MIN)[0] == 5


@pytest.mark.parametrize(
    ("better", "worse"),
    [
        ((20.0, True), (20.0, False)),
        ((np.inf, True), (10.0, False)),
        ((28.0, True), (np.inf, True)),
        ((24.0, True), (26.0, True)),
        ((22.0, True), (24.0, True)),
        ((20.0, True), (22.0, True)),
        ((20.0, True), (2.0, True)),
    ],
)
def test_worse_things_cost_more(better: tuple[float, bool], worse: tuple[float, bool]) -> None:
    """Safety before supper, supper before punctuality, punctuality before freshness."""
    target = goal(24, range(1), hold_min=120.0)
    costs = [
        cost(
            Outcome(ready_step=np.array([ready]), safe=np.array([safe])),
            goal=target,
            step_min=STEP_MIN,
        )[0]
        for ready, safe in (better, worse)
    ]
    assert costs[0] < costs[1]


def test_a_load_waits_for_a_walk_that_is_made_anyway() -> None:
    """Ready at the margin from step 9; a turn is planned for step 8, ten minutes earlier."""
    goals = [goal(29, range(16))]
    assert search_loads(goals, oven=slow_oven, step_min=STEP_MIN, visits=[8]).tolist() == [8]
    assert search_loads(goals, oven=slow_oven, step_min=STEP_MIN, visits=[2]).tolist() == [9]


def test_what_was_told_stands_unless_it_pays_to_change() -> None:
    told = goal(29, range(16))
    near, far = (replace(told, told=step) for step in (8, 15))
    assert search_loads([near], oven=slow_oven, step_min=STEP_MIN).tolist() == [8]
    assert search_loads([far], oven=slow_oven, step_min=STEP_MIN).tolist() == [9]


def test_a_search_that_is_stopped_gives_the_best_so_far() -> None:
    goals = [goal(20, range(16)), goal(25, range(16))]
    asked: list[bool] = []

    def stop() -> bool:
        asked.append(True)
        return True

    found = search_loads(goals, oven=slow_oven, step_min=STEP_MIN, stop=stop)
    assert asked
    assert all(step in goal.candidates for step, goal in zip(found, goals, strict=True))


@given(st.lists(st.lists(st.integers(0, 5), min_size=3, max_size=3), min_size=1, max_size=5))
def test_walks_are_counted_once_for_what_goes_in_together(load: list[list[int]]) -> None:
    found = trips(np.array(load), visits=np.array([2, 3]))
    assert found.tolist() == [len(set(day) - {2, 3}) for day in load]
