"""A dish in its pot: stores, links and surfaces against sums by hand."""

from __future__ import annotations

from dataclasses import replace
from math import pi

import pytest

from suntrack.box.build import Pot
from suntrack.food.charge import pot_charge
from suntrack.food.core import core_history, shells
from suntrack.food.dish import Composition
from suntrack.food.dishes import builtin_dishes
from suntrack.food.properties import food_properties

DISHES = builtin_dishes()
POT = Pot(
    name="pot",
    capacity_l=4.0,
    mass_kg=1.3,
    material="enamelled steel",
    diameter_m=0.24,
    height_m=0.12,
)
WATER = Composition(water=1.0, protein=0.0, fat=0.0, carbohydrate=0.0, fibre=0.0, ash=0.0)


@pytest.mark.parametrize("key", sorted(DISHES))
def test_every_dish_goes_into_a_pot(key: str) -> None:
    """Enamelled steel 0.5 kJ/(kg K), 1.3 kg; food 1.5 to 4.2 kJ/(kg K) (handbooks)."""
    dish = DISHES[key]
    charge = pot_charge(dish, POT, mass_kg=dish.mass_kg, boiling_c=97.0)
    store = charge.pot_j_k + sum(charge.cells_j_k)
    assert 600.0 + dish.mass_kg * 1500.0 < store < 700.0 + dish.mass_kg * 4200.0
    assert len(charge.cells_j_k) == len(charge.links_w_k)
    assert (charge.boiling_c is None) == (not dish.wet)
    assert charge.lid_leak == 0.0 if not dish.wet else charge.lid_leak > 0.0


def test_two_litres_of_water() -> None:
    """IAPWS by CoolProp (recomputed): 8.37 kJ/K for 2 kg; steel 0.5 kJ/(kg K) (handbook)."""
    soup = replace(DISHES["lentil-soup"], composition=WATER)
    charge = pot_charge(soup, POT, mass_kg=2.0, boiling_c=96.6)
    assert charge.cells_j_k == ()
    assert charge.pot_j_k == pytest.approx(8370.0 + 650.0, rel=0.01)


def test_surfaces_are_those_of_a_round_pot() -> None:
    charge = pot_charge(DISHES["lentil-soup"], POT, mass_kg=2.0, boiling_c=96.6)
    assert charge.side_m2 == pytest.approx(pi * 0.24 * 0.12)
    assert (charge.lid_m2, charge.base_m2, charge.open_m2) == pytest.approx([pi * 0.12**2] * 3)


def test_liquid_around_pieces_is_its_own_food() -> None:
    """A litre of thin broth takes more heat than a kilogram of beef (ASHRAE table 3)."""
    stew = DISHES["beef-stew"]
    thin = pot_charge(stew, POT, mass_kg=2.0, boiling_c=96.6)
    thick = pot_charge(replace(stew, liquid=None), POT, mass_kg=2.0, boiling_c=96.6)
    assert thin.cells_j_k == thick.cells_j_k
    watery = pot_charge(replace(stew, liquid=WATER), POT, mass_kg=2.0, boiling_c=96.6)
    assert thick.pot_j_k < thin.pot_j_k < watery.pot_j_k
    free_kg = 2.0 * (1.0 - stew.piece_share)
    assert watery.pot_j_k == pytest.approx(650.0 + free_kg * 4185.0, rel=0.01)


def test_twice_the_food_is_twice_the_store() -> None:
    one, two = (
        pot_charge(DISHES["whole-potatoes"], POT, mass_kg=kg, boiling_c=96.6) for kg in (0.8, 1.6)
    )
    assert sum(two.cells_j_k) == pytest.approx(2.0 * sum(one.cells_j_k))
    assert two.links_w_k == pytest.approx([2.0 * link for link in one.links_w_k])
    assert two.pot_j_k == one.pot_j_k


def test_lids_and_colour_are_those_of_the_pot() -> None:
    """A loose lid leaks more, none leaks all; a shiny pot takes less light (Incropera A.11)."""
    soup = DISHES["lentil-soup"]
    tight, loose, none = (
        pot_charge(soup, replace(POT, lid=lid), mass_kg=2.0, boiling_c=96.6).lid_leak
        for lid in ("tight", "loose", "none")
    )
    assert 0.03 <= tight <= 0.10
    assert tight < loose < none == 1.0
    dark, shiny = (
        pot_charge(soup, replace(POT, dark=dark), mass_kg=2.0, boiling_c=96.6)
        for dark in (True, False)
    )
    assert 0.90 <= dark.emittance <= 0.95
    assert shiny.emittance < dark.emittance
    assert shiny.absorptance < dark.absorptance


def test_liquid_grips_pieces_better_than_a_tin_and_a_tin_than_steam() -> None:
    """Food in liquid 100 to 500 W/(m2 K), in moving air 10 to 16 (handbook ranges).

    The film is found again from the last link: it and half a shell in series.
    """
    potato = DISHES["whole-potatoes"]
    films = []
    for change in ({"piece_share": 0.5}, {"wet": False}, {}):
        dish = replace(potato, **change)
        link = pot_charge(dish, POT, mass_kg=1.0, boiling_c=97.0).links_w_k[-1]
        bare = shells(
            "sphere",
            thickness_m=dish.thickness_m,
            mass_kg=dish.piece_share,
            properties=food_properties(dish.composition),
            film_w_m2k=1e12,
        ).links_w_k[-1]
        skin_m2 = 6.0 * dish.piece_share / dish.thickness_m
        skin_m2 /= food_properties(dish.composition).density_kg_m3
        films.append(1.0 / (1.0 / link - 1.0 / bare) / skin_m2)
    liquid, tin, steam = films
    assert 100.0 <= liquid <= 500.0
    assert 16.0 < steam < tin < liquid


def test_start_is_the_dishes_own_unless_told() -> None:
    chicken = DISHES["chicken-pieces"]
    assert pot_charge(chicken, POT, mass_kg=1.0, boiling_c=97.0).start_c == chicken.start_c
    assert pot_charge(chicken, POT, mass_kg=1.0, boiling_c=97.0, start_c=5.0).start_c == 5.0


def test_cold_pieces_under_hot_sauce_are_soon_even() -> None:
    """The mean start stands for both: the middle of a piece is warm within the hour.

    A 35 mm slab of chicken at 5 C in liquid at 62 C, Bi about 9: 1.26 exp(-45/17) of 57 K
    is 5 K behind after 45 min (one term, Incropera table 5.1).
    """
    properties = food_properties(DISHES["chicken-pieces"].composition)
    parts = shells("slab", thickness_m=0.035, mass_kg=1.0, properties=properties, film_w_m2k=300.0)
    core_c = core_history([62.0] * 45, parts=parts, start_c=5.0, step_s=60.0)
    assert core_c[-1] == pytest.approx(57.0, abs=1.0)


@pytest.mark.parametrize("mass_kg", [0.0, -1.0, float("nan")])
def test_an_empty_pot_is_no_dish(mass_kg: float) -> None:
    with pytest.raises(ValueError, match="above 0"):
        pot_charge(DISHES["lentil-soup"], POT, mass_kg=mass_kg, boiling_c=97.0)
