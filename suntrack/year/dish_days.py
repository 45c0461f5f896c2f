"""One dish on every day of a year: when it may go in, how it is judged, the best load so far.

The judging is the planner's own (`suntrack.plan.dishes.judge`, `suntrack.plan.chance`), many
days at once: days are taken together whose meal falls on the same step and whose air matters
alike.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from suntrack.food.charge import settling_delta_k
from suntrack.food.official import HOT_DAY_C
from suntrack.plan.chance import good_by
from suntrack.plan.dishes.judge import Judge
from suntrack.plan.dishes.load_search import Goal, cost
from suntrack.year.exposure import GRAIN_S, Exposure

if TYPE_CHECKING:
    from numpy.typing import NDArray

    from suntrack.year.meal_pots import MealPot

MILD_C = 20.0
"""Air of a day on which no safety clock runs double; any below 32.2 C does.  [C]"""


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class DishDays:
    """One dish on every day: when it may go in, when it is wanted, how it is judged."""

    portion: MealPot
    """The dish in its pot."""
    days: Exposure
    """The box on each day."""
    may: NDArray[np.bool_]
    """When it may go in, on the ten-minute grain, shape (days, marks)."""
    serve: NDArray[np.intp]
    """Shape (days,)."""
    like: NDArray[np.intp]
    """Days that are judged alike have one number, shape (days,)."""
    air_c: tuple[NDArray[np.float64], ...]
    """Air for the safety clocks, by that number, each (steps + 1,).  [C]"""
    settling_delta_k: NDArray[np.float64]
    """What a cold middle under hot liquid is behind at first.  [K]"""

    @staticmethod
    def of(days: Exposure, portion: MealPot) -> DishDays:
        """Return a portion as it stands on the days of an outing."""
        meal = portion.meal
        serve = np.minimum(days.step_of(meal.serve), days.steps)
        step = np.arange(0, days.steps, grain(days))
        earliest = 0 if portion.free_from is None else days.step_of(portion.free_from)[:, None] + 1
        may = days.there[:, step] & (step < serve[:, None]) & (step >= earliest)
        like, air_c = _alike(days)
        return DishDays(
            portion=portion,
            days=days,
            may=may,
            serve=serve,
            like=like,
            air_c=air_c,
            settling_delta_k=settling_delta_k(
                meal.dish, portion.charge, step_s=days.step_s, steps=days.steps
            ),
        )

    def first(self) -> NDArray[np.intp]:
        """Return the first mark at which it may go in, (days,); meaningless where it may not."""
        return np.asarray(self.may.argmax(axis=1), np.intp)

    def on(self, every: int) -> NDArray[np.bool_]:
        """Return every so manieth mark at which it may go in, (days, marks)."""
        return np.asarray(self.may & (np.arange(self.may.shape[1]) % every == 0))

    def judged(
        self, rows: NDArray[np.intp], load: NDArray[np.intp], core_c: NDArray[np.float64]
    ) -> Judged:
        """Return what runs, cores (runs, steps + 1), make of it; loads in steps, (runs,)."""
        good = np.zeros(rows.size, bool)
        minutes, ready, share = (np.full(rows.size, np.inf) for _ in range(3))
        step_min = self.days.step_s / 60.0
        group = self.like[rows] * (self.days.steps + 1) + self.serve[rows]
        for one in np.unique(group):
            runs = np.flatnonzero(group == one)
            serve = int(one) % (self.days.steps + 1)
            judge = self._judge(int(one) // (self.days.steps + 1), steps=core_c.shape[1])
            good[runs], outcome = good_by(judge, core_c[runs], load[runs], serve_step=serve)
            goal = Goal(
                serve_step=serve,
                hold_min=judge.dish.hold_min,
                candidates=load[runs],
                judge=judge,
            )
            minutes[runs] = cost(outcome, goal=goal, step_min=step_min)
            ready[runs] = outcome.ready_step
            inside_c = judge.inside(core_c[runs, : serve + 1], load[runs])
            share[runs] = judge.done(inside_c)[:, -1]
        return Judged(good=good, cost=minutes, ready=np.where(good, ready, np.inf), share=share)

    def _judge(self, like: int, *, steps: int) -> Judge:
        """Return the judge of some days, for histories of so many samples."""
        return Judge(
            dish=self.portion.meal.dish,
            step_s=self.days.step_s,
            air_c=self.air_c[like][:steps],
            settling_delta_k=self.settling_delta_k,
        )


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Judged:
    """What runs make of one dish, each of shape (runs,)."""

    good: NDArray[np.bool_]
    """True where it is done and safe in time."""
    cost: NDArray[np.float64]
    """The planner's, in weighted minutes.  [min]"""
    ready: NDArray[np.float64]
    """Step at which it is done and safe; inf where it is not good.  [step]"""
    share: NDArray[np.float64]
    """Of the way to done at its meal.  [-]"""


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Best:
    """The best load found on every day, each of shape (days,)."""

    load: NDArray[np.intp]
    """On the ten-minute grain."""
    good: NDArray[np.bool_]
    """True where some load makes the day good, shape (days,)."""
    cost: NDArray[np.float64]
    """Of the best load so far; see the planner's search, shape (days,).  [-]"""
    ready: NDArray[np.float64]
    """Step on which it is done and safe, shape (days,)."""
    share: NDArray[np.float64]
    """Share of the way to done at the meal, shape (days,).  [-]"""

    def take(self, rows: NDArray[np.intp], load: NDArray[np.intp], judged: Judged) -> None:
        """Keep, for each day, the run that is best, among these and what was kept."""
        order = np.lexsort((judged.cost, ~judged.good))
        days, place = np.unique(rows[order], return_index=True)
        pick = order[place]
        better = judged.good[pick] & ~self.good[days]
        better |= (judged.good[pick] == self.good[days]) & (judged.cost[pick] < self.cost[days])
        days, pick = days[better], pick[better]
        self.load[days], self.good[days] = load[pick], judged.good[pick]
        self.cost[days], self.ready[days] = judged.cost[pick], judged.ready[pick]
        self.share[days] = judged.share[pick]


def grain(days: Exposure) -> int:
    """Return how many steps a mark is.  [step]"""
    return max(1, round(GRAIN_S / days.step_s))


def _alike(days: Exposure) -> tuple[NDArray[np.intp], tuple[NDArray[np.float64], ...]]:
    """Return which days are judged alike, and the air of each lot.

    Air counts in a safety clock only by whether it is above 32.2 C, so days without such an
    hour are judged together.
    """
    air_c = np.append(days.climate.air_c, days.climate.air_c[:, -1:], axis=1)
    hot = air_c > HOT_DAY_C.value
    kinds, like = np.unique(hot, axis=0, return_inverse=True)
    either = (np.full(air_c.shape[1], MILD_C), np.full(air_c.shape[1], HOT_DAY_C.value + 1.0))
    return like.ravel(), tuple(np.where(kind, either[1], either[0]) for kind in kinds)
