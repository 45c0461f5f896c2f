"""A dish in its pot, as the box's heat model sees it: stores, links, surfaces.

How the box heats the pot is in `suntrack.box`; what the food is made of comes from
`suntrack.food.properties` and how heat gets into pieces from `suntrack.food.core`.

Cold pieces under hot liquid: the box starts both at their mean, and the difference, which is
linear in its start, is added to the core afterwards from the pot's own stores, its loss to the
box taken high.  Lost: the mean alone, which has the middle 22 K too warm at first and safe
minutes too early.
"""

from __future__ import annotations

from math import pi
from typing import TYPE_CHECKING

import numpy as np

from suntrack.box.heat.structs import PotCharge
from suntrack.box.materials import materials
from suntrack.food.core import shells
from suntrack.food.properties import food_properties

if TYPE_CHECKING:
    from numpy.typing import NDArray

    from suntrack.box.build import Pot
    from suntrack.food.dish import Dish

IN_LIQUID_W_M2K = 300.0
"""Film around pieces in a simmering liquid; found range for food in liquid 100 to 500.
Kitchen judgement.  [W/(m2 K)]"""
IN_STEAM_W_M2K = 30.0
"""Film around moist pieces in a lidded pot without liquid, steam included.  Kitchen
judgement.  [W/(m2 K)]"""
IN_TIN_W_M2K = 60.0
"""Between a tin and the dough or batter that lies against it.  Kitchen judgement.
[W/(m2 K)]"""
LID_LEAK = {"tight": 0.06, "loose": 0.25, "none": 1.0}
"""Share of an open pot's evaporation that gets past the lid.  Kitchen judgement.  [-]"""
DARK, SHINY = (0.92, 0.92), (0.35, 0.20)
"""Absorptance and emittance of a dark pot (black enamel 0.90 to 0.95, Incropera table
A.11, from memory) and of a shiny one.  [-]"""
POT_W_M2K = 18.0
"""Between a dark pot and the box, radiation included, at most; free convection 3 to 9 and
radiation 8 to 12 (Incropera chapter 9, recomputed).  [W/(m2 K)]"""
POT_START_C = 20.0
"""A pot that hot liquid is poured into; heated in it, the pot would be hotter and the food
sooner safe (kitchen judgement, the careful side).  [C]"""
CELLS = 6


def pot_charge(
    dish: Dish,
    pot: Pot,
    *,
    mass_kg: float,
    boiling_c: float,
    start_c: float | None = None,
    cells: int = CELLS,
) -> PotCharge:
    """Return a dish in its pot.

    Parameters
    ----------
    dish : Dish
        What is cooked.  [-]
    pot : Pot
        What it is cooked in; its material is one of the library.  [-]
    mass_kg : float
        Of the food, above 0.  [kg]
    boiling_c : float
        Where water boils at the site; wet food stays below it.  [C]
    start_c : float, optional
        Of food and pot when they go in; the dish's own when it is left out, which for pieces
        and liquid of their own is the mean with a pot at 20 C.  [C]
    cells : int
        Shells that pieces are cut into; with six a core is late by up to a minute and a
        half, never early.  [-]

    Returns
    -------
    charge : PotCharge
        See the fields for units.

    Raises
    ------
    ValueError
        If there is no food.

    Notes
    -----
    The box's heat starts everything at one temperature.  How pieces and liquid of their own
    come to that mean is in `settling_delta_k`.
    """
    if not mass_kg > 0.0:
        msg = f"mass_kg is {mass_kg}; it has to be above 0"
        raise ValueError(msg)
    pieces_kg = mass_kg * dish.piece_share if dish.shape != "liquid" else 0.0
    liquid_j_k = (mass_kg - pieces_kg) * _liquid_j_kgk(dish)
    pot_j_k = pot.mass_kg * materials()[pot.material].specific_heat_j_kgk
    cells_j_k, links_w_k = _pieces(dish, pieces_kg=pieces_kg, cells=cells)
    absorptance, emittance = DARK if pot.dark else SHINY
    lid_m2 = pi * pot.diameter_m**2 / 4.0
    if start_c is None:
        start_c = _mean_start_c(
            dish, pieces_j_k=sum(cells_j_k), liquid_j_k=liquid_j_k, pot_j_k=pot_j_k
        )
    return PotCharge(
        pot_j_k=pot_j_k + liquid_j_k,
        cells_j_k=cells_j_k,
        links_w_k=links_w_k,
        side_m2=pi * pot.diameter_m * pot.height_m,
        lid_m2=lid_m2,
        base_m2=lid_m2,
        emittance=emittance,
        absorptance=absorptance,
        start_c=start_c,
        boiling_c=boiling_c if dish.wet else None,
        lid_leak=LID_LEAK[pot.lid] if dish.wet else 0.0,
        open_m2=lid_m2,
    )


def settling_delta_k(
    dish: Dish, charge: PotCharge, *, step_s: float, steps: int, loss_w_m2k: float = POT_W_M2K
) -> NDArray[np.float64]:
    """Return how far the core of cold pieces is from the even start, while they settle.

    Cold meat under hot liquid: the core is below the mean for a while, and the liquid above
    it.  Heat is linear in its start, so the difference from an even start may be followed by
    itself.  The hotter liquid takes up less from the box meanwhile; that the box is then
    hotter for it is left out, so the core is never made too warm.

    Parameters
    ----------
    dish : Dish
        Its pieces may have a start of their own.  [-]
    charge : PotCharge
        The same dish in its pot.  [-]
    step_s : float
        Length of a step.  [s]
    steps : int
        [-]
    loss_w_m2k : float
        Between the outside of the pot and the box; 0 for a pot by itself.  [W/(m2 K)]

    Returns
    -------
    below_delta_k : ndarray, shape (steps + 1,)
        To be added to the core, from the moment it goes in; all 0 for an even start.  [K]
    """
    if dish.pieces_start_c is None or not charge.cells_j_k:
        return np.zeros(steps + 1)
    # Pieces, and around them one store, the pot with its liquid.
    stores = np.array((*charge.cells_j_k, charge.pot_j_k))
    links = np.array(charge.links_w_k)
    balance = np.diag(np.append(links, 0.0)) + np.diag(np.insert(links, 0, 0.0))
    balance -= np.diag(links, 1) + np.diag(links, -1)
    balance[-1, -1] += loss_w_m2k * (charge.side_m2 + charge.lid_m2 + charge.base_m2)
    root = np.sqrt(stores)
    rates, modes = np.linalg.eigh(balance / np.outer(root, root))
    first = np.full(stores.size, dish.pieces_start_c - charge.start_c)
    first[-1] = -first[0] * stores[:-1].sum() / stores[-1]
    at_s = np.arange(steps + 1) * step_s
    decay = np.exp(-np.maximum(rates, 0.0) * at_s[:, None])
    return np.asarray((decay * (modes[0] * (root * first @ modes))).sum(axis=-1) / root[0])


def _mean_start_c(dish: Dish, *, pieces_j_k: float, liquid_j_k: float, pot_j_k: float) -> float:
    """Return the even temperature that pieces, liquid and an empty pot come to.  [C]"""
    if dish.pieces_start_c is None or dish.liquid_start_c is None:
        return dish.start_c
    heat_j = pieces_j_k * dish.pieces_start_c + liquid_j_k * dish.liquid_start_c
    heat_j += pot_j_k * POT_START_C
    return heat_j / (pieces_j_k + liquid_j_k + pot_j_k)


def _liquid_j_kgk(dish: Dish) -> float:
    """Return the specific heat of the free liquid of a dish.  [J/(kg K)]"""
    liquid = dish.composition if dish.liquid is None else dish.liquid
    return food_properties(liquid).specific_heat_j_kgk


def _pieces(
    dish: Dish, *, pieces_kg: float, cells: int
) -> tuple[tuple[float, ...], tuple[float, ...]]:
    """Return stores and links of the pieces of a dish; nothing when it has none."""
    if pieces_kg == 0.0:
        return (), ()
    parts = shells(
        dish.shape,
        thickness_m=dish.thickness_m,
        mass_kg=pieces_kg,
        properties=food_properties(dish.composition),
        film_w_m2k=film_w_m2k(dish),
        cells=cells,
    )
    return parts.cells_j_k, parts.links_w_k


def film_w_m2k(dish: Dish) -> float:
    """Return the film around the pieces of a dish: in liquid, in steam, or against a tin."""
    if dish.piece_share < 1.0:
        return IN_LIQUID_W_M2K
    return IN_STEAM_W_M2K if dish.wet else IN_TIN_W_M2K
