"""From wishes to dishes that can be searched: what may go in, when, and what stays out."""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

from suntrack.food.charge import pot_charge, settling_delta_k
from suntrack.food.properties import boiling_c
from suntrack.food.safety import refusal
from suntrack.food.stove import Stove, stove_for
from suntrack.plan.dishes.judge import Judge
from suntrack.plan.dishes.load_search import Goal
from suntrack.plan.dishes.outcome import TO_STOVE, Cooking, kitchen_plan
from suntrack.plan.dishes.pots import PotAssignment, wish_kg

if TYPE_CHECKING:
    from collections.abc import Sequence

    from numpy.typing import NDArray

    from suntrack.plan.frame import Frame
    from suntrack.plan.inputs import DayInputs
    from suntrack.plan.records import DishPlan

NOBODY_THERE = "By your free hours nobody is there to put it in while there is sun before the meal."
LOAD_GRAIN_MIN = 10
"""Load times fall on this grain of the stretch.  [min]"""


def sorted_out(
    inputs: DayInputs, seats: Sequence[PotAssignment], *, frame: Frame
) -> tuple[dict[int, Cooking], dict[int, Cooking], dict[int, DishPlan]]:
    """Return by wish what may go in, what nobody can put in, and plans of all that stays out."""
    going: dict[int, Cooking] = {}
    left_out: dict[int, Cooking] = {}
    plans: dict[int, DishPlan] = {}
    for i, seat in enumerate(seats):
        kept_out = _kept_out(inputs, seat)
        if kept_out is not None:
            plans[i] = kept_out
            continue
        cooking = cooking_of(inputs, seat, frame=frame)
        if load_candidates(inputs, cooking, frame=frame).size:
            going[i] = cooking
        else:
            left_out[i] = cooking
            notes = (NOBODY_THERE, TO_STOVE)
            plans[i] = kitchen_plan(
                cooking.dish, seat, status="not done", notes=notes, stove=cooking.stove
            )
    return going, left_out, plans


def _kept_out(inputs: DayInputs, seat: PotAssignment) -> DishPlan | None:
    """Return the plan of a dish that is refused or has no pot; None when it may go in."""
    dish = inputs.dishes[seat.wish.dish]
    lid = None if seat.pot is None else seat.pot.lid
    refused = refusal(dish, confirmed=seat.wish.confirmed, lid=lid)
    stove = _stove(inputs, seat)
    if refused is not None:
        return kitchen_plan(dish, seat, status="refused", notes=(refused,), stove=stove)
    if seat.pot is None:
        notes = (seat.reason, TO_STOVE)
        return kitchen_plan(dish, seat, status="not done", notes=notes, stove=stove)
    return None


def _stove(inputs: DayInputs, seat: PotAssignment) -> Stove:
    """Return the kitchen for the dish of a wish."""
    dish = inputs.dishes[seat.wish.dish]
    boils_c = boiling_c(elevation_m=inputs.site.elevation_m)
    return stove_for(dish, mass_kg=wish_kg(seat.wish, dish), boiling_c=boils_c)


def cooking_of(inputs: DayInputs, seat: PotAssignment, *, frame: Frame) -> Cooking:
    """Return a dish ready for the search, its load step the earliest or the real one."""
    assert seat.pot is not None
    dish = inputs.dishes[seat.wish.dish]
    charge = pot_charge(
        dish,
        seat.pot,
        mass_kg=wish_kg(seat.wish, dish),
        boiling_c=boiling_c(elevation_m=inputs.site.elevation_m),
    )
    air_c = inputs.weather.air_c[0, frame.steps]
    loaded_at, pulled_at = seat.wish.loaded_at, seat.wish.pulled_at
    judge = Judge(
        dish=dish,
        step_s=frame.day.step_s,
        air_c=np.append(air_c, air_c[-1]),
        pull_step=None if pulled_at is None else frame.grid.step(pulled_at),
        probes=tuple((frame.grid.step(at), core_c) for at, core_c in seat.wish.cores),
        settling_delta_k=settling_delta_k(
            dish, charge, step_s=frame.day.step_s, steps=frame.grid.steps
        ),
    )
    return Cooking(
        seat=seat,
        dish=dish,
        charge=charge,
        judge=judge,
        stove=_stove(inputs, seat),
        load_step=0 if loaded_at is None else frame.grid.step(loaded_at),
        serve_step=frame.grid.step(seat.wish.serve_at),
    )


def load_candidates(inputs: DayInputs, cooking: Cooking, *, frame: Frame) -> NDArray[np.intp]:
    """Return the steps at which a dish may go in: free moments before its meal, from now on."""
    if cooking.seat.wish.loaded_at is not None:
        return np.array([cooking.load_step], np.intp)
    grid = frame.grid
    every = max(1, round(LOAD_GRAIN_MIN * 60 / grid.step_s))
    steps = np.arange(0, max(cooking.serve_step, 1), every)
    earliest = first_to_come(inputs, frame)
    if cooking.seat.free_from is not None:
        earliest = max(earliest, grid.step_after(cooking.seat.free_from))
    may = grid.within(inputs.free)[steps] & (steps >= earliest)
    return steps[may]


def first_to_come(inputs: DayInputs, frame: Frame) -> int:
    """Return the first step that is not past."""
    return frame.grid.step_after(inputs.made_at) if _is_running(inputs, frame) else 0


def _is_running(inputs: DayInputs, frame: Frame) -> bool:
    """Return True when the day is under way, so that the past cannot be planned."""
    begins, ends = frame.grid.at(0), frame.grid.at(frame.grid.steps)
    under_way = bool(inputs.heard.aims) or any(w.loaded_at for w in inputs.wishes)
    return begins < inputs.made_at < ends and (frame.from_now or under_way)


def goal_of(inputs: DayInputs, cooking: Cooking, *, frame: Frame) -> Goal:
    """Return what a dish asks of the search."""
    return Goal(
        serve_step=cooking.serve_step,
        hold_min=cooking.dish.hold_min,
        candidates=load_candidates(inputs, cooking, frame=frame),
        judge=cooking.judge,
        told=_told(inputs, cooking, frame=frame),
    )


def _told(inputs: DayInputs, cooking: Cooking, *, frame: Frame) -> int | None:
    """Return the step at which the cook was told to load a dish that is still to go in."""
    earlier = inputs.earlier
    if earlier is None or cooking.seat.wish.loaded_at is not None:
        return None
    at = earlier.loads.get(cooking.dish.key)
    return None if at is None else frame.grid.step_after(at)
