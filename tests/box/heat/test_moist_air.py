"""Air and vapour against tables of others."""

from __future__ import annotations

import numpy as np
import pytest

from suntrack.box.heat.moist_air import (
    air_properties,
    evaporation_heat_j_kg,
    open_water_loss_w_m2k,
    vapour_density_kg_m3,
)


def test_air_at_60_c_as_in_the_handbook() -> None:
    """Duffie and Beckman, example 3.11.1 (from memory): k .029, nu 1.88e-5, alpha 2.69e-5."""
    air = air_properties(60.0)
    assert air.conductivity_w_mk == pytest.approx(0.029, rel=0.02)
    assert air.viscosity_m2_s == pytest.approx(1.88e-5, rel=0.02)
    assert air.diffusivity_m2_s == pytest.approx(2.69e-5, rel=0.02)


@pytest.mark.parametrize(
    ("water_c", "expected"),
    [(60, 0.1304), (70, 0.1984), (80, 0.2937), (90, 0.4239), (95, 0.5049), (100, 0.5982)],
)
def test_saturated_vapour(water_c: float, expected: float) -> None:
    """Densities by CoolProp / IAPWS (recomputed); an ideal gas is 1 to 2 % below them."""
    assert vapour_density_kg_m3(water_c) == pytest.approx(expected, rel=0.02)


@pytest.mark.parametrize(
    ("water_c", "expected"), [(60, 2.358e6), (80, 2.308e6), (90, 2.282e6), (100, 2.256e6)]
)
def test_heat_of_evaporation(water_c: float, expected: float) -> None:
    """IAPWS by CoolProp (recomputed)."""
    assert evaporation_heat_j_kg(water_c) == pytest.approx(expected, rel=0.002)


def test_open_pot_at_90_c_in_dry_air() -> None:
    """0.045 m2 lose about 240 W (recomputed with CoolProp, quite dry air)."""
    loss_w = 0.045 * np.asarray(open_water_loss_w_m2k(90.0, air_c=0.0)) * 90.0
    assert loss_w == pytest.approx(240.0, rel=0.05)


def test_vapour_is_a_conductance_even_without_a_difference() -> None:
    """Equal temperatures must not divide by zero; water colder than air gains, not loses."""
    loss = np.asarray(open_water_loss_w_m2k(np.array([10.0, 20.0, 30.0]), air_c=20.0))
    assert np.isfinite(loss).all()
    assert (loss > 0).all()
