"""Safety against the official charts; each rule's source beside its check."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from suntrack.food.dish import Dish, SafetyRule
from suntrack.food.dishes import builtin_dishes
from suntrack.food.safety import (
    MEATS,
    RULES,
    after_cooking,
    amber_steps,
    beef_lethality_log10,
    held_hot,
    judge,
    red_steps,
    refusal,
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


@pytest.mark.parametrize(
    ("rule", "fahrenheit", "rest_min"),
    [
        ("ground meat", 160, 0), ("poultry", 165, 0), ("whole meat", 145, 3), ("fish", 145, 0),
        ("egg dish", 160, 0), ("casserole", 165, 0), ("leftovers", 165, 0), ("hold hot", 140, 0),
    ],
)  # fmt: skip
def test_minimum_temperatures_of_the_chart(
    rule: SafetyRule, fahrenheit: float, rest_min: float
) -> None:
    """FoodSafety.gov, safe minimum internal temperatures (found copies); 140 F hot holding."""
    assert RULES[rule].minimum_c == pytest.approx((fahrenheit - 32) / 1.8, abs=0.06)
    assert RULES[rule].rest_s == 60.0 * rest_min


def test_no_length_of_time_makes_cool_chicken_safe() -> None:
    """73.0 C for hours is not 165 F; lethality never overrides the poultry rule (FSIS)."""
    assert safe_at(np.full(600, 73.0), CHICKEN) == -1
    assert safe_at(np.append(np.full(10, 73.0), 74.0), CHICKEN) == 10


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


def test_leftovers_have_two_hours() -> None:
    """165 F within two hours of leaving the cold (FDA-based advice, found copy)."""
    leftovers = builtin_dishes()["leftovers"]
    slow = np.append(np.linspace(5.0, 73.0, 125), 80.0)
    quick = np.linspace(5.0, 80.0, 100)
    assert 0 < red_at(slow, leftovers) <= 121
    assert red_at(quick, leftovers) == -1


@pytest.mark.parametrize(
    ("minutes", "air_c", "expected"),
    [(90, 33.0, "discard"), (90, 25.0, "amber"), (20, 25.0, "fine"), (120, 25.0, "discard")],
)
def test_cooked_food_that_has_cooled(minutes: float, air_c: float, expected: str) -> None:
    """USDA FSIS two-hour rule, one hour above 90 F (found copy)."""
    assert after_cooking(minutes, air_c=air_c) == expected


def test_two_authorities_differ_about_holding() -> None:
    """57.5 C: hot enough for FDA Food Code 3-501.16 (135 F), not for USDA's 140 F (found)."""
    assert held_hot(57.5) == (False, True)
    assert held_hot(60.0) == (True, True)


@pytest.mark.parametrize(
    ("fahrenheit", "seconds", "tolerance"),
    [(135, 36 * 60, 0.06), (136, 28 * 60, 0.06), (138, 18 * 60, 0.06), (140, 12 * 60, 0.12),
     (145, 4 * 60, 0.13), (147, 134, 0.05), (150, 67, 0.05), (155, 22, 0.06), (157, 14, 0.06)],
)  # fmt: skip
def test_beef_table_is_shown_as_printed(
    fahrenheit: float, seconds: float, tolerance: float
) -> None:
    """FSIS Appendix A 1999, 6.5-log column (found copy); rounded up to minutes at 139-145 F."""
    core_c = np.full(int(seconds) + 1, (fahrenheit - 32) / 1.8)
    logs = float(beef_lethality_log10(core_c, step_s=1.0)[-1])
    assert logs == pytest.approx(6.5, rel=tolerance)


def test_no_lethality_below_57_degrees() -> None:
    """A later study could not confirm the times at 54.4 C (found abstract)."""
    assert beef_lethality_log10(np.full(10_000, 56.9), step_s=60.0)[-1] == 0.0


@pytest.mark.parametrize("key", ["whole-chicken", "pot-roast", "meat-loaf", "canning"])
def test_what_is_refused_outright(key: str) -> None:
    """FSIS: no oven under 325 F for meat or poultry; NCHFP: no canning in ovens (found)."""
    dish = builtin_dishes()[key]
    assert refusal(dish, confirmed=True) is not None
    verdict = judge(np.full(300, 95.0), step_s=STEP_S, dish=dish, air_c=20.0, confirmed=True)
    assert verdict.safe_step is None


def test_beans_need_the_cooks_word() -> None:
    """FDA Bad Bug Book (found copy): soaked 5 h, boiled 30 min; a hot box all day is no boil."""
    beans = builtin_dishes()["kidney-beans"]
    all_day = np.full(600, 96.0)
    refused = judge(all_day, step_s=STEP_S, dish=beans, air_c=20.0)
    assert refused.refused is not None
    assert refused.safe_step is None
    allowed = judge(all_day, step_s=STEP_S, dish=beans, air_c=20.0, confirmed=True)
    assert allowed.safe_step == 0


def test_every_meat_dish_that_is_planned_is_moist_and_small() -> None:
    """USDA slow cooker advice (found copy): moist, lidded, small pieces; 5 cm at the most here."""
    for dish in builtin_dishes().values():
        if dish.safety in MEATS and refusal(dish, confirmed=True) is None:
            assert dish.wet
            assert dish.thickness_m <= 0.05


def test_every_rule_names_its_source() -> None:
    for rule in RULES.values():
        assert rule.source
        assert rule.confidence in ("found copy", "kitchen judgement")


@given(core_c=histories, colder=st.floats(0.0, 30.0), name=st.sampled_from(sorted(RULES)))
def test_a_colder_history_is_never_safe_earlier(
    core_c: np.ndarray, colder: float, name: SafetyRule
) -> None:
    dish = replace(BEEF, safety=name)
    warm, cold = safe_at(core_c, dish), safe_at(core_c - colder, dish)
    assert cold == -1 or (warm != -1 and warm <= cold)


@given(core_c=histories)
def test_many_days_at_once_are_judged_like_each_alone(core_c: np.ndarray) -> None:
    days = np.stack([core_c, core_c - 10.0, core_c + 10.0])
    together = safe_steps(days, step_s=STEP_S, dish=CHICKEN, air_c=20.0)
    assert together.tolist() == [safe_at(day, CHICKEN) for day in days]
    reds = red_steps(days, step_s=STEP_S, dish=CHICKEN, air_c=20.0)
    assert reds.tolist() == [red_at(day, CHICKEN) for day in days]
