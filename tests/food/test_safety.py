"""Safety against the official charts; each rule's source beside its check."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from suntrack.food.dish import Dish, SafetyRule
from suntrack.food.dishes import builtin_dishes
from suntrack.food.safety import (
    NEVER_TOMORROW,
    RULES,
    TOO_COOL,
    TOO_SLOW,
    amber_steps,
    judge,
    red_steps,
    safe_steps,
)

STEP_S = 60.0
CHICKEN = builtin_dishes()["chicken-pieces"]
BEEF = builtin_dishes()["beef-stew"]
histories = st.lists(st.floats(1.0, 99.0), min_size=5, max_size=60).map(np.array)


def safe_at(core_c: np.ndarray, dish: Dish) -> int:
    return int(safe_steps(core_c, step_s=STEP_S, dish=dish, air_c=20.0))


def red_at(core_c: np.ndarray, dish: Dish, air_c: float = 20.0) -> int:
    return int(red_steps(core_c, step_s=STEP_S, dish=dish, air_c=air_c))


def test_no_length_of_time_makes_cool_chicken_safe() -> None:
    """73.0 C for hours is not 165 F; lethality never overrides the poultry rule (FSIS)."""
    assert safe_at(np.full(600, 73.0), CHICKEN) == -1
    assert safe_at(np.append(np.full(10, 73.0), 74.0), CHICKEN) == 10


@pytest.mark.parametrize("name", sorted(RULES))
def test_a_tenth_of_a_degree_short_is_not_safe(name: SafetyRule) -> None:
    """The chart's temperatures are minima (FoodSafety.gov, found copy)."""
    dish, minimum_c = replace(BEEF, safety=name, contains=()), RULES[name].minimum_c
    assert safe_at(np.full(300, minimum_c - 0.1), dish) == -1
    assert safe_at(np.full(300, minimum_c), dish) == round(RULES[name].rest_s / STEP_S)


def test_whole_meat_has_to_stay_hot_for_three_minutes() -> None:
    """145 F and a rest of 3 minutes (FoodSafety.gov, found copy), counted without a break."""
    assert safe_at(np.array([60.0, 63.0, 63.0, 60.0, 63.0, 63.0, 63.0, 63.0, 63.0]), BEEF) == 7
    assert safe_at(np.array([60.0, 63.0, 63.0, 60.0, 63.0]), BEEF) == -1


def test_slow_chicken_runs_out_of_time() -> None:
    """FDA appendix 4 (found copy): no more than 2 h between 70 and 135 F."""
    assert red_at(np.append(np.full(121, 40.0), 80.0), CHICKEN) == 120
    assert red_at(np.append(np.full(119, 40.0), 80.0), CHICKEN) == -1


def test_on_a_hot_day_the_clock_runs_twice_as_fast() -> None:
    """USDA FSIS (found copy): above 90 F outdoors two hours become one."""
    core_c = np.append(np.full(61, 40.0), 80.0)
    assert red_at(core_c, CHICKEN, air_c=33.0) == 60
    assert red_at(core_c, CHICKEN, air_c=32.0) == -1


def test_whole_meat_has_the_long_clock() -> None:
    """FDA appendix 4 (found copy): 4 h from 50 to 135 F in all; 2 h are a warning."""
    core_c = np.full(300, 40.0)
    assert red_at(core_c, BEEF) == 240
    assert int(amber_steps(core_c, step_s=STEP_S, dish=BEEF, air_c=20.0)) == 120


def test_the_clock_does_not_start_in_the_refrigerator() -> None:
    """FDA appendix 4 (found copy): below 50 F, 10 C, nothing counts."""
    assert red_at(np.full(600, 9.0), CHICKEN) == -1
    assert red_at(np.concatenate((np.full(300, 4.0), np.full(300, 15.0))), CHICKEN) == 540


def test_cooked_food_may_not_cool_for_two_hours() -> None:
    """USDA FSIS (found copy): two hours below 140 F, one above 90 F outdoors, then discard."""
    core_c = np.concatenate((np.full(60, 80.0), np.full(200, 45.0)))
    assert red_at(core_c, CHICKEN) == 180
    assert red_at(core_c, CHICKEN, air_c=33.0) == 120
    verdict = judge(core_c, step_s=STEP_S, dish=CHICKEN, air_c=20.0)
    assert (verdict.safe_step, verdict.red_step) == (0, 180)
    assert TOO_COOL in verdict.reasons
    assert NEVER_TOMORROW not in verdict.reasons


def test_cooked_food_kept_at_sixty_keeps() -> None:
    """140 F and above is outside the danger zone (USDA FSIS, found copy)."""
    assert red_at(np.concatenate((np.full(5, 80.0), np.full(900, 60.0))), CHICKEN) == -1


def test_beans_that_go_in_hot_may_not_sink() -> None:
    """Spores survive the boil: cooked food stays at 60 C or is chilled (USDA FSIS)."""
    beans = builtin_dishes()["kidney-beans"]
    sinking = np.concatenate((np.full(10, 80.0), np.full(121, 50.0), np.full(60, 90.0)))
    assert red_at(sinking, beans) == 130


def test_the_clocks_of_warming_end_when_it_is_safe() -> None:
    """Cooling is the other clock's: an hour up and an hour down are not two hours up.

    The two hours left out are USDA FSIS (found copy): 60 C is left at minute 100.
    """
    up, hot, down = np.full(90, 40.0), np.full(10, 80.0), np.full(60, 50.0)
    core_c = np.concatenate((up, hot, down))
    assert red_at(core_c, CHICKEN) == -1
    assert int(amber_steps(core_c, step_s=STEP_S, dish=CHICKEN, air_c=20.0)) == -1
    assert red_at(np.concatenate((core_c, down, [50.0])), CHICKEN) == 220


def test_food_that_is_not_yet_hot_is_not_left_out() -> None:
    """The two hours below 140 F are for cooked food; from 135 to 140 F no clock of warming runs."""
    assert red_at(np.append(np.full(300, 58.0), 80.0), CHICKEN) == -1


def test_half_cooked_meat_is_never_kept_for_tomorrow() -> None:
    """USDA FSIS on partial cooking (found copy): said whenever a day stalls before safe."""
    stalled = judge(np.full(300, 50.0), step_s=STEP_S, dish=CHICKEN, air_c=20.0)
    assert stalled.safe_step is None
    assert {TOO_SLOW, NEVER_TOMORROW} <= set(stalled.reasons)
    good = judge(np.linspace(5.0, 90.0, 60), step_s=STEP_S, dish=CHICKEN, air_c=20.0)
    assert good.red_step is None
    assert NEVER_TOMORROW not in good.reasons


def test_safe_and_too_late_are_both_told() -> None:
    """Reaching 165 F after the clock ran out does not undo the clock."""
    late = np.concatenate((np.full(200, 40.0), np.full(60, 90.0)))
    verdict = judge(late, step_s=STEP_S, dish=CHICKEN, air_c=20.0)
    assert verdict.red_step is not None
    assert verdict.safe_step is not None
    assert verdict.red_step < verdict.safe_step
    assert TOO_SLOW in verdict.reasons


def test_a_core_that_is_not_known_is_not_safe_and_the_clock_runs() -> None:
    assert safe_at(np.full(300, np.nan), CHICKEN) == -1
    assert red_at(np.full(300, np.nan), CHICKEN) == 120


def test_bread_has_no_clock() -> None:
    """Dough rises for hours in the warm (common practice, no source)."""
    assert red_at(np.full(900, 30.0), builtin_dishes()["yeast-loaf"]) == -1


def test_lists_are_as_good_as_arrays() -> None:
    assert int(safe_steps([20.0, 80.0], step_s=STEP_S, dish=CHICKEN)) == 1


def test_leftovers_have_two_hours() -> None:
    """165 F within two hours of leaving the cold (FDA-based advice, found copy)."""
    leftovers = builtin_dishes()["leftovers"]
    slow = np.append(np.linspace(5.0, 73.0, 125), 80.0)
    quick = np.linspace(5.0, 80.0, 100)
    assert 0 < red_at(slow, leftovers) <= 121
    assert red_at(quick, leftovers) == -1


@pytest.mark.parametrize(
    "key", [key for key, dish in builtin_dishes().items() if dish.refused is not None]
)
def test_what_is_refused_is_never_called_safe(key: str) -> None:
    """However hot and long: the advice against it is not about the temperature reached."""
    dish = builtin_dishes()[key]
    verdict = judge(np.full(300, 95.0), step_s=STEP_S, dish=dish, air_c=20.0, confirmed=True)
    assert verdict.safe_step is None
    assert verdict.refused == dish.refused
    assert verdict.reasons[0] == dish.refused


def test_beans_need_the_cooks_word() -> None:
    """FDA Bad Bug Book (found copy): soaked 5 h, boiled 30 min; a hot box all day is no boil."""
    beans = builtin_dishes()["kidney-beans"]
    all_day = np.full(600, 96.0)
    refused = judge(all_day, step_s=STEP_S, dish=beans, air_c=20.0)
    assert refused.refused is not None
    assert refused.safe_step is None
    allowed = judge(all_day, step_s=STEP_S, dish=beans, air_c=20.0, confirmed=True)
    assert allowed.safe_step == 0


@settings(deadline=None)
@given(core_c=histories, colder=st.floats(0.0, 30.0), name=st.sampled_from(sorted(RULES)))
def test_a_colder_history_is_never_safe_earlier(
    core_c: np.ndarray, colder: float, name: SafetyRule
) -> None:
    dish = replace(BEEF, safety=name, contains=())
    warm, cold = safe_at(core_c, dish), safe_at(core_c - colder, dish)
    assert cold == -1 or (warm != -1 and warm <= cold)


@settings(deadline=None)
@given(core_c=histories)
def test_many_days_at_once_are_judged_like_each_alone(core_c: np.ndarray) -> None:
    days = np.stack([core_c, core_c - 10.0, core_c + 10.0])
    together = safe_steps(days, step_s=STEP_S, dish=CHICKEN, air_c=20.0)
    assert together.tolist() == [safe_at(day, CHICKEN) for day in days]
    reds = red_steps(days, step_s=STEP_S, dish=CHICKEN, air_c=20.0)
    assert reds.tolist() == [red_at(day, CHICKEN) for day in days]


@settings(deadline=None)
@given(core_c=histories, air_c=st.floats(15.0, 45.0), name=st.sampled_from(sorted(RULES)))
def test_a_hotter_day_never_lets_food_stand_longer(
    core_c: np.ndarray, air_c: float, name: SafetyRule
) -> None:
    dish = replace(BEEF, safety=name, contains=())
    slow = np.repeat(core_c, 20)
    cool, hot = (red_at(slow, dish, air_c=air) for air in (air_c, air_c + 10.0))
    assert cool == -1 or 0 <= hot <= cool


@settings(deadline=None)
@given(core_c=histories, delay=st.integers(1, 30))
def test_a_later_load_is_never_safe_earlier(core_c: np.ndarray, delay: int) -> None:
    """Food that waits in the refrigerator, written as 0 C, gains nothing."""
    now = safe_at(core_c, CHICKEN)
    later = safe_at(np.concatenate((np.zeros(delay), core_c)), CHICKEN)
    assert later == (-1 if now == -1 else now + delay)


def test_half_cooked_food_is_not_kept_and_nobody_is_told_of_heat_it_never_had() -> None:
    """USDA FSIS on partial cooking: cooked on at once or not begun.

    The sentence is also said of a dish that was left out of the box, so it may not say that
    the dish is hot.
    """
    assert "never keep half-cooked food" in NEVER_TOMORROW
    assert "without a break" in NEVER_TOMORROW
    assert "while it is hot" not in NEVER_TOMORROW
