"""A dish in its pot: stores, links and surfaces against sums by hand."""

from __future__ import annotations

from dataclasses import replace
from math import pi

import numpy as np
import pytest
from scipy.integrate import solve_ivp
from scipy.optimize import brentq

from suntrack.box.build import Pot
from suntrack.food.charge import pot_charge, settling_delta_k
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
    soup = DISHES["lentil-soup"]
    assert pot_charge(soup, POT, mass_kg=1.0, boiling_c=97.0).start_c == soup.start_c
    assert pot_charge(soup, POT, mass_kg=1.0, boiling_c=97.0, start_c=5.0).start_c == 5.0


def test_cold_pieces_hot_sauce_and_the_pot_come_to_their_mean() -> None:
    """Calorimetry: 0.9 kg of meat at 5 C, 0.6 kg of sauce at 60 C, 1.3 kg of steel at 20 C."""
    charge = pot_charge(DISHES["chicken-pieces"], POT, mass_kg=1.5, boiling_c=97.0)
    steel_j_k, meat_j_k = 1.3 * 500.0, sum(charge.cells_j_k)
    sauce_j_k = charge.pot_j_k - steel_j_k
    assert sauce_j_k == pytest.approx(0.6 * 4050.0, rel=0.02)
    heat = 5.0 * meat_j_k + 60.0 * sauce_j_k + 20.0 * steel_j_k
    assert charge.start_c == pytest.approx(heat / (meat_j_k + sauce_j_k + steel_j_k), abs=0.2)
    assert DISHES["chicken-pieces"].start_c > charge.start_c, "the pot takes its share"


def test_the_middle_starts_cold_and_settles_at_the_mean() -> None:
    chicken = DISHES["chicken-pieces"]
    charge = pot_charge(chicken, POT, mass_kg=1.5, boiling_c=97.0)
    below = settling_delta_k(chicken, charge, step_s=60.0, steps=240)
    assert charge.start_c + below[0] == pytest.approx(5.0)
    assert below[-1] == pytest.approx(0.0, abs=0.3)
    assert np.all(below <= 1e-9), "the middle is never above the mean"
    assert np.all(np.diff(below) >= -1e-9)


@pytest.mark.parametrize("fourier", [0.05, 0.1, 0.2, 0.5])
def test_settling_follows_the_slab_in_a_stirred_bath(fourier: float) -> None:
    """Crank, The Mathematics of Diffusion, 1975, eq. 4.36 (from memory): tan q = -a q.

    A sheet in a stirred bath of limited volume, a the bath's store over the sheet's; within
    0.5 % of the first difference, with forty shells and no film.
    """
    chicken = DISHES["chicken-pieces"]
    properties = food_properties(chicken.composition)
    charge = pot_charge(chicken, POT, mass_kg=1.5, boiling_c=97.0, cells=40)
    bare = shells(
        "slab", thickness_m=0.035, mass_kg=0.9, properties=properties, film_w_m2k=1e9, cells=40
    )
    charge = replace(charge, links_w_k=bare.links_w_k)
    seconds = fourier * 0.0175**2 / properties.diffusivity_m2_s
    below = settling_delta_k(chicken, charge, step_s=seconds, steps=1, loss_w_m2k=0.0)[-1]
    a = charge.pot_j_k / sum(charge.cells_j_k)
    left = 0.0
    for n in range(1, 60):
        q = brentq(lambda q: np.sin(q) + a * q * np.cos(q), (n - 0.5) * np.pi, n * np.pi)
        left -= 2 * (1 + a) / (1 + a + a**2 * q**2) * np.exp(-(q**2) * fourier) / np.cos(q)
    # Crank counts from the sheet's start to the end; ours from the end.
    assert below == pytest.approx(-left * (charge.start_c - 5.0), abs=0.005 * 25.0)


def test_an_even_start_has_nothing_to_settle() -> None:
    for key in ("lentil-soup", "root-stew"):
        charge = pot_charge(DISHES[key], POT, mass_kg=1.0, boiling_c=97.0)
        assert not settling_delta_k(DISHES[key], charge, step_s=60.0, steps=10).any()


def test_the_box_agrees_with_cold_and_hot_started_apart() -> None:
    """Heat is linear in its start: the pot in a closed box, each store started by itself.

    An integrator of its own on the same stores, in surroundings that stay as they are: within
    1 K, and never warmer.
    """
    chicken = DISHES["chicken-pieces"]
    charge = pot_charge(chicken, POT, mass_kg=1.5, boiling_c=97.0)
    below = settling_delta_k(chicken, charge, step_s=60.0, steps=60)
    stores = np.array((*charge.cells_j_k, charge.pot_j_k))
    links = np.array(charge.links_w_k)
    loss_w_k, around_c = 2.7, 110.0

    def rate(_: float, temperatures: np.ndarray) -> np.ndarray:
        flow = links * np.diff(temperatures)
        gain = np.append(flow, loss_w_k * (around_c - temperatures[-1]))
        return np.asarray((gain - np.insert(flow, 0, 0.0)) / stores)

    liquid_c = charge.start_c + (charge.start_c - 5.0) * stores[:-1].sum() / stores[-1]
    apart = np.append(np.full(stores.size - 1, 5.0), liquid_c)
    even = np.full(stores.size, charge.start_c)
    at = np.arange(61) * 60.0
    own, mean = (
        solve_ivp(rate, (0.0, 3600.0), start, t_eval=at, rtol=1e-8, atol=1e-8).y[0]
        for start in (apart, even)
    )
    assert mean + below == pytest.approx(own, abs=1.0)
    assert np.all(mean + below <= own + 0.02)


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
