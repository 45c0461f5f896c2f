"""Water instead of food.

In the cook's own pots as standard tests heat it; and the two litres that stand for a meal where
a year is judged without one.
"""

from __future__ import annotations

from math import pi
from typing import TYPE_CHECKING

from suntrack.box.heat.structs import PotCharge
from suntrack.box.materials import materials
from suntrack.box.standard_figures import WATER_J_KGK
from suntrack.food.charge import DARK, LID_LEAK, SHINY
from suntrack.food.properties import boiling_c
from suntrack.plan.dishes.pots import FLOOR_IN_USE, FOOD_KG_L, FULLEST

if TYPE_CHECKING:
    from collections.abc import Sequence

    from suntrack.box.build import Box, Pot
    from suntrack.box.heat.structs import PotCharge


def water_pots(
    pots: Sequence[Pot], *, box: Box, water_kg: float, boiling_c: float, start_c: float
) -> tuple[tuple[PotCharge, ...], float]:
    """Return the cook's pots that stand in the box together, with water, and how much.

    The largest first.  The standards spread the water evenly; here each pot gets its share
    by what it holds, and less than asked for goes in when they hold less.  [-], [kg]
    """
    chosen = _side_by_side(pots, box=box)
    room_kg = sum(pot.capacity_l for pot in chosen) * FULLEST * FOOD_KG_L
    if room_kg == 0.0:
        return (), 0.0
    poured_kg = min(water_kg, room_kg)
    charges = [
        _with_water(
            pot,
            water_kg=poured_kg * pot.capacity_l * FULLEST * FOOD_KG_L / room_kg,
            boiling_c=boiling_c,
            start_c=start_c,
        )
        for pot in chosen
    ]
    return tuple(charges), poured_kg


def _side_by_side(pots: Sequence[Pot], *, box: Box) -> list[Pot]:
    """Return the pots that fit on the floor together and under the glass, largest first."""
    floor_m2 = box.width_m * box.depth_m * FLOOR_IN_USE
    chosen = []
    for pot in sorted(pots, key=lambda pot: -pot.capacity_l):
        if pot.diameter_m**2 <= floor_m2 and pot.height_m <= box.height_m:
            chosen.append(pot)
            floor_m2 -= pot.diameter_m**2
    return chosen


def _with_water(pot: Pot, *, water_kg: float, boiling_c: float, start_c: float) -> PotCharge:
    """Return a pot of water."""
    absorptance, emittance = DARK if pot.dark else SHINY
    disc_m2 = pi * pot.diameter_m**2 / 4.0
    pot_j_k = pot.mass_kg * materials()[pot.material].specific_heat_j_kgk
    return PotCharge(
        pot_j_k=pot_j_k + WATER_J_KGK * water_kg,
        side_m2=pi * pot.diameter_m * pot.height_m,
        lid_m2=disc_m2,
        base_m2=disc_m2,
        emittance=emittance,
        absorptance=absorptance,
        start_c=start_c,
        boiling_c=boiling_c,
        lid_leak=LID_LEAK[pot.lid],
        open_m2=disc_m2,
    )


WATER_KG = 2.0
START_C = 20.0
"""Cold tap water in a warm country (our choice).  [C]"""


def standard_pot(pots: Sequence[Pot], *, box: Box, elevation_m: float) -> PotCharge | None:
    """Return two litres of water, or as much as fits, in the largest pot that fits the box.

    None without a pot.
    """
    for pot in sorted(pots, key=lambda pot: -pot.capacity_l):
        charges, _ = water_pots(
            [pot],
            box=box,
            water_kg=WATER_KG,
            boiling_c=boiling_c(elevation_m=elevation_m),
            start_c=START_C,
        )
        if charges:
            return charges[0]
    return None
