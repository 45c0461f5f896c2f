"""The published limits, row by row, against the charts they come from."""

from __future__ import annotations

from typing import get_args

import pytest

from suntrack.food import official
from suntrack.food.dish import SafetyRule
from suntrack.food.official import RULES, Official, Rule


def celsius(fahrenheit: float) -> float:
    return (fahrenheit - 32.0) / 1.8


@pytest.mark.parametrize(
    ("rule", "fahrenheit", "rest_min"),
    [
        ("ground meat", 160, 0),
        ("poultry", 165, 0),
        ("whole meat", 145, 3),
        ("wild game", 165, 0),  # FDA Food Code 3-401.11, as Minn. R. 4626.0340 (found)
        ("fish", 145, 0),
        ("egg dish", 160, 0),
        ("casserole", 165, 0),
        ("leftovers", 165, 0),
        ("hold hot", 140, 0),
    ],
)
def test_minimum_temperatures_of_the_chart(
    rule: SafetyRule, fahrenheit: float, rest_min: float
) -> None:
    """FoodSafety.gov, safe minimum internal temperatures (found copies); 140 F hot holding."""
    assert RULES[rule].minimum_c == pytest.approx(celsius(fahrenheit), abs=0.06)
    assert RULES[rule].rest_s == 60.0 * rest_min


@pytest.mark.parametrize(
    ("name", "fahrenheit"),
    [
        ("HOLD_HOT_C", 140),  # USDA FSIS, consumer advice (found copy)
        ("RESTAURANT_HOLD_C", 135),  # FDA Food Code 3-501.16 (found copy)
        ("HOT_DAY_C", 90),  # USDA FSIS, one-hour rule (found copy)
        ("CLOCK_LOW_C", 50),  # FDA seafood guidance, appendix 4 (found copy), as the next two
        ("CLOCK_WARM_C", 70),
        ("CLOCK_HIGH_C", 135),
    ],
)
def test_limits_are_the_printed_fahrenheit(name: str, fahrenheit: float) -> None:
    limit = getattr(official, name)
    assert limit.value == pytest.approx(celsius(fahrenheit), abs=0.06)


def test_hours_are_the_printed_hours() -> None:
    """FDA appendix 4: 4 h in all, 2 h above 70 F; USDA FSIS: 2 h left out (found copies)."""
    hours = [official.RED_H.value, official.RED_WARM_H.value, official.LEFT_OUT_H.value]
    assert hours == [4.0, 2.0, 2.0]


def test_every_rule_of_the_dish_record_has_its_row() -> None:
    assert set(RULES) == set(get_args(SafetyRule))


def test_nothing_official_stands_without_source_and_confidence() -> None:
    limits = [value for value in vars(official).values() if isinstance(value, Official)]
    assert len(limits) >= 9
    items: list[Official | Rule] = [*limits, *RULES.values()]
    for item in items:
        assert item.source
        assert item.confidence in get_args(official.Confidence)
        assert item.sentence.endswith((".", ","))
