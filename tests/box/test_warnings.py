"""What gets too hot is named, and what does not is left in peace."""

from __future__ import annotations

import numpy as np
import pytest

from suntrack.box.build import Box, Glazing, Layer
from suntrack.box.film import swinbank_sky_c
from suntrack.box.gain import BoxLight
from suntrack.box.heat import Climate, simulate
from suntrack.box.thermal import thermal
from suntrack.box.warnings import Peaks, box_warnings, first_heating, layer_peaks_c, peaks_of


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


def test_foam_and_cellulose_behind_a_hot_lining_are_named() -> None:
    """Both are outside their rating next to an inner wall of 120 to 150 C (reference, 8.5)."""
    for insulation in ("expanded polystyrene", "extruded polystyrene", "loose cellulose"):
        sentences = box_warnings(box_of(insulation), peaks=HOT)
        assert any(insulation in sentence for sentence in sentences), insulation


def test_mineral_wool_is_not_named() -> None:
    assert not any("wool" in line for line in box_warnings(box_of("mineral wool"), peaks=HOT))


def test_a_mild_day_needs_no_warning() -> None:
    assert box_warnings(box_of("expanded polystyrene"), peaks=MILD) == ()


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
    plain = box_warnings(box_of("mineral wool", tempered=False), peaks=HOT)
    assert [("top" in line) for line in plain if "glass can crack" in line] == [True]
    assert not any("crack" in line for line in box_warnings(box_of("mineral wool"), peaks=HOT))


def test_sealant_is_named_above_its_rating() -> None:
    """176 C, data sheet of an acetoxy food-contact silicone (found)."""
    hotter = Peaks(lining_c=180.0, top_glass_c=60.0, front_glass_c=None, air_c=30.0)
    assert any("sealant" in line for line in box_warnings(box_of("mineral wool"), peaks=hotter))
    assert not any("sealant" in line for line in box_warnings(box_of("mineral wool"), peaks=HOT))


def test_new_paint_is_baked_in_before_food() -> None:
    assert "before the first food" in first_heating().lower()


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
