"""Several dishes in one box: who gets which pot, when each goes in, what becomes of it.

Dishes that cannot come good today are taken out of the plan one at a time, the worst
first, because a hopeless pot of beans cools the box for the dishes that would have made
it.  A dish that is already in stays in.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

import numpy as np

from suntrack.box.heat.simulate import Trace
from suntrack.plan.chance import SkyDay, sky_day
from suntrack.plan.dishes.candidates import goal_of, sorted_out
from suntrack.plan.dishes.leave_out import CROWDED, hopeless, left_out_plan, pot_needed, why_not
from suntrack.plan.dishes.load_search import search_loads
from suntrack.plan.dishes.outcome import (
    Cooking,
    DishOutcome,
    dish_plan,
    expected_pull,
    fate_of,
    pull_when,
    status_of,
)
from suntrack.plan.dishes.oven import DayOven, day_oven
from suntrack.plan.dishes.pots import seat_dishes
from suntrack.plan.doubt import days_to_stand
from suntrack.plan.readings import light_factors

if TYPE_CHECKING:
    from collections.abc import Callable, Mapping, Sequence

    from numpy.typing import NDArray

    from suntrack.plan.frame import Frame
    from suntrack.plan.inputs import DayInputs
    from suntrack.plan.records import DishPlan
    from suntrack.plan.turns.aims import AimedDay


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
    light_factor: NDArray[np.float64]
    """What readings make of the light of each step, (steps,).  [-]"""
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
    going, left_out, plans = sorted_out(inputs, seats, frame=frame)
    factor = _factor(inputs, frame=frame, aimed=aimed, going=list(going.values()))
    search = _search_of(inputs, frame=frame, aimed=aimed, factor=factor, stop=stop)
    known = {} if near is None else {i: c.load_step for i, c in near.going.items()}
    while True:
        tried = search.tried(going, near=known)
        out = hopeless(inputs, tried.going, tried.fates, frame=frame)
        note = "" if out is None else why_not(tried.going, tried.fates, out, frame=frame)
        if out is None:
            out, note = search.crowding(tried), CROWDED
        if out is None:
            break
        left_out[out] = tried.going[out]
        plans[out] = left_out_plan(left_out[out], tried.fates[out], note=note)
        going = {i: cooking for i, cooking in tried.going.items() if i != out}
    plans |= _plans_of(tried.going, tried.trace, tried.fates, inputs=inputs, frame=frame)
    return Cooked(
        plans=tuple(plans[i] for i in range(len(seats))),
        loaded=tried.trace,
        empty=search.oven.empty(),
        going=tried.going,
        left_out=left_out,
        light_factor=factor,
        skies=sky_day(inputs, frame=frame, aimed=aimed, light_factor=factor),
    )


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class _Tried:
    """What the best loads found make of some dishes."""

    going: dict[int, Cooking]
    """With the loads found, by wish."""
    trace: Trace
    """The day as it will be."""
    fates: dict[int, DishOutcome]
    """What becomes of each, by wish."""

    @property
    def ready(self) -> int:
        """How many are ready in time."""
        return sum(status_of(c, self.fates[i]) == "ready" for i, c in self.going.items())


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class _Search:
    """One way of turning, ready for the loads of some dishes to be searched."""

    inputs: DayInputs
    """What the day is planned from."""
    frame: Frame
    """The stretch of the day that is planned."""
    oven: DayOven
    """Under the sky planned for."""
    searched: DayOven
    """Under the few days, sky and box, that loads have to stand."""
    visits: tuple[int, ...]
    """Steps at which the box is turned.  [step]"""
    stop: Callable[[], bool]
    """Once it returns True the best so far is taken."""

    def tried(self, going: dict[int, Cooking], *, near: Mapping[int, int]) -> _Tried:
        """Return the dishes with the best loads found; near known ones where all are known."""
        found = self._loads(going, near=near) if going else going
        trace, fates = _run(found, inputs=self.inputs, frame=self.frame, oven=self.oven)
        return _Tried(going=found, trace=trace, fates=fates)

    def crowding(self, tried: _Tried) -> int | None:
        """Return the dish without which more of the others are ready; None for none."""
        late = [i for i, c in tried.going.items() if status_of(c, tried.fates[i]) == "late"]
        waiting = [i for i, c in tried.going.items() if c.seat.wish.loaded_at is None]
        if not late or len(tried.going) == 1 or self.stop():
            return None
        near = {i: cooking.load_step for i, cooking in tried.going.items()}
        without = {
            out: self.tried({i: c for i, c in tried.going.items() if i != out}, near=near).ready
            for out in waiting
        }
        best = max(without, key=lambda out: (without[out], out in late), default=None)
        return best if best is not None and without[best] > tried.ready else None

    def _loads(self, going: dict[int, Cooking], *, near: Mapping[int, int]) -> dict[int, Cooking]:
        """Return the dishes with the load steps the search found."""
        step_min = self.frame.day.step_s / 60.0
        cookings = list(going.values())
        oven = replace(
            self.searched,
            pots=tuple(cooking.charge for cooking in cookings),
            out=tuple(expected_pull(c, steps=self.oven.steps, step_min=step_min) for c in cookings),
        )
        found = search_loads(
            [goal_of(self.inputs, cooking, frame=self.frame) for cooking in cookings],
            oven=oven,
            step_min=step_min,
            visits=self.visits,
            near=[near[i] for i in going] if near.keys() >= going.keys() else None,
            stop=self.stop,
        )
        return {
            i: replace(cooking, load_step=int(step))
            for (i, cooking), step in zip(going.items(), found, strict=True)
        }


def _search_of(
    inputs: DayInputs,
    *,
    frame: Frame,
    aimed: AimedDay,
    factor: NDArray[np.float64],
    stop: Callable[[], bool],
) -> _Search:
    """Return the search of a day that is turned in one way."""

    def oven(known: DayInputs, skies: Sequence[int], suns: Sequence[float]) -> DayOven:
        return day_oven(
            known,
            aimed=aimed,
            steps=frame.steps,
            pots=(),
            light_factors=[factor * sun for sun in suns],
            skies=skies,
        )

    return _Search(
        inputs=inputs,
        frame=frame,
        oven=oven(inputs, [0], [1.0]),
        searched=oven(*days_to_stand(inputs, steps=frame.steps)),
        visits=tuple(frame.grid.step_after(turn.at) for turn in aimed.choice.turns),
        stop=stop,
    )


def cook_as_loaded(inputs: DayInputs, *, frame: Frame, aimed: AimedDay, cooked: Cooked) -> Cooked:
    """Return the same dishes, going in at the same times, with the box aimed otherwise."""
    oven = day_oven(
        inputs,
        aimed=aimed,
        steps=frame.steps,
        pots=(),
        light_factors=cooked.light_factor[None],
    )
    going = dict(cooked.going)
    loaded, fates = _run(going, inputs=inputs, frame=frame, oven=oven)
    plans = dict(enumerate(cooked.plans)) | _plans_of(
        going, loaded, fates, inputs=inputs, frame=frame
    )
    return replace(
        cooked,
        plans=tuple(plans[i] for i in range(len(plans))),
        loaded=loaded,
        empty=oven.empty(),
        skies=sky_day(inputs, frame=frame, aimed=aimed, light_factor=cooked.light_factor),
    )


def _plans_of(
    going: Mapping[int, Cooking],
    loaded: Trace,
    fates: Mapping[int, DishOutcome],
    *,
    inputs: DayInputs,
    frame: Frame,
) -> dict[int, DishPlan]:
    """Return the plans of the dishes that go in, by wish."""
    there = frame.grid.within(inputs.free)
    return {
        i: dish_plan(
            cooking,
            fates[i],
            core_c=loaded.core_c[0, place],
            grid=frame.grid,
            needed=pot_needed(going, i, step_min=frame.day.step_s / 60.0),
            there=there,
        )
        for place, (i, cooking) in enumerate(going.items())
    }


def _factor(
    inputs: DayInputs, *, frame: Frame, aimed: AimedDay, going: Sequence[Cooking]
) -> NDArray[np.float64]:
    """Return the factor on the light of each step, with the dishes that are really in."""
    inside = [cooking for cooking in going if cooking.seat.wish.loaded_at is not None]
    return light_factors(
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


def _run(
    going: dict[int, Cooking], *, inputs: DayInputs, frame: Frame, oven: DayOven
) -> tuple[Trace, dict[int, DishOutcome]]:
    """Return the day as it will be, pots pulled when the plan says, and each dish's fate."""
    cookings = list(going.values())
    full = replace(oven, pots=tuple(cooking.charge for cooking in cookings))
    load = np.array([[cooking.load_step for cooking in cookings]], np.intp)
    stay = full.run(load_step=load)
    if_left = [fate_of(cooking, stay.core_c[0, place]) for place, cooking in enumerate(cookings)]
    pull = _pulls(cookings, if_left, inputs=inputs, frame=frame)
    # When a dish would cool if it were left in is known from the day on which it alone is:
    # the pots of earlier meals no longer warm the box then.
    alone = np.tile(pull, (len(cookings), 1))
    np.fill_diagonal(alone, frame.grid.steps)
    if cookings:
        cores_c = full.run(load_step=np.repeat(load, len(cookings), axis=0), pull_step=alone).core_c
        if_left = [fate_of(cooking, cores_c[i, i]) for i, cooking in enumerate(cookings)]
        pull = _pulls(cookings, if_left, inputs=inputs, frame=frame)
    trace = full.run(load_step=load, pull_step=pull)
    fates = {
        i: replace(
            fate_of(cooking, trace.core_c[0, place]),
            cools=if_left[place].cools,
            out=float(pull[0, place]),
        )
        for place, (i, cooking) in enumerate(going.items())
    }
    return trace, fates


def _pulls(
    cookings: Sequence[Cooking], fates: Sequence[DishOutcome], *, inputs: DayInputs, frame: Frame
) -> NDArray[np.intp]:
    """Return when each dish comes out, (1, dishes): as it really did, else as is best."""
    step_min = frame.day.step_s / 60.0
    there = frame.grid.within(inputs.free)
    out = []
    for cooking, fate in zip(cookings, fates, strict=True):
        at = cooking.judge.pull_step
        if at is None:
            at = int(min(pull_when(cooking, fate, there=there, step_min=step_min), there.size))
        out.append(at)
    return np.array([out], np.intp)
