"""Figures of merit against the standards' formulas, worked out by another hand.

Mullick, Kandpal and Saxena, Solar Energy 39 (1987) 353 (formulas from memory, values
recomputed); ASAE S580 sections 7.1 to 7.8 (formulas found, coursehero p5191nit).
"""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from suntrack.box.standard_figures import (
    cooking_power_w,
    first_figure_k_m2_w,
    heating_time_s,
    power_line,
    second_figure,
    standard_power_w,
)

WATER_J_K_M2 = 8.0 * 4186.0


@pytest.mark.parametrize(
    ("level_w_m2", "air_c", "cold_c", "hot_c", "minutes"),
    [
        (800, 30, 60, 90, 101.49),
        (600, 30, 60, 90, 209.76),
        (800, 30, 30, 95, 189.27),
        (900, 30, 30, 100, 174.90),
    ],
)
def test_heating_time(
    level_w_m2: float, air_c: float, cold_c: float, hot_c: float, minutes: float
) -> None:
    """F1 0.12, F2 0.40, 8 kg for each square metre; and F2 back from the time."""
    found_s = heating_time_s(
        0.12,
        f2=0.40,
        water_j_k_m2=WATER_J_K_M2,
        cold_c=cold_c,
        hot_c=hot_c,
        air_c=air_c,
        level_w_m2=level_w_m2,
    )
    assert found_s / 60.0 == pytest.approx(minutes, abs=0.05)
    back = second_figure(
        0.12,
        water_j_k_m2=WATER_J_K_M2,
        heating_s=minutes * 60.0,
        cold_c=cold_c,
        hot_c=hot_c,
        air_c=air_c,
        level_w_m2=level_w_m2,
    )
    assert back == pytest.approx(0.40, abs=0.0005)


def test_water_cannot_pass_the_standstill() -> None:
    """T_w has to be below T_a + F1 H: 30 + 72 C here."""
    with pytest.raises(ValueError, match="below 102"):
        heating_time_s(
            0.12,
            f2=0.4,
            water_j_k_m2=WATER_J_K_M2,
            cold_c=60.0,
            hot_c=102.0,
            air_c=30.0,
            level_w_m2=600.0,
        )


def test_first_figure_is_its_definition() -> None:
    """126 C in 800 W/m2 at 30 C is exactly grade A, 0.12."""
    assert first_figure_k_m2_w(126.0, air_c=30.0, level_w_m2=800.0) == pytest.approx(0.12)


def test_power_of_one_interval() -> None:
    """6.0 K in 10 minutes, 2.45 kg, 850 W/m2: 102.56 W, standard 84.46 W (recomputed)."""
    power = cooking_power_w(6.0, water_kg=2.45)
    assert power == pytest.approx(102.56, abs=0.01)
    assert standard_power_w(power, normal_w_m2=850.0) == pytest.approx(84.46, abs=0.01)


@given(st.floats(10, 300), st.floats(0.1, 5))
def test_a_straight_line_comes_back(still_w: float, slope_w_k: float) -> None:
    difference = np.array([10.0, 20.0, 35.0, 60.0])
    line = power_line(still_w - slope_w_k * difference, difference_k=difference)
    assert line.still_w == pytest.approx(still_w, rel=1e-6)
    assert line.slope_w_k == pytest.approx(slope_w_k, rel=1e-6)
    assert line.at_50_w == pytest.approx(still_w - 50 * slope_w_k, abs=1e-6)
    assert line.r2 == pytest.approx(1.0)


def test_scatter_lowers_r2_as_in_numpy() -> None:
    """r2 of a straight line is the square of the correlation (numpy as the reference)."""
    difference, power = [10.0, 20.0, 30.0, 40.0, 50.0], [60.0, 57.0, 41.0, 44.0, 30.0]
    expected = np.corrcoef(difference, power)[0, 1] ** 2
    assert power_line(power, difference_k=difference).r2 == pytest.approx(expected)


def test_two_points_are_no_line() -> None:
    with pytest.raises(ValueError, match="3 or more"):
        power_line([1.0, 2.0], difference_k=[1.0, 2.0])
