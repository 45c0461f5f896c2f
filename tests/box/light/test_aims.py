"""The table of aims and the followed box, against brute force and symmetry."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest
from numpy.typing import NDArray

from suntrack.box.build import Box, Glazing, Layer, Mirror
from suntrack.box.light.aims import followed_gain, gain_matrix
from suntrack.box.light.gain import box_light

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
BOXES = {
    "usual": BOX,
    "tilted": replace(BOX, tilt_deg=20.0),
    "no front": replace(BOX, front=None),
    "no mirror": replace(BOX, mirror=None),
    "fixed mirror": replace(
        BOX, front=None, mirror=Mirror(length_m=0.5, width_m=0.5, fixed_angle_deg=105.0)
    ),
    "narrow mirror, short reach": replace(
        BOX,
        mirror=Mirror(length_m=0.7, width_m=0.3, lowest_angle_deg=85.0, highest_angle_deg=100.5),
    ),
}
HEIGHTS = np.array([4.0, 20.0, 45.0, 70.0, 88.0, 45.0, 20.0])
AZIMUTHS = np.array([100.0, 90.0, 60.0, 30.0, 350.0, 300.0, 270.0])


def day() -> dict[str, NDArray[np.float64]]:
    """Return seven moments of a clear day."""
    up = np.sin(np.radians(HEIGHTS))
    return {
        "sun_elevation_deg": HEIGHTS,
        "sun_azimuth_deg": AZIMUTHS,
        "beam_normal_w_m2": np.full(7, 800.0),
        "diffuse_horizontal_w_m2": np.full(7, 90.0),
        "global_horizontal_w_m2": 90.0 + 800.0 * up,
        "extraterrestrial_normal_w_m2": np.full(7, 1361.0),
    }


def allowed_deg(box: Box) -> tuple[float, float]:
    """Return lowest and highest mirror angle; anything does without a mirror."""
    if box.mirror is None:
        return 90.0, 90.0
    fixed = box.mirror.fixed_angle_deg
    return (
        (fixed, fixed)
        if fixed is not None
        else (box.mirror.lowest_angle_deg, box.mirror.highest_angle_deg)
    )


@pytest.mark.parametrize("box", BOXES.values(), ids=BOXES.keys())
def test_every_cell_of_the_table_is_the_light_of_its_aim(box: Box) -> None:
    faces, mirrors = np.array([0.0, 60.0, 200.0]), np.array([85.0, 97.0])
    table = gain_matrix(box, **day(), faces_deg=faces, mirrors_deg=mirrors)
    assert table.shape == (3, 2, 7)
    for i, face in enumerate(faces):
        for j, mirror in enumerate(mirrors):
            alone = box_light(box, **day(), face_deg=face, mirror_deg=mirror)
            assert table[i, j] == pytest.approx(np.broadcast_to(alone.inside_w, 7))


@pytest.mark.parametrize("box", BOXES.values(), ids=BOXES.keys())
def test_no_aim_of_a_fine_table_beats_following(box: Box) -> None:
    """Every 2 degrees of face on both sides of the sun, every degree of mirror."""
    low, high = allowed_deg(box)
    table = gain_matrix(
        box,
        **day(),
        faces_deg=np.arange(0.0, 360.0, 2.0),
        mirrors_deg=np.arange(low, high + 0.01),
    )
    followed = followed_gain(box, **day())
    assert np.all(followed.inside_w >= 0.9999 * table.max(axis=(0, 1)))


@pytest.mark.parametrize("box", BOXES.values(), ids=BOXES.keys())
def test_following_tells_an_aim_that_brings_what_it_promises(box: Box) -> None:
    followed = followed_gain(box, **day())
    again = box_light(box, **day(), face_deg=followed.face_deg, mirror_deg=followed.mirror_deg)
    low, high = allowed_deg(box)
    assert again.inside_w == pytest.approx(followed.inside_w)
    assert np.all((followed.mirror_deg >= low) & (followed.mirror_deg <= high))
    assert np.all((followed.face_deg >= 0.0) & (followed.face_deg < 360.0))


def test_the_usual_box_faces_the_sun_and_its_mirror_follows_the_rule() -> None:
    """Rule psi = 60 + 2a/3 for equal lengths (Algifri and Al-Towaie 2001, attribution found).

    Glass does not move the kink; sun 20, 45 and 70 high; the finest grain is a quarter.
    """
    followed = followed_gain(BOX, **day())
    middle = [1, 2, 3, 5, 6]
    assert followed.face_deg[middle].tolist() == AZIMUTHS[middle].tolist()
    rule = 60.0 + 2.0 * HEIGHTS[middle] / 3.0
    assert followed.mirror_deg[middle] == pytest.approx(rule, abs=0.26)


def test_a_mirror_that_leans_too_far_back_is_best_aimed_aside() -> None:
    """Fixed at 105 with the sun 20 high, 2 psi - a is 190: nothing on the axis, some aside."""
    box = BOXES["fixed mirror"]
    straight = box_light(box, **day(), face_deg=AZIMUTHS, mirror_deg=105.0)
    followed = followed_gain(box, **day())
    assert straight.mirror_w[1] == 0.0
    assert followed.inside_w[1] > 1.02 * straight.inside_w[1]
    assert followed.face_deg[1] != AZIMUTHS[1]


def test_followed_light_of_a_dark_sky_is_nothing() -> None:
    dark = {**day(), "sun_elevation_deg": np.full(7, -12.0)}
    for name in dark:
        if name.endswith("_w_m2") and not name.startswith("extra"):
            dark[name] = np.zeros(7)
    followed = followed_gain(BOX, **dark)
    assert followed.inside_w.tolist() == [0.0] * 7
