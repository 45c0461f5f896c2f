"""The mirror against closed forms, a table and an independent ray trace."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from shapely import Polygon, box

from suntrack.box.mirror import (
    MirrorShape,
    best_mirror_deg,
    hidden_sky_share,
    mirror_on_top,
    sun_in_box_frame,
)

SQUARE = MirrorShape(top_length_m=1.0, top_width_m=1.0, mirror_length_m=1.0, mirror_width_m=1.0)


@pytest.mark.parametrize(
    ("height", "offset", "psi", "expected"),
    [
        (20, 0, 60 + 40 / 3, 0.8021), (30, 0, 80, 0.7660), (45, 0, 90, 0.7071),
        (60, 0, 100, 0.6428), (75, 0, 110, 0.5736), (90, 0, 120, 0.5000), (45, 0, 80, 0.5736),
        (45, 0, 100, 0.4226), (45, 0, 110, 0.0872), (60, 0, 120, 0.0), (45, 15, 90, 0.5946),
        (45, 30, 90, 0.4593), (45, 45, 90, 0.3232), (60, 30, 100, 0.4702), (30, 30, 80, 0.4605),
    ],
)  # fmt: skip
def test_light_by_the_mirror(height: float, offset: float, psi: float, expected: float) -> None:
    """Normal-beam area for L = H = W = 1: closed form, confirmed by a two-million-ray trace."""
    light = mirror_on_top(SQUARE, sun_elevation_deg=height, sun_offset_deg=offset, mirror_deg=psi)
    assert float(light.normal_beam_m2) == pytest.approx(expected, abs=1e-4)


@pytest.mark.parametrize("height", [20.0, 30.0, 45.0, 60.0, 75.0, 90.0])
def test_best_angle_for_equal_lengths(height: float) -> None:
    """3 psi - 2 a = 180, attributed to Algifri and Al-Towaie, Solar Energy 70 (2001) 165-170."""
    found = best_mirror_deg(SQUARE, sun_elevation_deg=height, sun_offset_deg=0.0)
    assert found == pytest.approx(60.0 + 2.0 * height / 3.0, abs=0.011)


@pytest.mark.parametrize(
    ("ratio", "expected"),
    [
        (0.5, ((91.9, 1.88), (100.3, 1.58), (108.9, 1.44), (117.6, 1.35))),
        (0.75, ((85.8, 2.24), (95.0, 1.81), (104.2, 1.60), (113.6, 1.48))),
        (1.5, ((69.2, 2.90), (81.2, 2.25), (92.8, 1.94), (104.1, 1.76))),
        (2.0, ((60.0, 3.00), (74.1, 2.38), (87.1, 2.05), (99.5, 1.86))),
    ],
)
def test_best_angle_for_other_lengths(
    ratio: float, expected: tuple[tuple[float, float], ...]
) -> None:
    """H sin(psi - a) = L sin(2 psi - a) solved numerically for sun heights 30, 45, 60, 75."""
    shape = MirrorShape(
        top_length_m=1.0, top_width_m=1.0, mirror_length_m=ratio, mirror_width_m=1.0
    )
    for height, (angle, gain) in zip((30.0, 45.0, 60.0, 75.0), expected, strict=True):
        sun = {"sun_elevation_deg": height, "sun_offset_deg": 0.0}
        found = best_mirror_deg(shape, **sun)
        brought = float(mirror_on_top(shape, **sun, mirror_deg=found).normal_beam_m2)
        assert found == pytest.approx(angle, abs=0.06)
        assert 1.0 + brought / np.sin(np.radians(height)) == pytest.approx(gain, abs=0.006)


def test_free_box_and_lid() -> None:
    """A box and lid turned freely: best angle arccos(-1/3) = 109.471 and width 8 sqrt(3)/9.

    geometryexpressions.com, "Best Solar Cooker" model (angle found, width recomputed).
    """
    heights = np.linspace(60.0, 89.0, 581)
    best, at = max(
        (
            float(np.sin(np.radians(height)) + light.normal_beam_m2),
            psi,
        )
        for height in heights
        for psi in [60.0 + 2.0 * height / 3.0]
        for light in [
            mirror_on_top(SQUARE, sun_elevation_deg=height, sun_offset_deg=0.0, mirror_deg=psi)
        ]
    )
    assert best == pytest.approx(8.0 * np.sqrt(3.0) / 9.0, abs=1e-4)
    assert at == pytest.approx(np.degrees(np.arccos(-1.0 / 3.0)), abs=0.1)


@pytest.mark.parametrize(
    ("offset", "kept"),
    [(5, (0.947, 0.953, 0.964)), (10, (0.887, 0.899, 0.923)), (15, (0.822, 0.841, 0.878)),
     (20, (0.751, 0.779, 0.831)), (30, (0.601, 0.650, 0.731)), (45, (0.375, 0.457, 0.581)),
     (60, (0.185, 0.283, 0.436))],
)  # fmt: skip
def test_light_kept_off_the_axis(offset: float, kept: tuple[float, float, float]) -> None:
    """Share of the mirror's light left at an offset, heights 30, 45, 60 (ray trace)."""
    for height, expected in zip((30.0, 45.0, 60.0), kept, strict=True):
        psi = 60.0 + 2.0 * height / 3.0
        off, on = (
            float(
                mirror_on_top(
                    SQUARE, sun_elevation_deg=height, sun_offset_deg=turn, mirror_deg=psi
                ).normal_beam_m2
            )
            for turn in (offset, 0.0)
        )
        assert off / on == pytest.approx(expected, abs=0.001)


def traced(
    shape: MirrorShape, sun: np.ndarray, psi_deg: float, *, rays: int = 400_000
) -> tuple[float, float]:
    """Trace rays from the glass towards the sun; independent of the code under test.

    Returns the normal-beam area by the mirror and the shaded area, by casting from random
    points of the mirror onto the glass (light) and from the glass to the sun (shadow).
    """
    rng = np.random.default_rng(20261125)
    psi = np.radians(psi_deg)
    up_mirror = np.array([np.cos(psi), 0.0, np.sin(psi)])
    normal = np.array([np.sin(psi), 0.0, -np.cos(psi)])
    h = rng.uniform(0.0, shape.mirror_length_m, rays)
    y = rng.uniform(-shape.mirror_width_m / 2, shape.mirror_width_m / 2, rays)
    points = np.array([-shape.hinge_gap_m, 0.0, 0.0]) + h[:, None] * up_mirror
    points[:, 1] += y
    area = shape.mirror_length_m * shape.mirror_width_m
    out = 2.0 * (sun @ normal) * normal - sun
    light = 0.0
    if sun @ normal > 0 and out[2] < 0:
        land = points - points[:, 2:3] / out[2] * out
        hit = (
            (land[:, 0] > 0)
            & (land[:, 0] < shape.top_length_m)
            & (np.abs(land[:, 1]) < shape.top_width_m / 2)
        )
        light = area * (sun @ normal) * hit.mean()
    shade = 0.0
    if sun[2] > 0 and sun @ normal < 0:
        x = rng.uniform(0.0, shape.top_length_m, rays)
        y = rng.uniform(-shape.top_width_m / 2, shape.top_width_m / 2, rays)
        glass = np.stack([x, y, np.zeros(rays)], axis=1)
        base = np.array([-shape.hinge_gap_m, 0.0, 0.0])
        t = ((base - glass) @ normal) / (sun @ normal)
        meet = glass + t[:, None] * sun - base
        along = meet @ up_mirror
        struck = (
            (t > 0)
            & (along > 0)
            & (along < shape.mirror_length_m)
            & (np.abs(meet[:, 1]) < shape.mirror_width_m / 2)
        )
        shade = shape.top_length_m * shape.top_width_m * struck.mean()
    return light, shade


@settings(max_examples=25, deadline=None)
@given(
    height=st.floats(5.0, 85.0),
    offset=st.floats(-180.0, 180.0),
    psi=st.floats(50.0, 140.0),
    tilt=st.floats(0.0, 35.0),
    length=st.floats(0.3, 2.0),
    width=st.floats(0.4, 1.8),
    gap=st.floats(0.0, 0.1),
)
def test_light_and_shadow_agree_with_a_ray_trace(
    height: float, offset: float, psi: float, tilt: float, length: float, width: float, gap: float
) -> None:
    """Any sun, tilt, width and gap: three standard errors of 400,000 rays, 0.006 m2."""
    shape = MirrorShape(
        top_length_m=1.0,
        top_width_m=0.9,
        mirror_length_m=length,
        mirror_width_m=width,
        hinge_gap_m=gap,
    )
    a, g, b = np.radians([height, offset, tilt])
    ahead, side, up = np.cos(a) * np.cos(g), np.cos(a) * np.sin(g), np.sin(a)
    sun = np.array([np.cos(b) * ahead - np.sin(b) * up, side, np.sin(b) * ahead + np.cos(b) * up])
    light, shade = traced(shape, sun, psi)
    found = mirror_on_top(
        shape, sun_elevation_deg=height, sun_offset_deg=offset, mirror_deg=psi, tilt_deg=tilt
    )
    assert float(found.normal_beam_m2) == pytest.approx(light, abs=0.006)
    assert float(found.shaded_m2) == pytest.approx(shade, abs=0.006)


@given(height=st.floats(10.0, 80.0), offset=st.floats(-80.0, 80.0), psi=st.floats(60.0, 130.0))
def test_lit_patch_equals_a_polygon_clip(height: float, offset: float, psi: float) -> None:
    """Shapely clips the landed corners of the mirror against the glass."""
    east, side, up = sun_in_box_frame(sun_elevation_deg=height, sun_offset_deg=offset, tilt_deg=0.0)
    angle = np.radians(psi)
    facing = east * np.sin(angle) - up * np.cos(angle)
    out = np.array([2 * facing * np.sin(angle) - east, -side, -2 * facing * np.cos(angle) - up])
    light = mirror_on_top(SQUARE, sun_elevation_deg=height, sun_offset_deg=offset, mirror_deg=psi)
    if facing <= 0 or out[2] >= -1e-6:
        assert float(light.lit_m2) == 0.0
        return
    corners = []
    for h, y in ((0, -0.5), (0, 0.5), (1, 0.5), (1, -0.5)):
        point = np.array([h * np.cos(angle), y, h * np.sin(angle)])
        corners.append((point - point[2] / out[2] * out)[:2])
    clipped = Polygon(corners).intersection(box(0.0, -0.5, 1.0, 0.5)).area
    assert float(light.lit_m2) == pytest.approx(clipped, abs=2e-6)


@given(height=st.floats(1.0, 89.0), offset=st.floats(0.0, 180.0), psi=st.floats(40.0, 140.0))
def test_left_and_right_are_alike(height: float, offset: float, psi: float) -> None:
    left, right = (
        mirror_on_top(SQUARE, sun_elevation_deg=height, sun_offset_deg=turn, mirror_deg=psi)
        for turn in (offset, -offset)
    )
    assert float(left.normal_beam_m2) == pytest.approx(float(right.normal_beam_m2), abs=1e-12)
    assert float(left.shaded_m2) == pytest.approx(float(right.shaded_m2), abs=1e-12)


def test_a_mirror_opened_too_far_lights_nothing() -> None:
    """At 2 psi - a = 180 the reflected ray runs level and misses the glass."""
    for height in (30.0, 45.0, 60.0):
        psi = (180.0 + height) / 2.0
        light = mirror_on_top(SQUARE, sun_elevation_deg=height, sun_offset_deg=0.0, mirror_deg=psi)
        assert float(light.normal_beam_m2) == pytest.approx(0.0, abs=1e-9)


def test_hidden_sky_of_a_square_corner() -> None:
    """Crossed strings, L = H, psi = 90: 0.2929 (closed form 1 - 1/sqrt 2)."""
    assert float(hidden_sky_share(SQUARE, mirror_deg=90.0)) == pytest.approx(1 - 0.5**0.5)
    assert float(hidden_sky_share(SQUARE, mirror_deg=180.0)) == pytest.approx(0.0, abs=1e-12)


def test_best_fixed_angle_for_a_day_lies_between_the_moments() -> None:
    heights = np.array([30.0, 45.0, 60.0])
    angle = best_mirror_deg(SQUARE, sun_elevation_deg=heights, sun_offset_deg=np.zeros(3))
    assert 80.0 <= angle <= 100.0
