"""The mirror against an independent ray trace and a polygon clip.

Rays and rectangles stand in the world's frame: the code here knows no box frame, no landing
formula and no clipping, and shares nothing with the code under test.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st
from mirror_rays import beam_of_rays
from numpy.typing import NDArray
from shapely import Polygon, box

from suntrack.box.light.mirror import mirror_on_top

Vector = NDArray[np.float64]


@dataclass(frozen=True, kw_only=True)
class Rectangle:
    """A flat plate: where its middle of one edge is, and its two sides."""

    base: Vector
    """Middle of the edge that runs along `across`."""
    out: Vector
    """Unit vector away from that edge."""
    across: Vector
    """Unit vector along that edge."""
    length: float
    width: float

    @property
    def normal(self) -> Vector:
        """Return a unit vector square to the plate; either side."""
        return np.cross(self.out, self.across)

    def meet(self, start: Vector, way: Vector) -> Vector:
        """Return how far along `way` each ray meets the plate, inf where it does not."""
        away = ((self.base - start) @ self.normal) / (way @ self.normal)
        spot = start + away[:, None] * way - self.base
        along, side = spot @ self.out, spot @ self.across
        hit = (along > 0) & (along < self.length) & (np.abs(side) < self.width / 2)
        return np.where(hit & (away > 1e-9), away, np.inf)


@dataclass(frozen=True, kw_only=True)
class Case:
    """One box, one sun."""

    height: float
    offset: float = 0.0
    psi: float = 90.0
    tilt: float = 0.0
    top: tuple[float, float] = (1.0, 0.9)
    mirror: tuple[float, float] = (1.0, 0.9)
    gap: float = 0.0

    @property
    def sizes(self) -> dict[str, float]:
        """Return lengths, gap and tilt by the names of the code under test."""
        return {
            "top_length_m": self.top[0],
            "top_width_m": self.top[1],
            "mirror_length_m": self.mirror[0],
            "mirror_width_m": self.mirror[1],
            "hinge_gap_m": self.gap,
            "tilt_deg": self.tilt,
        }

    @property
    def sun(self) -> Vector:
        """To the sun: x the way the box faces, y aside, z up."""
        a, g = np.radians(self.height), np.radians(self.offset)
        return np.array([np.cos(a) * np.cos(g), np.cos(a) * np.sin(g), np.sin(a)])

    @property
    def plates(self) -> tuple[Rectangle, Rectangle]:
        """Glass and mirror as they stand in the world, the back raised by the tilt."""
        b, psi = np.radians(self.tilt), np.radians(self.psi)
        front = np.array([np.cos(b), 0.0, -np.sin(b)])
        off_glass = np.array([np.sin(b), 0.0, np.cos(b)])
        side = np.array([0.0, 1.0, 0.0])
        glass = Rectangle(
            base=np.zeros(3), out=front, across=side, length=self.top[0], width=self.top[1]
        )
        mirror = Rectangle(
            base=-self.gap * front,
            out=np.cos(psi) * front + np.sin(psi) * off_glass,
            across=side,
            length=self.mirror[0],
            width=self.mirror[1],
        )
        return glass, mirror


def traced(case: Case) -> tuple[float, float, float]:
    """Return mirror light, shadow and straight light on the glass, as areas across the beam."""
    glass, mirror = case.plates
    start, cell_m2 = beam_of_rays(case.sun, half_m=2.6, each_way=800)
    way = -case.sun
    to_glass, to_mirror = glass.meet(start, way), mirror.meet(start, way)
    off_glass = np.array([np.sin(np.radians(case.tilt)), 0.0, np.cos(np.radians(case.tilt))])
    assert case.sun @ off_glass > 0.0, "the sun of every case stands over the glass"
    shadow = np.isfinite(to_glass) & (to_mirror < to_glass)
    straight = np.isfinite(to_glass) & ~shadow
    normal = mirror.normal if mirror.normal @ glass.out > 0 else -mirror.normal
    struck = np.isfinite(to_mirror) & (to_mirror < to_glass)
    if case.sun @ normal <= 0.0:
        return 0.0, float(shadow.sum()) * cell_m2, float(straight.sum()) * cell_m2
    bounce = start[struck] + to_mirror[struck][:, None] * way
    thrown = way - 2.0 * (way @ normal) * normal
    landed = np.isfinite(glass.meet(bounce, thrown)) & (thrown @ off_glass < 0.0)
    light, dark, direct = (float(part.sum()) * cell_m2 for part in (landed, shadow, straight))
    return light, dark, direct


CASES = {
    "straight ahead": Case(height=45.0),
    "to the side": Case(height=50.0, offset=25.0, psi=93.0),
    "to the other side": Case(height=35.0, offset=-40.0, psi=85.0),
    "nearly overhead": Case(height=85.0, offset=70.0, psi=115.0),
    "low sun": Case(height=8.0, offset=12.0, psi=66.0),
    "narrow mirror": Case(height=50.0, offset=20.0, psi=93.0, mirror=(1.0, 0.5)),
    "wide mirror": Case(height=50.0, offset=35.0, psi=93.0, mirror=(1.0, 1.7)),
    "short mirror": Case(height=60.0, offset=10.0, psi=105.0, mirror=(0.4, 0.9)),
    "long mirror": Case(height=60.0, offset=10.0, psi=95.0, mirror=(1.8, 0.9)),
    "gap at the hinge": Case(height=45.0, offset=15.0, psi=92.0, gap=0.12),
    "tilted box": Case(height=40.0, offset=20.0, psi=97.0, tilt=25.0),
    "tilted box, wide mirror, gap": Case(
        height=30.0, offset=-33.0, psi=95.0, tilt=15.0, mirror=(0.7, 1.4), gap=0.05
    ),
    "mirror leaning over the glass": Case(height=40.0, offset=5.0, psi=55.0),
    "sun behind": Case(height=35.0, offset=180.0),
    "sun behind and aside": Case(height=30.0, offset=130.0, psi=100.0),
    "sun behind a narrow mirror": Case(height=60.0, offset=-150.0, psi=75.0, mirror=(1.3, 0.5)),
    "sun behind, gap": Case(height=25.0, offset=165.0, psi=110.0, mirror=(0.3, 0.9), gap=0.1),
    "sun behind a tilted box": Case(height=65.0, offset=160.0, psi=90.0, tilt=20.0),
    "sun behind a mirror that leans over": Case(height=80.0, offset=30.0, psi=50.0),
    "sun beside": Case(height=30.0, offset=90.0, psi=100.0),
}


@pytest.mark.parametrize("case", CASES.values(), ids=CASES.keys())
def test_light_and_shadow_agree_with_a_ray_trace(case: Case) -> None:
    """Cells of 6.5 mm: some 1000 lie on an outline, each wrong by half at most at random.

    That is 0.5 x 4.2e-5 m2 x sqrt(1000), 0.0007 m2; five of these are allowed.
    """
    light, shadow, straight = traced(case)
    found = mirror_on_top(
        sun_elevation_deg=case.height,
        sun_offset_deg=case.offset,
        mirror_deg=case.psi,
        **case.sizes,
    )
    over_glass = float(
        case.sun @ [np.sin(np.radians(case.tilt)), 0.0, np.cos(np.radians(case.tilt))]
    )
    assert float(found.normal_beam_m2) == pytest.approx(light, abs=0.0035)
    assert float(found.shaded_m2) * over_glass == pytest.approx(shadow, abs=0.0035)
    glass_m2 = case.top[0] * case.top[1]
    lit_m2 = (glass_m2 - float(found.shaded_m2)) * over_glass
    assert lit_m2 == pytest.approx(straight, abs=0.0035)


def clipped_m2(case: Case, *, way: Vector) -> float:
    """Return the glass that the mirror covers when moved along `way`, by shapely."""
    glass, mirror = case.plates
    off_glass = np.array([np.sin(np.radians(case.tilt)), 0.0, np.cos(np.radians(case.tilt))])
    corners = []
    for h, y in ((0.0, -0.5), (0.0, 0.5), (1.0, 0.5), (1.0, -0.5)):
        point = mirror.base + h * mirror.length * mirror.out + y * mirror.width * mirror.across
        land = point - (point @ off_glass) / (way @ off_glass) * way
        corners.append((land @ glass.out, land @ glass.across))
    pane = box(0.0, -glass.width / 2, glass.length, glass.width / 2)
    return float(Polygon(corners).intersection(pane).area)


@settings(deadline=None)
@given(
    case=st.builds(
        Case,
        height=st.floats(3.0, 88.0),
        offset=st.floats(-180.0, 180.0),
        psi=st.floats(45.0, 140.0),
        tilt=st.floats(0.0, 30.0),
        mirror=st.tuples(st.floats(0.2, 2.0), st.floats(0.3, 2.0)),
        gap=st.floats(0.0, 0.15),
    )
)
def test_patch_and_shadow_equal_a_polygon_clip(case: Case) -> None:
    """Shapely clips the landed corners of the mirror against the glass; any box, any sun."""
    glass, mirror = case.plates
    off_glass = np.array([np.sin(np.radians(case.tilt)), 0.0, np.cos(np.radians(case.tilt))])
    normal = mirror.normal if mirror.normal @ glass.out > 0 else -mirror.normal
    facing = case.sun @ normal
    thrown = 2.0 * facing * normal - case.sun
    assume(case.sun @ off_glass > 0.02)
    assume(abs(facing) > 1e-3)
    assume(abs(thrown @ off_glass) > 0.02)
    found = mirror_on_top(
        sun_elevation_deg=case.height,
        sun_offset_deg=case.offset,
        mirror_deg=case.psi,
        **case.sizes,
    )
    lights = facing > 0.0 and thrown @ off_glass < 0.0
    lit_m2 = clipped_m2(case, way=thrown) if lights else 0.0
    shaded_m2 = clipped_m2(case, way=-case.sun) if facing < 0.0 else 0.0
    assert float(found.lit_m2) == pytest.approx(lit_m2, abs=1e-6)
    assert float(found.shaded_m2) == pytest.approx(shaded_m2, abs=1e-6)


@settings(deadline=None)
@given(height=st.floats(1.0, 90.0), offset=st.floats(-180.0, 180.0), psi=st.floats(30.0, 150.0))
def test_a_mirror_throws_no_more_than_meets_it(height: float, offset: float, psi: float) -> None:
    """Energy: light thrown in is at most what strikes the mirror, and patches fit the glass."""
    case = Case(height=height, offset=offset, psi=psi)
    light = mirror_on_top(
        sun_elevation_deg=height, sun_offset_deg=offset, mirror_deg=psi, **case.sizes
    )
    struck_m2 = 0.9 * abs(float(case.sun @ case.plates[1].normal))
    assert 0.0 <= float(light.normal_beam_m2) <= struck_m2 + 1e-9
    assert 0.0 <= float(light.lit_m2) <= 0.9 + 1e-9
    assert 0.0 <= float(light.shaded_m2) <= 0.9 + 1e-9
    assert float(light.lit_m2) * float(light.shaded_m2) == 0.0
