"""What gets too hot is named, and what does not is left in peace."""

from __future__ import annotations

import numpy as np
import pytest

from suntrack.box.build import Box, Glazing, Layer
from suntrack.box.heat.convection import swinbank_sky_c
from suntrack.box.heat.network import thermal
from suntrack.box.heat.simulate import Climate, simulate
from suntrack.box.light.gain import BoxLight
from suntrack.box.warnings import Peaks, layer_peaks_c, peaks_of, too_hot


def box_of(insulation: str, *, tempered: bool = True, inner: str = "plywood") -> Box:
    """Return a box with one kind of insulation."""
    return Box(
        name="box",
        width_m=0.5,
        depth_m=0.4,
        height_m=0.3,
        top=Glazing(glasses=2, tempered=tempered),
        front=Glazing(tempered=tempered),
        mirror=None,
        walls=(
            Layer(material=inner, thickness_m=0.006),
            Layer(material=insulation, thickness_m=0.05),
            Layer(material="plywood", thickness_m=0.009),
        ),
        lining=Layer(material="aluminium", thickness_m=0.001),
    )


HOT = Peaks(lining_c=150.0, top_glass_c=115.0, front_glass_c=80.0, air_c=30.0)
MILD = Peaks(lining_c=70.0, top_glass_c=60.0, front_glass_c=50.0, air_c=25.0)


def names(insulation: str, *, peaks: Peaks = HOT, tempered: bool = True) -> set[tuple[str, str]]:
    """Return kind and part of everything that is too hot."""
    found = too_hot(box_of(insulation, tempered=tempered), peaks=peaks)
    return {(each.kind, each.part) for each in found}


@pytest.mark.parametrize(
    "insulation", ["expanded polystyrene", "extruded polystyrene", "loose cellulose"]
)
def test_foam_and_cellulose_behind_a_hot_lining_are_named(insulation: str) -> None:
    """All are outside their rating (74 to 90 C) next to an inner wall of 120 to 150 C."""
    assert ("layer", insulation) in names(insulation)


def test_mineral_wool_is_not_named() -> None:
    assert ("layer", "mineral wool") not in names("mineral wool")


def test_a_mild_day_needs_no_warning() -> None:
    assert names("expanded polystyrene", peaks=MILD) == set()


@pytest.mark.parametrize("lining_c", range(90, 130, 2))
def test_a_layer_is_named_from_its_limit_on(lining_c: int) -> None:
    """Plywood: 100 C (FPL Wood Handbook, memory); its inner face lags the lining a little."""
    peaks = Peaks(lining_c=lining_c, top_glass_c=60.0, front_glass_c=None, air_c=30.0)
    face_c = layer_peaks_c(box_of("mineral wool"), peaks=peaks)[0]
    assert (("layer", "plywood") in names("mineral wool", peaks=peaks)) is (face_c > 100.0)


def test_a_part_that_is_named_is_above_its_limit_and_says_what_happens() -> None:
    for part in too_hot(box_of("expanded polystyrene"), peaks=HOT):
        assert part.limit_c is not None
        assert part.reached_c > part.limit_c
        assert part.spoils


def test_faces_fall_from_lining_to_outdoors() -> None:
    faces = layer_peaks_c(box_of("mineral wool"), peaks=HOT)
    assert list(faces) == sorted(faces, reverse=True)
    assert HOT.lining_c > faces[0]
    assert faces[-1] > HOT.air_c


def test_even_wall_falls_evenly() -> None:
    """Closed form: two layers of one material share the fall as their thicknesses."""
    box = box_of("plywood")
    first, second, third = layer_peaks_c(box, peaks=HOT)
    assert (first - second) / (second - third) == pytest.approx(0.006 / 0.05)


def test_ordinary_hot_glass_is_named_and_tempered_is_not() -> None:
    """Annealed glass takes 30 to 40 K from centre to edge, tempered about 200 K (memory)."""
    glass = {part for kind, part in names("mineral wool", tempered=False) if kind == "glass"}
    assert glass == {"top"}
    assert not any(kind == "glass" for kind, _ in names("mineral wool"))


@pytest.mark.parametrize(("lining_c", "named"), [(175.0, False), (177.0, True)])
def test_sealant_is_named_above_its_rating(lining_c: float, named: bool) -> None:
    """176 C, data sheet of an acetoxy food-contact silicone (found)."""
    peaks = Peaks(lining_c=lining_c, top_glass_c=60.0, front_glass_c=None, air_c=30.0)
    assert (("sealant", "lining") in names("mineral wool", peaks=peaks)) is named


def test_peaks_come_from_all_runs_of_a_trace() -> None:
    light = np.array([[50.0], [250.0]]) * np.ones(120)
    flat = np.ones((1, 120))
    trace = simulate(
        thermal(box_of("mineral wool")),
        light=BoxLight(
            inside_w=light,
            top_panes_w=np.zeros((2, 120, 2)),
            front_panes_w=np.zeros((2, 120, 1)),
            top_w=light,
            front_w=0 * light,
            mirror_w=0 * light,
        ),
        climate=Climate(air_c=25.0 * flat, sky_c=float(swinbank_sky_c(25.0)) * flat, wind_m_s=flat),
        step_s=60.0,
        start_c=25.0,
    )
    peaks = peaks_of(trace, air_c=25.0)
    assert peaks.lining_c == trace.lining_c[1].max()
    assert peaks.front_glass_c is not None
    assert peaks.lining_c > peaks.top_glass_c > peaks.air_c
