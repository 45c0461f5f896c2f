"""Food and water against CoolProp, an independent library; skipped where it is not installed.

CoolProp 8 has the component equations of Choi and Okos 1986 as ASHRAE prints them
(INCOMP::Food...), and IAPWS-95 for water.
"""

from __future__ import annotations

from typing import Any

import numpy as np
import pytest

from suntrack.food.dish import Composition
from suntrack.food.properties import (
    boiling_at_pressure_c,
    boiling_c,
    food_properties,
    standard_pressure_pa,
)

reference: Any = pytest.importorskip("CoolProp.CoolProp", reason="CoolProp is not installed")

PARTS = {
    "protein": "FoodProtein",
    "fat": "FoodFat",
    "carbohydrate": "FoodCarbohydrate",
    "fibre": "FoodFiber",
    "ash": "FoodAsh",
    "water": "FoodWater",
}
KELVIN = 273.15
PRESSURE_PA = 101325.0


def pure(part: str) -> Composition:
    return Composition(**{name: float(name == part) for name in PARTS})


@pytest.mark.parametrize("at_c", [5.0, 20.0, 60.0, 80.0, 95.0])
@pytest.mark.parametrize("part", sorted(PARTS))
def test_components_are_the_references(part: str, at_c: float) -> None:
    """To 0.02 %; water's heat to 1.2 %: the reference prints 4.1289 where water has 4.1762."""
    found = food_properties(pure(part), temperature_c=at_c)
    fluid = f"INCOMP::{PARTS[part]}"
    heat, conductivity, density = (
        reference.PropsSI(key, "T", at_c + KELVIN, "P", PRESSURE_PA, fluid) for key in "CLD"
    )
    assert found.conductivity_w_mk == pytest.approx(conductivity, rel=2e-4)
    assert found.density_kg_m3 == pytest.approx(density, rel=2e-4)
    close = 0.012 if part == "water" else 2e-4
    assert found.specific_heat_j_kgk == pytest.approx(heat, rel=close)


@pytest.mark.parametrize("at_c", [10.0, 40.0, 60.0, 80.0, 95.0])
def test_water_of_food_is_water(at_c: float) -> None:
    """IAPWS-95: heat and density to 1 %, conductivity to 3 %, of real water."""
    found = food_properties(pure("water"), temperature_c=at_c)
    heat, conductivity, density = (
        reference.PropsSI(key, "T", at_c + KELVIN, "P", PRESSURE_PA, "Water") for key in "CLD"
    )
    assert found.specific_heat_j_kgk == pytest.approx(heat, rel=0.01)
    assert found.density_kg_m3 == pytest.approx(density, rel=0.01)
    assert found.conductivity_w_mk == pytest.approx(conductivity, rel=0.03)


def test_two_kilograms_of_water_to_95_degrees() -> None:
    """Enthalpy of IAPWS-95 from 20 to 95 C, 628 kJ for 2 kg; ours within 0.7 %."""
    enthalpies = [
        reference.PropsSI("H", "T", at_c + KELVIN, "P", PRESSURE_PA, "Water")
        for at_c in (20.0, 95.0)
    ]
    expected_kj = 2.0 * (enthalpies[1] - enthalpies[0]) / 1000.0
    assert expected_kj == pytest.approx(628.0, rel=0.002)
    at = np.linspace(20.0, 95.0, 76)
    heats = [food_properties(pure("water"), temperature_c=float(t)).specific_heat_j_kgk for t in at]
    assert 2.0 * np.trapezoid(heats, at) / 1000.0 == pytest.approx(expected_kj, rel=0.007)


@pytest.mark.parametrize("elevation_m", [-400.0, 0.0, 500.0, 1010.0, 1524.0, 2500.0, 4000.0])
def test_the_boil_up_to_the_mountains(elevation_m: float) -> None:
    """IAPWS-95's saturation line at the standard atmosphere's pressure: 0.1 K."""
    pressure_pa = float(standard_pressure_pa(elevation_m))
    expected_c = reference.PropsSI("T", "P", pressure_pa, "Q", 0, "Water") - KELVIN
    assert boiling_c(elevation_m=elevation_m) == pytest.approx(expected_c, abs=0.1)


@pytest.mark.parametrize("pressure_pa", [88000.0, 90500.0, 99000.0, 103500.0])
def test_the_boil_by_the_weathers_pressure(pressure_pa: float) -> None:
    """A deep low or a high moves the boil by about half a degree (IAPWS-95): 0.1 K."""
    expected_c = reference.PropsSI("T", "P", pressure_pa, "Q", 0, "Water") - KELVIN
    assert float(boiling_at_pressure_c(pressure_pa)) == pytest.approx(expected_c, abs=0.1)
