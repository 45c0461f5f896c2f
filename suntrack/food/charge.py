"""A dish in its pot, as the box's heat model sees it: stores, links, surfaces.

How the box heats the pot is in `suntrack.box`; what the food is made of comes from
`suntrack.food.properties` and how heat gets into pieces from `suntrack.food.core`.
"""

from __future__ import annotations

from math import pi
from typing import TYPE_CHECKING

from suntrack.box.heat import PotCharge
from suntrack.box.materials import materials
from suntrack.food.core import shells
from suntrack.food.properties import food_properties

if TYPE_CHECKING:
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
        Of food and pot when they go in; the dish's own when it is left out.  [C]
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
    Pieces and liquid start at one temperature, the mean of the two: cold meat under hot
    sauce is soon even (the slowest term of a 35 mm slab falls
    to a third in 17 minutes).
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
    return PotCharge(
        pot_j_k=pot_j_k + liquid_j_k,
        cells_j_k=cells_j_k,
        links_w_k=links_w_k,
        side_m2=pi * pot.diameter_m * pot.height_m,
        lid_m2=lid_m2,
        base_m2=lid_m2,
        emittance=emittance,
        absorptance=absorptance,
        start_c=dish.start_c if start_c is None else start_c,
        boiling_c=boiling_c if dish.wet else None,
        lid_leak=LID_LEAK[pot.lid] if dish.wet else 0.0,
        open_m2=lid_m2,
    )


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
        film_w_m2k=_film_w_m2k(dish),
        cells=cells,
    )
    return parts.cells_j_k, parts.links_w_k


def _film_w_m2k(dish: Dish) -> float:
    """Return the film around the pieces of a dish: in liquid, in steam, or against a tin."""
    if dish.piece_share < 1.0:
        return IN_LIQUID_W_M2K
    return IN_STEAM_W_M2K if dish.wet else IN_TIN_W_M2K
