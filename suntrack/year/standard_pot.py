"""The standard pot: two litres of water in one of the cook's own pots."""

from __future__ import annotations

from typing import TYPE_CHECKING

from suntrack.bench.water_load import water_pots
from suntrack.food.properties import boiling_c

if TYPE_CHECKING:
    from collections.abc import Sequence

    from suntrack.box.build import Box, Pot
    from suntrack.box.heat.structs import PotCharge

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
