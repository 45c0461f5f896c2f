"""Glass between mirrors: published troughs, closed forms, limits; rays in test_cup_traced.py."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from mirror_rays import Plate, beam_of_rays, by_bounces, open_box, sun_over

from suntrack.box.build import Box, Glazing, Layer, Mirror, SideMirrors
from suntrack.box.compiled import trace_cups
from suntrack.box.light import beams
from suntrack.box.light.beams import PATHS, THEN
from suntrack.box.light.gain import box_light
from suntrack.box.light.mirror import mirror_on_top
from suntrack.box.light.mirrors import SIDE_SUNS_DEG, best_side_deg
from suntrack.box.light.side_mirrors import CupSizes, cup_light, path_reflectances

LONG_M = 1e4
"""So long that its ends do not count."""
TROUGH = CupSizes(
    top_length_m=LONG_M, top_width_m=1.0, side_length_m=1.0, side_width_m=LONG_M, side_deg=120.0
)


def ratio_of(
    trough: CupSizes, *, height_deg: float, offset_deg: float = 90.0, reflectance: float = 1.0
) -> float:
    """Return the light on a trough's glass for each square metre of beam on bare glass ahead."""
    light = cup_light(
        trough, sun_elevation_deg=height_deg, sun_offset_deg=offset_deg, mirror_deg=90.0
    )
    mirrored = path_reflectances(back=0.0, side=reflectance) @ light.normal_beam_m2
    glass_m2 = trough.top_length_m * trough.top_width_m
    straight = (glass_m2 - float(light.shaded_m2)) * np.sin(np.radians(height_deg))
    return float(straight + mirrored) / glass_m2


def test_reflectors_at_60_degrees_double_the_sun() -> None:
    """Two, for flat reflectors at 60 degrees to the cells: 120 through the sky.

    Rockwell International, "Satellite Power System Feasibility Study", SD 76-SA-0239-2
    (1976), section 2.2.3, ssi.org/wp-content/fbs/sps-rockwell-f-1976/62 (read 2026-11-25).
    """
    assert ratio_of(TROUGH, height_deg=90.0) == pytest.approx(2.0, abs=1e-9)


def test_a_trough_that_misses_the_sun_by_a_degree() -> None:
    """Reflectors of 90 % at 65 degrees lose about 1.7 per cent.

    Same study, page 66 (ssi.org/wp-content/fbs/sps-rockwell-f-1976/66, read 2026-11-25);
    the reflectors just light the whole width, as its figure 2.2-14 sizes them.  "About" is
    taken as a tenth of it and the reading of a figure: 0.2.
    """
    tip_m = np.cos(np.radians(230.0)) / np.cos(np.radians(115.0))
    trough = replace(TROUGH, side_deg=115.0, side_length_m=float(tip_m))
    right, off = (ratio_of(trough, height_deg=h, reflectance=0.9) for h in (90.0, 89.0))
    assert 100.0 * (1.0 - off / right) == pytest.approx(1.7, abs=0.2)


@pytest.mark.parametrize(("angle", "length"), [(100, 0.5), (110, 0.8), (120, 0.4)])
def test_a_short_reflector_sends_on_all_it_meets(angle: float, length: float) -> None:
    """Closed form, sun square to the glass: each side adds H sin(psi - 90), while it lands."""
    trough = replace(TROUGH, side_deg=angle, side_length_m=length)
    lands_m = length * np.sin(np.radians(angle - 90.0)) / np.sin(np.radians(2 * angle - 90.0))
    assert lands_m <= 1.0, "each case has to land on the glass"
    expected = 1.0 + 2.0 * length * np.sin(np.radians(angle - 90.0))
    assert ratio_of(trough, height_deg=90.0) == pytest.approx(expected, rel=1e-9)


def test_reflectors_at_45_degrees_send_the_sun_level_past_the_glass() -> None:
    """At 135 degrees a sun square to the glass leaves level and meets the other mirror."""
    trough = replace(TROUGH, side_deg=135.0, side_length_m=0.5)
    light = cup_light(trough, sun_elevation_deg=90.0, sun_offset_deg=0.0, mirror_deg=90.0)
    assert float(light.normal_beam_m2[THEN == 0].sum()) == pytest.approx(0.0, abs=1e-6)


@pytest.mark.parametrize("length", [0.3, 0.5, 1.0, 1.6])
def test_best_angle_without_glass_sends_the_tips_to_the_far_edge(length: float) -> None:
    """H cos psi = W cos 2 psi (closed form), for H = W 120; the search goes by whole degrees.

    For equal lengths it is the rule 3 psi - 2 a = 180 with the sun overhead, attributed to
    Algifri and Al-Towaie, Solar Energy 70 (2001) 165-170 (attribution found, paper not read).
    """
    sides = replace(WINGS, length_m=0.5 * length)
    found = best_side_deg(BOX, sides, heights_deg=[90.0])
    kink = np.degrees(np.arccos((length - np.sqrt(length**2 + 8.0)) / 4.0))
    assert found == pytest.approx(kink, abs=1.0)
    assert length != 1.0 or found == 120.0


@pytest.mark.parametrize("length", [0.15, 0.3, 0.5])
def test_best_angle_through_glass_is_best_in_the_whole_box(length: float) -> None:
    """Against every whole degree, all ways of the light counted; two glasses, the same suns.

    The choice knows one mirror at a time and no other; that costs less than half a per cent.
    """
    box = replace(BOX, top=Glazing(glasses=2), front=None, mirror=None)
    suns = {**SKY, "sun_elevation_deg": np.array(SIDE_SUNS_DEG), "sun_azimuth_deg": 0.0}
    wings = replace(WINGS, length_m=length)

    def light(angle_deg: float) -> float:
        built = replace(box, side_mirrors=replace(wings, angle_deg=angle_deg))
        return float(box_light(built, **suns, albedo=0.0).mirror_w.sum())

    most = max(light(float(angle)) for angle in range(90, 151))
    assert light(best_side_deg(box, wings)) >= 0.995 * most


def test_short_mirrors_stand_steeper_behind_glass() -> None:
    """Overhead and without glass 0.3 m by 1 m stands at 130; flat light hardly passes glass."""
    short = replace(WINGS, length_m=0.15)
    bare = best_side_deg(BOX, short, heights_deg=[90.0])
    glazed = best_side_deg(replace(BOX, top=Glazing(glasses=2)), short, heights_deg=[90.0])
    assert 90.0 < glazed < bare


@given(height=st.floats(20.0, 89.0))
def test_the_best_angle_is_that_of_any_sun_ahead(height: float) -> None:
    """Across a long trough a sun straight ahead stands upright, whatever its height."""
    light = cup_light(TROUGH, sun_elevation_deg=height, sun_offset_deg=0.0, mirror_deg=90.0)
    # What leaves by the near end is the run of the rays along the trough: a few metres of 10 km.
    straight = LONG_M * np.sin(np.radians(height))
    assert float(light.normal_beam_m2.sum()) / straight == pytest.approx(1.0, abs=2e-3)


@settings(deadline=None)
@given(
    height=st.floats(1.0, 89.5),
    offset=st.floats(-180.0, 180.0),
    psi=st.floats(60.0, 130.0),
    tilt=st.floats(0.0, 30.0),
)
def test_without_side_mirrors_it_is_the_back_mirror_alone(
    height: float, offset: float, psi: float, tilt: float
) -> None:
    """Two ways to the same areas: moved polygons, and the closed form of one mirror."""
    sun: dict[str, Any] = {"sun_elevation_deg": height, "sun_offset_deg": offset, "mirror_deg": psi}
    sizes = CupSizes(
        top_length_m=0.42, top_width_m=0.56, side_length_m=0.0, side_width_m=0.4, side_deg=120.0,
        back_length_m=0.44, back_width_m=0.6, back_gap_m=0.02, tilt_deg=tilt,
    )  # fmt: skip
    alone = mirror_on_top(
        **sun, top_length_m=0.42, top_width_m=0.56, mirror_length_m=0.44, mirror_width_m=0.6,
        hinge_gap_m=0.02, tilt_deg=tilt,
    )  # fmt: skip
    cup = cup_light(sizes, **sun)
    assert float(cup.normal_beam_m2.sum()) == pytest.approx(float(alone.normal_beam_m2), abs=1e-7)
    assert float(cup.shaded_m2) == pytest.approx(float(alone.shaded_m2), abs=1e-7)
    if float(alone.normal_beam_m2) > 1e-6:
        assert float(cup.incidence_deg[0]) == pytest.approx(float(alone.incidence_deg), abs=1e-9)


def test_a_sun_in_a_mirrors_own_plane_gets_neither_light_nor_shadow() -> None:
    """Across an upright trough the sun has to stand at 60 degrees to graze a side at 120.

    Then the near side is edge-on: it sends nothing, and shades nothing.
    """
    light = cup_light(TROUGH, sun_elevation_deg=60.0, sun_offset_deg=90.0, mirror_deg=90.0)
    by_near = light.normal_beam_m2[beams.FIRST == beams.RIGHT]
    assert float(by_near.sum()) / LONG_M == pytest.approx(0.0, abs=1e-9)
    assert float(light.shaded_m2) / LONG_M == pytest.approx(0.0, abs=1e-6)


def test_a_low_sun_at_a_side_is_shaded_by_it() -> None:
    """Closed form: the tip of an upright side of H at a sun a high shades H / tan a of width."""
    trough = replace(TROUGH, side_deg=90.0, side_length_m=0.2)
    light = cup_light(trough, sun_elevation_deg=30.0, sun_offset_deg=90.0, mirror_deg=90.0)
    shaded_m = 0.2 / np.tan(np.radians(30.0))
    assert float(light.shaded_m2) / LONG_M == pytest.approx(shaded_m, rel=1e-6)


def test_compiled_and_plain_are_the_same() -> None:
    """The formulas as ordinary Python, over a handful of suns."""
    rng = np.random.default_rng(7)
    suns = rng.normal(size=(12, 3)) * [1.0, 1.0, 0.4] + [0.0, 0.0, 0.8]
    suns /= np.linalg.norm(suns, axis=1)[:, None]
    sides = np.radians(118.0)
    plates = np.array(
        [
            [[0, -0.28, 0], [1, 0, 0], [0, 1, 0], [0, 0, 1]],
            [[-0.01, -0.3, 0], [0, 1, 0], [0, 0, 1], [1, 0, 0]],
            [[0, 0.29, 0], [1, 0, 0], [0, -np.cos(sides), np.sin(sides)],
             [0, -np.sin(sides), -np.cos(sides)]],
            [[0, -0.29, 0], [1, 0, 0], [0, np.cos(sides), np.sin(sides)],
             [0, np.sin(sides), -np.cos(sides)]],
        ]
    )  # fmt: skip
    lengths = np.array([[0.42, 0.56], [0.6, 0.44], [0.42, 0.3], [0.42, 0.3]])
    angles = np.radians(rng.uniform(60.0, 130.0, 12))
    answers = []
    for trace in (beams.trace_cups, trace_cups()):
        rooms = np.zeros((12, PATHS)), np.zeros((12, PATHS)), np.zeros(12)
        trace(suns, angles, plates.copy(), lengths, *rooms)
        answers.append(rooms)
    for plain, quick in zip(*answers, strict=True):
        assert quick == pytest.approx(plain, abs=1e-12)
    assert answers[0][0].max() > 0.0


def test_shapes_broadcast_nan_stays_nan_and_night_is_dark() -> None:
    light = cup_light(
        TROUGH,
        sun_elevation_deg=[[40.0, np.nan, -5.0]],
        sun_offset_deg=0.0,
        mirror_deg=[[85.0], [95.0]],
    )
    assert light.normal_beam_m2.shape == (2, 3, PATHS)
    assert np.isnan(light.normal_beam_m2[:, 1]).all()
    assert np.isnan(light.shaded_m2[:, 1]).all()
    assert (light.normal_beam_m2[:, 2] == 0.0).all()
    assert (light.normal_beam_m2[:, 0].sum(axis=-1) > 0.0).all()


NO_GLASS = Glazing(glasses=1, extinction_per_m=0.0, refractive_index=1.0 + 1e-9)
"""A pane that neither reflects nor absorbs: what is left is geometry."""
BOX = Box(
    name="test",
    width_m=0.5,
    depth_m=0.5,
    height_m=0.3,
    top=NO_GLASS,
    front=NO_GLASS,
    mirror=Mirror(length_m=0.5, width_m=0.5),
    walls=(Layer(material="plywood", thickness_m=0.01),),
    lining=Layer(material="aluminium", thickness_m=0.001),
    lining_absorptance=1.0,
)
WINGS = SideMirrors(length_m=0.5, width_m=0.5, angle_deg=120.0, reflectance=0.8)
SKY: dict[str, Any] = {
    "sun_elevation_deg": np.array([20.0, 50.0, 75.0]),
    "sun_azimuth_deg": np.array([70.0, 10.0, -40.0]),
    "beam_normal_w_m2": 850.0,
    "diffuse_horizontal_w_m2": 90.0,
    "global_horizontal_w_m2": 700.0,
    "extraterrestrial_normal_w_m2": 1361.0,
    "face_deg": 0.0,
    "mirror_deg": 95.0,
}


def test_a_side_mirror_of_hardly_any_length_is_none() -> None:
    """A thousandth of a millimetre changes no light by more than its share of the glass."""
    for glazing in (NO_GLASS, Glazing(glasses=2)):
        box = replace(BOX, top=glazing)
        thin = replace(box, side_mirrors=replace(WINGS, length_m=1e-6))
        ours, bare = box_light(thin, **SKY), box_light(box, **SKY)
        assert ours.inside_w == pytest.approx(bare.inside_w, rel=1e-5)
        assert ours.top_panes_w == pytest.approx(bare.top_panes_w, rel=1e-4, abs=1e-9)
        assert ours.mirror_w == pytest.approx(bare.mirror_w, rel=1e-4, abs=1e-3)


def test_beam_in_a_box_under_the_sun_has_a_closed_form() -> None:
    """Sun overhead, beam alone, no glass, no back mirror: W L and 2 x 0.8 H sin 30 L more."""
    box = replace(BOX, mirror=None, side_mirrors=WINGS)
    sun = {**SKY, "sun_elevation_deg": 90.0, "sun_azimuth_deg": 0.0, "diffuse_horizontal_w_m2": 0.0}
    found = box_light(box, **sun, albedo=0.0)
    assert float(found.top_w) == pytest.approx(850.0 * 0.25, rel=1e-6)
    assert float(found.mirror_w) == pytest.approx(850.0 * 2.0 * 0.8 * 0.25 * 0.5, rel=1e-6)
    assert float(found.front_w) == pytest.approx(0.0, abs=1e-9)


def test_even_sky_loses_what_all_mirrors_keep() -> None:
    """No beam, no glass: (1 - rho) F each; F of equal plates is 1 - sin(psi / 2) (closed form).

    Crossed strings, (L + H - D) / (2 L) with D = 2 L sin(psi / 2).
    """
    box = replace(BOX, side_mirrors=WINGS)
    sky = {**SKY, "beam_normal_w_m2": 0.0, "diffuse_horizontal_w_m2": 200.0, "mirror_deg": 90.0}
    lost = 0.15 * (1.0 - np.sin(np.radians(45.0))) + 2.0 * 0.2 * (1.0 - np.sin(np.radians(60.0)))
    found = box_light(box, **sky, albedo=0.0)
    assert found.top_w == pytest.approx(200.0 * 0.25 * (1.0 - lost), rel=1e-6)


@settings(deadline=None)
@given(height=st.floats(2.0, 89.0), offset=st.floats(0.0, 180.0))
def test_light_depends_on_how_far_aside_and_not_on_which_side(height: float, offset: float) -> None:
    """The search for the best aim counts on it."""
    box = replace(BOX, top=Glazing(glasses=2), side_mirrors=WINGS)
    sun = {**SKY, "sun_elevation_deg": height, "sun_azimuth_deg": np.array([offset, -offset])}
    here, there = box_light(box, **sun).inside_w
    assert here == pytest.approx(there, rel=1e-9, abs=1e-9)


@settings(deadline=None)
@given(height=st.floats(2.0, 89.0), offset=st.floats(-180.0, 180.0), angle=st.floats(90.0, 150.0))
def test_the_front_pane_has_nothing_from_side_mirrors(
    height: float, offset: float, angle: float
) -> None:
    """They stand above and behind it (followed by rays: no ray of a mirror meets it)."""
    plates = open_box(
        tilt=0.0, top=(0.5, 0.5), back=(0.5, 0.5, 0.0, 95.0), sides=(0.5, 0.5, 0.0, angle)
    )
    front = Plate(
        middle=np.array([0.5, 0.0, 0.0]),
        out=np.array([0.0, 0.0, -1.0]),
        edge=np.array([0.0, 1.0, 0.0]),
        shines=np.array([1.0, 0.0, 0.0]),
        length=0.3,
        width=0.5,
    )
    sun = sun_over(height, offset)
    arrived, _ = by_bounces([front, *plates[1:]], sun, half_m=1.2, each_way=150)
    assert sum(arrived[1:]) == 0.0
    start, cell_m2 = beam_of_rays(sun, half_m=1.2, each_way=150)
    met = np.isfinite(front.meet(start, np.broadcast_to(-sun, start.shape)))
    bare_m2 = float(met.sum()) * cell_m2 if sun @ front.shines > 0.0 else 0.0
    assert arrived[0] == pytest.approx(bare_m2, abs=1e-12)
