"""What is never planned, and why.

The reasons come from the food authorities.  A dish that is refused here may be good food
from a kitchen stove; it is this box, or this way of doing it, that is not supported.
"""

from __future__ import annotations

from typing import TYPE_CHECKING, Literal

from suntrack.food.official import MOIST, OVEN

if TYPE_CHECKING:
    from suntrack.food.dish import Dish

MEATS = ("poultry", "ground meat", "whole meat")
SMALL_PIECES_M = 0.05
"""Thickest piece that we call small; the advice names no number (kitchen judgement).  [m]"""
FROZEN_C = 0.0

BEANS = (
    "Kidney-type beans are poisonous until boiled: soak them 5 hours, throw the water away, "
    "boil them on the stove for 30 minutes (45 above 1500 m), then set confirmed = true. The "
    "box gives no such boil. Source: FDA Bad Bug Book, phytohaemagglutinin (found copy); the "
    "45 minutes are our judgement."
)
LARGE = (
    "Large or dry pieces of meat or poultry are outside official advice at these temperatures; "
    f"cut them small and cook them moist, with the lid on. Source: {OVEN}; {MOIST} (found copies)."
)
OPEN = (
    "Meat and poultry are cooked moist, with the lid on; this pot has none. "
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
    if dish.gate == "kidney bean" and not confirmed:
        return BEANS
    if dish.start_c <= FROZEN_C:
        return FROZEN
    if dish.safety not in MEATS:
        return None
    small = dish.moist_small_pieces and dish.wet and dish.thickness_m <= SMALL_PIECES_M
    if not small:
        return LARGE
    return OPEN if lid == "none" else None
