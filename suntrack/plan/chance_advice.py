"""What would raise the chance of the day: each change tried under the same skies.

Nothing here is put into the plan; the cook chooses.  A change that only moves the chance by
what chance itself may do is not worth a line.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

import numpy as np

from suntrack.plan.chance import all_good
from suntrack.plan.dishes.candidates import cooking_of, load_candidates
from suntrack.plan.records import Change

if TYPE_CHECKING:
    from collections.abc import Iterator, Mapping

    from suntrack.food.dish import Dish
    from suntrack.plan.chance import DayChances, SkyDay
    from suntrack.plan.dishes.outcome import Cooking
    from suntrack.plan.frame import Frame
    from suntrack.plan.inputs import DayInputs

    Going = Mapping[int, Cooking]

SURE = 0.9
"""A day with this chance needs no advice (our choice).  [-]"""
WORTH = 0.1
"""A change worth telling raises the chance at least by this: twice the sampling error of 100
skies.  [-]"""
MOST = 3
"""How many changes are told.  [-]"""
EARLIER_MIN = (30, 60, 90)
CUT = frozenset({"vegetables", "meat", "poultry"})
"""What can be cut smaller and is still the same dish (kitchen judgement)."""
LARGE_M = 0.02
"""Pieces below this are small already.  [m]"""


def worthwhile_changes(
    inputs: DayInputs, *, frame: Frame, day: SkyDay, going: Going, found: DayChances
) -> tuple[Change, ...]:
    """Return the changes that raise the chance, the best first.

    Parameters
    ----------
    inputs : DayInputs
    frame : Frame
    day : SkyDay
        The box under the day's skies.
    going : mapping
        What goes in by the plan, by the number of its wish.
    found : DayChances
        The plan's own chance, and which dishes it speaks of.

    Returns
    -------
    changes : tuple of Change
        Empty when the day is sure as it is.  What is in the box already stays as it is.
    """
    good = found.chances.good
    if good is None or good >= SURE:
        return ()
    ways = _Ways(inputs=inputs, frame=frame, day=day, going=going, counted=found.counted)
    tried = [*ways.earlier(), *ways.without(), *ways.smaller()]
    worth = sorted((c for c in tried if c.chance >= good + WORTH), key=lambda c: -c.chance)
    first = [change for i, change in enumerate(worth) if change.kind not in _kinds(worth[:i])]
    return tuple(first[:MOST])


def _kinds(changes: list[Change]) -> set[str]:
    return {change.kind for change in changes}


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class _Ways:
    """The day with one thing done otherwise."""

    inputs: DayInputs
    """What the day is planned from."""
    frame: Frame
    """The stretch of the day that is planned."""
    day: SkyDay
    """The box under every sky."""
    going: Going
    """What goes in, and when."""
    counted: frozenset[int]
    """The wishes that the day is judged by."""

    def earlier(self) -> Iterator[Change]:
        """Yield the chance with all that is to come loaded earlier, as far as the cook can."""
        seen = {tuple(cooking.load_step for cooking in self.going.values())}
        for by_min in EARLIER_MIN:
            by = round(by_min * 60.0 / self.frame.grid.step_s)
            moved = {i: self._moved(cooking, by) for i, cooking in self.going.items()}
            loads = tuple(cooking.load_step for cooking in moved.values())
            if loads not in seen:
                seen.add(loads)
                yield Change(kind="earlier", by_min=by_min, chance=self._chance(moved))

    def without(self) -> Iterator[Change]:
        """Yield the chance of the others with each dish in turn left out."""
        for i, cooking in self.going.items():
            rest = {other: kept for other, kept in self.going.items() if other != i}
            if _waits(cooking) and self.counted & rest.keys():
                yield Change(kind="without", dish=cooking.dish.name, chance=self._chance(rest))

    def smaller(self) -> Iterator[Change]:
        """Yield the chance with the pieces of each dish in turn half as thick."""
        for i, cooking in self.going.items():
            if not _waits(cooking) or not can_be_cut(cooking.dish):
                continue
            dish = replace(cooking.dish, thickness_m=cooking.dish.thickness_m / 2.0)
            library = replace(self.inputs, dishes={**self.inputs.dishes, dish.key: dish})
            cut = cooking_of(library, cooking.seat, frame=self.frame)
            cut = replace(cut, load_step=cooking.load_step)
            chance = self._chance({**self.going, i: cut})
            yield Change(kind="smaller", dish=dish.name, chance=chance)

    def _chance(self, going: Going) -> float:
        return all_good(self.day.good(going), self.counted)

    def _moved(self, cooking: Cooking, by: int) -> Cooking:
        """Return a dish loaded by some steps earlier, or as early as it can be."""
        if not _waits(cooking):
            return cooking
        may = load_candidates(self.inputs, cooking, frame=self.frame)
        early = may[may <= cooking.load_step - by]
        step = int(early[-1]) if early.size else int(np.min(may, initial=cooking.load_step))
        return replace(cooking, load_step=step)


def _waits(cooking: Cooking) -> bool:
    """Return True while a dish has not gone in."""
    return cooking.seat.wish.loaded_at is None


def can_be_cut(dish: Dish) -> bool:
    """Return True for a dish of pieces that a knife can halve."""
    return dish.thickness_m >= LARGE_M and bool(dish.contains) and CUT.issuperset(dish.contains)
