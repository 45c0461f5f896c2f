"""The plain records that the compiled simulator works on, and their layout in memory.

A compiled function passes a record of numpy as one bare pointer; tuples of arrays cost it
ten times as much in the counting of references.  The classes below say what is in each
record, for the reader and the type checker; their layouts are made from them, and a
`numpy.record` with such a layout has these attributes.  Places are fixed: `PANES` openings,
`POTS` pots, `SHELLS` shells in each; the counts say how many are used.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any, get_type_hints

import numpy as np
from numpy.typing import NDArray

Floats = NDArray[np.float64]
PANES, POTS, SHELLS = 2, 12, 12
CORE = 2 + PANES
"""Lining, air and the inner glasses.  [-]"""
LOSSES = 4 + PANES
"""Walls, leak, lid, vapour and the glazed openings.  [-]"""


class BoxNumbers:
    """`suntrack.box.heat.network.Thermal`, each opening one place of an array."""

    panes: int
    floor_m2: float
    """Floor inside.  [m2]"""
    height_m: float
    lining_m2: float
    lining_emittance: float
    """How well the inside radiates.  [-]"""
    lining_j_k: float
    spread_w_k: float
    wall_links_w_k: Floats
    """Lining to inner half, inner half to outer half: (2,)."""
    wall_stores_j_k: Floats
    """Inner half, outer half: (2,)."""
    skin_w_k: float
    skin_m2: float
    tilt_deg: float
    """How far the back is raised.  [deg]"""
    leak_w_k: float
    """Heat lost through the seals, for a degree.  [W/K]"""
    opening_w_k: float
    pane_m2: Floats
    inner_j_k: Floats
    outer_j_k: Floats
    gap_m: Floats
    glass_w_k: Floats
    pane_height_m: Floats
    upright: Floats
    """1 for an upright opening."""


class PotNumbers:
    """Every `suntrack.box.heat.simulate.PotCharge` of the day, each pot one place: (POTS,)."""

    count: int
    pot_j_k: Floats
    side_m2: Floats
    lid_m2: Floats
    base_m2: Floats
    emittance: Floats
    start_c: Floats
    """At the beginning.  [C]"""
    boiling_c: Floats
    wet_m2: Floats
    """Water surface that steams past the lid."""
    light_share: Floats
    """Of the light inside, for a pot that has room.  [-]"""
    shells: Floats
    """How many; the places after them are empty.  [-]"""
    shell_j_k: Floats
    """(POTS, SHELLS)."""
    shell_w_k: Floats
    """To the next shell out, the last one to the pot: (POTS, SHELLS)."""


class Forcing:
    """What drives one step."""

    inside_w: float
    """Light that lining and pots take in."""
    inner_w: Floats
    """Light in the inner glass of each opening."""
    outer_w: Floats
    air_c: float
    """Outdoors."""
    sky_c: float
    """What the sky radiates as.  [C]"""
    wind_m_s: float
    """Wind at the box.  [m/s]"""
    opening_w_k: float
    """Extra loss of the air through the lifted lid."""
    light_fit: float
    """How far the pots' shares of the light have to shrink, when they are many.  [-]"""
    lid_fit: float
    """How far the glass that their lids hide does.  [-]"""
    inside: Floats
    """1 for each pot that is in the box: (POTS,)."""


class State:
    """All temperatures of one moment.  [C]"""

    air: float
    """Air in the box."""
    lining: float
    walls: Floats
    """Inner half, outer half: (2,)."""
    inner: Floats
    """Inner glass of each opening, top first."""
    outer: Floats
    """Outer glass, or the outer face of the one."""
    pots: Floats
    """Pot and liquid: (POTS,)."""
    boiling: Floats
    """1 for a pot held at the boil: (POTS,).  [-]"""
    shells: Floats
    """Solid pieces of each pot, core first: (POTS, SHELLS)."""


class Conductances:
    """Every conductance that changes with temperature or wind.  [W/K]"""

    lining_air: float
    wall_out: float
    """Outer half of the wall to the outdoors."""
    lining_w_m2k: Floats
    """Lining to inner glass, for each square metre that no lid hides.  [W/(m2 K)]"""
    air: Floats
    """Air in the box to inner glass."""
    between: Floats
    """Inner glass to outer glass."""
    wind: Floats
    """Outer glass to outdoor air, and to the ground for an upright one."""
    sky: Floats
    """Outer glass to sky."""
    pot_lining: Floats
    pot_air: Floats
    """Pot to the air in the box."""
    pot_panes: Floats
    """Pot to inner glass: (POTS, PANES)."""
    pot_vapour: Floats
    """Pot to the outdoors below boiling, as vapour."""


class Workspace:
    """Room to work in during a step, and what the steps add up to."""

    core: Floats
    """Links of the core, lower triangle: (CORE, CORE).  [W/K]"""
    right: Floats
    """What reaches each place of the core, then its temperature.  [W], [C]"""
    ties: Floats
    """From each pot to each place of the core: (POTS, CORE).  [W/K]"""
    moments: State
    """The temperature of everything inside the step; on the way in, a store's own sum."""
    shares: State
    """How far into the step every store looks.  [-]"""
    pivots: State
    """What holds each part: its store and all its links.  [W/K]"""
    lost: Floats
    """Energy lost each way since the start: (LOSSES,).  [J]"""
    looked_air_c: float
    """Weather at the last look at the films."""
    looked_sky_c: float
    looked_wind_m_s: float
    quickest_k_s: float
    """How fast the quickest part moved in the last stride.  [K/s]"""


def _layout(kind: type, *, places: int = PANES, **shapes: tuple[int, ...]) -> np.dtype[np.void]:
    """Return the layout of a record; a field of many has so many places unless said."""
    fields: list[tuple[str, str | np.dtype[np.void], tuple[int, ...]]] = []
    for name, hint in get_type_hints(kind).items():
        if hint is State:
            fields.append((name, STATE, ()))
            continue
        many = () if hint in (int, float) else (places,)
        fields.append((name, "i8" if hint is int else "f8", shapes.get(name, many)))
    return np.dtype(fields, align=True)


BOX = _layout(BoxNumbers, wall_links_w_k=(2,), wall_stores_j_k=(2,))
POT_ROWS = _layout(PotNumbers, places=POTS, shell_j_k=(POTS, SHELLS), shell_w_k=(POTS, SHELLS))
MINUTE = _layout(Forcing, inside=(POTS,))
STATE = _layout(State, walls=(2,), pots=(POTS,), boiling=(POTS,), shells=(POTS, SHELLS))
LINKS = _layout(
    Conductances, pot_lining=(POTS,), pot_air=(POTS,), pot_panes=(POTS, PANES), pot_vapour=(POTS,)
)
BENCH = _layout(
    Workspace,
    core=(CORE, CORE),
    right=(CORE,),
    ties=(POTS, CORE),
    lost=(LOSSES,),
)


def as_record(row: NDArray[np.void]) -> Any:
    """Return the one record of an array with its fields as attributes, as the formulas want.

    Parameters
    ----------
    row : ndarray
        Shape (1,), of one of the layouts of this module.

    Returns
    -------
    record : numpy.record
        On the same memory; its attributes are those of the class behind the layout.
    """
    return row.view(np.recarray)[0]


def blank(layout: np.dtype[np.void]) -> Any:
    """Return a record of zeros, as `as_record` does."""
    return as_record(np.zeros(1, layout))


@dataclass(frozen=True, slots=True, kw_only=True)
class PotCharge:
    """A pot with its food, as stores and links."""

    pot_j_k: float
    """The pot itself and the free liquid in it.  [J/K]"""
    cells_j_k: tuple[float, ...] = ()
    """Shells of the solid pieces, core first; empty when all is liquid.  [J/K]"""
    links_w_k: tuple[float, ...] = ()
    """From each shell to the next, the last one to the pot.  [W/K]"""
    side_m2: float
    """Its wall.  [m2]"""
    lid_m2: float
    """Its lid.  [m2]"""
    base_m2: float
    """Its bottom.  [m2]"""
    emittance: float
    """How well it radiates.  [-]"""
    absorptance: float
    """Share of light kept.  [-]"""
    start_c: float
    """At the beginning.  [C]"""
    boiling_c: float | None
    """None for a dry dish.  [C]"""
    lid_leak: float
    """Share of the vapour an open pot would lose.  [-]"""
    open_m2: float
    """Water surface.  [m2]"""
