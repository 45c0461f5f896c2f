"""The box in the numbers a builder can check with a tape and a scale: areas, layers, stores.

What these do to light and heat is worked out elsewhere; nothing here depends on a day.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from suntrack.box.heat.network import WALL_MEAN_C, as_built
from suntrack.box.materials import materials

if TYPE_CHECKING:
    from suntrack.box.build import Box, Layer
    from suntrack.box.heat.network import Pane, Thermal


@dataclass(frozen=True, slots=True, kw_only=True)
class LayerFacts:
    """One layer of the wall, by the square metre."""

    material: str
    """Its key in the library."""
    thickness_m: float
    """Across the layer or pane.  [m]"""
    conductance_w_m2k: float
    """Through this layer alone, warm as on a cooking day.  [W/(m2 K)]"""
    store_j_m2k: float
    """Heat for a degree and a square metre.  [J/(m2 K)]"""


@dataclass(frozen=True, slots=True, kw_only=True)
class BoxSizes:
    """The whole box, as built."""

    top_glass_m2: float
    """Not hidden by the frame.  [m2]"""
    front_glass_m2: float
    """0 for a solid front.  [m2]"""
    mirror_m2: float
    """At the back; 0 without one.  [m2]"""
    floor_m2: float
    """Floor inside.  [m2]"""
    lining_m2: float
    """Everything inside that is not glass.  [m2]"""
    volume_l: float
    """Inside.  [L]"""
    layers: tuple[LayerFacts, ...]
    """Inside first."""
    walls_w_k: float
    """From the lining to the outer skin, edges and corners counted.  [W/K]"""
    leak_w_k: float
    """Heat lost through the seals, for a degree.  [W/K]"""
    lining_j_k: float
    """The dark sheet with the air in the box.  [J/K]"""
    walls_j_k: float
    """Heat of the walls for a degree.  [J/K]"""
    glass_j_k: float
    """Heat of the glass for a degree.  [J/K]"""
    side_mirrors_m2: float = 0.0
    """Both together; 0 without any.  [m2]"""


def box_sizes(box: Box) -> BoxSizes:
    """Return areas, volume, layers and stores of a box.

    Parameters
    ----------
    box : Box
        As built.  [-]

    Returns
    -------
    sizes : BoxSizes
        See the fields for units.

    Raises
    ------
    KeyError
        If a layer names a material that the library does not have.
    """
    parts = as_built(box)
    mirror, sides = box.mirror, box.side_mirrors
    return BoxSizes(
        top_glass_m2=parts.panes[0].area_m2,
        front_glass_m2=sum(pane.area_m2 for pane in parts.panes[1:]),
        mirror_m2=mirror.length_m * mirror.width_m if mirror else 0.0,
        floor_m2=parts.floor_m2,
        lining_m2=parts.lining_m2,
        volume_l=1000.0 * parts.floor_m2 * box.height_m,
        layers=tuple(_layer_facts(layer) for layer in box.walls),
        walls_w_k=_walls_w_k(parts),
        leak_w_k=box.leak_w_k,
        lining_j_k=parts.lining_j_k,
        walls_j_k=sum(parts.wall_stores_j_k),
        glass_j_k=sum(_pane_j_k(pane) for pane in parts.panes),
        side_mirrors_m2=2.0 * sides.length_m * sides.width_m if sides else 0.0,
    )


def _layer_facts(layer: Layer) -> LayerFacts:
    """Return one layer by the square metre."""
    material = materials()[layer.material]
    return LayerFacts(
        material=layer.material,
        thickness_m=layer.thickness_m,
        conductance_w_m2k=material.conductivity_at(WALL_MEAN_C) / layer.thickness_m,
        store_j_m2k=material.density_kg_m3 * material.specific_heat_j_kgk * layer.thickness_m,
    )


def _walls_w_k(parts: Thermal) -> float:
    """Return the links of the wall in a row as one.  [W/K]"""
    return 1.0 / sum(1.0 / link for link in (*parts.wall_links_w_k, parts.skin_w_k))


def _pane_j_k(pane: Pane) -> float:
    """Return the store of both glasses of an opening.  [J/K]"""
    return pane.inner_j_k + pane.outer_j_k
