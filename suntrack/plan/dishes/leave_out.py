"""Which dish to leave out when not all can come good, and what its plan then says.

A hopeless pot of beans cools the box for the dishes that would have made it, so it goes
first: not safe before not done.  A dish that is already in stays in.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from suntrack.plan.dishes.outcome import (
    TO_STOVE,
    Cooking,
    DishOutcome,
    kitchen_plan,
    pull_when,
    pull_window,
    status_of,
)
from suntrack.plan.dishes.pots import WASHING

if TYPE_CHECKING:
    from collections.abc import Mapping

    from suntrack.plan.frame import Frame
    from suntrack.plan.inputs import DayInputs
    from suntrack.plan.records import DishPlan

NOBODY_OUT = (
    "It cannot wait in the box until the meal, and by your free hours nobody is there to take "
    "it out in time."
)
POT_TAKEN = "Its pot is not free in time; a second one would do."
MUCH_TOO_LATE = "The sun comes too late for this meal."
LATE_MOST_MIN = 90.0
"""A dish that is later than this is left to the stove (our choice).  [min]"""
CROWDED = "With it in the box the other dishes would be late."


def left_out_plan(cooking: Cooking, fate: DishOutcome, *, note: str) -> DishPlan:
    """Return the plan of a dish that was tried and does not come good in the box."""
    status, notes = status_of(cooking, fate), fate.verdict.reasons
    if status in ("ready", "late"):
        status, notes = "not done", (note, *notes)
    return kitchen_plan(
        cooking.dish, cooking.seat, status=status, notes=(*notes, TO_STOVE), stove=cooking.stove
    )


def why_not(
    going: Mapping[int, Cooking], fates: Mapping[int, DishOutcome], i: int, *, frame: Frame
) -> str:
    """Return why a dish that would be done and safe is left out all the same."""
    if _much_too_late(going[i], fates[i], frame=frame):
        return MUCH_TOO_LATE
    return POT_TAKEN if _pot_taken(going, fates, i, frame=frame) else NOBODY_OUT


def pot_needed(going: Mapping[int, Cooking], i: int, *, step_min: float) -> float:
    """Return the step by which the pot of a dish has to be empty; inf for never."""
    mine = going[i]
    loads = [
        other.load_step
        for k, other in going.items()
        if k != i and other.seat.pot == mine.seat.pot and other.load_step > mine.load_step
    ]
    return min(loads) - WASHING.total_seconds() / 60.0 / step_min if loads else float("inf")


def hopeless(
    inputs: DayInputs, going: dict[int, Cooking], fates: dict[int, DishOutcome], *, frame: Frame
) -> int | None:
    """Return the dish to leave out first: not safe before not done; None when all come good."""
    bad = []
    for i, cooking in going.items():
        status = status_of(cooking, fates[i])
        failing = status in ("not safe", "not done", "refused")
        failing |= _much_too_late(cooking, fates[i], frame=frame)
        if not failing:
            failing = _nobody_takes_it_out(inputs, cooking, fates[i], frame=frame)
            failing |= _pot_taken(going, fates, i, frame=frame)
        if failing and cooking.seat.wish.loaded_at is None:
            bad.append((status != "not safe", i))
    return min(bad)[1] if bad else None


def _nobody_takes_it_out(
    inputs: DayInputs, cooking: Cooking, fate: DishOutcome, *, frame: Frame
) -> bool:
    """Return True when a dish has to come out before the meal while the cook is away."""
    there = frame.grid.within(inputs.free)
    pull = pull_when(cooking, fate, there=there, step_min=frame.day.step_s / 60.0)
    if not pull < min(cooking.serve_step, frame.grid.steps):
        return False
    return not there[int(pull)]


def _much_too_late(cooking: Cooking, fate: DishOutcome, *, frame: Frame) -> bool:
    """Return True for a dish that nobody would wait for."""
    if status_of(cooking, fate) != "late":
        return False
    return (fate.ready - cooking.serve_step) * frame.day.step_s / 60.0 > LATE_MOST_MIN


def _pot_taken(
    going: Mapping[int, Cooking], fates: Mapping[int, DishOutcome], i: int, *, frame: Frame
) -> bool:
    """Return True when the pot of a dish still holds another one when it is to go in."""
    cooking = going[i]
    if cooking.seat.free_from is None or cooking.seat.pot is None:
        return False
    step_min = frame.day.step_s / 60.0
    before = [
        pull_window(other, fates[k], step_min=step_min)[0]
        for k, other in going.items()
        if other.seat.pot == cooking.seat.pot and other.serve_step < cooking.serve_step
    ]
    return any(pull > cooking.load_step for pull in before)
