"""Light into the whole box: limits, identities and what the trade knows."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from suntrack.box.aim import followed_gain, gain_matrix
from suntrack.box.build import Box, Glazing, Layer, Mirror
from suntrack.box.gain import box_light

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


def sky(
    height_deg: float, beam_w_m2: float = 850.0, diffuse_w_m2: float = 90.0
) -> dict[str, float]:
    return {
        "sun_elevation_deg": height_deg,
        "sun_azimuth_deg": 0.0,
        "beam_normal_w_m2": beam_w_m2,
        "diffuse_horizontal_w_m2": diffuse_w_m2,
        "global_horizontal_w_m2": diffuse_w_m2
        + beam_w_m2 * max(0.0, float(np.sin(np.radians(height_deg)))),
        "extraterrestrial_normal_w_m2": 1361.0,
    }


@pytest.mark.parametrize("height", [40.0, 50.0, 60.0])
def test_a_mirror_as_long_as_the_glass_brings_much_more_through_the_top(height: float) -> None:
    """About 70 % more near noon at middle heights (common practice, no source): 45 to 95 %."""
    found = box_light(BOX, **sky(height), face_deg=0.0, mirror_deg=60.0 + 2.0 * height / 3.0)
    assert 0.45 < float(found.mirror_w / found.top_w) < 0.95


@given(height=st.floats(-10.0, 90.0), face=st.floats(-180, 180), psi=st.floats(60.0, 130.0))
def test_nothing_is_made_from_nothing(height: float, face: float, psi: float) -> None:
    """Inside and panes together never exceed the light that meets glass and mirror."""
    light = sky(height, beam_w_m2=850.0 if height > 0 else 0.0)
    found = box_light(BOX, **light, face_deg=face, mirror_deg=psi)
    total = found.inside_w + found.top_panes_w.sum(-1) + found.front_panes_w.sum(-1)
    # Every surface that faces the sun at once can catch no more than this (areas 0.25, 0.25, 0.15).
    bound = 850.0 * 1.2 * (0.25 + 0.25 + 0.15) + 500.0 * 0.4
    assert 0.0 <= float(total) < bound
    parts = found.top_w + found.front_w + found.mirror_w
    assert float(parts) == pytest.approx(float(found.inside_w))


@given(height=st.floats(5.0, 85.0), offset=st.floats(0.0, 180.0))
def test_left_and_right_of_the_sun_are_alike(height: float, offset: float) -> None:
    left, right = (
        box_light(BOX, **sky(height), face_deg=turn, mirror_deg=95.0) for turn in (offset, -offset)
    )
    assert float(left.inside_w) == pytest.approx(float(right.inside_w))


def test_the_top_does_not_care_where_the_box_faces() -> None:
    """Beam through a level top pane is independent of azimuth, mirror apart."""
    bare = replace(BOX, mirror=None)
    found = box_light(bare, **sky(50.0), face_deg=np.array([0.0, 90.0, 200.0]), mirror_deg=90.0)
    assert np.ptp(found.top_w) == pytest.approx(0.0, abs=1e-9)
    assert found.front_w[0] > found.front_w[1] > 0.0


def test_mirror_and_front_can_be_left_out() -> None:
    solid = replace(BOX, front=None, mirror=None)
    found = box_light(solid, **sky(50.0), face_deg=0.0, mirror_deg=90.0)
    assert float(found.mirror_w) == 0.0
    assert float(found.front_w) == 0.0
    assert found.front_panes_w.shape == (0,)
    assert float(found.top_w) > 50.0


def test_a_low_sun_favours_the_front() -> None:
    low, high = (box_light(BOX, **sky(h), face_deg=0.0, mirror_deg=90.0) for h in (15.0, 75.0))
    assert float(low.front_w / low.top_w) > 1.0 > float(high.front_w / high.top_w)


def test_no_light_at_night_and_never_nan() -> None:
    dark = sky(-20.0, beam_w_m2=0.0, diffuse_w_m2=0.0)
    found = box_light(BOX, **dark, face_deg=0.0, mirror_deg=90.0)
    assert float(found.inside_w) == 0.0


def test_following_the_sun_is_at_least_as_good_as_any_aim_of_the_table() -> None:
    heights = np.array([20.0, 45.0, 70.0, 45.0, 20.0])
    azimuths = np.array([90.0, 60.0, 0.0, 300.0, 270.0])
    light = {
        "sun_elevation_deg": heights,
        "sun_azimuth_deg": azimuths,
        "beam_normal_w_m2": np.full(5, 800.0),
        "diffuse_horizontal_w_m2": np.full(5, 90.0),
        "global_horizontal_w_m2": 90.0 + 800.0 * np.sin(np.radians(heights)),
        "extraterrestrial_normal_w_m2": np.full(5, 1361.0),
    }
    table = gain_matrix(
        BOX, **light, faces_deg=np.arange(0.0, 360.0, 10.0), mirrors_deg=np.arange(60.0, 131.0, 5.0)
    )
    followed = followed_gain(BOX, **light)
    assert table.shape == (36, 15, 5)
    assert np.all(followed.inside_w >= table.max(axis=(0, 1)) - 1e-9)
    assert followed.face_deg.tolist() == azimuths.tolist()


@pytest.mark.parametrize(
    ("offset", "kept"), [(5, 0.987), (10, 0.972), (15, 0.954), (20, 0.935), (30, 0.893)]
)
def test_light_kept_off_the_axis_near_the_bare_geometry(offset: float, kept: float) -> None:
    """Sun 60 high, top 1 x 1, mirror 1 x 1 (0.85), front 0.3 high: bare-geometry table.

    The table counts beam before glass; ours is after glass, which leans on the mirror's
    steeper incidence a little less: 1.5 points.
    """
    box = replace(
        BOX,
        width_m=1.0,
        depth_m=1.0,
        mirror=Mirror(length_m=1.0, width_m=1.0),
        top=Glazing(glasses=1, extinction_per_m=0.0),
        front=Glazing(glasses=1, extinction_per_m=0.0),
    )
    light = sky(60.0, diffuse_w_m2=0.0)
    off, on = (
        float(box_light(box, **light, face_deg=turn, mirror_deg=100.0, albedo=0.0).inside_w)
        for turn in (offset, 0.0)
    )
    assert off / on == pytest.approx(kept, abs=0.015)
