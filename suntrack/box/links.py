r"""The conductances between the parts of the box, at the temperatures of one moment.

                    outdoor air, sky
                       |        |
    outer glass ---- inner glass ---- air ---- lining ---- wall ---- wall ---- outdoor air
                         |  \          |      / |
                         |   `------- pot ---'  |          (one pot of several)
                         `----------------------'          (radiation)

The pictures and shares below say who exchanges heat with whom; the films themselves are
in `suntrack.box.film`.
"""

from __future__ import annotations

from dataclasses import dataclass
from math import pi, sqrt
from typing import TYPE_CHECKING

from suntrack.box import film
from suntrack.box.air import open_water_loss_w_m2k
from suntrack.box.thermal import WALL_RADIATION_W_M2K

if TYPE_CHECKING:
    from collections.abc import Sequence

    from suntrack.box.heat import PotCharge
    from suntrack.box.number import Number
    from suntrack.box.state import Outdoors, State
    from suntrack.box.thermal import Pane, Thermal

CONTACT_W_M2K = 25.0
"""A pot's base on the floor: a millimetre of air under it, most of the way (builder's
judgement).  [W/(m2 K)]"""
LIDS_COVER = 0.9
"""Most of the top glass that lids may hide from the lining.  [-]"""


@dataclass(slots=True)
class PaneLinks:
    """What one glazed opening exchanges.  [W/K]"""

    lining_w_m2k: Number
    """For each square metre that no lid hides.  [W/(m2 K)]"""
    air: Number
    between: Number
    """Inner glass to outer glass."""
    wind: Number
    """Outer glass to outdoor air, and to the ground for an upright one."""
    sky: Number


@dataclass(slots=True)
class PotLinks:
    """What one pot exchanges.  [W/K]"""

    lining: Number
    air: Number
    panes: list[Number]
    vapour: Number
    """Lost to the outdoors below boiling."""


@dataclass(slots=True)
class Links:
    """Every conductance that changes with temperature or wind.  [W/K]"""

    lining_air: Number
    wall_out: Number
    panes: list[PaneLinks]
    pots: list[PotLinks]


def find_links(
    state: State, *, outdoors: Outdoors, thermal: Thermal, pots: Sequence[PotCharge]
) -> Links:
    """Return the conductances at the temperatures of one moment.

    Parameters
    ----------
    state : State
        Temperatures of the box.  [C]
    outdoors : Outdoors
        Air, sky and wind.  [C], [m/s]
    thermal : Thermal
        The box.  [-]
    pots : sequence of PotCharge
        Every pot of the day, in the box or not.  [-]

    Returns
    -------
    links : Links
        Each multiplied by the difference of its two ends gives a heat flow.  [W/K]
    """
    wind_film = film.wind_film_w_m2k(outdoors.wind)
    skin_w_k = thermal.skin_m2 * (wind_film + WALL_RADIATION_W_M2K)
    return Links(
        lining_air=_lining_air(state, thermal=thermal),
        wall_out=1.0 / (1.0 / thermal.skin_w_k + 1.0 / skin_w_k),
        panes=[
            _pane_links(state, outdoors, place=i, wind_film=wind_film, thermal=thermal)
            for i in range(len(thermal.panes))
        ],
        pots=[
            _pot_links(state, outdoors, place=i, pot=pot, thermal=thermal)
            for i, pot in enumerate(pots)
        ],
    )


def _lining_air(state: State, *, thermal: Thermal) -> Number:
    """Return the convection from floor and walls to the air in the box.  [W/K]"""
    floor = film.plate_film_w_m2k(
        state.lining, air_c=state.air, length_m=0.25 * sqrt(thermal.floor_m2), faces_up=True
    )
    wall = film.wall_film_w_m2k(state.lining, air_c=state.air, height_m=thermal.height_m)
    return thermal.floor_m2 * floor + (thermal.lining_m2 - thermal.floor_m2) * wall


def _pane_links(
    state: State, outdoors: Outdoors, *, place: int, wind_film: Number, thermal: Thermal
) -> PaneLinks:
    """Return what one opening exchanges.  [W/K]"""
    pane, inner, outer = thermal.panes[place], state.inner[place], state.outer[place]
    emittance = film.facing_emittance(
        film.GLASS_EMITTANCE,
        thermal.lining_emittance,
        area_share=pane.area_m2 / thermal.lining_m2,
    )
    # An upright pane sees half sky, half ground; the ground is as warm as the air.
    sky_share = 0.5 if pane.upright else 1.0
    glow = film.GLASS_EMITTANCE * pane.area_m2
    ground: Number = 0.0
    if pane.upright:
        ground = (1.0 - sky_share) * glow * film.radiation_w_m2k(outer, outdoors.air)
    return PaneLinks(
        lining_w_m2k=emittance * film.radiation_w_m2k(state.lining, inner),
        air=pane.area_m2 * _inner_film(inner, air_c=state.air, pane=pane),
        between=_between(inner, outer, pane=pane, tilt_deg=thermal.tilt_deg),
        wind=pane.area_m2 * wind_film + ground,
        sky=sky_share * glow * film.radiation_w_m2k(outer, outdoors.sky),
    )


def _inner_film(inner_c: Number, *, air_c: Number, pane: Pane) -> Number:
    """Return the convection from the air in the box to an inner glass.  [W/(m2 K)]"""
    if pane.upright:
        return film.wall_film_w_m2k(inner_c, air_c=air_c, height_m=pane.height_m)
    length_m = 0.25 * sqrt(pane.area_m2)
    return film.plate_film_w_m2k(inner_c, air_c=air_c, length_m=length_m, faces_up=False)


def _between(inner_c: Number, outer_c: Number, *, pane: Pane, tilt_deg: float) -> Number:
    """Return what passes from inner to outer glass, or through the one glass.  [W/K]"""
    if pane.gap_m == 0.0:
        return pane.glass_w_k
    if pane.upright:
        still = film.vertical_gap_film_w_m2k(
            inner_c, outer_c, gap_m=pane.gap_m, height_m=pane.height_m
        )
    else:
        still = film.gap_film_w_m2k(inner_c, outer_c, gap_m=pane.gap_m, tilt_deg=tilt_deg)
    glow = film.parallel_radiation_w_m2k(
        inner_c,
        outer_c,
        first_emittance=film.GLASS_EMITTANCE,
        second_emittance=film.GLASS_EMITTANCE,
    )
    return pane.area_m2 * (still + glow)


def _pot_links(
    state: State, outdoors: Outdoors, *, place: int, pot: PotCharge, thermal: Thermal
) -> PotLinks:
    """Return what one pot exchanges: lid to the top glass, side all around, base to the floor."""
    pot_c, top = state.pots[place], thermal.panes[0]
    base = 1.0 / (1.0 / (CONTACT_W_M2K * pot.base_m2) + 1.0 / thermal.spread_w_k)
    around_m2 = thermal.lining_m2 + sum(pane.area_m2 for pane in thermal.panes[1:])
    glow = pot.emittance * pot.side_m2 / around_m2
    lid = film.facing_emittance(
        pot.emittance, film.GLASS_EMITTANCE, area_share=min(1.0, pot.lid_m2 / top.area_m2)
    )
    panes = [lid * pot.lid_m2 * film.radiation_w_m2k(pot_c, state.inner[0])]
    for pane, inner in zip(thermal.panes[1:], state.inner[1:], strict=True):
        panes.append(glow * pane.area_m2 * film.radiation_w_m2k(pot_c, inner))
    lining = glow * thermal.lining_m2 * film.radiation_w_m2k(pot_c, state.lining)
    wet_m2 = 0.0 if pot.boiling_c is None else pot.lid_leak * pot.open_m2
    vapour = wet_m2 * open_water_loss_w_m2k(pot_c, air_c=outdoors.air) if wet_m2 else 0.0
    return PotLinks(
        lining=base + lining, air=_pot_air(pot_c, state.air, pot=pot), panes=panes, vapour=vapour
    )


def _pot_air(pot_c: Number, air_c: Number, *, pot: PotCharge) -> Number:
    """Return the convection from the air in the box to side and lid of a pot.  [W/K]"""
    diameter_m = sqrt(4.0 * pot.lid_m2 / pi)
    height_m = pot.side_m2 / (pi * diameter_m)
    side = film.wall_film_w_m2k(pot_c, air_c=air_c, height_m=height_m)
    lid = film.plate_film_w_m2k(pot_c, air_c=air_c, length_m=0.25 * diameter_m, faces_up=True)
    return pot.side_m2 * side + pot.lid_m2 * lid
