r"""The conductances between the parts of the box, at the temperatures of one moment.

                    outdoor air, sky
                       |        |
    outer glass ---- inner glass ---- air ---- lining ---- wall ---- wall ---- outdoor air
                         |  \          |      / |
                         |   `------- pot ---'  |          (one pot of several)
                         `----------------------'          (radiation)

The pictures and shares below say who exchanges heat with whom; the films themselves are
in `suntrack.box.heat.convection`.  Everything here is compiled into the simulator.
"""

from __future__ import annotations

from math import pi, sqrt
from typing import TYPE_CHECKING

from suntrack.box.heat.convection import (
    GLASS_EMITTANCE,
    WALL_RADIATION_W_M2K,
    facing_emittance,
    gap_film_w_m2k,
    parallel_radiation_w_m2k,
    plate_film_w_m2k,
    radiation_w_m2k,
    vertical_gap_film_w_m2k,
    wall_film_w_m2k,
    wind_film_w_m2k,
)
from suntrack.box.heat.moist_air import open_water_loss_w_m2k

if TYPE_CHECKING:
    from suntrack.box.heat.number import Number
    from suntrack.box.heat.structs import BoxNumbers, Conductances, Forcing, PotNumbers, State

CONTACT_W_M2K = 25.0
"""A pot's base on the floor: a millimetre of air under it, most of the way (builder's
judgement).  [W/(m2 K)]"""


def take_links(
    links: Conductances,
    state: State,
    minute: Forcing,
    box: BoxNumbers,
    pots: PotNumbers,
) -> None:
    """Write down the conductances at the temperatures of one moment.

    Parameters
    ----------
    links : Links
        Written over; each multiplied by the difference of its two ends gives a heat flow.
    state : State
        Temperatures of the box.  [C]
    minute : Minute
        The weather.  [C], [m/s]
    box : BoxNumbers
        The box.  [-]
    pots : PotNumbers
        Every pot of the day; one that is not in the box keeps its old links.  [-]
    """
    wind_film = wind_film_w_m2k(minute.wind_m_s)
    skin_w_k = box.skin_m2 * (wind_film + WALL_RADIATION_W_M2K)
    links.lining_air = _lining_air(state, box)
    links.wall_out = 1.0 / (1.0 / box.skin_w_k + 1.0 / skin_w_k)
    for pane in range(box.panes):
        _take_pane(links, state, minute, box, pane, wind_film)
    for pot in range(pots.count):
        if minute.inside[pot] > 0.0:
            _take_pot(links, state, minute, box, pots, pot)


def _lining_air(state: State, box: BoxNumbers) -> Number:
    """Return the convection from floor and walls to the air in the box.  [W/K]"""
    lining_c, air_c = state.lining, state.air
    floor = plate_film_w_m2k(lining_c, air_c, 0.25 * sqrt(box.floor_m2), True)
    wall = wall_film_w_m2k(lining_c, air_c, box.height_m)
    return box.floor_m2 * floor + (box.lining_m2 - box.floor_m2) * wall


def _take_pane(
    links: Conductances,
    state: State,
    minute: Forcing,
    box: BoxNumbers,
    pane: int,
    wind_film: float,
) -> None:
    """Write down what one opening exchanges."""
    area_m2, upright = box.pane_m2[pane], box.upright[pane] > 0.0
    lining_c, inner_c, outer_c = state.lining, state.inner[pane], state.outer[pane]
    emittance = facing_emittance(GLASS_EMITTANCE, box.lining_emittance, area_m2 / box.lining_m2)
    # An upright pane sees half sky, half ground; the ground is as warm as the air.
    sky_share = 0.5 if upright else 1.0
    glow = GLASS_EMITTANCE * area_m2
    ground = (1.0 - sky_share) * glow * radiation_w_m2k(outer_c, minute.air_c)
    links.lining_w_m2k[pane] = emittance * radiation_w_m2k(lining_c, inner_c)
    links.air[pane] = area_m2 * _inner_film(inner_c, state.air, box, pane)
    links.between[pane] = _between(inner_c, outer_c, box, pane)
    links.wind[pane] = area_m2 * wind_film + ground
    links.sky[pane] = sky_share * glow * radiation_w_m2k(outer_c, minute.sky_c)


def _inner_film(inner_c: float, air_c: float, box: BoxNumbers, pane: int) -> Number:
    """Return the convection from the air in the box to an inner glass.  [W/(m2 K)]"""
    if box.upright[pane] > 0.0:
        return wall_film_w_m2k(inner_c, air_c, box.pane_height_m[pane])
    return plate_film_w_m2k(inner_c, air_c, 0.25 * sqrt(box.pane_m2[pane]), False)


def _between(inner_c: float, outer_c: float, box: BoxNumbers, pane: int) -> Number:
    """Return what passes from inner to outer glass, or through the one glass.  [W/K]"""
    gap_m = box.gap_m[pane]
    if gap_m == 0.0:
        return box.glass_w_k[pane]
    if box.upright[pane] > 0.0:
        still = vertical_gap_film_w_m2k(inner_c, outer_c, gap_m, box.pane_height_m[pane])
    else:
        still = gap_film_w_m2k(inner_c, outer_c, gap_m, box.tilt_deg)
    glow = parallel_radiation_w_m2k(inner_c, outer_c, GLASS_EMITTANCE, GLASS_EMITTANCE)
    return box.pane_m2[pane] * (still + glow)


def _take_pot(
    links: Conductances,
    state: State,
    minute: Forcing,
    box: BoxNumbers,
    pots: PotNumbers,
    pot: int,
) -> None:
    """Write down what one pot exchanges: lid to top glass, side all around, base to floor."""
    pot_c, top_m2 = state.pots[pot], box.pane_m2[0]
    base = 1.0 / (1.0 / (CONTACT_W_M2K * pots.base_m2[pot]) + 1.0 / box.spread_w_k)
    around_m2 = box.lining_m2 + box.pane_m2.sum() - top_m2
    glow = pots.emittance[pot] * pots.side_m2[pot] / around_m2
    covered = min(1.0, pots.lid_m2[pot] / top_m2)
    lid = facing_emittance(pots.emittance[pot], GLASS_EMITTANCE, covered)
    links.pot_panes[pot, 0] = lid * pots.lid_m2[pot] * radiation_w_m2k(pot_c, state.inner[0])
    for pane in range(1, box.panes):
        seen_m2 = glow * box.pane_m2[pane]
        links.pot_panes[pot, pane] = seen_m2 * radiation_w_m2k(pot_c, state.inner[pane])
    lining = glow * box.lining_m2 * radiation_w_m2k(pot_c, state.lining)
    links.pot_lining[pot] = base + lining
    links.pot_air[pot] = _pot_air(pot_c, state.air, pots, pot)
    wet_m2 = pots.wet_m2[pot]
    links.pot_vapour[pot] = 0.0
    if wet_m2 > 0.0:
        links.pot_vapour[pot] = wet_m2 * open_water_loss_w_m2k(pot_c, minute.air_c)


def _pot_air(pot_c: float, air_c: float, pots: PotNumbers, pot: int) -> Number:
    """Return the convection from the air in the box to side and lid of a pot.  [W/K]"""
    diameter_m = sqrt(4.0 * pots.lid_m2[pot] / pi)
    height_m = pots.side_m2[pot] / (pi * diameter_m)
    side = wall_film_w_m2k(pot_c, air_c, height_m)
    lid = plate_film_w_m2k(pot_c, air_c, 0.25 * diameter_m, True)
    return pots.side_m2[pot] * side + pots.lid_m2[pot] * lid
