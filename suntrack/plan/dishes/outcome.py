"""From simulated temperatures to what the plan says of each dish."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime, timedelta
from math import ceil
from typing import TYPE_CHECKING

import numpy as np

from suntrack.food.safety import SafetyVerdict, judge
from suntrack.plan.dishes.judge import Judge, first_true
from suntrack.plan.records import DishPlan, DishSample, DishStatus

if TYPE_CHECKING:
    from numpy.typing import NDArray

    from suntrack.box.heat.structs import PotCharge
    from suntrack.food.dish import Dish
    from suntrack.food.stove import Stove
    from suntrack.plan.dishes.pots import PotAssignment
    from suntrack.plan.grid import Grid

HOT_C = 60.0
"""Cooked food is kept at least this hot: 140 F, USDA consumer advice (copies of the FSIS page)."""
SAMPLE_MIN = 10
FORGIVING_MIN = 60.0
"""A dish that keeps at least so long when hot is rather left in for up to twice as long again than
taken out before its meal: softer is better than cold (our choice).  [min]"""
GRACE_MIN = 60.0
"""How late a dish may be and still be followed while the day is searched.  [min]"""

AS_PLANNED = "Taken as loaded when the plan said. If it went in later, note it: note loaded."
TO_STOVE = "Cook it on the kitchen stove today."
TAKEN_OUT = (
    "You took it out before it was done and safe: finish it on the stove at once. If that was "
    "not done within two hours, throw it away."
)
CANNOT_WAIT = (
    "It cannot wait in the box until the meal: take it out when the plan says, and keep it at "
    "60 °C (140 °F) or more, or chill it at once and heat it through."
)
POT_NEEDED = "Its pot is wanted again: empty and wash it as soon as it is out."
NOBODY_AT_MEAL = "By your free hours nobody is there at the meal: somebody has to take it out."
TOO_LATE = "Put the meal later, load earlier, or finish it on the kitchen stove."


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Cooking:
    """One dish on its way through the planned day."""

    seat: PotAssignment
    """Its pot, and who wants it."""
    dish: Dish
    """What is cooked."""
    charge: PotCharge
    """The pot with its food, as the box has it."""
    judge: Judge
    """What its middle means."""
    stove: Stove
    """The kitchen, should the sun not finish it."""
    load_step: int
    """When it goes in."""
    serve_step: int
    """When it is wanted."""


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class DishOutcome:
    """What one simulated day makes of one dish, in steps; inf or None for never."""

    done: float
    """When it is done."""
    safe: float
    """When its middle has had the heat its rule asks."""
    red: float
    """When a safety clock runs out."""
    cools: float
    """When, after it was ready, it falls below 60 C."""
    verdict: SafetyVerdict
    """What the food rules say of it."""
    out: float = np.inf
    """When it is taken out."""

    @property
    def ready(self) -> float:
        """The step at which it is both done and safe."""
        return max(self.done, self.safe)

    @property
    def is_safe(self) -> bool:
        """True when it gets safe, and no clock runs out before it is ready."""
        by = self.ready if np.isfinite(self.ready) else self.safe
        return bool(np.isfinite(self.safe) and self.red > by)


def fate_of(cooking: Cooking, core_c: NDArray[np.float64]) -> DishOutcome:
    """Return what a day with this core, shape (steps + 1,), makes of a dish."""
    inside_c = cooking.judge.inside(core_c[None], np.array([cooking.load_step]))
    done = float(first_true(cooking.judge.done(inside_c) >= 1.0)[0])
    verdict = judge(
        inside_c[0],
        step_s=cooking.judge.step_s,
        dish=cooking.dish,
        air_c=cooking.judge.air_c,
        confirmed=cooking.seat.wish.confirmed,
    )
    safe = np.inf if verdict.safe_step is None else float(verdict.safe_step)
    red = np.inf if verdict.red_step is None else float(verdict.red_step)
    ready = max(done, safe)
    cool = (core_c[None] < HOT_C) & (np.arange(core_c.size) > ready)
    return DishOutcome(
        done=done, safe=safe, red=red, cools=float(first_true(cool)[0]), verdict=verdict
    )


def pull_window(cooking: Cooking, fate: DishOutcome, *, step_min: float) -> tuple[float, float]:
    """Return the steps at which to take the dish out, and by which it has to be out.

    Out at the meal when it is ready by then; as soon as it is ready when it is late.  By
    the end of its hold time, and before it cools below 60 C.  Loads are early enough for a
    weaker day than this one, so here a dish may be ready long before: a forgiving one is left in
    past its hold time where that brings it hot to the table.
    """
    ready = fate.ready
    by = min(ready + cooking.dish.hold_min / step_min, fate.cools)
    hold = cooking.dish.hold_min / step_min
    forgiving = cooking.dish.hold_min >= FORGIVING_MIN
    if forgiving and by < cooking.serve_step <= min(by + 2.0 * hold, fate.cools):
        by = float(cooking.serve_step)
    return min(max(ready, cooking.serve_step), max(ready, by)), by


def pull_when(
    cooking: Cooking, fate: DishOutcome, *, there: NDArray[np.bool_], step_min: float
) -> float:
    """Return the step at which to take the dish out, with somebody there to do it.

    The meal has its people; what cannot wait for it comes out at the last moment before at
    which the cook is there, `there` being True for those steps.  The best step, with nobody
    there, when there is no such moment.
    """
    best, _ = pull_window(cooking, fate, step_min=step_min)
    if not best < min(cooking.serve_step, there.size) or there[int(best)]:
        return best
    may = np.flatnonzero(there[: int(best) + 1])
    return float(may[-1]) if may.size and may[-1] >= fate.ready else best


def expected_pull(cooking: Cooking, *, steps: int, step_min: float) -> int:
    """Return the step until which a dish is simulated while the day is still searched.

    When it really came out; else some time past its meal, so that "a little late" can be
    told from "never", and so that an eaten lunch does not cool the box for supper.
    """
    if cooking.judge.pull_step is not None:
        return min(cooking.judge.pull_step, steps)
    return min(cooking.serve_step + round(GRACE_MIN / step_min), steps)


def status_of(cooking: Cooking, fate: DishOutcome) -> DishStatus:
    """Return the one word for a dish's day."""
    if fate.verdict.refused is not None:
        return "refused"
    if not fate.is_safe:
        return "not safe"
    if not np.isfinite(fate.done):
        return "not done"
    return "late" if fate.ready > cooking.serve_step else "ready"


def stove_step(
    cooking: Cooking, fate: DishOutcome, *, core_c: NDArray[np.float64], step_min: float
) -> float:
    """Return the latest step at which moving it to the kitchen stove still saves the meal.

    Early enough for the stove to finish what is left by the meal, and to be past the danger
    zone before a safety clock runs out.  When even at loading it is too late for the meal: at
    once, the step at which it went in, or for a dish that is still to go in, when the kitchen
    would have to begin, which may be before the first step.
    """
    inside_c = cooking.judge.inside(core_c[None], np.array([cooking.load_step]))[0]
    step = np.arange(inside_c.size)
    needs_min = cooking.stove.needs_min(
        inside_c, cooking.judge.done(inside_c), safe=fate.safe <= step
    )
    in_time = step * step_min + needs_min <= cooking.serve_step * step_min
    warming_min = np.where(step < fate.safe, cooking.stove.in_danger_min(inside_c), 0.0)
    in_time &= step + warming_min / step_min <= fate.red - 1.0
    in_time &= (step >= cooking.load_step) & (step <= cooking.serve_step)
    if in_time.any():
        return float(np.flatnonzero(in_time)[-1])
    if cooking.seat.wish.loaded_at is not None:
        return float(cooking.load_step)
    in_kitchen = cooking.serve_step - needs_min[cooking.load_step] / step_min
    return min(float(cooking.load_step), float(in_kitchen))


def dish_plan(
    cooking: Cooking,
    fate: DishOutcome,
    *,
    core_c: NDArray[np.float64],
    grid: Grid,
    needed: float = np.inf,
    there: NDArray[np.bool_] | None = None,
) -> DishPlan:
    """Return the plan of a dish that goes into the box.

    `needed` is when its pot has to be empty for the next dish, `there` when somebody is.
    """
    step_min = grid.step_s / 60.0
    status = status_of(cooking, fate)
    pull, by = np.inf, np.inf
    if status in ("ready", "late"):
        pull, by = pull_window(cooking, fate, step_min=step_min)
        # There is always a limit: at the latest where the plan ends.
        pull, by = min(pull, fate.out), max(min(by, needed, grid.steps), fate.ready)
    wish = cooking.seat.wish
    return DishPlan(
        key=cooking.dish.key,
        name=cooking.dish.name,
        pot=cooking.seat.pot.name if cooking.seat.pot else None,
        serve_at=wish.serve_at,
        load_at=grid.at(cooking.load_step),
        done_at=_at(grid, fate.done),
        safe_at=_at(grid, fate.safe) if fate.is_safe else None,
        pull_at=wish.pulled_at.astimezone(grid.zone)
        if wish.pulled_at
        else _pull_at(grid, pull, wish.serve_at),
        pull_by=_at(grid, by),
        stove_by=grid.at(stove_step(cooking, fate, core_c=core_c, step_min=step_min)),
        status=status,
        notes=_notes(cooking, fate, status, by=by, needed=needed, there=there),
        curve=_curve(cooking, fate, core_c=core_c, grid=grid),
        red_at=_at(grid, fate.red),
    )


def kitchen_plan(
    dish: Dish, seat: PotAssignment, *, status: DishStatus, notes: tuple[str, ...], stove: Stove
) -> DishPlan:
    """Return the plan of a dish that stays out of the box, all of it left to the kitchen."""
    start_c = dish.start_c if dish.pieces_start_c is None else dish.pieces_start_c
    needs_min = float(stove.needs_min(start_c, 0.0))
    return DishPlan(
        key=dish.key,
        name=dish.name,
        pot=None,
        serve_at=seat.wish.serve_at,
        load_at=None,
        done_at=None,
        safe_at=None,
        pull_at=None,
        pull_by=None,
        # What is refused here may need hours on the stove, or may not be made at all.
        stove_by=None
        if status == "refused"
        else seat.wish.serve_at - timedelta(minutes=ceil(needs_min)),
        status=status,
        notes=notes,
    )


def _at(grid: Grid, step: float) -> datetime | None:
    """Return the instant of a step; None for never or past the stretch."""
    return grid.at(step) if step <= grid.steps else None


def _pull_at(grid: Grid, step: float, serve_at: datetime) -> datetime | None:
    """Return when to pull, the meal's own minute when it is the meal; never before it is ready."""
    at = _at(grid, step)
    is_meal = at is not None and timedelta(0) <= serve_at - at < timedelta(minutes=3)
    return serve_at if is_meal else at


def _notes(
    cooking: Cooking,
    fate: DishOutcome,
    status: DishStatus,
    *,
    by: float,
    needed: float,
    there: NDArray[np.bool_] | None,
) -> tuple[str, ...]:
    """Return what the cook should know of this dish today."""
    notes = [*fate.verdict.reasons]
    if cooking.seat.wish.loaded_as_planned:
        notes.append(AS_PLANNED)
    if status in ("not safe", "not done"):
        notes.append(TO_STOVE if cooking.seat.wish.pulled_at is None else TAKEN_OUT)
    if status == "ready" and by < cooking.serve_step:
        notes.append(CANNOT_WAIT)
    if status == "late":
        notes.append(TOO_LATE)
    if status in ("ready", "late") and np.isfinite(needed):
        notes.append(POT_NEEDED)
    serve = cooking.serve_step
    if (
        status == "ready"
        and by >= serve
        and there is not None
        and not there[min(serve, there.size - 1)]
    ):
        notes.append(NOBODY_AT_MEAL)
    return (*notes, *cooking.dish.advice)


def _curve(
    cooking: Cooking, fate: DishOutcome, *, core_c: NDArray[np.float64], grid: Grid
) -> tuple[DishSample, ...]:
    """Return the dish every ten minutes while it is in the box."""
    every = max(1, round(SAMPLE_MIN * 60 / grid.step_s))
    pulled = cooking.judge.pull_step
    inside_c = cooking.judge.inside(core_c[None], np.array([cooking.load_step]))[0]
    done = cooking.judge.done(inside_c)
    last = grid.steps if pulled is None else min(pulled, grid.steps)
    return tuple(
        DishSample(
            at=grid.at(step),
            core_c=float(inside_c[step]),
            done=float(min(done[step], 1.0)),
            safe=fate.is_safe and fate.safe <= step,
        )
        for step in range(cooking.load_step, last + 1, every)
    )
