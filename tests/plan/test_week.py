"""Ranking days: a table, and an order that never depends on how the days came in."""

from __future__ import annotations

from dataclasses import replace
from datetime import timedelta

import pytest
from hypothesis import given
from hypothesis import strategies as st

from suntrack.plan.records import DayPlan, Verdict
from suntrack.plan.week import hot_h, ranked, ready_count


def on_day(plan: DayPlan, days: int, *, cook: bool, chance: float | None) -> DayPlan:
    verdict = Verdict(cook=cook, chance=chance, reason="Because.")
    return replace(plan, date=plan.date + timedelta(days=days), verdict=verdict)


def order(plans: list[DayPlan], plan: DayPlan) -> list[int]:
    return [(found.date - plan.date).days for found in ranked(plans)]


def test_the_better_chance_comes_first_and_no_cooking_day_last(plan: DayPlan) -> None:
    days = [
        on_day(plan, 0, cook=False, chance=0.45),
        on_day(plan, 1, cook=True, chance=0.6),
        on_day(plan, 2, cook=True, chance=0.9),
        on_day(plan, 3, cook=False, chance=None),
    ]
    assert order(days, plan) == [2, 1, 0, 3]


def test_of_equal_tenths_the_earlier_day_comes_first(plan: DayPlan) -> None:
    days = [on_day(plan, n, cook=True, chance=0.81 - 0.01 * (n == 0)) for n in (3, 1, 0, 2)]
    assert order(days, plan) == [0, 1, 2, 3]


def test_more_dishes_in_time_beat_more_sun(plan: DayPlan) -> None:
    fewer = replace(
        on_day(plan, 0, cook=True, chance=None),
        dishes=(replace(plan.dishes[0], status="late"), *plan.dishes[1:]),
    )
    shorter = on_day(plan, 1, cook=True, chance=None)
    assert plan.window.opens_at is not None
    late = plan.window.opens_at + timedelta(hours=3)
    shorter = replace(shorter, window=replace(shorter.window, opens_at=late))
    assert order([fewer, shorter], plan) == [1, 0]
    assert ready_count(fewer) == ready_count(plan) - 1
    assert hot_h(shorter) == pytest.approx(hot_h(plan) - 3.0)


@given(st.permutations(range(5)))
def test_the_order_given_makes_no_difference(plan: DayPlan, numbers: list[int]) -> None:
    chances = [0.3, 0.9, 0.3, None, 0.6]
    days = [on_day(plan, n, cook=n != 3, chance=chances[n]) for n in numbers]
    assert order(days, plan) == [1, 4, 0, 2, 3]


def test_a_box_that_never_gets_hot_is_hot_for_no_time(plan: DayPlan) -> None:
    cold = replace(plan.window, opens_at=None, closes_at=None)
    assert hot_h(replace(plan, window=cold)) == 0.0
