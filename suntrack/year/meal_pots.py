"""The meals a year is judged by: each dish in its pot, or why it does not go in."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date, datetime, time
from typing import TYPE_CHECKING

from suntrack.food.charge import pot_charge
from suntrack.food.properties import boiling_c
from suntrack.food.safety import refusal
from suntrack.plan.dishes.pots import PotAssignment, seat_dishes, wish_kg
from suntrack.plan.records import Wish

if TYPE_CHECKING:
    from collections.abc import Sequence

    from suntrack.box.build import Box, Pot
    from suntrack.box.heat.structs import PotCharge
    from suntrack.food.dish import Dish
    from suntrack.sky.site import Site

ANY_DAY = date(2026, 1, 1)
"""Who gets which pot does not depend on the date."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Meal:
    """One dish, and when it is wanted on every day of the year."""

    dish: Dish
    """What is cooked."""
    serve: time
    """On the clock at the site."""
    mass_kg: float | None = None
    """None for the library's amount.  [kg]"""
    pot: str | None = None
    """None for the smallest that fits."""
    confirmed: bool = False
    """The cook's word that the dish's gate is kept."""


@dataclass(frozen=True, slots=True, kw_only=True)
class MealPot:
    """A meal in its pot."""

    meal: Meal
    """What it is for."""
    charge: PotCharge
    """Its pot with its food."""
    free_from: time | None
    """When its pot has been emptied of an earlier dish and washed; None for at once."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Cookbook:
    """The meals, by what may go into the box."""

    meals: tuple[Meal, ...]
    """All that were asked for."""
    refused: tuple[str, ...]
    """Why each is not for this box at all, or has no pot; empty for what may go in."""
    alone: tuple[MealPot | None, ...]
    """Each in the pot it gets with the box to itself; None for what may not go in."""
    together: tuple[MealPot | None, ...]
    """Each in the pot it gets beside the others; None for none."""

    @property
    def going(self) -> tuple[int, ...]:
        """Places of the meals that may go in."""
        return tuple(i for i, portion in enumerate(self.alone) if portion is not None)

    @property
    def all_fit(self) -> bool:
        """Whether all that may go in have a pot when they are cooked on one day."""
        return all(self.together[i] is not None for i in self.going)


def cookbook(meals: Sequence[Meal], *, box: Box, pots: Sequence[Pot], site: Site) -> Cookbook:
    """Return the meals in their pots.

    Parameters
    ----------
    meals : sequence of Meal
        In any order; the answer keeps it.
    box, pots, site : Box, sequence of Pot, Site

    Returns
    -------
    cookbook : Cookbook
        With the planner's own refusals and its own seating.
    """
    seats = [_seated([meal], box=box, pots=pots, site=site)[0] for meal in meals]
    refused = [
        _refused(meal, seat) or ("" if seat.pot else seat.reason)
        for meal, seat in zip(meals, seats, strict=True)
    ]
    going = [i for i, reason in enumerate(refused) if not reason]
    beside = _seated([meals[i] for i in going], box=box, pots=pots, site=site)
    alone = [
        None if reason else _portion(meal, seat, site=site)
        for meal, seat, reason in zip(meals, seats, refused, strict=True)
    ]
    together: list[MealPot | None] = [None] * len(meals)
    for i, seat in zip(going, beside, strict=True):
        # A pot that is wrong for the dish beside others refuses it too.
        fits = seat.pot is not None and _refused(meals[i], seat) is None
        together[i] = _portion(meals[i], seat, site=site) if fits else None
    return Cookbook(
        meals=tuple(meals),
        refused=tuple(refused),
        alone=tuple(alone),
        together=tuple(together),
    )


def _seated(
    meals: Sequence[Meal], *, box: Box, pots: Sequence[Pot], site: Site
) -> tuple[PotAssignment, ...]:
    """Return the pot of each meal when these are cooked on one day."""
    wishes = [
        Wish(
            dish=meal.dish.key,
            serve_at=datetime.combine(ANY_DAY, meal.serve, tzinfo=site.zone),
            mass_kg=meal.mass_kg,
            pot=meal.pot,
            confirmed=meal.confirmed,
        )
        for meal in meals
    ]
    dishes = {meal.dish.key: meal.dish for meal in meals}
    return seat_dishes(wishes, dishes=dishes, pots=pots, box=box)


def _refused(meal: Meal, seat: PotAssignment) -> str | None:
    """Return why a dish is not planned at all."""
    lid = None if seat.pot is None else seat.pot.lid
    return refusal(meal.dish, confirmed=meal.confirmed, lid=lid)


def _portion(meal: Meal, seat: PotAssignment, *, site: Site) -> MealPot | None:
    """Return a dish in the pot it got; None without one."""
    if seat.pot is None:
        return None
    charge = pot_charge(
        meal.dish,
        seat.pot,
        mass_kg=wish_kg(seat.wish, meal.dish),
        boiling_c=boiling_c(elevation_m=site.elevation_m),
    )
    free_from = None if seat.free_from is None else seat.free_from.time()
    return MealPot(meal=meal, charge=charge, free_from=free_from)
