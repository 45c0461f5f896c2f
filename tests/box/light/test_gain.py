"""Light into the whole box: closed forms for a box of nearly no glass, limits, energy."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from suntrack.box.build import Box, Glazing, Layer, Mirror
from suntrack.box.light.gain import box_light
from suntrack.box.light.glass import stack_shares

BOX = Box(
    name="test",
    width_m=0.5,
    depth_m=0.5,
    height_m=0.3,
    top=Glazing(glasses=2),
    front=Glazing(glasses=1),
    mirror=Mirror(length_m=0.5, width_m=0.5),
    walls=(Layer(material="plywood", thickness_m=0.01),),
    lining=Layer(material="aluminium", thickness_m=0.001),
)
NO_GLASS = Glazing(glasses=1, extinction_per_m=0.0, refractive_index=1.0 + 1e-9)
"""A pane that neither reflects nor absorbs: what is left is geometry."""
OPEN = replace(BOX, top=NO_GLASS, front=NO_GLASS, lining_absorptance=1.0)
"""The same box as a black hole: all that meets its openings stays inside."""


def sky(
    height_deg: float, beam_w_m2: float = 850.0, diffuse_w_m2: float = 90.0
) -> dict[str, float]:
    """Return the light of one moment, the sun due north."""
    above = max(0.0, float(np.sin(np.radians(height_deg))))
    return {
        "sun_elevation_deg": height_deg,
        "sun_azimuth_deg": 0.0,
        "beam_normal_w_m2": beam_w_m2,
        "diffuse_horizontal_w_m2": diffuse_w_m2,
        "global_horizontal_w_m2": diffuse_w_m2 + beam_w_m2 * above,
        "extraterrestrial_normal_w_m2": 1361.0,
    }


def taken_w(box: Box, **question: Any) -> float:
    """Return all light that stays in box and glass.  [W]"""
    found = box_light(box, **question)
    return float(found.inside_w + found.top_panes_w.sum(-1) + found.front_panes_w.sum(-1))


@pytest.mark.parametrize(
    ("height", "tilt", "frame", "gap", "psi"),
    [
        (45, 0, 0.0, 0.0, 90),
        (30, 15, 0.0, 0.0, 92),
        (55, 0, 0.04, 0.0, 95),
        (40, 10, 0.03, 0.02, 90),
    ],
)
def test_beam_on_the_axis_has_a_closed_form(
    height: float, tilt: float, frame: float, gap: float, psi: float
) -> None:
    """Beam alone, no glass: the flat-section formulas by hand, in a section of width W.

    With a = height + tilt over the glass: top L sin a; mirror from the heights that land
    between gap and gap + L, sin(psi - a) each; front H cos a.
    """
    mirror = Mirror(length_m=0.45, width_m=0.8, reflectance=0.85, hinge_gap_m=gap)
    box = replace(OPEN, mirror=mirror, top_frame_m=frame, tilt_deg=tilt)
    found = box_light(
        box, **sky(height, diffuse_w_m2=0.0), face_deg=0.0, mirror_deg=psi, albedo=0.0
    )
    a, p = np.radians(height + tilt), np.radians(psi)
    length = width = 0.5 - 2.0 * frame
    run = np.sin(p - a) / np.sin(2.0 * p - a)  # glass lit by a metre of mirror
    low, high = ((gap + frame) / run, min(0.45, (gap + frame + length) / run))
    beam_w = {
        "top_w": 850.0 * width * length * np.sin(a),
        "mirror_w": 0.85 * 850.0 * width * (high - low) * np.sin(p - a),
        "front_w": 850.0 * 0.5 * 0.3 * np.cos(a),
    }
    for part, expected in beam_w.items():
        assert float(getattr(found, part)) == pytest.approx(float(expected), rel=1e-6)
    assert float(found.inside_w) == pytest.approx(float(sum(beam_w.values())), rel=1e-6)


def test_even_sky_has_a_closed_form() -> None:
    """No beam, no glass: the top sees all of the sky less (1 - rho) F, the front half of it.

    F = 1 - 1/sqrt 2 for a mirror as long as the glass, square to it; the other half of
    what the front sees is ground.
    """
    light = sky(40.0, beam_w_m2=0.0, diffuse_w_m2=200.0)
    found = box_light(OPEN, **light, face_deg=77.0, mirror_deg=90.0, albedo=0.3)
    hidden = 1.0 - 0.5**0.5
    assert float(found.top_w) == pytest.approx(200.0 * 0.25 * (1.0 - 0.15 * hidden))
    assert float(found.front_w) == pytest.approx(200.0 * 0.15 * 0.5 * (1.0 + 0.3))
    assert float(found.mirror_w) == 0.0


@pytest.mark.parametrize(
    ("front", "aperture_m2", "inner_m2"), [(NO_GLASS, 0.25 + 0.15, 0.7), (None, 0.25, 0.85)]
)
def test_a_bright_lining_sends_some_light_out_again(
    front: Glazing | None, aperture_m2: float, inner_m2: float
) -> None:
    """Cavity formula by hand: 0.5 x 0.5 floor, 0.5 x 0.3 walls, three of them dark or four."""
    box = replace(OPEN, mirror=None, front=front)
    dark, bright = (
        float(box_light(shade, **sky(50.0), face_deg=0.0, mirror_deg=90.0).inside_w)
        for shade in (box, replace(box, lining_absorptance=0.8))
    )
    assert bright / dark == pytest.approx(0.8 / (0.8 + 0.2 * aperture_m2 / inner_m2))


def test_ground_light_passes_the_glass_at_its_own_angle() -> None:
    """No light but the ground's on a top leaned 25: 77.2 degrees (Brandemuehl and Beckman)."""
    box = replace(BOX, mirror=None, front=None, tilt_deg=25.0, lining_absorptance=1.0)
    light = {**sky(40.0, beam_w_m2=0.0, diffuse_w_m2=0.0), "global_horizontal_w_m2": 600.0}
    found = box_light(box, **light, face_deg=0.0, mirror_deg=90.0, albedo=0.5)
    seen = (1.0 - np.cos(np.radians(25.0))) / 2.0
    angle = 90.0 - 0.5788 * 25.0 + 0.002693 * 25.0**2
    passed = float(stack_shares(angle, panes=2).transmittance)
    assert float(found.inside_w) == pytest.approx(600.0 * 0.5 * seen * 0.25 * passed)


@pytest.mark.parametrize(
    ("offset", "loss"),
    [
        (5, 0.4),
        (7.5, 0.9),
        (10, 1.5),
        (15, 3.4),
        (20, 6.0),
        (25, 9.4),
        (30, 13.4),
        (45, 29.3),
        (60, 50.0),
    ],
)
def test_front_loses_the_cosine_of_its_mis_aim(offset: float, loss: float) -> None:
    """1 - cos g in percent (closed form, printed to 0.1), before glass, beam alone."""
    light = sky(40.0, diffuse_w_m2=0.0)
    found = box_light(OPEN, **light, face_deg=np.array([offset, 0.0]), mirror_deg=90.0, albedo=0.0)
    kept = float(found.front_w[0] / found.front_w[1])
    assert 100.0 * (1.0 - kept) == pytest.approx(loss, abs=0.06)


def test_a_mirror_as_long_as_the_glass_brings_much_more_through_the_top() -> None:
    """About 70 % more near noon at middle sun heights (common practice, no source); 10 points."""
    more = []
    for height in (40.0, 50.0, 60.0):
        found = box_light(BOX, **sky(height), face_deg=0.0, mirror_deg=60.0 + 2.0 * height / 3.0)
        more.append(float(found.mirror_w / found.top_w))
    assert float(np.mean(more)) == pytest.approx(0.70, abs=0.10)


@settings(deadline=None)
@given(
    height=st.floats(-10.0, 90.0),
    face=st.floats(-180.0, 180.0),
    psi=st.floats(60.0, 130.0),
    tilt=st.floats(0.0, 25.0),
)
def test_glass_makes_no_light(height: float, face: float, psi: float, tilt: float) -> None:
    """Inside and panes of a glazed box hold less than the same box without glass takes in."""
    light = sky(height, beam_w_m2=850.0 if height > 0 else 0.0)
    aim = {"face_deg": face, "mirror_deg": psi}
    glazed, bare = (taken_w(replace(box, tilt_deg=tilt), **light, **aim) for box in (BOX, OPEN))
    assert 0.0 <= glazed < bare
    found = box_light(replace(BOX, tilt_deg=tilt), **light, **aim)
    parts = found.top_w + found.front_w + found.mirror_w
    assert float(parts) == pytest.approx(float(found.inside_w))


def test_panes_take_what_their_share_says() -> None:
    """One beam, straight down on two panes of a bare level box: shares of the stack at 0."""
    bare = replace(BOX, mirror=None, front=None, lining_absorptance=1.0)
    found = box_light(bare, **sky(90.0, diffuse_w_m2=0.0), face_deg=0.0, mirror_deg=90.0)
    shares = stack_shares(0.0, panes=2)
    assert found.top_panes_w == pytest.approx(850.0 * 0.25 * shares.absorptance)
    assert float(found.inside_w) == pytest.approx(850.0 * 0.25 * float(shares.transmittance))
    assert found.top_panes_w[0] > found.top_panes_w[1] > 0.0


@settings(deadline=None)
@given(height=st.floats(5.0, 85.0), offset=st.floats(0.0, 180.0))
def test_left_and_right_of_the_sun_are_alike(height: float, offset: float) -> None:
    found = box_light(
        BOX, **sky(height), face_deg=np.array([offset, -offset]), mirror_deg=95.0
    ).inside_w
    assert found[0] == pytest.approx(found[1])


def test_the_top_does_not_care_where_the_box_faces() -> None:
    """Beam through a level top pane is independent of azimuth, mirror apart."""
    bare = replace(BOX, mirror=None)
    found = box_light(bare, **sky(50.0), face_deg=np.array([0.0, 90.0, 200.0]), mirror_deg=90.0)
    assert np.ptp(found.top_w) == pytest.approx(0.0, abs=1e-9)
    assert found.front_w[0] > found.front_w[1] > 0.0


def test_a_mirror_between_sun_and_glass_takes_light_away() -> None:
    aside, bare = (
        float(box_light(box, **sky(35.0), face_deg=180.0, mirror_deg=90.0).top_w)
        for box in (BOX, replace(BOX, mirror=None))
    )
    assert aside < 0.5 * bare


def test_mirror_and_front_can_be_left_out() -> None:
    solid = replace(BOX, front=None, mirror=None)
    found = box_light(solid, **sky(50.0), face_deg=0.0, mirror_deg=np.nan)
    assert float(found.mirror_w) == 0.0
    assert float(found.front_w) == 0.0
    assert found.front_panes_w.shape == (0,)
    assert float(found.top_w) > 50.0


def test_a_low_sun_favours_the_front() -> None:
    low, high = (box_light(BOX, **sky(h), face_deg=0.0, mirror_deg=90.0) for h in (15.0, 75.0))
    assert float(low.front_w / low.top_w) > 1.0 > float(high.front_w / high.top_w)


def test_a_sun_behind_the_skyline_leaves_the_sky_alone() -> None:
    light = sky(20.0)
    hidden = box_light(OPEN, **light, face_deg=0.0, mirror_deg=80.0, skyline_height_deg=25.0)
    assert float(hidden.mirror_w) == 0.0
    assert 0.0 < float(hidden.top_w) <= 90.0 * 0.25


@pytest.mark.parametrize("height", [-90.0, -20.0, -0.001, 0.0])
def test_no_light_at_night_and_never_nan(height: float) -> None:
    dark = sky(height, beam_w_m2=0.0, diffuse_w_m2=0.0)
    found = box_light(BOX, **dark, face_deg=np.arange(0.0, 360.0, 30.0), mirror_deg=90.0)
    for part in (found.inside_w, found.top_panes_w, found.front_panes_w):
        assert (part == 0.0).all()


def test_nan_weather_stays_nan() -> None:
    found = box_light(BOX, **sky(40.0, beam_w_m2=np.nan), face_deg=0.0, mirror_deg=90.0)
    assert np.isnan(found.inside_w)


@pytest.mark.parametrize("box", [BOX, replace(BOX, mirror=None), replace(BOX, front=None)])
def test_members_aims_and_steps_broadcast(box: Box) -> None:
    """Weather (members, 1, steps) against mirrors (aims, 1); one cell equals it asked alone."""
    rng = np.random.default_rng(7)
    beam = rng.uniform(0.0, 900.0, (3, 1, 4))
    heights = np.array([20.0, 40.0, 60.0, 50.0])
    light: dict[str, Any] = {
        **sky(40.0),
        "sun_elevation_deg": heights,
        "beam_normal_w_m2": beam,
    }
    faces, mirrors = np.array([[0.0], [40.0]]), np.array([[80.0], [95.0]])
    found = box_light(box, **light, face_deg=faces, mirror_deg=mirrors)
    assert found.inside_w.shape == (3, 2, 4)
    assert found.mirror_w.shape == (3, 2, 4)
    assert found.top_panes_w.shape == (3, 2, 4, 2)
    assert found.front_panes_w.shape == (3, 2, 4, 0 if box.front is None else 1)
    one = {**light, "sun_elevation_deg": heights[2], "beam_normal_w_m2": beam[1, 0, 2]}
    alone = box_light(box, **one, face_deg=40.0, mirror_deg=95.0)
    assert float(alone.inside_w) == pytest.approx(found.inside_w[1, 1, 2])
