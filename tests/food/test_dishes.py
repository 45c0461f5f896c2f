"""The library: every dish reads, and mistakes in a file are all reported."""

from __future__ import annotations

import pytest

from suntrack.box.build import Pot
from suntrack.food.charge import pot_charge
from suntrack.food.dishes import builtin_dishes, parse_dishes

POT = Pot(
    name="pot",
    capacity_l=4.0,
    mass_kg=1.3,
    material="enamelled steel",
    diameter_m=0.24,
    height_m=0.12,
)
GOOD = """
[soup]
name = "Soup"
mass_kg = 1.0
made_of = "water"
start_c = 20
cook_min = 10
z_c = 33
floor_c = 70
safety = "hold hot"
hold_min = 60

[food]
water = { water = 100, protein = 0, fat = 0, carbohydrate = 0, fibre = 0, ash = 0 }
"""


def test_the_library_is_wide_enough() -> None:
    assert len(builtin_dishes()) >= 24


@pytest.mark.parametrize("key", sorted(builtin_dishes()))
def test_every_dish_names_a_source_and_fits_a_pot(key: str) -> None:
    dish = builtin_dishes()[key]
    assert dish.source
    charge = pot_charge(dish, POT, mass_kg=dish.mass_kg, boiling_c=97.0)
    store = charge.pot_j_k + sum(charge.cells_j_k)
    # Enamelled steel 1.3 kg holds about 0.65 kJ/K, food 1.5 to 4.2 kJ/(kg K) (handbooks).
    assert 650.0 + dish.mass_kg * 1500.0 < store < 700.0 + dish.mass_kg * 4200.0
    assert (charge.boiling_c is None) == (not dish.wet)


def test_a_good_file_reads() -> None:
    dishes, problems = parse_dishes(GOOD, where="mine.toml")
    assert problems == ()
    assert dishes["soup"].name == "Soup"


@pytest.mark.parametrize(
    ("old", "new", "expected"),
    [
        ('safety = "hold hot"', 'safety = "warm"', "warm"),
        ("cook_min = 10", "cook_mins = 10", "cook_mins"),
        ("mass_kg = 1.0", "mass_kg = -1.0", "above 0"),
        ('made_of = "water"', 'made_of = "milk"', "milk"),
        ("cook_min = 10", "cook_min = 10\ncore_c = 70", "either"),
        ("z_c = 33", "z_c = 33\npieces_mm = 20", "pieces_mm"),
        ("water = 100", "water = 40", "100"),
        ("[soup]", "[soup", "line"),
    ],
)
def test_a_mistake_is_named(old: str, new: str, expected: str) -> None:
    dishes, problems = parse_dishes(GOOD.replace(old, new), where="mine.toml")
    assert dishes == {}
    assert len(problems) == 1
    assert expected in problems[0].found
    assert "mine.toml" in problems[0].where
