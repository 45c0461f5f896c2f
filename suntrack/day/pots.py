"""Which dish goes into which pot."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from suntrack.food.kinds import is_meat

if TYPE_CHECKING:
    from collections.abc import Mapping, Sequence

    from suntrack.box.build import Box, Pot
    from suntrack.day.records import Wish
    from suntrack.food.dish import Dish

FULLEST = 0.9
"""Share of a pot that food may fill and still leave room to simmer (kitchen judgement).  [-]"""
FOOD_KG_L = 1.0
"""Kilograms of food in a litre, near enough for choosing a pot (kitchen judgement).  [kg/L]"""
FLOOR_IN_USE = 0.9
"""Share of the floor that round pots can cover side by side (kitchen judgement).  [-]"""


@dataclass(frozen=True, slots=True, kw_only=True)
class Seat:
    """A wish and the pot it got, or why it got none."""

    wish: Wish
    pot: Pot | None
    reason: str = ""


def wish_kg(wish: Wish, dish: Dish) -> float:
    """Return the mass the cook wants, the library's when they did not say.  [kg]"""
    return dish.mass_kg if wish.mass_kg is None else wish.mass_kg


def seat_dishes(
    wishes: Sequence[Wish], *, dishes: Mapping[str, Dish], pots: Sequence[Pot], box: Box
) -> tuple[Seat, ...]:
    """Return a pot for each wish: the one named, else the smallest free one that holds it.

    Wishes that name a pot are seated first, then the largest amounts, so that a small
    dish does not take the only large pot.  The order of the answer is that of `wishes`.
    """
    free = list(pots)
    floor_m2 = box.width_m * box.depth_m * FLOOR_IN_USE
    order = sorted(
        range(len(wishes)),
        key=lambda i: (wishes[i].pot is None, -wish_kg(wishes[i], dishes[wishes[i].dish])),
    )
    seats: dict[int, Seat] = {}
    for i in order:
        wish = wishes[i]
        dish = dishes[wish.dish]
        pot, reason = _choose(wish, wish_kg(wish, dish), free, wants_lid=is_meat(dish))
        if pot is not None and pot.diameter_m**2 > floor_m2:
            pot, reason = None, "There is no room for one more pot on the floor of the box."
        if pot is not None:
            free.remove(pot)
            floor_m2 -= pot.diameter_m**2
        seats[i] = Seat(wish=wish, pot=pot, reason=reason)
    return tuple(seats[i] for i in range(len(wishes)))


def least_pot_l(mass_kg: float) -> float:
    """Return the smallest pot that holds so much food, with room to simmer.  [L]"""
    return mass_kg / (FULLEST * FOOD_KG_L)


def _choose(
    wish: Wish, mass_kg: float, free: Sequence[Pot], *, wants_lid: bool
) -> tuple[Pot | None, str]:
    """Return the pot for one wish and, without one, why.

    Meat wants a tight lid, even on a larger pot; a dish in a pot without is refused later.
    """
    named = [pot for pot in free if wish.pot in (None, pot.name)]
    if not named:
        return None, "Every pot is taken." if wish.pot is None else f"{wish.pot} is taken."
    fitting = [pot for pot in named if pot.capacity_l >= least_pot_l(mass_kg)]
    if not fitting:
        return None, "It is too much for the pots that are left; make less, or in two pots."
    return min(fitting, key=lambda pot: (wants_lid and pot.lid != "tight", pot.capacity_l)), ""
