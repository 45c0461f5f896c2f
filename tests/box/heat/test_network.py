"""Sizes and materials to conductances: closed forms, limits, shape factors."""

from __future__ import annotations

from dataclasses import replace

import pytest

from suntrack.box.build import Box, Glazing, Layer
from suntrack.box.heat.network import LINING_GAP_M2K_W, WALL_MEAN_C, thermal
from suntrack.box.materials import materials


def courtyard_box(**changes: object) -> Box:
    """Return a box 0.5 x 0.4 x 0.3 m with 60 mm of mineral wool between plywood."""
    box = Box(
        name="courtyard",
        width_m=0.5,
        depth_m=0.4,
        height_m=0.3,
        top=Glazing(glasses=2, thickness_m=0.003),
        front=Glazing(thickness_m=0.003),
        mirror=None,
        walls=(
            Layer(material="plywood", thickness_m=0.006),
            Layer(material="mineral wool", thickness_m=0.060),
            Layer(material="plywood", thickness_m=0.009),
        ),
        lining=Layer(material="aluminium", thickness_m=0.001),
    )
    return replace(box, **changes)  # type: ignore[arg-type]


def test_areas() -> None:
    box = thermal(courtyard_box())
    assert box.floor_m2 == pytest.approx(0.2)
    # Floor, back, two sides; top and front are glass.
    assert box.lining_m2 == pytest.approx(0.2 + 0.15 + 2 * 0.12)
    assert [pane.area_m2 for pane in box.panes] == pytest.approx([0.2, 0.15])
    walled = thermal(courtyard_box(front=None))
    assert walled.lining_m2 == pytest.approx(box.lining_m2 + 0.15)
    assert len(walled.panes) == 1


def test_frame_is_wall_not_glass() -> None:
    plain, framed = thermal(courtyard_box()), thermal(courtyard_box(top_frame_m=0.05))
    assert framed.panes[0].area_m2 == pytest.approx(0.4 * 0.3)
    assert framed.lining_m2 == pytest.approx(plain.lining_m2 + 0.08)


def test_wall_is_its_layers_in_series() -> None:
    """Series resistances over the area that edges and corners are worth.

    Langmuir's factors (Incropera, table 4.1, memory): 0.54 t a metre of edge, 0.15 t^2 a
    corner.  Edges of the walled part: 0.5 + 2 x 0.4 along the floor, 2 x 0.3 upright.
    """
    box = thermal(courtyard_box())
    thick_m = 0.075
    area_m2 = box.lining_m2 + 0.54 * thick_m * (0.5 + 0.8 + 0.6) + 0.15 * thick_m**2 * 2
    wool = materials()["mineral wool"].conductivity_at(WALL_MEAN_C)
    resistance = LINING_GAP_M2K_W + 0.015 / 0.12 + 0.060 / wool
    found = sum(1.0 / link for link in (*box.wall_links_w_k, box.skin_w_k))
    assert found == pytest.approx(resistance / area_m2, rel=1e-9)


def test_wall_keeps_its_store() -> None:
    """Both halves together hold density times specific heat times thickness."""
    one = courtyard_box(walls=(Layer(material="pine", thickness_m=0.04),), front=None)
    box = thermal(one)
    edges_m2 = 0.54 * 0.04 * (2 * 0.5 + 2 * 0.4 + 4 * 0.3) + 0.15 * 0.04**2 * 4
    expected = 400 * 1630 * 0.04 * (box.lining_m2 + edges_m2)
    assert sum(box.wall_stores_j_k) == pytest.approx(expected, rel=1e-9)
    # An even wall is cut in the middle, each half's store at its own middle.
    assert box.wall_stores_j_k[0] == pytest.approx(box.wall_stores_j_k[1])
    assert box.wall_links_w_k[1] == pytest.approx(0.5 * box.skin_w_k)


def test_glass_keeps_its_store_however_it_is_split() -> None:
    """2500 x 840 J/m3K, ASHRAE HoF ch. 26 (found)."""
    top, front = thermal(courtyard_box()).panes
    assert top.inner_j_k == pytest.approx(2500 * 840 * 0.003 * 0.2)
    assert front.inner_j_k + front.outer_j_k == pytest.approx(2500 * 840 * 0.003 * 0.15)
    assert front.glass_w_k == pytest.approx(1.0 / 0.003 * 0.15)


def test_thicker_walls_let_less_through() -> None:
    thin = courtyard_box()
    thick = replace(
        thin, walls=(thin.walls[0], replace(thin.walls[1], thickness_m=0.1), thin.walls[2])
    )
    assert thermal(thick).wall_links_w_k[1] < thermal(thin).wall_links_w_k[1]


def test_unknown_material_is_refused() -> None:
    with pytest.raises(KeyError, match="unobtainium"):
        thermal(courtyard_box(lining=Layer(material="unobtainium", thickness_m=0.001)))
