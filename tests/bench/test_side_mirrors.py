"""Side mirrors over a span of days, on the example's box with and without them."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest

from suntrack.bench.hinge import side_advice
from suntrack.bench.standard_tests import intercept_m2
from suntrack.box.build import Box, SideMirrors, without_mirrors
from suntrack.box.wind import tying_wind_m_s
from suntrack.plan.cautions import FIXED_GLARE, GLARE, SIDES, cautions_for, usual_cautions
from suntrack.plan.inputs import DayInputs
from suntrack.plan.rays import Rays, rays_of
from suntrack.screen.text.cautions import caution_words

WINGS = SideMirrors(length_m=0.3, width_m=0.4, angle_deg=120.0)


@pytest.fixture(scope="module")
def rays(inputs: DayInputs) -> Rays:
    """Return the clear day in half hours, while the sun is well up."""
    high = np.flatnonzero(inputs.sun.elevation_deg > 20.0)
    return rays_of(inputs, steps=slice(int(high[0]), int(high[-1]), 30))


@pytest.fixture(scope="module")
def box(inputs: DayInputs) -> Box:
    return replace(inputs.box, side_mirrors=WINGS)


def test_no_side_mirrors_no_advice(inputs: DayInputs, rays: Rays) -> None:
    assert side_advice(inputs.box, rays) is None


def test_the_best_angle_keeps_all_and_a_bad_one_less(box: Box, rays: Rays) -> None:
    """Shares of one best: what stands there keeps all, and any other keeps no more."""
    found = side_advice(box, rays)
    assert found is not None
    best = replace(box, side_mirrors=replace(WINGS, angle_deg=found.best_deg))
    again = side_advice(best, rays)
    assert again is not None
    assert again.light_kept == 1.0
    flat = side_advice(replace(box, side_mirrors=replace(WINGS, angle_deg=150.0)), rays)
    assert flat is not None
    assert flat.light_kept < found.light_kept <= 1.0
    assert found.without == pytest.approx(again.without, abs=0.01)
    assert found.without < 1.0


def test_dull_side_mirrors_only_shade(box: Box, rays: Rays) -> None:
    """With next to no reflectance the box is best without them."""
    dull = side_advice(replace(box, side_mirrors=replace(WINGS, reflectance=1e-6)), rays)
    assert dull is not None
    assert dull.without >= 1.0


def test_the_sun_that_side_mirrors_catch(box: Box) -> None:
    """Straight below the sun each shows cos 60 of its face: 2 x 0.3 x 0.4 x 0.5 m2 (by hand)."""
    plain = intercept_m2(replace(box, side_mirrors=None), elevation_deg=90.0, mirror_deg=None)
    winged = intercept_m2(box, elevation_deg=90.0, mirror_deg=None)
    assert winged - plain == pytest.approx(0.12, abs=1e-9)


def test_wind_pushes_all_mirrors_as_one(box: Box) -> None:
    """Push goes as area times speed squared: three times the area, 8 over the root of three."""
    assert box.mirror is not None
    equal = replace(box, mirror=replace(box.mirror, length_m=0.3, width_m=0.4))
    assert tying_wind_m_s(equal) == pytest.approx(8.0 / 3.0**0.5)
    assert tying_wind_m_s(replace(box, mirror=None)) == pytest.approx(8.0 / 2.0**0.5)
    assert tying_wind_m_s(without_mirrors(box)) == 8.0


def test_cautions_name_side_mirrors(box: Box) -> None:
    assert {SIDES, GLARE} <= set(usual_cautions(replace(box, mirror=None)))
    assert SIDES not in usual_cautions(replace(box, side_mirrors=None))
    assert FIXED_GLARE in usual_cautions(replace(box, side_mirrors=replace(WINGS, fixed=True)))


def test_less_wind_asks_for_tying(box: Box) -> None:
    """6 m/s is not windy for one mirror (8), and is for these three (5.8)."""
    for one, windy in ((box, True), (replace(box, side_mirrors=None), False)):
        found = cautions_for(box=one, dishes=(), warmest_air_c=25.0, strongest_wind_m_s=6.0)
        assert ("wind" in found) is windy


def test_a_box_without_mirrors_is_not_told_of_their_light(inputs: DayInputs) -> None:
    bare = without_mirrors(inputs.box)
    found = cautions_for(box=bare, dishes=(), warmest_air_c=25.0, strongest_wind_m_s=20.0)
    assert len(found) == 6
    assert not any("mirror" in caution_words(name) for name in found)
    assert any("look at the sun" in caution_words(name) for name in found)
