"""What the sizes and materials of a box mean for heat: areas, conductances, stores.

Everything here depends on the box alone.  Films, which change with temperature, are in
`suntrack.box.heat.convection`; the walls are taken at one mean temperature of an ordinary day.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from math import pi, sqrt
from typing import TYPE_CHECKING

from suntrack.box.build import Learned
from suntrack.box.heat.moist_air import GRAVITY_M_S2
from suntrack.box.light.mirrors import glazed_top_m
from suntrack.box.materials import materials

if TYPE_CHECKING:
    from collections.abc import Sequence

    from suntrack.box.build import Box, Glazing, Layer

WALL_MEAN_C = 70.0
"""Mean temperature of the walls on a cooking day, for their conductivity.  [C]"""
LINING_GAP_M2K_W = 0.03
"""The lining lies against the wall with a millimetre of air here and there (builder's
judgement).  [m2 K/W]"""
AIR_J_M3K = 1040.0
"""A cubic metre of air at 340 K and sea level, density times specific heat.  [J/(m3 K)]"""
OPENING_AIR_K = (80.0, 340.0)
"""Hot box less outdoor air, and their mean, when the lid is lifted.  [K]"""


@dataclass(frozen=True, slots=True, kw_only=True)
class Pane:
    """One glazed opening as two nodes: its two glasses, or the two faces of its one."""

    area_m2: float
    """Of the opening.  [m2]"""
    inner_j_k: float
    """Heat of the inner glass for a degree.  [J/K]"""
    outer_j_k: float
    """Heat of the outer glass for a degree.  [J/K]"""
    gap_m: float
    """Air between two glasses; 0 for one glass.  [m]"""
    glass_w_k: float
    """From face to face through the one glass; 0 with two.  [W/K]"""
    height_m: float
    """Of the opening, for an upright one.  [m]"""
    upright: bool
    """True for the front."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Thermal:
    """A box as conductances and stores."""

    floor_m2: float
    """Floor inside.  [m2]"""
    height_m: float
    """Floor to top glass.  [m]"""
    lining_m2: float
    """Dark inside.  [m2]"""
    lining_emittance: float
    """How well the inside radiates.  [-]"""
    lining_absorptance: float
    """Share of light the dark inside keeps.  [-]"""
    lining_j_k: float
    """The dark sheet and the air in the box, whose own store is too small to count.  [J/K]"""
    spread_w_k: float
    """From under a pot through the sheet of the floor to the rest of it.  [W/K]"""
    wall_links_w_k: tuple[float, float]
    """Lining to inner half of the wall, inner half to outer half.  [W/K]"""
    wall_stores_j_k: tuple[float, float]
    """Inner half, outer half.  [J/K]"""
    skin_w_k: float
    """From the outer half of the wall to its outer skin.  [W/K]"""
    skin_m2: float
    """Outside of the walls.  [m2]"""
    panes: tuple[Pane, ...]
    """The top, and the front when it is glazed."""
    tilt_deg: float
    """How far the back is raised.  [deg]"""
    leak_w_k: float
    """Heat lost through the seals, for a degree.  [W/K]"""
    opening_w_k: float
    """Extra loss of the air while the lid is up.  [W/K]"""


def thermal(box: Box) -> Thermal:
    """Return the box as conductances and stores, with what readings have taught of it."""
    return factors_applied(as_built(box), box.learned)


def as_built(box: Box) -> Thermal:
    """Return the box as conductances and stores, by its sizes alone.

    Parameters
    ----------
    box : Box
        As built.  [-]

    Returns
    -------
    thermal : Thermal
        See the fields for units.

    Raises
    ------
    KeyError
        If a layer names a material that the library does not have.

    Notes
    -----
    Heat through the corners of the walls is counted by Langmuir's shape factors, 0.54
    times the thickness for each metre of edge and 0.15 times its square for each corner
    (from memory; Incropera, table of conduction shape factors).
    """
    floor_m2 = box.width_m * box.depth_m
    panes = _panes(box)
    inside_m2 = _wall_m2(box, top_glass_m2=panes[0].area_m2)
    links, stores, skin_w_k, skin_m2 = _walls(box, inside_m2=inside_m2)
    sheet = materials()[box.lining.material]
    sheet_j_k = sheet.density_kg_m3 * sheet.specific_heat_j_kgk * box.lining.thickness_m
    return Thermal(
        floor_m2=floor_m2,
        height_m=box.height_m,
        lining_m2=inside_m2,
        lining_emittance=box.lining_emittance,
        lining_absorptance=box.lining_absorptance,
        lining_j_k=sheet_j_k * inside_m2 + AIR_J_M3K * floor_m2 * box.height_m,
        # Steady heat through a disc from the rim of a pot to the edge of a floor twice as
        # wide: 2 pi k t / ln 2.
        spread_w_k=9.0 * sheet.conductivity_w_mk * box.lining.thickness_m,
        wall_links_w_k=links,
        wall_stores_j_k=stores,
        skin_w_k=skin_w_k,
        skin_m2=skin_m2,
        panes=panes,
        tilt_deg=box.tilt_deg,
        leak_w_k=box.leak_w_k,
        opening_w_k=_opening_w_k(floor_m2),
    )


def _panes(box: Box) -> tuple[Pane, ...]:
    """Return the glazed openings, top first."""
    length_m, width_m = glazed_top_m(box)
    top = _pane(box.top, area_m2=length_m * width_m, height_m=length_m, upright=False)
    if box.front is None:
        return (top,)
    area_m2 = box.width_m * box.height_m
    return top, _pane(box.front, area_m2=area_m2, height_m=box.height_m, upright=True)


def _pane(glazing: Glazing, *, area_m2: float, height_m: float, upright: bool) -> Pane:
    """Return one opening; a single glass is split into its two faces."""
    glass = materials()["glass"]
    store = glass.density_kg_m3 * glass.specific_heat_j_kgk * glazing.thickness_m * area_m2
    double = glazing.glasses == 2
    share = 1.0 if double else 0.5
    through_w_k = glass.conductivity_w_mk / glazing.thickness_m * area_m2
    return Pane(
        area_m2=area_m2,
        inner_j_k=share * store,
        outer_j_k=share * store,
        gap_m=glazing.gap_m if double else 0.0,
        glass_w_k=0.0 if double else through_w_k,
        height_m=height_m,
        upright=upright,
    )


def _wall_m2(box: Box, *, top_glass_m2: float) -> float:
    """Return the inside area of everything that is not glass.  [m2]"""
    floor = box.width_m * box.depth_m
    sides = 2 * box.depth_m * box.height_m + box.width_m * box.height_m
    front = box.width_m * box.height_m if box.front is None else 0.0
    return floor + sides + front + (floor - top_glass_m2)


def _walls(
    box: Box, *, inside_m2: float
) -> tuple[tuple[float, float], tuple[float, float], float, float]:
    """Return links, stores, link to the skin and area of the skin of the two wall nodes."""
    thick_m = sum(layer.thickness_m for layer in box.walls)
    area_m2 = inside_m2 + _edges_m2(box, thick_m=thick_m)
    halves = _halves(box.walls)
    (first_j, first_at), (second_j, second_at), whole = halves
    return (
        (area_m2 / (LINING_GAP_M2K_W + first_at), area_m2 / (second_at - first_at)),
        (first_j * area_m2, second_j * area_m2),
        area_m2 / (whole - second_at),
        # The outside is larger than the inside by twice what counts for conduction.
        inside_m2 + 2.0 * (area_m2 - inside_m2),
    )


def _edges_m2(box: Box, *, thick_m: float) -> float:
    """Return the area that edges and corners of the walls are worth.  [m2]"""
    walled = box.front is None
    bottom_m = (2 if walled else 1) * box.width_m + 2 * box.depth_m
    upright_m = (4 if walled else 2) * box.height_m
    corners = 4 if walled else 2
    return 0.54 * thick_m * (bottom_m + upright_m) + 0.15 * thick_m**2 * corners


def _halves(layers: Sequence[Layer]) -> tuple[tuple[float, float], tuple[float, float], float]:
    """Return store and place of each half of a wall, and its whole resistance.

    The wall is cut where half its resistance is; each half's store sits at the mean place
    of that store, the place being the resistance from the inner face.  [J/(m2 K)], [m2 K/W]
    """
    whole = sum(_resistance(layer) for layer in layers)
    store, moment = [0.0, 0.0], [0.0, 0.0]
    start = 0.0
    for layer in layers:
        end = start + _resistance(layer)
        material = materials()[layer.material]
        heat = material.density_kg_m3 * material.specific_heat_j_kgk * layer.thickness_m
        for half, (low, high) in enumerate(((0.0, whole / 2), (whole / 2, whole))):
            a, b = max(start, low), min(end, high)
            part = heat * max(b - a, 0.0) / (end - start)
            store[half] += part
            moment[half] += part * (a + b) / 2
        start = end
    first, second = ((store[i], moment[i] / store[i]) for i in (0, 1))
    return first, second, whole


def _resistance(layer: Layer) -> float:
    """Return the resistance of a layer.  [m2 K/W]"""
    return layer.thickness_m / materials()[layer.material].conductivity_at(WALL_MEAN_C)


def _opening_w_k(floor_m2: float) -> float:
    """Return the loss through the open lid, hot air changing places with cold.

    M. Epstein, "Buoyancy-driven exchange flow through small openings in horizontal
    partitions", J. Heat Transfer 110 (1988) 885: 0.055 sqrt(g (density ratio) L^5) for a
    wide opening (from memory), and about 8 W/(m2 K) of radiation past the glass.  [W/K]
    """
    hot_k, mean_k = OPENING_AIR_K
    size_m = 2.0 * sqrt(floor_m2 / pi)
    flow_m3_s = 0.055 * sqrt(GRAVITY_M_S2 * hot_k / mean_k * size_m**5)
    return AIR_J_M3K * flow_m3_s + 8.0 * floor_m2


def factors_applied(parts: Thermal, learned: Learned) -> Thermal:
    """Return a box as conductances and stores, with what was learned.

    Parameters
    ----------
    parts : Thermal
        As its sizes have it.  [-]
    learned : Learned
        The factors.  [-]

    Returns
    -------
    thermal : Thermal
        A pane that loses a tenth more is one with a tenth more surface, for heat alone: its
        films change with temperature and cannot be scaled one by one.
    """
    if learned == Learned():
        return parts
    first, second = parts.wall_links_w_k
    inner_j_k, outer_j_k = parts.wall_stores_j_k
    return replace(
        parts,
        lining_j_k=learned.store * parts.lining_j_k,
        wall_links_w_k=(learned.loss * first, learned.loss * second),
        wall_stores_j_k=(learned.store * inner_j_k, learned.store * outer_j_k),
        skin_w_k=learned.loss * parts.skin_w_k,
        leak_w_k=learned.loss * parts.leak_w_k,
        panes=tuple(_pane_losing(pane, loss=learned.loss) for pane in parts.panes),
    )


def _pane_losing(pane: Pane, *, loss: float) -> Pane:
    return replace(pane, area_m2=loss * pane.area_m2, glass_w_k=loss * pane.glass_w_k)
