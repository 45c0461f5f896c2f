"""From a kitchen recipe, "boil 75 minutes", to the cook value that it gives the middle.

What is stirred through, or so small that its middle follows the water, is as hot as the
water: the minutes are the cook value.  Larger pieces spend most of a recipe warming
through, so the recipe is run in a reference kitchen with the same one-dimensional pieces as
the box has, and the cook value of the middle is what the recipe asks for.

    boil    water at the boil around the pieces, without a warm-up
    oven    still, dry oven air and glowing walls; a wet surface does not pass the boil
"""

from __future__ import annotations

from typing import TYPE_CHECKING, Literal

import numpy as np

from suntrack.food.core import piece_history, shells
from suntrack.food.doneness import RECIPE_STEP_S, boiled_requirement_min, cook_value_min

if TYPE_CHECKING:
    from numpy.typing import NDArray

    from suntrack.food.core import SolidNodes
    from suntrack.food.dish import Recipe, Shape
    from suntrack.food.properties import FoodProperties

KITCHEN_C = 20.0
"""Where a recipe's pieces start.  Colder would make the recipe worth less, so meat from the
refrigerator is not believed to have started cold (the careful side).  [C]"""
BOILING_W_M2K = 1000.0
"""Film of boiling water on food; handbooks print 500 to 3000 for boiling and agitated water
(Incropera, from memory).  The core hardly notices.  [W/(m2 K)]"""
OVEN_W_M2K = 22.0
"""Film of a still oven: free convection 5 to 9 (Churchill and Chu, Incropera chapter 9, from
memory) and radiation 4 x 0.95 x sigma x T^3 of 13 to 15 between 180 C and 60 C.
[W/(m2 K)]"""
SMALL_M = 0.008
"""Pieces up to this follow boiling water within about three minutes and are taken to be as
hot as it is: rice, pulses, dice (kitchen judgement).  [m]"""
WET_C = 100.0
"""A wet surface in an oven at sea level.  [C]"""
CELLS = 24


def recipe_min(
    recipe: Recipe,
    *,
    shape: Shape,
    properties: FoodProperties,
    z_c: float,
    floor_c: float,
    wet: bool = True,
) -> float:
    """Return the cook value that a recipe gives the middle.

    Parameters
    ----------
    recipe : Recipe
        Times and temperatures of the kitchen.  [-]
    shape : "liquid", "slab", "cylinder" or "sphere"
        Of the pieces; a liquid in an oven is taken as a slab of the recipe's thickness.
    properties : FoodProperties
        Of the pieces.  [-]
    z_c : float
        Degrees that change the pace tenfold, above 0.  [K]
    floor_c : float
        Below this nothing is credited.  [C]
    wet : bool
        True when the surface is wet and stays at the boil at most.

    Returns
    -------
    requirement : float
        Equivalent minutes at 100 C.  [min]
    """
    if recipe.method == "boil" and recipe.thickness_m <= SMALL_M:
        return boiled_requirement_min(recipe.minutes, z_c=z_c, home_boiling_c=recipe.temperature_c)
    core_c, step_s = recipe_core_c(recipe, shape=shape, properties=properties, wet=wet)
    return float(cook_value_min(core_c, step_s=step_s, z_c=z_c, floor_c=floor_c)[-1])


def recipe_core_c(
    recipe: Recipe, *, shape: Shape, properties: FoodProperties, wet: bool = True
) -> tuple[NDArray[np.float64], float]:
    """Return the middle of the pieces through a recipe, and the length of its steps.

    Parameters
    ----------
    recipe, shape, properties, wet
        As for `recipe_min`.

    Returns
    -------
    core_c : ndarray, shape (steps + 1,)
        At the start and after each step.  [C]
    step_s : float
        [s]
    """
    steps = max(2, round(recipe.minutes * 60.0 / RECIPE_STEP_S))
    step_s = recipe.minutes * 60.0 / steps
    film = BOILING_W_M2K if recipe.method == "boil" else OVEN_W_M2K
    solid: Literal["slab", "cylinder", "sphere"] = "slab" if shape == "liquid" else shape
    parts = shells(
        solid,
        thickness_m=recipe.thickness_m,
        mass_kg=1.0,
        properties=properties,
        film_w_m2k=film,
        cells=CELLS,
    )
    around = np.full(steps, recipe.temperature_c)
    free = piece_history(around, parts=parts, start_c=KITCHEN_C, step_s=step_s)
    if recipe.method == "boil" or not wet:
        return free[:, 0], step_s
    bare = shells(
        solid,
        thickness_m=recipe.thickness_m,
        mass_kg=1.0,
        properties=properties,
        film_w_m2k=1e9,
        cells=CELLS,
    )
    surface_c = _surface_c(free[:, -1], parts, bare, around_c=recipe.temperature_c)
    hot = np.flatnonzero(surface_c >= WET_C)
    if not hot.size:
        return free[:, 0], step_s
    # From here on the surface stays at the boil: what more comes in leaves as steam.
    first = int(hot[0])
    held = piece_history(
        np.full(steps - first, WET_C), parts=bare, start_c=free[first], step_s=step_s
    )
    return np.concatenate((free[:first, 0], held[:, 0])), step_s


def _surface_c(
    outer_c: NDArray[np.float64], parts: SolidNodes, bare: SolidNodes, *, around_c: float
) -> NDArray[np.float64]:
    """Return the surface between the outermost shell and the surroundings.  [C]"""
    # The last link is film and half a shell in series; without the film, half a shell.
    inside = parts.links_w_k[-1] / bare.links_w_k[-1]
    return np.asarray(outer_c + (around_c - outer_c) * inside)
