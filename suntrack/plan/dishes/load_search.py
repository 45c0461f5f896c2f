"""When each dish goes in: a search over simulated days, never over formulas.

The oven is passed in as a function from load steps to core temperatures, many days at
once, so the search knows nothing of heat; what a dish makes of a core temperature is
passed in too.  The cost of a day is a sum of minutes, worst things first:

    not safe          NOT_SAFE        nothing outweighs it
    not done          NOT_DONE        hungry, but nobody is ill
    slow to warm      SLOW            allowed, but only when nothing else will do
    late              LATE x minutes  after the time it should be on the table
    too little slack  SLACK x minutes short of the margin: a passing cloud costs supper
    kept too long     STALE x minutes past what the dish stands, for one that stands an hour;
                      a stew minds it less and a fillet more
    waiting           WAIT x minutes  a fresh dish is better than a kept one
    a trip of its own TRIP            loads share a walk to the box where that costs little
    a new time        MOVE            once the cook was told, times only change when it pays
    later than told   LATER x minutes a load is not put off on the strength of a dull hour

Under many skies the cost of a day is its mean over them, so a dish that is not safe on one
sky in ten outweighs every minute of lateness.  The weights are kitchen judgement, no source;
only their order matters much.

Coordinate sweeps from both ends, then joint nudges, each move one batch of simulated days.
Lost: closed-form warm-up times, which know nothing of the other pots.
"""

from __future__ import annotations

from dataclasses import dataclass, field
from itertools import pairwise, product
from typing import TYPE_CHECKING, Protocol

import numpy as np

if TYPE_CHECKING:
    from collections.abc import Callable, Sequence

    from numpy.typing import NDArray

NOT_SAFE, NOT_DONE, SLOW = 1e6, 1e5, 2e3
LATE, SLACK, STALE, WAIT = 20.0, 4.0, 8.0, 0.1
TRIP, MOVE, LATER = 3.0, 6.0, 4.0
MARGIN_MIN = 120.0
"""Minutes between ready and served that a good plan keeps in hand.  [min]"""
ROUNDS = 6
"""Most rounds of each kind of move; each dish answers the others' last choice.  [-]"""
JOINT = 3
"""Most dishes that are moved together; 3 to the power of this many days at once.  [-]"""
PAIRED = 8
"""Candidates of each dish when two are placed together.  [-]"""
REACH = 6
"""How many candidates away a dish is moved once it is nearly right.  [-]"""
COARSE = 3
"""Only every so manieth candidate is tried before the last nudges.  [-]"""


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Outcome:
    """What many simulated days make of one dish, each array of shape (days,)."""

    ready_step: NDArray[np.float64]
    """Step at which it is both done and safe; inf for never."""
    safe: NDArray[np.bool_]
    """False when no safe moment comes, or a safety clock runs out before it."""
    slow: NDArray[np.bool_] | None = None
    """True when the come-up clock warns; None for never."""


class Oven(Protocol):
    """Many days in the box, one for each row of load steps and each sky."""

    def __call__(self, load_step: NDArray[np.intp]) -> NDArray[np.float64]:
        """Return cores, (days, skies, dishes, steps + 1), for loads (days, dishes).  [C]"""
        ...  # pragma: no cover


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Goal:
    """What one dish asks of the search."""

    serve_step: int
    """When it is wanted."""
    hold_min: float
    """How long it stays good once it is ready.  [min]"""
    candidates: NDArray[np.intp]
    """Steps at which it may go in; one entry when it is already in.  Never empty."""
    judge: Callable[[NDArray[np.float64], NDArray[np.intp]], Outcome]
    """From cores (days, steps + 1) and load steps (days,) to what comes of them."""
    told: int | None = None
    """The step at which the cook was told to load it; None when nobody was told."""


def search_loads(
    goals: Sequence[Goal],
    *,
    oven: Oven,
    step_min: float,
    visits: Sequence[int] = (),
    near: Sequence[int] | None = None,
    stop: Callable[[], bool] = lambda: False,
) -> NDArray[np.intp]:
    """Return the load step of each dish with the least cost found, shape (dishes,).

    From the earliest and from the latest loads, and from what the cook was told, each dish in
    turn takes the best of its candidates, first every third of them, while the others stand
    still; then neighbouring dishes are placed and nudged together, which frees two that hold
    each other in place.  Deterministic.

    Parameters
    ----------
    goals : sequence of Goal
        The dishes.
    oven : Oven
        From loads to cores.
    step_min : float
        Length of a step.  [min]
    visits : sequence of int
        Steps at which the cook is at the box anyway.
    near : sequence of int, optional
        Loads, (dishes,), that were good under other turns: only what lies near them is tried.
    stop : callable
        Asked between batches; once it returns True the best so far is returned.
    """
    search = _Search(
        goals=tuple(goals),
        oven=oven,
        step_min=step_min,
        visits=np.asarray(visits, np.intp),
        stop=stop,
    )
    if near is None:
        starts = [
            tuple(0 for _ in goals),
            tuple(goal.candidates.size - 1 for goal in goals),
            *search.told(),
        ]
        ends = search.sweep(starts, reach=None)
        best = search.nudge(search.pair_up(search.best(ends)))
    else:
        best = search.best([search.nearest(near), *search.told()])
    best = search.best([best, *search.sweep([best], reach=REACH)])
    load: NDArray[np.intp] = search.loads([search.nudge(best)])[0]
    return load


Day = tuple[int, ...]
"""One candidate index for each dish."""


@dataclass(frozen=True, slots=True, kw_only=True)
class _Search:
    """The moves of the search, and the cost of every day that was simulated so far."""

    goals: tuple[Goal, ...]
    """What each dish asks."""
    oven: Oven
    """From loads to cores."""
    step_min: float
    """Length of a step.  [min]"""
    visits: NDArray[np.intp]
    """Steps at which somebody is at the box anyway."""
    stop: Callable[[], bool]
    """Once it returns True the best so far is taken."""
    known: dict[Day, float] = field(default_factory=dict)
    """The cost of every day tried so far.  [min]"""

    def told(self) -> list[Day]:
        """Return the day that the cook was told of, as near as its candidates allow."""
        if all(goal.told is None for goal in self.goals):
            return []
        wanted = [g.candidates[-1] if g.told is None else g.told for g in self.goals]
        return [self.nearest(wanted)]

    def nearest(self, steps: Sequence[int]) -> Day:
        """Return the day with loads as near to some steps as the candidates allow."""
        return tuple(
            int(np.abs(goal.candidates - step).argmin())
            for goal, step in zip(self.goals, steps, strict=True)
        )

    def loads(self, days: Sequence[Day]) -> NDArray[np.intp]:
        """Return load steps, shape (days, dishes)."""
        picks = [[g.candidates[i] for g, i in zip(self.goals, day, strict=True)] for day in days]
        return np.array(picks, np.intp).reshape(len(days), len(self.goals))

    def learn(self, days: Sequence[Day]) -> None:
        """Simulate the days that are new, all at once, and keep their costs.  [min]"""
        new = [day for day in dict.fromkeys(days) if day not in self.known]
        if not new or (self.known and self.stop()):
            return
        load = self.loads(new)
        cores = self.oven(load)
        skies = cores.shape[1]
        total = trips(load, visits=self.visits) * TRIP
        for i, goal in enumerate(self.goals):
            every = cores[:, :, i].reshape(len(new) * skies, -1)
            outcome = goal.judge(every, np.repeat(load[:, i], skies))
            each = cost(outcome, goal=goal, step_min=self.step_min)
            total += each.reshape(len(new), skies).mean(axis=1)
            if goal.told is not None:
                total += MOVE * (load[:, i] != goal.told)
                total += LATER * self.step_min * np.maximum(load[:, i] - goal.told, 0)
        self.known.update(zip(new, total.tolist(), strict=True))

    def best(self, days: Sequence[Day]) -> Day:
        """Return the day with the least cost, the first of equals."""
        self.learn(days)
        return min(days, key=lambda day: self.known.get(day, np.inf))

    def order(self) -> list[int]:
        """Return the dishes, earliest supper first."""
        return sorted(range(len(self.goals)), key=lambda i: (self.goals[i].serve_step, i))

    def sweep(self, starts: list[Day], *, reach: int | None) -> list[Day]:
        """Move one dish at a time from every start, side by side, until nothing moves.

        With a reach each goes to any candidate that near; without, to every third of all.
        """
        for _ in range(ROUNDS):
            before = starts
            for i in self.order():
                tries = [self._tries(day, i, reach=reach) for day in starts]
                self.learn([day for days in tries for day in days])
                starts = [self.best(days) for days in tries]
            if starts == before:
                break
        return starts

    def pair_up(self, day: Day) -> Day:
        """Place each two neighbours in time anew together, on a coarse grid of both."""
        order = self.order()
        for first, second in pairwise(order):
            grids = [self._grid(i) for i in (first, second)]
            tries = [day]
            for one, other in product(*grids):
                picks = list(day)
                picks[first], picks[second] = one, other
                tries.append(tuple(picks))
            day = self.best(tries)
        return day

    def _grid(self, i: int) -> range:
        """Return a few candidates of a dish, spread over all."""
        size = self.goals[i].candidates.size
        return range(0, size, max(1, size // PAIRED))

    def nudge(self, day: Day) -> Day:
        """Move neighbours in time together by one candidate each, until nothing moves."""
        order = self.order()
        for _ in range(ROUNDS):
            before = day
            for start in range(max(1, len(order) - JOINT + 1)):
                day = self.best(self._around(day, order[start : start + JOINT]))
            if day == before:
                break
        return day

    def _tries(self, day: Day, moving: int, *, reach: int | None) -> list[Day]:
        """Return the day itself, and with other candidates of one dish."""
        size, here = self.goals[moving].candidates.size, day[moving]
        picks = range(0, size, COARSE)
        if reach is not None:
            picks = range(max(0, here - reach), min(size, here + reach + 1))
        return [day, *((*day[:moving], pick, *day[moving + 1 :]) for pick in picks)]

    def _around(self, day: Day, moving: Sequence[int]) -> list[Day]:
        """Return the day itself and every day one candidate away in the moving dishes."""
        days = [day]
        for offsets in product((-1, 0, 1), repeat=len(moving)):
            picks = list(day)
            for i, offset in zip(moving, offsets, strict=True):
                picks[i] = min(max(picks[i] + offset, 0), self.goals[i].candidates.size - 1)
            days.append(tuple(picks))
        return days


def trips(load: NDArray[np.intp], *, visits: NDArray[np.intp]) -> NDArray[np.float64]:
    """Return how many walks to the box the loads of each day, (days, dishes), ask for.  [-]"""
    ordered = np.sort(load, axis=1)
    fresh = np.ones(load.shape, bool)
    fresh[:, 1:] = ordered[:, 1:] != ordered[:, :-1]
    return np.asarray((fresh & ~np.isin(ordered, visits)).sum(axis=1), float)


def cost(outcome: Outcome, *, goal: Goal, step_min: float) -> NDArray[np.float64]:
    """Return the cost of each day for one dish, in weighted minutes, shape (days,).  [min]"""
    never = ~np.isfinite(outcome.ready_step)
    ready = np.where(never, 0.0, outcome.ready_step)
    early_min = (goal.serve_step - ready) * step_min
    late = LATE * np.maximum(-early_min, 0.0)
    slack = SLACK * np.maximum(MARGIN_MIN - np.maximum(early_min, 0.0), 0.0)
    stale = STALE * np.maximum(early_min - goal.hold_min, 0.0) * (60.0 / max(goal.hold_min, 10.0))
    wait = WAIT * np.maximum(early_min, 0.0)
    minutes = np.where(never, NOT_DONE, late + slack + stale + wait)
    slow_to_warm = 0.0 if outcome.slow is None else np.where(outcome.slow, SLOW, 0.0)
    return np.asarray(minutes + slow_to_warm + np.where(outcome.safe, 0.0, NOT_SAFE))
