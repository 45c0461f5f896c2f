"""What a dish may not say of itself, and what it keeps in another's place."""

from __future__ import annotations

from dataclasses import replace
from typing import get_args

import pytest

from suntrack.food.dish import Ingredient, SafetyRule
from suntrack.food.dishes import builtin_dishes
from suntrack.food.guard import held_to
from suntrack.food.kinds import KINDS, is_looser, is_meat, rule_of
from suntrack.food.official import RULES
from suntrack.food.refused import refusal

DISHES = builtin_dishes()
PLAIN = DISHES["lentil-soup"]


def test_every_ingredient_has_its_row() -> None:
    assert set(KINDS) == set(get_args(Ingredient))


@pytest.mark.parametrize(
    ("kind", "fahrenheit"),
    # FoodSafety.gov, safe minimum internal temperatures; game: FDA Food Code 3-401.11 (found
    # copies).
    [
        ("poultry", 165), ("minced poultry", 165), ("meat", 145), ("minced meat", 160),
        ("fish", 145), ("egg", 160), ("wild game", 165), ("cooked food", 165),
        ("stuffed bird", 165),
    ],
)  # fmt: skip
def test_ingredients_bring_the_minimum_of_the_chart(kind: Ingredient, fahrenheit: float) -> None:
    rule = rule_of(replace(PLAIN, contains=(kind,)))
    assert rule.minimum_c == pytest.approx((fahrenheit - 32) / 1.8, abs=0.06)


@pytest.mark.parametrize("kind", sorted(KINDS))
@pytest.mark.parametrize("name", sorted(RULES))
def test_an_ingredient_only_ever_adds(kind: Ingredient, name: SafetyRule) -> None:
    own, asked = RULES[name], RULES[KINDS[kind].rule]
    joined = rule_of(replace(PLAIN, safety=name, contains=(kind,)))
    for rule in (own, asked):
        assert joined.minimum_c >= rule.minimum_c
        assert joined.rest_s >= rule.rest_s
        assert joined.clock >= rule.clock
        assert joined.warm_clock >= rule.warm_clock
        assert rule.within_h is None or (joined.within_h or 99.0) <= rule.within_h
        assert rule.hold_hot_c is None or (joined.hold_hot_c or 0.0) >= rule.hold_hot_c


def test_the_order_in_which_ingredients_are_named_does_not_matter() -> None:
    one = rule_of(replace(PLAIN, contains=("poultry", "grain", "meat")))
    other = rule_of(replace(PLAIN, contains=("meat", "poultry", "grain")))
    for part in ("minimum_c", "rest_s", "clock", "warm_clock", "within_h", "hold_hot_c"):
        assert getattr(one, part) == getattr(other, part)


def test_looser_is_looser_in_any_part() -> None:
    assert is_looser("hold hot", "poultry")
    assert is_looser("poultry", "whole meat"), "the three minutes"
    assert not is_looser("casserole", "egg dish")
    assert not is_looser("poultry", "poultry")


@pytest.mark.parametrize("key", sorted(DISHES))
def test_a_dish_in_anothers_place_keeps_what_that_one_asks(key: str) -> None:
    """A plain soup under every name of the library."""
    library, soup = DISHES[key], held_to(replace(PLAIN, key=key), DISHES[key])
    assert set(library.contains) <= set(soup.contains)
    asked, kept = rule_of(library), rule_of(soup)
    assert kept.minimum_c >= asked.minimum_c
    assert kept.rest_s >= asked.rest_s
    assert (kept.clock, kept.warm_clock) >= (asked.clock, asked.warm_clock)
    assert soup.gate == library.gate
    assert is_meat(soup) >= is_meat(library)
    for confirmed in (False, True):
        if library.refused is not None or library.gate is not None:
            found = refusal(library, confirmed=confirmed)
            assert found is None or refusal(soup, confirmed=confirmed) is not None


def test_a_new_name_is_held_to_nothing_of_the_library() -> None:
    assert held_to(PLAIN, None) == PLAIN
