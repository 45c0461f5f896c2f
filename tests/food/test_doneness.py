"""Doneness: the cook value against its definition and published multipliers."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from suntrack.food.core import core_history, shells
from suntrack.food.dish import CookValue, CoreReaches
from suntrack.food.doneness import (
    boiled_requirement_min,
    cook_value_min,
    done_share,
    minutes_at,
)
from suntrack.food.properties import FoodProperties, boiling_c

BEANS = CookValue(minutes=60.0, z_c=19.0, floor_c=80.0)
histories = st.lists(st.floats(5.0, 99.0), min_size=5, max_size=40).map(np.array)


@pytest.mark.parametrize(
    ("at_c", "by_z"),
    [
        (98, {16: 1.33, 19: 1.27, 26: 1.19, 33: 1.15, 50: 1.10}),
        (95, {16: 2.05, 19: 1.83, 26: 1.56, 33: 1.42, 50: 1.26}),
        (90, {16: 4.22, 19: 3.36, 26: 2.42, 33: 2.01, 50: 1.58}),
        (85, {16: 8.66, 19: 6.16, 26: 3.78, 33: 2.85, 50: 2.00}),
        (75, {16: 36.5, 19: 20.7, 26: 9.15, 33: 5.72, 50: 3.16}),
    ],
)
def test_minutes_stretch_below_the_boil(at_c: float, by_z: dict[int, float]) -> None:
    """10^((100 - T)/z), the definition (Mansfield 1962, from memory), to its printed digits."""
    for z, expected in by_z.items():
        assert minutes_at(at_c, requirement_min=1.0, z_c=z) == pytest.approx(expected, rel=0.005)


def test_beans_are_not_collagen() -> None:
    """A 75-minute boil takes 252 min at 90 C with z 19 (Quast and da Silva 1977), not 151."""
    assert minutes_at(90.0, requirement_min=75.0, z_c=19.0) == pytest.approx(252.0, rel=0.01)
    assert minutes_at(90.0, requirement_min=75.0, z_c=33.0) == pytest.approx(151.0, rel=0.01)


def test_z_from_an_activation_energy() -> None:
    """Green pea hardness, 94.9 kJ/mol at 102.7 C is z 28.5 C (Van Loey 1995, found)."""
    kelvin = 102.7 + 273.15
    assert 2.303 * 8.314 * kelvin**2 / 94.9e3 == pytest.approx(28.5, rel=0.01)


@pytest.mark.parametrize("z", [26.0, 33.0])
def test_boiling_takes_longer_in_the_mountains(z: float) -> None:
    """University of Wyoming (found): 4 to 11 % for every 1000 ft, so 1.20 to 1.6 at 5000 ft."""
    factor = minutes_at(boiling_c(elevation_m=1524.0), requirement_min=1.0, z_c=z)
    assert 1.20 < factor < 1.60


def test_a_steady_hour_at_the_reference_is_an_hour() -> None:
    core_c = np.full(61, 100.0)
    found = cook_value_min(core_c, step_s=60.0, z_c=33.0, floor_c=70.0)
    assert found[0] == 0.0
    assert found[-1] == pytest.approx(60.0)


def test_a_recipe_at_home_is_worth_less_up_high() -> None:
    assert boiled_requirement_min(75.0, z_c=19.0, home_boiling_c=100.0) == pytest.approx(75.0)
    assert boiled_requirement_min(75.0, z_c=19.0, home_boiling_c=95.0) == pytest.approx(
        75.0 / 1.83, rel=0.01
    )


@pytest.mark.parametrize(
    ("thickness_mm", "minutes", "core_c", "value_z33"),
    [(50, 25, 94.6, 5.6), (60, 30, 90.7, 4.4), (70, 35, 86.3, 3.5)],
)
def test_boiled_potatoes(
    thickness_mm: float, minutes: float, core_c: float, value_z33: float
) -> None:
    """Whole potatoes boiled at home, by an independent one-dimensional run.

    alpha 1.5e-7, k 0.58, h 1000: core within 1 K, cook value within 0.3 min.
    """
    potato = FoodProperties(
        specific_heat_j_kgk=3600.0, conductivity_w_mk=0.58, density_kg_m3=0.58 / 1.5e-7 / 3600.0
    )
    parts = shells(
        "sphere",
        thickness_m=thickness_mm / 1000.0,
        mass_kg=1.0,
        properties=potato,
        film_w_m2k=1000.0,
        cells=30,
    )
    core = core_history(np.full(int(minutes * 6), 100.0), parts=parts, start_c=20.0, step_s=10.0)
    value = cook_value_min(core, step_s=10.0, z_c=33.0, floor_c=50.0)
    assert core[-1] == pytest.approx(core_c, abs=1.0)
    assert value[-1] == pytest.approx(value_z33, abs=0.3)


@given(core_c=histories, warmer=st.floats(0.0, 20.0))
def test_hotter_is_never_less_done(core_c: np.ndarray, warmer: float) -> None:
    for rule in (BEANS, CoreReaches(core_c=72.0)):
        cool, hot = (
            done_share(core_c + extra, step_s=600.0, doneness=rule) for extra in (0.0, warmer)
        )
        assert np.all(hot >= cool - 1e-9)


@given(core_c=histories)
def test_done_stays_done(core_c: np.ndarray) -> None:
    for rule in (BEANS, CoreReaches(core_c=72.0)):
        share = done_share(core_c, step_s=600.0, doneness=rule)
        assert np.all(np.diff(share) >= 0.0)


@given(core_c=histories, delay=st.integers(1, 4))
def test_a_later_start_is_never_done_earlier(core_c: np.ndarray, delay: int) -> None:
    early = np.concatenate(([0.0], core_c))
    later = np.concatenate((np.zeros(delay), early[:-delay]))
    early_share = done_share(early, step_s=600.0, doneness=BEANS)
    late_share = done_share(later, step_s=600.0, doneness=BEANS)
    assert np.all(late_share <= early_share + 1e-9)


def test_nothing_counts_below_the_floor() -> None:
    assert done_share(np.full(100, 79.9), step_s=600.0, doneness=BEANS)[-1] == 0.0
