"""Food properties and boiling points against published tables."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from suntrack.food.dish import Composition
from suntrack.food.dishes import builtin_dishes
from suntrack.food.properties import (
    CONDUCTIVITY,
    DENSITY,
    SPECIFIC_HEAT,
    boiling_at_pressure_c,
    boiling_c,
    food_properties,
    standard_pressure_pa,
)


def made_of(**shares: float) -> Composition:
    names = ("water", "protein", "fat", "carbohydrate", "fibre", "ash")
    return Composition(**{name: shares.get(name, 0.0) for name in names})


@pytest.mark.parametrize(
    ("component", "at_c", "specific_heat", "conductivity", "density"),
    [
        # CoolProp 8.0.0, INCOMP::FoodProtein, FoodFat, FoodCarbohydrate (found).
        ("protein", 20.0, 2.03185, 0.201639, 1319.53),
        ("fat", 60.0, 2.05532, 0.163509, 900.54),
        ("carbohydrate", 80.0, 1.66778, 0.284682, 1574.26),
        # Choi and Okos 1986, the constant terms (from memory).
        ("fibre", 0.0, 1.8459, 0.18331, 1311.5),
        ("ash", 0.0, 1.0926, 0.32962, 2423.8),
    ],
)
def test_pure_components(
    component: str, at_c: float, specific_heat: float, conductivity: float, density: float
) -> None:
    found = food_properties(made_of(**{component: 1.0}), temperature_c=at_c)
    assert found.specific_heat_j_kgk / 1000.0 == pytest.approx(specific_heat, rel=1e-4)
    assert found.conductivity_w_mk == pytest.approx(conductivity, rel=1e-4)
    assert found.density_kg_m3 == pytest.approx(density, rel=1e-4)


def test_water_as_the_reference_has_it() -> None:
    """CoolProp 8.0.0 at 60 C: k 0.652707, rho 983.842 (found); cp of water 4.18 kJ/(kg K)."""
    found = food_properties(made_of(water=1.0), temperature_c=60.0)
    assert found.conductivity_w_mk == pytest.approx(0.652707, rel=1e-4)
    assert found.density_kg_m3 == pytest.approx(983.842, rel=1e-4)
    assert found.specific_heat_j_kgk == pytest.approx(4180.0, rel=0.005)


@pytest.mark.parametrize(
    ("food", "expected"),
    [
        # ASHRAE table 3, specific heat above freezing (found): 3.92 carrots; the fibre that the
        # table counts twice makes 1 to 2 %.
        ({"water": 87.79, "protein": 1.03, "fat": 0.19, "carbohydrate": 7.14, "fibre": 3.0,
          "ash": 0.87}, 3.92),
        # Morley 1972 (found): lean beef, 72 % water 3.43; lean chicken, 73 % water 3.39.
        ({"water": 72.0, "protein": 21.0, "fat": 6.0, "ash": 1.0}, 3.43),
        ({"water": 73.0, "protein": 22.0, "fat": 4.0, "ash": 1.0}, 3.39),
        # Geankoplis A.4-1 (found): potatoes, 75 % water 3.52.
        ({"water": 75.0, "protein": 2.0, "fat": 0.1, "carbohydrate": 20.3, "fibre": 1.7,
          "ash": 0.9}, 3.52),
    ],
)  # fmt: skip
def test_specific_heats_of_the_handbooks(food: dict[str, float], expected: float) -> None:
    """Measured and tabulated values scatter among each other by 5 %."""
    total = sum(food.values())
    found = food_properties(
        made_of(**{name: part / total for name, part in food.items()}), temperature_c=20.0
    )
    assert found.specific_heat_j_kgk / 1000.0 == pytest.approx(expected, rel=0.06)


@pytest.mark.parametrize("water", [0.889, 0.93])
def test_wet_foods_follow_siebel(water: float) -> None:
    """Siebel 1892 (from memory), matched by Geankoplis A.4-1: 0.837 + 3.349 x water.

    Asparagus and string beans; for drier foods Siebel is known to be low.
    """
    found = food_properties(made_of(water=water, carbohydrate=(1 - water)), temperature_c=20.0)
    assert found.specific_heat_j_kgk / 1000.0 == pytest.approx(0.837 + 3.349 * water, rel=0.04)


@pytest.mark.parametrize("water", [0.75, 0.85])
def test_wet_foods_follow_earle(water: float) -> None:
    """NZIFST, Unit Operations, appendix 7 (found): 4.19 p + 0.84 (1 - p), 0.55 p + 0.26 (1 - p).

    At 75 % water 3.35 kJ/(kg K) and 0.4775 W/(m K).  Earle's dry part is a round figure for
    all foods: within 10 % (conductivity 15 %, his water is cold).
    """
    dry = 1.0 - water
    found = food_properties(
        made_of(water=water, protein=dry / 3, carbohydrate=dry / 3, fat=dry / 3), temperature_c=20.0
    )
    assert found.specific_heat_j_kgk / 1000.0 == pytest.approx(4.19 * water + 0.84 * dry, rel=0.10)
    assert found.conductivity_w_mk == pytest.approx(0.55 * water + 0.26 * dry, rel=0.15)


def test_potato_spreads_heat_as_measured() -> None:
    """Kubota and co-workers (found, J-STAGE nskkk 28:181): 1.85e-7 m2/s; ours within 20 %."""
    found = food_properties(builtin_dishes()["whole-potatoes"].composition, temperature_c=80.0)
    assert found.diffusivity_m2_s == pytest.approx(1.85e-7, rel=0.2)


def test_heating_two_litres_of_water() -> None:
    """2 kg from 20 to 95 C: 628 kJ (IAPWS by CoolProp, recomputed): 0.7 %."""
    temperatures = np.linspace(20.0, 95.0, 76)
    heats = [
        food_properties(made_of(water=1.0), temperature_c=float(t)).specific_heat_j_kgk
        for t in temperatures
    ]
    assert 2.0 * np.trapezoid(heats, temperatures) / 1000.0 == pytest.approx(628.0, rel=0.007)


@pytest.mark.parametrize(
    ("feet", "expected_f", "tolerance_f"),
    [
        (0, 212.0, 0.3),
        # CSU, "High Altitude Food Preparation" (found at studylib.net 18254902): 203 F.
        (5000, 203.0, 1.0),
        # Rule of thumb, common practice, no source: about 1 C (1.8 F) for every 1000 ft.
        (10000, 193.0, 2.0),
    ],
)
def test_boiling_point_by_altitude(feet: float, expected_f: float, tolerance_f: float) -> None:
    found_f = boiling_c(elevation_m=feet * 0.3048) * 1.8 + 32.0
    assert found_f == pytest.approx(expected_f, abs=tolerance_f)


@pytest.mark.parametrize(
    ("pressure_pa", "expected_c"),
    # IAPWS saturation line, steam tables (from memory): 99.97, 95.0, 90.0, 85.0 C.
    [(101325.0, 99.97), (84609.0, 95.0), (70182.0, 90.0), (57867.0, 85.0)],
)
def test_boiling_by_pressure(pressure_pa: float, expected_c: float) -> None:
    """Antoine's constants are good to 0.1 C there."""
    assert float(boiling_at_pressure_c(pressure_pa)) == pytest.approx(expected_c, abs=0.1)


def test_shapes_are_kept_and_what_is_not_known_stays_unknown() -> None:
    found = boiling_at_pressure_c([[101325.0, np.nan]])
    assert found.shape == (1, 2)
    assert np.isnan(found[0, 1])


def test_shares_that_miss_their_sum_are_refused() -> None:
    with pytest.raises(ValueError, match="sum to 1"):
        food_properties(made_of(water=0.5))


def test_standard_pressure() -> None:
    """ICAO standard atmosphere (from memory): 89875 Pa at 1000 m, 70109 Pa at 3000 m."""
    assert standard_pressure_pa([1000.0, 3000.0]) == pytest.approx([89875.0, 70109.0], rel=1e-3)


@settings(deadline=None)
@given(share=st.floats(0.0, 1.0), at_c=st.floats(0.0, 100.0))
def test_a_mixture_lies_between_its_parts(share: float, at_c: float) -> None:
    mixture = food_properties(made_of(water=share, fat=1.0 - share), temperature_c=at_c)
    ends = [food_properties(made_of(**{n: 1.0}), temperature_c=at_c) for n in ("water", "fat")]
    low, high = sorted(end.specific_heat_j_kgk for end in ends)
    assert low - 1e-6 <= mixture.specific_heat_j_kgk <= high + 1e-6
    low, high = sorted(end.density_kg_m3 for end in ends)
    assert low - 1e-6 <= mixture.density_kg_m3 <= high + 1e-6


def test_every_table_names_every_component() -> None:
    names = {"water", "protein", "fat", "carbohydrate", "fibre", "ash"}
    assert set(SPECIFIC_HEAT) == set(CONDUCTIVITY) == set(DENSITY) == names


@pytest.mark.parametrize("key", sorted(builtin_dishes()))
def test_every_dish_is_a_plausible_food(key: str) -> None:
    """Unfrozen food: specific heat 1.5 to 4.2 kJ/(kg K), diffusivity 1 to 2 e-7 m2/s (ASHRAE)."""
    found = food_properties(builtin_dishes()[key].composition)
    assert 1500.0 < found.specific_heat_j_kgk < 4200.0
    assert 1.0e-7 < found.diffusivity_m2_s < 2.0e-7
