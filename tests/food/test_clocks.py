"""Clocks of food safety against the hours the authorities print."""

from __future__ import annotations

import numpy as np
import pytest

from suntrack.food.clocks import hours_while, is_held_hot, is_warming, left_out


def test_sixty_minutes_are_an_hour() -> None:
    hours = hours_while(np.ones(61, bool), step_s=60.0, air_c=20.0)
    assert hours[0] == pytest.approx(0.0, abs=1e-6)
    assert hours[-1] >= 1.0
    assert hours[-2] < 1.0


def test_an_hour_on_a_hot_day_counts_as_two() -> None:
    """USDA FSIS (found copy): above 90 F, 32.2 C, the two hours become one."""
    hours = [hours_while(np.ones(61, bool), step_s=60.0, air_c=air)[-1] for air in (32.2, 32.3)]
    assert hours == pytest.approx([1.0, 2.0], abs=1e-6)


def test_only_the_hot_part_of_the_day_counts_double() -> None:
    air_c = np.where(np.arange(121) < 60, 25.0, 36.0)
    hours = hours_while(np.ones(121, bool), step_s=60.0, air_c=air_c)
    assert hours[-1] == pytest.approx(3.0, abs=1e-6)


def test_minutes_in_the_zone_add_up_over_a_break() -> None:
    """The FDA clock is cumulative (appendix 4, found copy)."""
    inside = np.array([True] * 30 + [False] * 30 + [True] * 31)
    assert hours_while(inside, step_s=60.0, air_c=20.0)[-1] == pytest.approx(1.0, abs=1e-6)


def test_what_is_not_known_counts_against_the_food() -> None:
    assert is_warming(np.array([np.nan, 5.0, 40.0, 60.0]), from_c=10.0).tolist() == [
        True, False, True, False,
    ]  # fmt: skip
    assert hours_while(np.ones(61, bool), step_s=60.0, air_c=np.nan)[-1] == pytest.approx(2.0)


@pytest.mark.parametrize(
    ("minutes", "air_c", "expected"),
    [
        (90, 33.0, "discard"),
        (90, 25.0, "amber"),
        (20, 25.0, "fine"),
        (120, 25.0, "discard"),
        (59, 33.0, "amber"),
        (60, 33.0, "discard"),
    ],
)
def test_cooked_food_that_has_cooled(minutes: float, air_c: float, expected: str) -> None:
    """USDA FSIS two-hour rule, one hour above 90 F (found copy); amber is our judgement."""
    assert left_out(minutes, air_c=air_c) == expected


def test_two_authorities_differ_about_holding() -> None:
    """57.5 C: hot enough for FDA Food Code 3-501.16 (135 F), not for USDA's 140 F (found)."""
    assert is_held_hot(57.5) == (False, True)
    assert is_held_hot(60.0) == (True, True)
    assert is_held_hot(57.0) == (False, False)
