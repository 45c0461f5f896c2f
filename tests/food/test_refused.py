"""What is never planned, against the advice that excludes it."""

from __future__ import annotations

from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from suntrack.food.dishes import builtin_dishes
from suntrack.food.kinds import is_meat
from suntrack.food.refused import SMALL_PIECES_M, refusal, stove_boil_min

DISHES = builtin_dishes()
CHICKEN = DISHES["chicken-pieces"]


@pytest.mark.parametrize(
    ("key", "reason"),
    [
        # USDA FSIS, How Temperatures Affect Food (found): no oven under 325 F for meat.
        ("whole-chicken", "163 C"),
        ("pot-roast", "163 C"),
        ("meat-loaf", "163 C"),
        ("stuffed-bird", "163 °C"),
        # USDA advice on slow cookers (found copy): thaw first.
        ("frozen-meat", "thaw"),
        # USDA FSIS on partial cooking (found copy).
        ("half-cooked", "another day"),
        # NCHFP and Penn State (found): no canning in ovens or by the sun.
        ("canning", "Canning"),
    ],
)
def test_what_is_refused_whatever_the_cook_says(key: str, reason: str) -> None:
    found = refusal(DISHES[key], confirmed=True, lid="tight")
    assert found is not None
    assert reason in found
    assert "Source: " in found


def test_beans_need_the_cooks_word() -> None:
    """FDA Bad Bug Book (found copy): soaked 5 h, water thrown away, boiled 30 min."""
    found = refusal(DISHES["kidney-beans"], confirmed=False)
    assert found is not None
    for words in ("5 hours", "throw the water away", "30 minutes", "Bad Bug Book"):
        assert words in found
    assert refusal(DISHES["kidney-beans"], confirmed=True) is None


@pytest.mark.parametrize(("boiling_c", "minutes"), [(99.97, 30.0), (100.5, 30.0), (95.0, 45.0)])
def test_the_boil_before_is_longer_up_high(boiling_c: float, minutes: float) -> None:
    """FDA Bad Bug Book (found copy): 30 min; 45 min at 1500 m, 95 C, is our judgement."""
    assert stove_boil_min(boiling_c) == minutes


@given(boiling_c=st.floats(80.0, 101.0), lower_k=st.floats(0.0, 10.0))
def test_a_cooler_boil_is_never_shorter(boiling_c: float, lower_k: float) -> None:
    assert stove_boil_min(boiling_c - lower_k) >= stove_boil_min(boiling_c) >= 30.0


@pytest.mark.parametrize("key", ["lentil-soup", "split-pea-soup", "chickpeas"])
def test_other_pulses_need_none(key: str) -> None:
    """The lectin advice is for Phaseolus beans (USU Extension FN/FQE/2014-01pr, found)."""
    assert refusal(DISHES[key], confirmed=False) is None


def test_meat_needs_a_lid() -> None:
    """USDA advice on slow cookers (found copy): tightly lidded."""
    assert refusal(CHICKEN, confirmed=False, lid="tight") is None
    assert refusal(CHICKEN, confirmed=False) is None, "the pot is not chosen yet"
    for lid in ("none", "loose"):
        assert refusal(CHICKEN, confirmed=True, lid=lid) is not None
    assert refusal(DISHES["lentil-soup"], confirmed=False, lid="none") is None


@pytest.mark.parametrize(
    "change", [{"moist_small_pieces": False}, {"wet": False}, {"thickness_m": 0.08}]
)
def test_a_dish_file_cannot_talk_a_roast_small(change: dict[str, object]) -> None:
    """Moist and small are looked at, not only promised."""
    assert refusal(replace(CHICKEN, **change), confirmed=True) is not None  # type: ignore[arg-type]


def test_frozen_is_refused_by_its_temperature() -> None:
    """USDA advice on slow cookers (found copy): thaw first."""
    assert refusal(replace(CHICKEN, start_c=-5.0), confirmed=True) is not None


def test_the_cooks_word_opens_nothing_else() -> None:
    for dish in DISHES.values():
        if dish.gate is None:
            by_word = refusal(dish, confirmed=True)
            assert by_word == refusal(dish, confirmed=False), dish.key


def test_every_meat_dish_that_is_planned_is_moist_and_small() -> None:
    planned = [dish for dish in DISHES.values() if refusal(dish, confirmed=True) is None]
    meat = [dish for dish in planned if is_meat(dish)]
    assert len(meat) >= 4
    for dish in meat:
        assert dish.wet
        assert dish.moist_small_pieces
        assert dish.thickness_m <= SMALL_PIECES_M
        told = " ".join(step.text for step in dish.advance)
        assert "refrigerator" in told or "load it at once" in told, dish.key
