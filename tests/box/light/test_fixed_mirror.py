"""A mirror that stays put, against closed forms and the search for a single sun."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from hypothesis.extra.numpy import arrays
from numpy.typing import NDArray

from suntrack.box.build import Box, Glazing, Layer, Mirror
from suntrack.box.light.fixed_mirror import best_fixed, kept_at, mirror_table
from suntrack.box.light.mirror import best_fixed_mirror_deg

RHO = 0.85
AIR = Glazing(glasses=1, refractive_index=1.000001, extinction_per_m=0.0)
"""Glass that is not there, so that geometry alone is left."""
OPEN = Box(
    name="open",
    width_m=1.0,
    depth_m=1.0,
    height_m=0.3,
    top=AIR,
    front=None,
    mirror=Mirror(length_m=1.0, width_m=1.0, reflectance=RHO),
    walls=(Layer(material="plywood", thickness_m=0.01),),
    lining=Layer(material="aluminium", thickness_m=0.001),
    lining_absorptance=1.0,
)
MIRRORS = np.arange(60.0, 130.5, 0.5)


def beam(heights_deg: list[float]) -> dict[str, NDArray[np.float64]]:
    """Return suns without a sky, so strong that a square metre gets 1000 W/m2."""
    heights = np.array(heights_deg)
    none = np.zeros_like(heights)
    return {
        "sun_elevation_deg": heights,
        "sun_azimuth_deg": none + 77.0,
        "beam_normal_w_m2": none + 1000.0,
        "diffuse_horizontal_w_m2": none,
        "global_horizontal_w_m2": 1000.0 * np.sin(np.radians(heights)),
        "extraterrestrial_normal_w_m2": none + 1361.0,
    }


def table(heights_deg: list[float], box: Box = OPEN) -> NDArray[np.float64]:
    return mirror_table(box, mirrors_deg=MIRRORS, **beam(heights_deg))


@pytest.mark.parametrize("height", [30.0, 45.0, 60.0, 75.0])
def test_for_one_sun_the_fixed_mirror_is_the_best_and_keeps_all(height: float) -> None:
    """3 psi - 2 a = 180 for equal lengths (Algifri and Al-Towaie 2001, attribution found)."""
    found = best_fixed(table([height]), mirrors_deg=MIRRORS)
    assert found.mirror_deg == pytest.approx(60.0 + 2.0 * height / 3.0, abs=0.25)
    assert found.light_kept == 1.0


def test_light_is_the_closed_form_of_the_mirror() -> None:
    """L sin a + rho min(H sin(psi - a), L sin(2 psi - a)), all 1 m, nothing lost in glass."""
    heights = [30.0, 50.0]
    a, psi = np.radians(heights), np.radians(MIRRORS)[:, None]
    thrown = np.minimum(np.sin(psi - a), np.sin(2 * psi - a))
    expected = 1000.0 * (np.sin(a) + RHO * np.maximum(thrown, 0.0))
    ahead = psi > a
    found = table(heights)
    # A sun behind the mirror is shadow, which is another form.
    assert found[ahead] == pytest.approx(np.broadcast_to(expected, found.shape)[ahead], rel=1e-5)


def test_two_suns_are_balanced_as_their_closed_form_is() -> None:
    """Suns 30 and 60 high: between 80 and 100 the low one wants less, the high one more."""
    psi = np.radians(MIRRORS)
    low, high = np.radians(30.0), np.radians(60.0)
    inside = [
        np.sin(a) + RHO * np.maximum(np.minimum(np.sin(psi - a), np.sin(2 * psi - a)), 0.0)
        for a in (low, high)
    ]
    total = inside[0] + inside[1]
    found = best_fixed(table([30.0, 60.0]), mirrors_deg=MIRRORS)
    assert found.mirror_deg == MIRRORS[total.argmax()]
    best = inside[0].max() + inside[1].max()
    assert found.light_kept == pytest.approx(float(total.max() / best), rel=1e-5)
    assert found.light_kept < 1.0


def test_without_glass_the_search_by_geometry_finds_the_same_angle() -> None:
    """Another way to the same answer: areas square to the beam instead of light inside.

    One step of the table apart at most: the kink is steeper on its far side.
    """
    heights = [20.0, 35.0, 50.0, 62.0, 50.0, 35.0, 20.0]
    geometric = best_fixed_mirror_deg(
        sun_elevation_deg=heights,
        sun_offset_deg=0.0,
        lowest_deg=60.0,
        highest_deg=130.0,
        reflectance=RHO,
        top_length_m=1.0,
        top_width_m=1.0,
        mirror_length_m=1.0,
        mirror_width_m=1.0,
    )
    found = best_fixed(table(heights), mirrors_deg=MIRRORS)
    assert found.mirror_deg == pytest.approx(geometric, abs=0.5)


def test_a_month_of_one_day_is_that_day() -> None:
    day = [25.0, 50.0, 70.0, 50.0, 25.0]
    once = best_fixed(table(day), mirrors_deg=MIRRORS)
    often = best_fixed(table(day * 30), mirrors_deg=MIRRORS)
    assert often.mirror_deg == once.mirror_deg
    assert often.light_kept == pytest.approx(once.light_kept)


def test_without_a_mirror_every_angle_is_the_same() -> None:
    bare = table([30.0, 60.0], box=replace(OPEN, mirror=None))
    assert bare.shape == (MIRRORS.size, 2)
    assert np.ptp(bare, axis=0) == pytest.approx([0.0, 0.0], abs=1e-9)


@given(arrays(np.float64, (4, 6), elements=st.floats(0.0, 1e3)))
def test_no_fixed_mirror_beats_a_followed_one_nor_the_best_fixed(
    inside_w: NDArray[np.float64],
) -> None:
    mirrors = np.array([70.0, 80.0, 90.0, 100.0])
    best = best_fixed(inside_w, mirrors_deg=mirrors)
    assert 0.0 <= best.light_kept <= 1.0 + 1e-12
    for row in range(4):
        kept = kept_at(inside_w, row=row, mirrors_deg=mirrors).light_kept
        assert kept <= best.light_kept + 1e-12


def test_in_the_dark_there_is_nothing_to_lose() -> None:
    assert best_fixed(np.zeros((3, 5)), mirrors_deg=np.array([80.0, 90.0, 100.0])).light_kept == 1.0
