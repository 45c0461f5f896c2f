"""Glass, back mirror and side mirrors against rays that are followed one by one."""

from __future__ import annotations

from dataclasses import dataclass, replace

import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st
from mirror_rays import Plate, Vector, by_bounces, open_box, sun_over

from suntrack.box.light.beams import FIRST, THEN
from suntrack.box.light.side_mirrors import CupLight, CupSizes, cup_light

Four = tuple[float, float, float, float]
NONE: Four = (0.0, 1.0, 0.0, 90.0)
HALF_M = 1.6
"""Half of the square across the beam that holds every box here."""


@dataclass(frozen=True, kw_only=True)
class Case:
    """One box, one sun; mirrors as length, width, gap and angle."""

    height: float
    offset: float = 0.0
    tilt: float = 0.0
    top: tuple[float, float] = (0.42, 0.56)
    back: Four = (0.44, 0.6, 0.01, 95.0)
    sides: Four = (0.3, 0.42, 0.01, 122.0)

    @property
    def sun(self) -> Vector:
        """To the sun."""
        return sun_over(self.height, self.offset)

    @property
    def plates(self) -> list[Plate]:
        """Glass and mirrors in the world."""
        return open_box(tilt=self.tilt, top=self.top, back=self.back, sides=self.sides)

    @property
    def sizes(self) -> CupSizes:
        """The same for the code under test."""
        return CupSizes(
            top_length_m=self.top[0],
            top_width_m=self.top[1],
            side_length_m=self.sides[0],
            side_width_m=self.sides[1],
            side_gap_m=self.sides[2],
            side_deg=self.sides[3],
            back_length_m=self.back[0],
            back_width_m=self.back[1],
            back_gap_m=self.back[2],
            tilt_deg=self.tilt,
        )

    def found(self) -> CupLight:
        """Return what the code under test says."""
        return cup_light(
            self.sizes,
            sun_elevation_deg=self.height,
            sun_offset_deg=self.offset,
            mirror_deg=self.back[3],
        )

    def areas(self) -> tuple[float, float, float]:
        """Return straight light, light by one mirror and by two, as areas across the beam."""
        found, top_m2 = self.found(), self.top[0] * self.top[1]
        straight = (top_m2 - float(found.shaded_m2)) * float(self.sun @ self.plates[0].shines)
        one, two = (float(found.normal_beam_m2[kind].sum()) for kind in (THEN == 0, THEN > 0))
        return straight, one, two


CASES = {
    "straight ahead": Case(height=60.0),
    "straight ahead, low": Case(height=25.0, back=(0.44, 0.6, 0.01, 75.0)),
    "overhead": Case(height=89.0, back=(0.44, 0.6, 0.01, 120.0)),
    "a little aside": Case(height=50.0, offset=12.0),
    "aside, and on to the far mirror": Case(height=45.0, offset=-30.0),
    "beside": Case(height=40.0, offset=90.0),
    "low beside, in the shadow of a side": Case(height=15.0, offset=-85.0),
    "behind, two shadows that overlap": Case(height=30.0, offset=140.0),
    "straight behind": Case(height=35.0, offset=180.0),
    "upright sides": Case(height=65.0, offset=20.0, sides=(0.5, 0.42, 0.0, 90.0)),
    "sides nearly flat": Case(height=70.0, offset=5.0, sides=(0.5, 0.42, 0.0, 150.0)),
    "long sides": Case(height=75.0, offset=10.0, sides=(0.9, 0.4, 0.02, 110.0)),
    "short sides in the middle": Case(height=55.0, offset=15.0, sides=(0.2, 0.2, 0.05, 120.0)),
    "back mirror leans over": Case(height=20.0, offset=25.0, back=(0.6, 0.5, 0.0, 60.0)),
    "narrow back mirror": Case(height=50.0, offset=-20.0, back=(0.5, 0.3, 0.05, 92.0)),
    "no back mirror": Case(height=55.0, offset=25.0, back=NONE),
    "tilted": Case(height=35.0, offset=18.0, tilt=25.0),
    "tilted, sun behind": Case(height=60.0, offset=165.0, tilt=20.0),
}


@pytest.mark.parametrize("case", CASES.values(), ids=CASES.keys())
def test_each_kind_of_light_agrees_with_rays(case: Case) -> None:
    """Cells of 5.3 mm: some 600 lie on an outline, each wrong by half at most at random.

    That is 0.5 x 2.8e-5 m2 x sqrt(600), 0.00035 m2; five of these are allowed.
    """
    arrived, _ = by_bounces(case.plates, case.sun, half_m=HALF_M, each_way=600)
    assert case.areas() == pytest.approx(arrived[:3], abs=0.0018)


@settings(deadline=None, max_examples=25)
@given(
    case=st.builds(
        Case,
        height=st.floats(4.0, 88.0),
        offset=st.floats(-180.0, 180.0),
        tilt=st.floats(0.0, 30.0),
        top=st.tuples(st.floats(0.3, 0.7), st.floats(0.3, 0.7)),
        back=st.tuples(
            st.floats(0.2, 0.8), st.floats(0.3, 0.9), st.floats(0.0, 0.1), st.floats(60.0, 130.0)
        ),
        sides=st.tuples(
            st.floats(0.1, 0.7), st.floats(0.1, 0.3), st.floats(0.0, 0.08), st.floats(90.0, 150.0)
        ),
    )
)
def test_any_box_and_any_sun_agree_with_rays(case: Case) -> None:
    """Cells of 8 mm on outlines of up to 6 m: 0.5 x 6.4e-5 x sqrt(750) is 0.0009 m2, and five."""
    assume(float(case.sun @ case.plates[0].shines) > 0.02)
    arrived, _ = by_bounces(case.plates, case.sun, half_m=HALF_M, each_way=400)
    assert case.areas() == pytest.approx(arrived[:3], abs=0.0045)


def test_three_bounces_bring_little() -> None:
    """What is left out, on the example's box with the best side mirrors: rays, a day of suns.

    The most of all these suns is under a hundredth of the light.
    """
    shares = []
    for height in (15.0, 30.0, 45.0, 60.0, 75.0):
        for offset in (0.0, 15.0, 30.0, 60.0):
            back = (0.44, 0.6, 0.01, 60.0 + 2.0 * height / 3.0)
            case = Case(height=height, offset=offset, back=back)
            arrived, _ = by_bounces(case.plates, case.sun, half_m=1.2, each_way=250)
            shares.append(sum(arrived[3:]) / sum(arrived))
    assert max(shares) < 0.01


@settings(deadline=None)
@given(height=st.floats(2.0, 90.0), offset=st.floats(-180.0, 180.0), angle=st.floats(90.0, 150.0))
def test_no_more_arrives_than_glass_and_mirrors_catch(
    height: float, offset: float, angle: float
) -> None:
    """Energy: each mirror sends on at most what meets it, its whole face turned to the sun."""
    case = Case(height=height, offset=offset, sides=(0.3, 0.42, 0.01, angle))
    found = case.found()
    _, back, right, left = case.plates
    lengths = {1: (back, 0.44 * 0.6), 2: (right, 0.3 * 0.42), 3: (left, 0.3 * 0.42)}
    for mirror, (plate, area_m2) in lengths.items():
        caught_m2 = area_m2 * max(float(case.sun @ plate.shines), 0.0)
        sent_m2 = float(found.normal_beam_m2[mirror == FIRST].sum())
        assert 0.0 <= sent_m2 <= caught_m2 + 1e-9
    assert 0.0 <= float(found.shaded_m2) <= 0.42 * 0.56 + 1e-9


@settings(deadline=None)
@given(height=st.floats(2.0, 89.0), offset=st.floats(0.0, 180.0), psi=st.floats(60.0, 130.0))
def test_left_and_right_are_alike(height: float, offset: float, psi: float) -> None:
    """A mirrored sun makes the left mirror do what the right one did."""
    case = Case(height=height, offset=offset, back=(0.44, 0.6, 0.01, psi))
    here, there = case.found(), replace(case, offset=-offset).found()
    swapped = [0, 2, 1, 6, 7, 8, 3, 4, 5]
    assert here.normal_beam_m2 == pytest.approx(there.normal_beam_m2[swapped], abs=1e-9)
    assert float(here.shaded_m2) == pytest.approx(float(there.shaded_m2), abs=1e-9)
