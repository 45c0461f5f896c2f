"""The builder's numbers against a tape measure and the closed form of a wall."""

from __future__ import annotations

from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from suntrack.box.build import Box, Glazing, Layer, Mirror
from suntrack.box.heat.network import LINING_GAP_M2K_W
from suntrack.box.sizes import box_sizes

BOX = Box(
    name="box",
    width_m=0.5,
    depth_m=0.4,
    height_m=0.3,
    top=Glazing(glasses=2),
    front=Glazing(glasses=1),
    mirror=Mirror(length_m=0.45, width_m=0.6),
    walls=(
        Layer(material="plywood", thickness_m=0.006),
        Layer(material="mineral wool", thickness_m=0.05),
        Layer(material="plywood", thickness_m=0.009),
    ),
    lining=Layer(material="aluminium", thickness_m=0.001),
)


def test_areas_and_room_are_those_of_a_tape_measure() -> None:
    """By hand: 50 x 40 x 30 cm, glass on top and in front."""
    sizes = box_sizes(BOX)
    assert sizes.top_glass_m2 == pytest.approx(0.20)
    assert sizes.front_glass_m2 == pytest.approx(0.15)
    assert sizes.mirror_m2 == pytest.approx(0.27)
    assert sizes.floor_m2 == pytest.approx(0.20)
    # Floor, two sides and the back.
    assert sizes.lining_m2 == pytest.approx(0.20 + 2 * 0.12 + 0.15)
    assert sizes.volume_l == pytest.approx(60.0)


def test_what_is_not_there_has_no_area() -> None:
    sizes = box_sizes(replace(BOX, front=None, mirror=None))
    assert (sizes.front_glass_m2, sizes.mirror_m2) == (0.0, 0.0)
    # The solid front is lined like the other walls.
    assert sizes.lining_m2 == pytest.approx(0.20 + 2 * 0.12 + 2 * 0.15)


def test_layers_and_the_gap_behind_the_lining_make_the_wall() -> None:
    """Resistances in a row; edges and corners by Langmuir's factors (Incropera, memory)."""
    sizes = box_sizes(BOX)
    thick_m = 0.065
    edge_m = 0.5 + 2 * 0.4 + 2 * 0.3
    area_m2 = sizes.lining_m2 + 0.54 * thick_m * edge_m + 0.15 * thick_m**2 * 2
    resistance = LINING_GAP_M2K_W + sum(1.0 / layer.conductance_w_m2k for layer in sizes.layers)
    assert sizes.walls_w_k == pytest.approx(area_m2 / resistance)
    stored_j_m2k = sum(layer.store_j_m2k for layer in sizes.layers)
    assert sizes.walls_j_k == pytest.approx(area_m2 * stored_j_m2k)


def test_glass_stores_what_it_weighs() -> None:
    """2500 kg/m3 and 840 J/(kg K), ASHRAE Fundamentals ch. 26 (found): 3 panes of 4 mm."""
    expected = 2500.0 * 840.0 * 0.004 * (2 * 0.20 + 0.15)
    assert box_sizes(BOX).glass_j_k == pytest.approx(expected)


@given(st.floats(0.005, 0.3))
def test_a_thicker_layer_passes_less_and_stores_more(thickness_m: float) -> None:
    """Conductivity over thickness, and density times specific heat times thickness."""
    layers = [
        box_sizes(replace(BOX, walls=(Layer(material="pine", thickness_m=each),))).layers[0]
        for each in (thickness_m, 2.0 * thickness_m)
    ]
    assert layers[0].conductance_w_m2k == pytest.approx(2.0 * layers[1].conductance_w_m2k)
    assert layers[1].store_j_m2k == pytest.approx(2.0 * layers[0].store_j_m2k)


def test_an_unknown_material_is_refused() -> None:
    with pytest.raises(KeyError, match="marble"):
        box_sizes(replace(BOX, walls=(Layer(material="marble", thickness_m=0.02),)))
