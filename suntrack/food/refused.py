"""What is never planned, and why.

The reasons come from the food authorities.  A dish that is refused here may be good food
from a kitchen stove; it is this box, or this way of doing it, that is not supported.
"""

from __future__ import annotations

from math import ceil
from typing import TYPE_CHECKING, Literal

from suntrack.food.kinds import is_meat
from suntrack.food.official import MOIST, OVEN

if TYPE_CHECKING:
    from suntrack.food.dish import Dish

SMALL_PIECES_M = 0.05
"""Thickest piece that we call small; the advice names no number (kitchen judgement).  [m]"""
FROZEN_C = 0.0

BOIL_MIN = 30.0
"""FDA Bad Bug Book (found copy): boiled in fresh water for at least so long.  [min]"""
BOIL_Z_C = 28.0
"""Makes the half hour three quarters of an hour where water boils at 95 C, about 1500 m
(our judgement; no z of the lectin was found).  [K]"""
BEANS = (
    "Kidney-type beans are poisonous until boiled: soak them 5 hours, throw the water away, "
    "boil them on the stove in fresh water for {minutes:.0f} minutes, then set confirmed = true. "
    "The box gives no such boil. Source: FDA Bad Bug Book, phytohaemagglutinin: 30 minutes (found "
    "copy); longer where water boils below 100 °C (our judgement)."
)
STUFFED = (
    "Whole or stuffed birds are outside official advice in an oven this mild, and stuffing keeps "
    "the middle cold for hours: cook it in a kitchen oven at 163 °C (325 °F) or more. "
    f"Source: {OVEN} (found copy)."
)
JARS = (
    "Canning is refused: heat from the sun is no reliable way to process jars, and dry ovens are "
    "not recommended for it. Source: National Center for Home Food Preservation (found)."
)
LARGE = (
    "Large or dry pieces of meat or poultry are outside official advice at these temperatures; "
    f"cut them small and cook them moist, with the lid on. Source: {OVEN}; {MOIST} (found copies)."
)
OPEN = (
    "Meat and poultry are cooked moist, under a tight lid; this pot has none. "
    f"Source: {MOIST} (found copy)."
)
FROZEN = (
    "Frozen food goes in thawed: it would lie too long between cold and hot. Thaw it in the "
    f"refrigerator the evening before. Source: {MOIST} (found copy)."
)


def refusal(
    dish: Dish, *, confirmed: bool, lid: Literal["tight", "loose", "none"] | None = None
) -> str | None:
    """Return why a dish is not planned at all; None when it may be.

    `confirmed` is the cook's word that the dish's gate is kept (see `Dish.gate`); it opens
    nothing else.  `lid` is that of the pot, None when the pot is not chosen yet.
    """
    if dish.refused is not None:
        return dish.refused
    if "sealed jars" in dish.contains:
        return JARS
    if "stuffed bird" in dish.contains:
        return STUFFED
    if dish.gate == "kidney bean" and not confirmed:
        return BEANS.format(minutes=dish.stove_boil_min)
    if min(dish.start_c, dish.start_c if dish.pieces_start_c is None else dish.pieces_start_c) <= (
        FROZEN_C
    ):
        return FROZEN
    if not is_meat(dish):
        return None
    small = dish.moist_small_pieces and dish.wet and dish.thickness_m <= SMALL_PIECES_M
    if not small:
        return LARGE
    return None if lid in ("tight", None) else OPEN


def stove_boil_min(boiling_c: float) -> float:
    """Return how long kidney-type beans are boiled on the stove before they go in.

    Parameters
    ----------
    boiling_c : float
        Where water boils at the site.  [C]

    Returns
    -------
    minutes : float
        30 at sea level, rounded up to five minutes elsewhere.  [min]
    """
    longer = BOIL_MIN * 10.0 ** (max(100.0 - boiling_c, 0.0) / BOIL_Z_C)
    # Half a minute short of a step of five is that step: sea level boils at 99.97 C.
    return float(5 * ceil((longer - 0.5) / 5.0))
