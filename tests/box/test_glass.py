"""Glass against the handbook's examples, closed forms and invariants.

D&B is Duffie and Beckman, "Solar Engineering of Thermal Processes", chapter 5; the values
are from memory and were recomputed from the printed equations.
"""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from suntrack.box.glass import (
    cavity_absorptance,
    diffuse_incidence_deg,
    ground_incidence_deg,
    hemispherical_transmittance,
    stack_shares,
)


def with_depth(depth: float) -> dict[str, float]:
    """Return a glass 4 mm thick whose extinction times thickness is `depth`."""
    return {"extinction_per_m": depth / 0.004, "thickness_m": 0.004}


@pytest.mark.parametrize(
    ("panes", "incidence_deg", "expected"),
    [(1, 0, 0.917), (1, 60, 0.842), (2, 0, 0.85), (2, 60, 0.76)],
)
def test_clear_covers_of_the_handbook(panes: int, incidence_deg: float, expected: float) -> None:
    """D&B example 5.1.2: two covers that absorb nothing, 0.85 head-on and 0.76 at 60 degrees."""
    found = stack_shares(incidence_deg, panes=panes, extinction_per_m=0.0)
    assert float(found.transmittance) == pytest.approx(expected, abs=0.005)


def test_absorbing_cover_of_the_handbook() -> None:
    """D&B example 5.3.1: 2.3 mm, 32 /m, 60 degrees: 0.768, 0.147, 0.085."""
    found = stack_shares(60.0, extinction_per_m=32.0, thickness_m=0.0023)
    shares = [found.transmittance, found.reflectance, found.absorptance[0]]
    assert [float(share) for share in shares] == pytest.approx([0.768, 0.147, 0.085], abs=0.001)


@pytest.mark.parametrize(
    ("depth", "panes", "expected"),
    [
        (0.0125, 1, (0.9054, 0.9024, 0.8768, 0.8290, 0.7113, 0.4454, 0.8328)),
        (0.0125, 2, (0.8254, 0.8218, 0.7929, 0.7349, 0.5838, 0.2940, 0.7404)),
        (0.0370, 1, (0.8835, 0.8792, 0.8520, 0.8041, 0.6879, 0.4269, 0.8094)),
        (0.0370, 2, (0.7856, 0.7798, 0.7481, 0.6903, 0.5445, 0.2667, 0.6989)),
        (0.0524, 1, (0.8699, 0.8650, 0.8368, 0.7888, 0.6737, 0.4159, 0.7951)),
        (0.0524, 2, (0.7615, 0.7545, 0.7213, 0.6637, 0.5214, 0.2514, 0.6741)),
        (0.0800, 1, (0.8462, 0.8400, 0.8102, 0.7622, 0.6490, 0.3972, 0.7701)),
        (0.0800, 2, (0.7203, 0.7113, 0.6757, 0.6188, 0.4826, 0.2269, 0.6321)),
    ],
)
def test_transmittance_table(depth: float, panes: int, expected: tuple[float, ...]) -> None:
    """The table behind D&B figure 5.3.1 (KL 0.0125, 0.0370, 0.0524), recomputed independently."""
    found = stack_shares([0, 30, 50, 60, 70, 80], panes=panes, **with_depth(depth))
    assert found.transmittance == pytest.approx(expected[:-1], abs=2e-4)
    even = hemispherical_transmittance(panes=panes, refractive_index=1.526, **with_depth(depth))
    assert even == pytest.approx(expected[-1], abs=5e-4)


@pytest.mark.parametrize(
    ("refractive_index", "incidence_deg", "expected", "tolerance"),
    [
        # D&B example 5.1.1: 0.185 and 0.001, mean 0.093 at 60 degrees.
        (1.526, 60.0, 0.0935, 0.0006),
        # 27.1 % for n 1.61 at 75 degrees: norayr.am, SCIFREFL.EQU (found).
        (1.61, 75.0, 0.271, 0.0005),
    ],
)
def test_single_interface(
    refractive_index: float, incidence_deg: float, expected: float, tolerance: float
) -> None:
    """A pane so dark that only its first face reflects shows that face alone."""
    found = stack_shares(
        incidence_deg, refractive_index=refractive_index, extinction_per_m=1e5, thickness_m=0.01
    )
    assert float(found.reflectance) == pytest.approx(expected, abs=tolerance)


def test_measured_clear_float() -> None:
    """Clear 4 mm float, solar direct: 0.819, 0.802, 0.761, 0.621, 0.376 (ESP-r, found).

    The angles are presumably 0, 40, 55, 70, 80; grey glass of K = 20 /m is only like it.
    """
    found = stack_shares([0, 40, 55, 70, 80], extinction_per_m=25.0)
    assert found.transmittance == pytest.approx([0.819, 0.802, 0.761, 0.621, 0.376], abs=0.03)


def test_clear_pane_head_on_has_a_closed_form() -> None:
    """Without absorption one pane passes 2n/(n^2 + 1) head-on."""
    found = stack_shares(0.0, refractive_index=1.526, extinction_per_m=0.0)
    assert float(found.transmittance) == pytest.approx(2 * 1.526 / (1.526**2 + 1), abs=1e-12)


@given(
    incidence=st.floats(0.0, 89.0),
    panes=st.integers(1, 4),
    index=st.floats(1.1, 2.0),
    depth=st.floats(0.0, 1.0),
)
def test_shares_sum_to_one(incidence: float, panes: int, index: float, depth: float) -> None:
    found = stack_shares(incidence, panes=panes, refractive_index=index, **with_depth(depth))
    total = found.transmittance + found.reflectance + found.absorptance.sum(axis=-1)
    assert float(total) == pytest.approx(1.0, abs=1e-9)
    assert float(found.transmittance) >= 0.0


@given(panes=st.integers(1, 3), depth=st.floats(0.0, 0.5))
def test_glass_darkens_as_the_sun_turns_away(panes: int, depth: float) -> None:
    """Non-increasing past the Brewster bump; flat within 3 % from 0 to 45 for one cover (D&B)."""
    found = stack_shares(np.arange(0.0, 91.0), panes=panes, **with_depth(depth)).transmittance
    assert np.all(np.diff(found) < 2e-3)
    assert found[90] == 0.0
    if panes == 1 and depth < 0.08:
        assert found[45] > 0.97 * found[0]


def test_sun_behind_gives_nothing_and_nan_stays_nan() -> None:
    found = stack_shares([[95.0, np.nan], [180.0, 0.0]], panes=2)
    assert found.transmittance.shape == (2, 2)
    assert found.absorptance.shape == (2, 2, 2)
    assert found.transmittance[0, 0] == 0.0
    assert np.isnan(found.transmittance[0, 1])


def test_thicker_and_doubled_glass_is_darker() -> None:
    thin, thick = (stack_shares(30.0, thickness_m=t).transmittance for t in (0.003, 0.006))
    double = stack_shares(30.0, thickness_m=0.003, panes=2).transmittance
    assert thin > thick > 0.0
    assert thin > double


def test_impossible_glass_is_refused() -> None:
    with pytest.raises(ValueError, match="above 1"):
        stack_shares(0.0, refractive_index=0.9)


def test_effective_angles_of_an_upright_pane() -> None:
    """Brandemuehl and Beckman 1980: 59.3 and 59.7 degrees at tilt 90 (recomputed)."""
    assert diffuse_incidence_deg(tilt_deg=90.0) == pytest.approx(59.3, abs=0.05)
    assert ground_incidence_deg(tilt_deg=90.0) == pytest.approx(59.7, abs=0.05)


def test_effective_angle_stands_for_the_hemisphere() -> None:
    """At tilt 0 the effective angle's transmittance is the hemispherical one, by definition."""
    glass = {"refractive_index": 1.526, **with_depth(0.037)}
    even = hemispherical_transmittance(panes=2, **glass)
    angle = diffuse_incidence_deg(tilt_deg=0.0)
    assert float(stack_shares(angle, panes=2, **glass).transmittance) == pytest.approx(
        even, abs=0.01
    )


def test_a_deep_dark_box_keeps_nearly_all() -> None:
    """Limits of the cavity formula: a black lining keeps all; a flat plate keeps its own share."""
    flat = cavity_absorptance(
        lining_absorptance=0.9, glass_transmittance=1.0, glass_m2=1.0, inner_m2=1.0
    )
    deep = cavity_absorptance(
        lining_absorptance=0.9, glass_transmittance=0.7, glass_m2=1.0, inner_m2=4.0
    )
    assert flat == pytest.approx(0.9)
    assert 0.97 < deep < 1.0
