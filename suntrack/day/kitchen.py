"""Several dishes in one box: who gets which pot, when each goes in, what becomes of it.

Dishes that cannot come good today are taken out of the plan one at a time, the worst
first, because a hopeless pot of beans cools the box for the dishes that would have made
it.  A dish that is already in stays in.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

import numpy as np

from suntrack.box.heat import Trace
from suntrack.day.chance import SkyDay, sky_day
from suntrack.day.judging import Judge
from suntrack.day.loads import Goal, search_loads
from suntrack.day.oven import DayOven, day_oven
from suntrack.day.pots import Seat, seat_dishes, wish_kg
from suntrack.day.readings import light_factor
from suntrack.day.supper import (
    TO_STOVE,
    Cooking,
    Fate,
    dish_plan,
    expected_pull,
    fate_of,
    kitchen_plan,
    pull_window,
    status_of,
)
from suntrack.food.charge import pot_charge, settling_delta_k
from suntrack.food.properties import boiling_c
from suntrack.food.safety import refusal
from suntrack.food.stove import Stove, stove_for

if TYPE_CHECKING:
    from collections.abc import Callable, Mapping, Sequence

    from suntrack.day.aims import AimedDay
    from suntrack.day.frame import Frame
    from suntrack.day.inputs import DayInputs
    from suntrack.day.records import DishPlan

NOBODY_THERE = "By your free hours nobody is there to put it in while there is sun before the meal."
NOBODY_OUT = (
    "It cannot wait in the box until the meal, and by your free hours nobody is there to take "
    "it out in time."
)
POT_TAKEN = "Its pot is not free in time; a second one would do."
SEARCHED = 5
"""Skies that loads are searched under; they stand for all by their light (our choice).  [-]"""
LOAD_GRAIN_MIN = 10
"""Load times fall on this grain of the stretch.  [min]"""


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Cooked:
    """The kitchen's answer for the day."""

    plans: tuple[DishPlan, ...]
    """In the order of the wishes."""
    loaded: Trace
    """The box with its dishes, one run."""
    empty: Trace
    """The box with nothing in it, one run."""
    going: Mapping[int, Cooking]
    """What goes in, with its load step, by the number of its wish."""
    left_out: Mapping[int, Cooking]
    """What was tried and does not come good."""
    light_factor: float
    """What the last reading makes of the sky's light.  [-]"""
    skies: SkyDay | None
    """The box under the day's many skies; None where there is only the one planned for."""


def cook(
    inputs: DayInputs,
    *,
    frame: Frame,
    aimed: AimedDay,
    near: Cooked | None = None,
    stop: Callable[[], bool] = lambda: False,
) -> Cooked:
    """Return the day of every wish, and of the box with and without them.

    Loads are searched under a few of the day's skies that stand for all, and the dishes then
    followed under the sky planned for.  `near` is the same day turned otherwise: what went in
    is then only moved a little.  `stop` ends the search early, see `search_loads`.
    """
    seats = seat_dishes(inputs.wishes, dishes=inputs.dishes, pots=inputs.pots, box=inputs.box)
    going, left_out, plans = _sorted_out(inputs, seats, frame=frame)
    factor = _factor(inputs, frame=frame, aimed=aimed, going=list(going.values()))
    oven = day_oven(inputs, aimed=aimed, steps=frame.steps, pots=(), light_factors=(factor,))
    searched = day_oven(
        inputs,
        aimed=aimed,
        steps=frame.steps,
        pots=(),
        light_factors=(factor,),
        skies=few_skies(inputs, steps=frame.steps),
    )
    visits = [frame.grid.step_after(turn.at) for turn in aimed.choice.turns]
    while True:
        going = _search(
            inputs, going, frame=frame, oven=searched, visits=visits, near=near, stop=stop
        )
        loaded, fates = _run(going, frame=frame, oven=oven)
        worst = _hopeless(inputs, going, fates, frame=frame)
        if worst is None:
            break
        clash = _pot_taken(going, fates, worst, frame=frame)
        left_out[worst] = going.pop(worst)
        plans[worst] = _left_out(left_out[worst], fates[worst], clash=clash)
    skies = sky_day(inputs, frame=frame, aimed=aimed, light_factor=factor)
    plans |= _plans_of(going, loaded, fates, frame=frame)
    return Cooked(
        plans=tuple(plans[i] for i in range(len(seats))),
        loaded=loaded,
        empty=oven.empty(),
        going=going,
        left_out=left_out,
        light_factor=factor,
        skies=skies,
    )


def cook_as_loaded(inputs: DayInputs, *, frame: Frame, aimed: AimedDay, cooked: Cooked) -> Cooked:
    """Return the same dishes, going in at the same times, with the box aimed otherwise."""
    oven = day_oven(
        inputs,
        aimed=aimed,
        steps=frame.steps,
        pots=(),
        light_factors=(cooked.light_factor,),
    )
    going = dict(cooked.going)
    loaded, fates = _run(going, frame=frame, oven=oven)
    plans = dict(enumerate(cooked.plans)) | _plans_of(going, loaded, fates, frame=frame)
    return replace(
        cooked,
        plans=tuple(plans[i] for i in range(len(plans))),
        loaded=loaded,
        empty=oven.empty(),
        skies=sky_day(inputs, frame=frame, aimed=aimed, light_factor=cooked.light_factor),
    )


def _plans_of(
    going: Mapping[int, Cooking], loaded: Trace, fates: Mapping[int, Fate], *, frame: Frame
) -> dict[int, DishPlan]:
    """Return the plans of the dishes that go in, by wish."""
    return {
        i: dish_plan(cooking, fates[i], core_c=loaded.core_c[0, place], grid=frame.grid)
        for place, (i, cooking) in enumerate(going.items())
    }


def _sorted_out(
    inputs: DayInputs, seats: Sequence[Seat], *, frame: Frame
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


def _left_out(cooking: Cooking, fate: Fate, *, clash: bool) -> DishPlan:
    """Return the plan of a dish that was tried and does not come good in the box."""
    status, notes = status_of(cooking, fate), fate.verdict.reasons
    if clash and status in ("ready", "late"):
        status, notes = "not done", (POT_TAKEN, *notes)
    if status in ("ready", "late"):
        status, notes = "not done", (NOBODY_OUT, *notes)
    return kitchen_plan(
        cooking.dish, cooking.seat, status=status, notes=(*notes, TO_STOVE), stove=cooking.stove
    )


def _kept_out(inputs: DayInputs, seat: Seat) -> DishPlan | None:
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


def _stove(inputs: DayInputs, seat: Seat) -> Stove:
    """Return the kitchen for the dish of a wish."""
    dish = inputs.dishes[seat.wish.dish]
    boils_c = boiling_c(elevation_m=inputs.site.elevation_m)
    return stove_for(dish, mass_kg=wish_kg(seat.wish, dish), boiling_c=boils_c)


def cooking_of(inputs: DayInputs, seat: Seat, *, frame: Frame) -> Cooking:
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


def _factor(inputs: DayInputs, *, frame: Frame, aimed: AimedDay, going: Sequence[Cooking]) -> float:
    """Return the factor on light from the last reading, with the dishes that are really in."""
    inside = [cooking for cooking in going if cooking.seat.wish.loaded_at is not None]
    return light_factor(
        inputs,
        frame=frame,
        aimed=aimed,
        pots=[cooking.charge for cooking in inside],
        load_step=np.array([cooking.load_step for cooking in inside], np.intp),
        pull_step=np.array([_pulled(cooking, frame) for cooking in inside], np.intp),
    )


def _pulled(cooking: Cooking, frame: Frame) -> int:
    """Return the step at which a dish was really taken out; the end while it is inside."""
    pulled = cooking.judge.pull_step
    return frame.grid.steps if pulled is None else pulled


def few_skies(inputs: DayInputs, *, steps: slice) -> list[int]:
    """Return a few of the day's skies that stand for all, by their light; only the one without."""
    light = inputs.weather.global_horizontal_w_m2[1:, steps].sum(axis=1)
    ordered = np.argsort(light, kind="stable")
    places = (np.arange(SEARCHED) + 0.5) / SEARCHED * light.size
    # The sky planned for is among them: it is the one that the plan is told by.
    return [0, *(int(1 + ordered[int(place)]) for place in places if light.size)]


def _search(
    inputs: DayInputs,
    going: dict[int, Cooking],
    *,
    frame: Frame,
    oven: DayOven,
    visits: Sequence[int],
    near: Cooked | None,
    stop: Callable[[], bool],
) -> dict[int, Cooking]:
    """Return the dishes with the load steps the search found."""
    if not going:
        return going
    step_min = frame.day.step_s / 60.0
    goals = [_goal(inputs, cooking, frame=frame) for cooking in going.values()]
    full = replace(
        oven,
        pots=tuple(cooking.charge for cooking in going.values()),
        out=tuple(
            expected_pull(cooking, steps=oven.steps, step_min=step_min)
            for cooking in going.values()
        ),
    )
    known = {} if near is None else near.going
    found = search_loads(
        goals,
        oven=full,
        step_min=step_min,
        visits=visits,
        near=[known[i].load_step for i in going] if known.keys() >= going.keys() else None,
        stop=stop,
    )
    return {
        i: replace(cooking, load_step=int(step))
        for (i, cooking), step in zip(going.items(), found, strict=True)
    }


def _goal(inputs: DayInputs, cooking: Cooking, *, frame: Frame) -> Goal:
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


def load_candidates(inputs: DayInputs, cooking: Cooking, *, frame: Frame) -> np.ndarray:
    """Return the steps at which a dish may go in: free moments before its meal, from now on."""
    if cooking.seat.wish.loaded_at is not None:
        return np.array([cooking.load_step], np.intp)
    grid = frame.grid
    every = max(1, round(LOAD_GRAIN_MIN * 60 / grid.step_s))
    steps = np.arange(0, max(cooking.serve_step, 1), every)
    earliest = 0 if not _is_running(inputs, frame) else grid.step_after(inputs.made_at)
    if cooking.seat.free_from is not None:
        earliest = max(earliest, grid.step_after(cooking.seat.free_from))
    may = grid.within(inputs.free)[steps] & (steps >= earliest)
    return steps[may]


def _is_running(inputs: DayInputs, frame: Frame) -> bool:
    """Return True when the day is under way, so that the past cannot be planned."""
    begins, ends = frame.grid.at(0), frame.grid.at(frame.grid.steps)
    under_way = bool(inputs.heard.aims) or any(w.loaded_at for w in inputs.wishes)
    return begins < inputs.made_at < ends and (frame.from_now or under_way)


def _run(
    going: dict[int, Cooking], *, frame: Frame, oven: DayOven
) -> tuple[Trace, dict[int, Fate]]:
    """Return the day as it will be, pots pulled when the plan says, and each dish's fate."""
    cookings = list(going.values())
    full = replace(oven, pots=tuple(cooking.charge for cooking in cookings))
    load = np.array([[cooking.load_step for cooking in cookings]], np.intp)
    stay = full.run(load_step=load)
    step_min = frame.day.step_s / 60.0
    if_left = [fate_of(cooking, stay.core_c[0, place]) for place, cooking in enumerate(cookings)]
    pull = np.full(load.shape, frame.grid.steps, np.intp)
    for place, cooking in enumerate(cookings):
        out, _ = pull_window(cooking, if_left[place], step_min=step_min)
        if cooking.judge.pull_step is not None:
            out = cooking.judge.pull_step
        pull[0, place] = int(min(out, frame.grid.steps))
    trace = full.run(load_step=load, pull_step=pull)
    # A pulled pot keeps its last temperature in the trace; when it would cool if it were
    # left in is known only from the day on which it was.
    fates = {
        i: replace(fate_of(cooking, trace.core_c[0, place]), cools=if_left[place].cools)
        for place, (i, cooking) in enumerate(going.items())
    }
    return trace, fates


def _hopeless(
    inputs: DayInputs, going: dict[int, Cooking], fates: dict[int, Fate], *, frame: Frame
) -> int | None:
    """Return the dish to leave out first: not safe before not done; None when all come good."""
    bad = []
    for i, cooking in going.items():
        status = status_of(cooking, fates[i])
        failing = status in ("not safe", "not done", "refused")
        if not failing:
            failing = _nobody_takes_it_out(inputs, cooking, fates[i], frame=frame)
            failing |= _pot_taken(going, fates, i, frame=frame)
        if failing and cooking.seat.wish.loaded_at is None:
            bad.append((status != "not safe", i))
    return min(bad)[1] if bad else None


def _nobody_takes_it_out(inputs: DayInputs, cooking: Cooking, fate: Fate, *, frame: Frame) -> bool:
    """Return True when a dish has to come out before the meal while the cook is away."""
    pull, _ = pull_window(cooking, fate, step_min=frame.day.step_s / 60.0)
    if not pull < min(cooking.serve_step, frame.grid.steps):
        return False
    return not frame.grid.within(inputs.free)[int(pull)]


def _pot_taken(
    going: Mapping[int, Cooking], fates: Mapping[int, Fate], i: int, *, frame: Frame
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
