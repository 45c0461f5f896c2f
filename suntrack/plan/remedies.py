"""A dish the box does not manage today: the least change with which it would.

Tried on simulated days, all of one kind at once, with everything else as planned: a later
meal, half the amount, somebody there to load it, the box to itself.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

import numpy as np

from suntrack.plan.dishes.candidates import cooking_of, first_to_come, load_candidates
from suntrack.plan.dishes.outcome import expected_pull
from suntrack.plan.dishes.oven import day_oven
from suntrack.plan.dishes.pots import wish_kg
from suntrack.plan.records import DishPlan, Remedy

if TYPE_CHECKING:
    from collections.abc import Iterator

    from numpy.typing import NDArray

    from suntrack.plan.dishes.outcome import Cooking
    from suntrack.plan.dishes.oven import DayOven
    from suntrack.plan.dishes.schedule import Cooked
    from suntrack.plan.frame import Frame
    from suntrack.plan.inputs import DayInputs
    from suntrack.plan.turns.aims import AimedDay

EVERY_MIN = 20.0
"""How far apart the loads are that are tried.  [min]"""
HALF = 0.5
"""The smaller amount that is tried.  [-]"""


def with_mends(
    inputs: DayInputs, *, frame: Frame, aimed: AimedDay, cooked: Cooked
) -> tuple[DishPlan, ...]:
    """Return the plans, those of dishes left out with what would mend them.

    Parameters
    ----------
    inputs : DayInputs
    frame : Frame
    aimed : AimedDay
        How the box is turned.
    cooked : Cooked
        What goes in, and what was left out.

    Returns
    -------
    plans : tuple of DishPlan
        In the order of the wishes.
    """
    if not cooked.left_out:
        return cooked.plans
    oven = day_oven(
        inputs,
        aimed=aimed,
        steps=frame.steps,
        pots=(),
        light_factors=cooked.light_factor[None],
    )
    plans = list(cooked.plans)
    for i, cooking in cooked.left_out.items():
        if plans[i].status != "refused":
            tries = _Tries(inputs=inputs, frame=frame, oven=oven, cooked=cooked, cooking=cooking)
            plans[i] = replace(plans[i], mends=tuple(tries.mends()))
    return tuple(plans)


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class _Tries:
    """One dish tried in ways that the plan could not choose."""

    inputs: DayInputs
    """What the day is planned from."""
    frame: Frame
    """The stretch of the day that is planned."""
    oven: DayOven
    """The box of the day."""
    cooked: Cooked
    """The day as it is planned."""
    cooking: Cooking
    """The dish that would be saved."""

    def mends(self) -> Iterator[Remedy]:
        """Yield what would help, the least change first."""
        allowed = load_candidates(self.inputs, self.cooking, frame=self.frame)
        every = self._every_load()
        if not np.isin(every, allowed).all():
            loads, ready = self._ready(self.cooking, every, alone=False)
            in_time = loads[self._serves(ready) & ~np.isin(loads, allowed)]
            if in_time.size:
                yield Remedy(kind="somebody", load_at=self.frame.grid.at(int(in_time[-1])))
        if not allowed.size:
            return
        half = self._half()
        if self._in_time(half, allowed, alone=False):
            yield Remedy(kind="half")
        if self.cooked.going and self._in_time(self.cooking, allowed, alone=True):
            yield Remedy(kind="alone")
        _, ready = self._ready(self.cooking, allowed, alone=False)
        first = float(ready.min(initial=np.inf))
        if self.cooking.serve_step < first <= self.frame.grid.steps:
            yield Remedy(kind="later meal", ready_at=self.frame.grid.at(first))

    def _every_load(self) -> NDArray[np.intp]:
        """Return loads from now on and up to the meal, whoever is there."""
        every = max(1, round(EVERY_MIN * 60.0 / self.frame.grid.step_s))
        first = first_to_come(self.inputs, self.frame)
        return np.arange(first, max(self.cooking.serve_step, first + 1), every)

    def _in_time(self, cooking: Cooking, loads: NDArray[np.intp], *, alone: bool) -> bool:
        """Return whether a dish is ready by its meal with some of these loads."""
        _, ready = self._ready(cooking, loads, alone=alone)
        return bool(self._serves(ready).any())

    def _serves(self, ready: NDArray[np.float64]) -> NDArray[np.bool_]:
        """Return where a dish is ready by its meal, and waits for it or is taken out in time."""
        grid, serve = self.frame.grid, self.cooking.serve_step
        in_time = ready <= serve
        hold = self.cooking.dish.hold_min * 60.0 / grid.step_s
        free = np.append(np.flatnonzero(grid.within(self.inputs.free)), grid.steps + serve)
        at = np.where(in_time, ready, 0.0)
        taken = free[np.searchsorted(free, at)] <= at + hold
        return in_time & ((serve - at <= hold) | taken)

    def _ready(
        self, cooking: Cooking, loads: NDArray[np.intp], *, alone: bool
    ) -> tuple[NDArray[np.intp], NDArray[np.float64]]:
        """Return some of the loads, and when the dish is done and safe with each; inf for never."""
        few = loads[:: max(1, loads.size // 24)]
        others = [] if alone else list(self.cooked.going.values())
        step_min = self.frame.day.step_s / 60.0
        pots = [cooking.charge, *(other.charge for other in others)]
        rows = np.array([[load, *(other.load_step for other in others)] for load in few], np.intp)
        out = [
            self.oven.steps,
            *(expected_pull(c, steps=self.oven.steps, step_min=step_min) for c in others),
        ]
        oven = replace(self.oven, pots=tuple(pots), out=tuple(out))
        outcome = cooking.judge(oven(rows)[:, 0, 0], few)
        return few, np.where(outcome.safe, outcome.ready_step, np.inf)

    def _half(self) -> Cooking:
        """Return half as much of the dish, in the same pot."""
        seat = self.cooking.seat
        kg = HALF * wish_kg(seat.wish, self.cooking.dish)
        return cooking_of(
            self.inputs, replace(seat, wish=replace(seat.wish, mass_kg=kg)), frame=self.frame
        )
