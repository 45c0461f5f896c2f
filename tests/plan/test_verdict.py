"""The verdict as a table of days."""

from __future__ import annotations

from dataclasses import replace
from datetime import UTC, datetime, timedelta
from typing import Any

import pytest

from suntrack.plan.records import Chances, DishPlan, DishStatus, Window
from suntrack.plan.verdict import verdict_of, window_h

NOON = datetime(2026, 11, 25, 12, 0, tzinfo=UTC)
EVENING = NOON + timedelta(hours=8)


def window(hours: float) -> Window:
    return Window(
        opens_at=NOON if hours else None,
        closes_at=NOON + timedelta(hours=hours) if hours else None,
        threshold_c=100.0,
        peak_c=120.0,
        peak_at=NOON,
    )


def dish(status: DishStatus) -> DishPlan:
    return DishPlan(
        key="soup",
        name="Soup",
        pot=None,
        serve_at=NOON,
        load_at=None,
        done_at=None,
        safe_at=None,
        pull_at=None,
        pull_by=None,
        stove_by=None,
        status=status,
        notes=(),
    )


@pytest.mark.parametrize(
    ("hours", "statuses", "cook", "said"),
    [
        (6.0, ["ready"], True, "The dish is done and safe"),
        (6.0, ["ready", "ready", "ready"], True, "All 3 dishes are"),
        (6.0, ["ready", "not done"], True, "1 of the 2 dishes is"),
        (6.0, ["late"], False, "1 later than wanted"),
        (6.0, ["refused", "not safe"], False, "None of the 2"),
        (6.0, [], True, "6.0 hours"),
        (1.0, [], False, "1.0 hours"),
        (0.0, [], False, "does not get hot enough"),
    ],
)
def test_days(hours: float, statuses: list[DishStatus], cook: bool, said: str) -> None:
    plans = [dish(status) for status in statuses]
    verdict = verdict_of(window(hours), plans, skipped=False, ends_at=EVENING)
    assert verdict.cook is cook
    assert said in verdict.reason
    assert verdict.chance is None, "no forecast stands behind it"


def test_a_skipped_day_is_no_cooking_day() -> None:
    assert not verdict_of(window(6.0), [dish("ready")], skipped=True, ends_at=EVENING).cook


def test_a_window_that_never_opens_has_no_length() -> None:
    assert window_h(window(0.0), ends_at=EVENING) == 0.0
    assert window_h(window(2.5), ends_at=EVENING) == 2.5


def test_a_box_still_hot_at_the_end_counts_to_the_end() -> None:
    hot = replace(window(2.5), closes_at=None)
    assert window_h(hot, ends_at=EVENING) == 8.0


def chances(**changes: float | None) -> Chances:
    given: dict[str, Any] = {"skies": 100, "holds": 0.9, "good": 0.8, "sampling_error": 0.05}
    return Chances(**(given | changes))


@pytest.mark.parametrize(
    ("dishes", "found", "cook", "chance", "said"),
    [
        ([], chances(holds=0.7), True, 0.7, "2 hours or more"),
        ([], chances(holds=0.3), False, 0.3, "2 hours or more"),
        ([0.8], chances(), True, 0.8, "the dish is done and safe"),
        ([0.95, 0.4], chances(good=0.4), True, 0.4, "both dishes are"),
        ([0.45, 0.4], chances(good=0.3), False, 0.3, "both dishes are"),
        ([0.9, None], chances(good=0.9), True, 0.9, "1 of the 2 dishes is"),
        ([None], chances(good=None, alone=0.2), False, 0.2, "does not finish"),
        ([None], chances(good=None), False, None, "does not finish"),
    ],
)
def test_days_with_chances(
    dishes: list[float | None], found: Chances, cook: bool, chance: float | None, said: str
) -> None:
    plans = [
        replace(dish("ready" if one is not None else "not done"), chance=one) for one in dishes
    ]
    verdict = verdict_of(window(6.0), plans, skipped=False, ends_at=EVENING, chances=found)
    assert verdict.cook is cook
    assert verdict.chance == chance
    assert said in verdict.reason


def test_a_dish_later_than_wanted_makes_no_cooking_day_whatever_its_chance() -> None:
    plans = [replace(dish("late"), chance=0.9)]
    verdict = verdict_of(window(6.0), plans, skipped=False, ends_at=EVENING, chances=chances())
    assert not verdict.cook


def test_a_skipped_day_has_no_chance() -> None:
    plans = [replace(dish("ready"), chance=0.9)]
    verdict = verdict_of(window(6.0), plans, skipped=True, ends_at=EVENING, chances=chances())
    assert (verdict.cook, verdict.chance) == (False, None)
