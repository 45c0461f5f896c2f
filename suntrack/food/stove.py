"""How long the kitchen still needs for a dish that the box will not finish.

Three parts, each taken from the careful side: the pot comes to the boil from the coldest
temperature in it, the middle of the pieces follows, and what is left of the cooking is done a
little below the boil.  Nothing is counted for the cooking on the way up.  A dry dish goes into
a kitchen oven instead.  The more is done, and the hotter the middle, the less is needed.

To the stove by: what is left to cook at the boil, the pot's way there, the lag of the middle,
and the danger clocks.  Lost: a flat 45 minutes, too short for beans and stews.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, Literal

import numpy as np

from suntrack.food.charge import IN_LIQUID_W_M2K
from suntrack.food.core import core_history, shells
from suntrack.food.dish import CookValue
from suntrack.food.doneness import minutes_at
from suntrack.food.kinds import rule_of
from suntrack.food.official import CLOCK_HIGH_C
from suntrack.food.properties import food_properties
from suntrack.food.recipe import OVEN_W_M2K

if TYPE_CHECKING:
    from numpy.typing import ArrayLike, NDArray

    from suntrack.food.dish import Dish

RING_W = 1000.0
"""Heat that a kitchen ring gets into a pot: 1.4 kW at about 70 %, as electric coils are rated
(US DOE test procedure for cooktops, from memory).  [W]"""
POT_J_K = 700.0
"""A pot that is not known: 1.4 kg of steel.  [J/K]"""
CARRY_MIN = 5.0
"""To carry the pot and light the ring (kitchen judgement).  [min]"""
OVEN_C, PREHEAT_MIN = 180.0, 10.0
"""A kitchen oven for what is dry (kitchen judgement).  [C], [min]"""
BELOW_BOIL_K = 2.0
"""A simmering middle is taken to be so far below the boil.  [K]"""
LONGEST_MIN = 360
"""No piece in a pot is slower than this.  [min]"""
CELLS = 12


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Stove:
    """The kitchen for one dish in its pot."""

    dish: Dish
    """What is cooked."""
    store_j_k: float
    """Pot and food.  [J/K]"""
    around_c: float
    """The boil, or the oven for a dry dish.  [C]"""
    left: NDArray[np.float64]
    """Share of a sudden difference that the middle has not yet made up, each minute; falls."""

    def needs_min(
        self, core_c: ArrayLike, done: ArrayLike, *, safe: ArrayLike = False
    ) -> NDArray[np.float64]:
        """Return the minutes until it is done and safe, from what it is now.

        Parameters
        ----------
        core_c : array_like
            Of the middle, the coldest there is.  [C]
        done : array_like
            Share of the way to done, 0 to 1, broadcast against `core_c`.  [-]
        safe : array_like of bool
            Where its food rule is met already.  [-]

        Returns
        -------
        minutes : ndarray
            0 where nothing is left to do; else with the way to the kitchen.  [min]
        """
        core, done = np.asarray(core_c, np.float64), np.asarray(done, np.float64)
        rule, doneness = rule_of(self.dish), self.dish.doneness
        heat_min = self.until_min(core, rule.minimum_c) + rule.rest_s / 60.0
        if isinstance(doneness, CookValue):
            simmer_c = self.around_c - BELOW_BOIL_K
            whole_min = minutes_at(simmer_c, requirement_min=doneness.minutes, z_c=doneness.z_c)
            cook_min = self.until_min(core, simmer_c) + (1.0 - done) * whole_min
        else:
            cook_min = self.until_min(core, doneness.core_c)
        left = np.maximum(np.where(done >= 1.0, 0.0, cook_min), np.where(safe, 0.0, heat_min))
        return np.asarray(np.where(left > 0.0, left + CARRY_MIN, 0.0))

    def until_min(self, core_c: NDArray[np.float64], target_c: float) -> NDArray[np.float64]:
        """Return the minutes on the stove until the middle is at a temperature.  [min]"""
        target_c = min(target_c, self.around_c - BELOW_BOIL_K)
        away_k = self.around_c - core_c
        up_min = self._up_min(np.minimum(core_c, target_c), target_c)
        share = np.clip((self.around_c - target_c) / np.maximum(away_k, 1e-9), 0.0, 1.0)
        # `left` falls; interp wants it rising.
        minutes = np.arange(self.left.size, dtype=np.float64)[::-1]
        lag_min = np.interp(share, self.left[::-1], minutes)
        return np.where(core_c >= target_c, 0.0, up_min + lag_min)

    def in_danger_min(self, core_c: ArrayLike) -> NDArray[np.float64]:
        """Return the minutes on the stove for which the danger clocks still run.  [min]"""
        minutes = self.until_min(np.asarray(core_c, np.float64), CLOCK_HIGH_C.value)
        return np.where(minutes > 0.0, minutes + CARRY_MIN, 0.0)

    def _up_min(self, core_c: NDArray[np.float64], target_c: float) -> NDArray[np.float64]:
        """Return the time until the pot is at the boil, or the oven is hot.  [min]"""
        if not self.dish.wet:
            return np.full(core_c.shape, PREHEAT_MIN)
        # Pieces are heated by a pot at the boil; what is stirred through has to be at the
        # target itself.
        until_c = target_c if self.left.size == 1 else self.around_c
        return np.asarray(self.store_j_k * np.maximum(until_c - core_c, 0.0) / RING_W / 60.0)


def stove_for(dish: Dish, *, mass_kg: float, boiling_c: float, pot_j_k: float = POT_J_K) -> Stove:
    """Return the kitchen for a dish.

    Parameters
    ----------
    dish : Dish
        What is to be finished.  [-]
    mass_kg : float
        Of the food, above 0.  [kg]
    boiling_c : float
        Where water boils at the site.  [C]
    pot_j_k : float
        Store of the pot.  [J/K]

    Returns
    -------
    stove : Stove
    """
    whole = food_properties(dish.composition)
    liquid = whole if dish.liquid is None else food_properties(dish.liquid)
    share = dish.piece_share
    heat = share * whole.specific_heat_j_kgk + (1.0 - share) * liquid.specific_heat_j_kgk
    return Stove(
        dish=dish,
        store_j_k=mass_kg * heat + pot_j_k,
        around_c=boiling_c if dish.wet else OVEN_C,
        left=_left(dish),
    )


def _left(dish: Dish) -> NDArray[np.float64]:
    """Return what is left of a sudden difference in the middle, each minute; falls."""
    if dish.shape == "liquid":
        return np.ones(1)
    solid: Literal["slab", "cylinder", "sphere"] = dish.shape
    parts = shells(
        solid,
        thickness_m=dish.thickness_m,
        mass_kg=1.0,
        properties=food_properties(dish.composition),
        film_w_m2k=IN_LIQUID_W_M2K if dish.wet else OVEN_W_M2K,
        cells=CELLS,
    )
    risen = core_history(np.ones(LONGEST_MIN), parts=parts, start_c=0.0, step_s=60.0)
    return np.minimum.accumulate(np.clip(1.0 - risen, 0.0, 1.0))
