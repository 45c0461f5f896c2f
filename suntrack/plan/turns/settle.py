"""Turning and cooking settled together: few turns, trips shared, what was told kept.

First the dishes are searched with the turns that are usual; then the fewest turns are found
that keep their chance (`suntrack.plan.turns.needed`) and the dishes searched again with those; then
turns are moved to moments at which the cook is at the box anyway, where that costs next to
nothing; last, what the cook was told before stands unless the new way is clearly better.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

import numpy as np

from suntrack.plan.dishes.schedule import Cooked, cook, cook_as_loaded
from suntrack.plan.turns.aims import FEWEST, HABIT, ONCE, AimedDay, aimer_of, turns_name
from suntrack.plan.turns.needed import TurnsNeeded, kept

if TYPE_CHECKING:
    from collections.abc import Callable, Sequence

    from suntrack.plan.frame import Frame
    from suntrack.plan.inputs import DayInputs
    from suntrack.plan.records import TurnChoice
    from suntrack.plan.turns.search import Aims

TRIP_LIGHT = 0.004
"""Share of the day's light that a walk to the box saved is worth (our choice).  [-]"""
STAY_LIGHT = 0.01
"""Turns that were told stand while they keep all but this share of what new ones would.  [-]"""
GOOD = ("ready", "late")


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Settled:
    """The day's turns and dishes."""

    aimed: AimedDay
    """The way that is followed."""
    cooked: Cooked
    """What goes in under it."""
    choices: tuple[TurnChoice, ...]
    """The one to follow, the habit, aimed once."""
    table: tuple[TurnChoice, ...]
    """Every number of turns that was tried, and the habit last."""


def settle(inputs: DayInputs, *, frame: Frame, last_use: int, stop: Callable[[], bool]) -> Settled:
    """Return the turns to follow and the dishes under them.

    Parameters
    ----------
    inputs : DayInputs
    frame : Frame
    last_use : int
        The step of the day up to which aiming matters.  [-]
    stop : callable
        Once it returns True the best so far is taken.
    """
    part = frame.day.part(frame.aimed, last_use)
    tail = frame.grid.steps - frame.lead - part.steps
    aimer = aimer_of(inputs, grid=part, first_step=frame.aimed, lead=frame.lead, tail=tail)
    best = aimer.best()
    usual = aimer.day(aimer.usual(best), name=FEWEST)
    cooked = cook(inputs, frame=frame, aimed=usual, stop=stop)
    need = TurnsNeeded(
        inputs=inputs,
        frame=frame,
        aimer=aimer,
        going=cooked.going,
        counted=frozenset(i for i in cooked.going if cooked.plans[i].status == "ready"),
        light_factor=cooked.light_factor,
        stop=stop,
    )
    ways = need.tried(best)
    aimed, cooked = _fewest(inputs, frame, need, ways, usual=(usual, cooked), stop=stop)
    aimed, cooked = _shared(inputs, frame, need, aimed, cooked)
    aimed, cooked = _as_told(inputs, frame, need, aimed, cooked)
    habit = need.rated(aimer.habit(), name=HABIT)
    follow = replace(aimed.choice, name=FEWEST)
    return Settled(
        aimed=replace(aimed, choice=follow),
        cooked=cooked,
        choices=(follow, habit.choice, replace(ways[0].choice, name=ONCE)),
        table=(*_with_followed([way.choice for way in ways], aimed.choice), habit.choice),
    )


def _with_followed(tried: list[TurnChoice], follow: TurnChoice) -> list[TurnChoice]:
    """Return the ways that were tried, the one that is followed in the place of its like."""
    own = len(follow.turns)
    others = [choice for choice in tried if len(choice.turns) != own]
    return sorted(
        [*others, replace(follow, name=turns_name(own - 1))], key=lambda choice: len(choice.turns)
    )


def _fewest(
    inputs: DayInputs,
    frame: Frame,
    need: TurnsNeeded,
    ways: Sequence[AimedDay],
    *,
    usual: tuple[AimedDay, Cooked],
    stop: Callable[[], bool],
) -> tuple[AimedDay, Cooked]:
    """Return the fewest turns under which no dish is lost, and the dishes."""
    aimed, cooked = usual
    for way in need.enough(ways):
        if way.aims.starts == aimed.aims.starts:
            return replace(aimed, choice=way.choice), cooked
        again = cook(inputs, frame=frame, aimed=way, near=cooked, stop=stop)
        if _good(again) >= _good(cooked):
            return way, again
    return need.rated(aimed.aims, name=FEWEST), cooked


def _good(cooked: Cooked) -> tuple[int, int]:
    """Return how many dishes come good in time, and how many at all."""
    status = [plan.status for plan in cooked.plans]
    return status.count("ready"), sum(word in GOOD for word in status)


def _shared(
    inputs: DayInputs, frame: Frame, need: TurnsNeeded, aimed: AimedDay, cooked: Cooked
) -> tuple[AimedDay, Cooked]:
    """Return the same number of turns, moved to loads and pulls where that costs little."""
    aimer = need.aimer
    worth = np.zeros(aimer.coarse.steps)
    for plan in cooked.plans:
        for at in (plan.load_at, plan.pull_at):
            if at is not None and plan.status in GOOD and aimer.coarse.step(at) < worth.size:
                worth[aimer.coarse.step(at)] = TRIP_LIGHT * aimer.full
    if not worth.any():
        return aimed, cooked
    moved = next((way for way in aimer.best(worth) if way.turns == aimed.aims.turns), aimed.aims)
    if moved.starts == aimed.aims.starts:
        return aimed, cooked
    return _if_as_good(inputs, frame, need, moved, (aimed, cooked))


def _as_told(
    inputs: DayInputs, frame: Frame, need: TurnsNeeded, aimed: AimedDay, cooked: Cooked
) -> tuple[AimedDay, Cooked]:
    """Return the turns that the cook was told, unless the meal loses by them.

    Where no dish says what is needed, unless they lose clearly more light than new ones would.
    """
    told = need.aimer.shown()
    if told is None or told.starts == aimed.aims.starts:
        return aimed, cooked
    if not need.counted and told.light < (1.0 - STAY_LIGHT) * aimed.aims.light:
        return aimed, cooked
    return _if_as_good(inputs, frame, need, told, (aimed, cooked))


def _if_as_good(
    inputs: DayInputs,
    frame: Frame,
    need: TurnsNeeded,
    aims: Aims,
    now: tuple[AimedDay, Cooked],
) -> tuple[AimedDay, Cooked]:
    """Return other aims with the same loads if no dish and no chance is lost by them."""
    aimed, cooked = now
    other = need.rated(aims, name=aimed.choice.name)
    again = cook_as_loaded(inputs, frame=frame, aimed=other, cooked=cooked)
    same = [plan.status for plan in again.plans] == [plan.status for plan in cooked.plans]
    if same and kept(other.choice) >= kept(aimed.choice) - need.loss:
        return other, again
    return now
