"""Which dish goes into which pot."""

from __future__ import annotations

from dataclasses import dataclass, field, replace
from datetime import datetime, timedelta
from typing import TYPE_CHECKING

from suntrack.food.kinds import is_meat

if TYPE_CHECKING:
    from collections.abc import Mapping, Sequence

    from suntrack.box.build import Box, Pot
    from suntrack.food.dish import Dish
    from suntrack.plan.records import Wish

FULLEST = 0.9
"""Share of a pot that food may fill and still leave room to simmer (kitchen judgement).  [-]"""
FOOD_KG_L = 1.0
"""Kilograms of food in a litre, near enough for choosing a pot (kitchen judgement).  [kg/L]"""
FLOOR_IN_USE = 0.9
"""Share of the floor that round pots can cover side by side (kitchen judgement).  [-]"""


WASHING = timedelta(minutes=15)
"""From a pot's meal until it can go in with the next dish (kitchen judgement)."""
SHORTEST = timedelta(hours=1)
"""No dish is done in less; a pot that comes free later than that is no help."""


@dataclass(frozen=True, slots=True, kw_only=True)
class PotAssignment:
    """A wish and the pot it got, or why it got none."""

    wish: Wish
    """Who wants what."""
    pot: Pot | None
    """Its pot; None where none will do."""
    reason: str = ""
    """Why none will do; empty with one."""
    free_from: datetime | None = None
    """When the pot has been emptied of an earlier dish and washed; None for at once."""


def wish_kg(wish: Wish, dish: Dish) -> float:
    """Return the mass the cook wants, the library's when they did not say.  [kg]"""
    return dish.mass_kg if wish.mass_kg is None else wish.mass_kg


def seat_dishes(
    wishes: Sequence[Wish], *, dishes: Mapping[str, Dish], pots: Sequence[Pot], box: Box
) -> tuple[PotAssignment, ...]:
    """Return a pot for each wish: the one named, else the smallest free one that holds it.

    Wishes that name a pot are seated first, then the largest amounts, so that a small
    dish does not take the only large pot.  Who finds none shares the pot of a dish that is
    eaten well before or after, when it fits.  The order of the answer is that of `wishes`.
    """
    kitchen = _Kitchen(
        wishes=wishes,
        dishes=dishes,
        free=list(pots),
        floor_m2=box.width_m * box.depth_m * FLOOR_IN_USE,
    )
    order = sorted(range(len(wishes)), key=lambda i: (wishes[i].pot is None, -kitchen.mass_kg(i)))
    for i in order:
        kitchen.seats[i] = kitchen.seat(i)
    for i in sorted(order, key=lambda i: wishes[i].serve_at):
        if kitchen.seats[i].pot is None:
            kitchen.share(i)
    return tuple(kitchen.seats[i] for i in range(len(wishes)))


@dataclass(slots=True, kw_only=True)
class _Kitchen:
    """Pots and floor while wishes are being seated."""

    wishes: Sequence[Wish]
    """What is wanted."""
    dishes: Mapping[str, Dish]
    """The library, by key."""
    free: list[Pot]
    """Pots nobody has yet."""
    floor_m2: float
    """Room left on the floor.  [m2]"""
    seats: dict[int, PotAssignment] = field(default_factory=dict)
    """Who has which pot, by wish."""

    def mass_kg(self, i: int) -> float:
        """Return how much a wish asks for.  [kg]"""
        return wish_kg(self.wishes[i], self.dishes[self.wishes[i].dish])

    def choose(self, i: int, pots: Sequence[Pot]) -> tuple[Pot | None, str]:
        """Return the pot for one wish among some and, without one, why."""
        meat = is_meat(self.dishes[self.wishes[i].dish])
        return _choose(self.wishes[i], self.mass_kg(i), pots, wants_lid=meat)

    def seat(self, i: int) -> PotAssignment:
        """Return a wish with a free pot, or with the reason why there is none."""
        pot, reason = self.choose(i, self.free)
        if pot is not None and pot.diameter_m**2 > self.floor_m2:
            pot, reason = None, "There is no room for one more pot on the floor of the box."
        if pot is not None:
            self.free.remove(pot)
            self.floor_m2 -= pot.diameter_m**2
        return PotAssignment(wish=self.wishes[i], pot=pot, reason=reason)

    def share(self, i: int) -> None:
        """Give a wish without a pot one whose other meals are well before or well after it."""
        wish = self.wishes[i]
        fits = [pot for pot in self._used() if self._has_gap(i, pot) and self.choose(i, [pot])[0]]
        pot = min(fits, key=lambda pot: (self._emptied(pot, wish), pot.capacity_l), default=None)
        if pot is None and wish.loaded_at is not None:
            # It is in the box, in whatever pot: it must not drop out of the plan.
            pot = self._largest(wish)
        if pot is None:
            return
        before = [emptied_at(s.wish) for s in self._in(pot) if s.wish.serve_at < wish.serve_at]
        self.seats[i] = PotAssignment(wish=wish, pot=pot, free_from=max(before, default=None))
        for k, seat in self.seats.items():
            waits = seat.wish.loaded_at is None
            if seat.pot == pot and seat.wish.serve_at > wish.serve_at and waits:
                freed = max(emptied_at(wish), seat.free_from or emptied_at(wish))
                self.seats[k] = replace(seat, free_from=freed)

    def _used(self) -> list[Pot]:
        """Return the pots that somebody has."""
        return list(dict.fromkeys(seat.pot for seat in self.seats.values() if seat.pot))

    def _in(self, pot: Pot) -> list[PotAssignment]:
        """Return who has a pot."""
        return [seat for seat in self.seats.values() if seat.pot == pot]

    def _has_gap(self, i: int, pot: Pot) -> bool:
        """Return whether a wish fits between the meals of those who have a pot."""
        mine = self.wishes[i]
        for seat in self._in(pot):
            first, second = sorted([mine, seat.wish], key=lambda wish: wish.serve_at)
            if second.loaded_at is not None:
                if second.loaded_at < (first.pulled_at or first.serve_at):
                    return False
            elif emptied_at(first) + SHORTEST > second.serve_at:
                return False
        return True

    def _emptied(self, pot: Pot, wish: Wish) -> float:
        """Return when a pot comes free of the meals before a wish; 0 for no such meal.  [s]"""
        before = [s.wish for s in self._in(pot) if s.wish.serve_at < wish.serve_at]
        return max((emptied_at(one).timestamp() for one in before), default=0.0)

    def _largest(self, wish: Wish) -> Pot | None:
        """Return the pot a wish names, else the largest there is."""
        pots = [*self.free, *self._used()]
        named = [pot for pot in pots if pot.name == wish.pot]
        return max(named or pots, key=lambda pot: pot.capacity_l, default=None)


def emptied_at(wish: Wish) -> datetime:
    """Return when the pot of a wish has been emptied and washed."""
    return (wish.pulled_at or wish.serve_at) + WASHING


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
