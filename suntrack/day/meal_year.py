"""On which days of a year the meals come good, judged as a planned day is.

    each dish alone   loaded first thing; where that is not good, at the best time found
    all together      as each is best alone; where that is not good, each in turn, the latest
                      meal first, at the best time found while the others stand still

Good is what it is in a plan: done and safe by its meal, no safety clock run out, and still
safe then (`suntrack.day.chance`).  Of several times the best is the one that costs least in
the planner's own cost (`suntrack.day.loads`).  A dish stays in until its meal.
"""

from __future__ import annotations

from dataclasses import dataclass
from itertools import product
from typing import TYPE_CHECKING

import numpy as np

from suntrack.day.chance import good_by
from suntrack.day.judging import Judge
from suntrack.day.loads import Goal, cost
from suntrack.day.outing import GRAIN_S, Hours, Outing, outing
from suntrack.food.charge import settling_delta_k
from suntrack.food.official import HOT_DAY_C

if TYPE_CHECKING:
    from collections.abc import Sequence

    from numpy.typing import NDArray

    from suntrack.box.build import Box
    from suntrack.day.portion import Cookbook, Portion
    from suntrack.sky.site import Site
    from suntrack.sky.year import YearSky

NEAR = 0.9
"""A dish that is less of the way to done at its meal, though it went in first thing, is not
tried later on that day: it would have less sun still (our choice).  [-]"""
COARSE, FINER = (18, 6), ((2, 4), (1, 1))
"""Load times are tried every three hours, then each hour, then every 20 min up to 40 min around
the best, then 10 min around that, for as long as the day is not good: places on the ten-minute
grain, and how many to either side.  [-]"""
ROUNDS = 2
"""How often each dish answers the others.  [-]"""
MILD_C = 20.0
"""Air of a day on which no safety clock runs double; any below 32.2 C does.  [C]"""


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class MealYear:
    """What every day makes of the meals."""

    good: NDArray[np.bool_]
    """Each dish with the box to itself, shape (meals, days); False for what may not go in."""
    ready_s: NDArray[np.float64]
    """When it is done and safe, where it is good; seconds since 1970 UTC, inf elsewhere.  [s]"""
    together: NDArray[np.bool_]
    """All that may go in on one day, shape (days,)."""


def meal_year(box: Box, site: Site, sky: YearSky, *, book: Cookbook, free: Hours = ()) -> MealYear:
    """Return on which days the meals come good.

    Parameters
    ----------
    box, site : Box, Site
    sky : YearSky
        Any days.
    book : Cookbook
        The meals in their pots.
    free : sequence of (time, time)
        When the cook is there; empty for always.
    """
    days = outing(box, site, sky, free=free)
    good = np.zeros((len(book.meals), len(sky.dates)), bool)
    ready_s = np.full(good.shape, np.inf)
    load = np.zeros(good.shape, np.intp)
    for i in book.going:
        portion = book.alone[i]
        assert portion is not None
        found = _alone(days, _Dish.of(days, portion))
        good[i], load[i] = found.good, found.load
        ready_s[i] = days.starts_s + days.step_s * found.ready
    return MealYear(good=good, ready_s=ready_s, together=_together(days, book, good, load))


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class _Dish:
    """One dish on every day: when it may go in, when it is wanted, how it is judged."""

    portion: Portion
    days: Outing
    may: NDArray[np.bool_]
    """When it may go in, on the ten-minute grain, shape (days, marks)."""
    serve: NDArray[np.intp]
    """Shape (days,)."""
    like: NDArray[np.intp]
    """Days that are judged alike have one number, shape (days,)."""
    air_c: tuple[NDArray[np.float64], ...]
    """Air for the safety clocks, by that number, each (steps + 1,).  [C]"""
    settling_delta_k: NDArray[np.float64]

    @staticmethod
    def of(days: Outing, portion: Portion) -> _Dish:
        """Return a portion as it stands on the days of an outing."""
        meal = portion.meal
        serve = np.minimum(days.step_of(meal.serve), days.steps)
        step = np.arange(0, days.steps, _grain(days))
        earliest = 0 if portion.free_from is None else days.step_of(portion.free_from)[:, None] + 1
        may = days.there[:, step] & (step < serve[:, None]) & (step >= earliest)
        like, air_c = _alike(days)
        return _Dish(
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
        return self.may.argmax(axis=1)

    def on(self, every: int) -> NDArray[np.bool_]:
        """Return every so manieth mark at which it may go in, (days, marks)."""
        return self.may & (np.arange(self.may.shape[1]) % every == 0)

    def judged(
        self, rows: NDArray[np.intp], load: NDArray[np.intp], core_c: NDArray[np.float64]
    ) -> _Judged:
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
        return _Judged(good=good, cost=minutes, ready=np.where(good, ready, np.inf), share=share)

    def _judge(self, like: int, *, steps: int) -> Judge:
        """Return the judge of some days, for histories of so many samples."""
        return Judge(
            dish=self.portion.meal.dish,
            step_s=self.days.step_s,
            air_c=self.air_c[like][:steps],
            settling_delta_k=self.settling_delta_k,
        )


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class _Judged:
    """What runs make of one dish, each of shape (runs,)."""

    good: NDArray[np.bool_]
    cost: NDArray[np.float64]
    """The planner's, in weighted minutes.  [min]"""
    ready: NDArray[np.float64]
    """Step at which it is done and safe; inf where it is not good.  [step]"""
    share: NDArray[np.float64]
    """Of the way to done at its meal.  [-]"""


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class _Best:
    """The best load found on every day, each of shape (days,)."""

    load: NDArray[np.intp]
    """On the ten-minute grain."""
    good: NDArray[np.bool_]
    cost: NDArray[np.float64]
    ready: NDArray[np.float64]
    share: NDArray[np.float64]

    def take(self, rows: NDArray[np.intp], load: NDArray[np.intp], judged: _Judged) -> None:
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


def _alone(days: Outing, dish: _Dish) -> _Best:
    """Return the best load of a dish that has the box to itself."""
    count = len(days.dates)
    best = _Best(
        load=dish.first(),
        good=np.zeros(count, bool),
        cost=np.full(count, np.inf),
        ready=np.full(count, np.inf),
        share=np.zeros(count),
    )
    _try(days, dish, best, *_marks(dish.may & _only(dish.may, best.load, every=1, reach=0)))
    near = best.share >= NEAR
    for every in COARSE:
        todo = (near & ~best.good)[:, None] & dish.on(every)
        _try(days, dish, best, *_marks(todo))
    for every, reach in FINER:
        around = _only(dish.may, best.load, every=every, reach=reach)
        _try(days, dish, best, *_marks(dish.may & around & (near & ~best.good)[:, None]))
    return best


def _try(
    days: Outing, dish: _Dish, best: _Best, rows: NDArray[np.intp], mark: NDArray[np.intp]
) -> None:
    """Run a dish alone for days and load marks, and keep the best of each day."""
    if not rows.size:
        return
    load = mark * _grain(days)
    core_c = days.cores(
        rows, load[:, None], pots=(dish.portion.charge,), pull=dish.serve[rows][:, None]
    )
    best.take(rows, mark, dish.judged(rows, load, core_c[:, 0]))


def _together(
    days: Outing, book: Cookbook, good: NDArray[np.bool_], load: NDArray[np.intp]
) -> NDArray[np.bool_]:
    """Return the days on which all that may go in are good together."""
    going = list(book.going)
    if not going or not book.all_fit:
        return np.zeros(len(days.dates), bool)
    every = good[going].all(axis=0)
    if len(going) == 1:
        return every
    portions = [book.together[i] for i in going]
    dishes = [_Dish.of(days, portion) for portion in portions if portion is not None]
    first = np.array([dish.first() for dish in dishes])
    marks = np.maximum(load[going], first)
    table = _Table(days=days, dishes=dishes)
    rows = np.flatnonzero(every & np.all([dish.may.any(axis=1) for dish in dishes], axis=0))
    number, _ = table.run(rows, marks[:, rows])
    well = np.zeros(len(days.dates), bool)
    well[rows] = number == len(dishes)
    order = sorted(range(len(dishes)), key=lambda i: -int(dishes[i].serve.max(initial=0)))
    for _ in range(ROUNDS):
        before = marks.copy()
        for moving, every in product(order, COARSE):
            table.move(rows[~well[rows]], marks, moving, well, every=every)
        # Where nothing moved nothing will.
        rows = rows[~well[rows] & (marks != before).any(axis=0)[rows]]
    return well


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class _Table:
    """All dishes of the day in one box."""

    days: Outing
    dishes: Sequence[_Dish]

    def run(
        self, rows: NDArray[np.intp], marks: NDArray[np.intp]
    ) -> tuple[NDArray[np.intp], NDArray[np.float64]]:
        """Return how many dishes are good, and the cost, of runs with marks (dishes, runs)."""
        number, minutes = np.zeros(rows.size, np.intp), np.zeros(rows.size)
        if not rows.size:
            return number, minutes
        load = marks * _grain(self.days)
        pull = np.array([dish.serve[rows] for dish in self.dishes])
        pots = [dish.portion.charge for dish in self.dishes]
        core_c = self.days.cores(rows, load.T, pots=pots, pull=pull.T)
        for place, dish in enumerate(self.dishes):
            judged = dish.judged(rows, load[place], core_c[:, place])
            number += judged.good
            minutes += judged.cost
        return number, minutes

    def move(
        self,
        rows: NDArray[np.intp],
        marks: NDArray[np.intp],
        moving: int,
        well: NDArray[np.bool_],
        *,
        every: int,
    ) -> None:
        """Put one dish where the day is best, the others standing still; writes both arrays."""
        dish = self.dishes[moving]
        own = _only(dish.may, marks[moving], every=1, reach=0)
        some = np.zeros(dish.may.shape, bool)
        some[rows] = True
        runs, mark = _marks(some & (own | dish.on(every)))
        tried = marks[:, runs]
        tried[moving] = mark
        number, minutes = self.run(runs, tried)
        order = np.lexsort((minutes, -number))
        at, place = np.unique(runs[order], return_index=True)
        marks[moving, at] = mark[order[place]]
        well[at] = number[order[place]] == len(self.dishes)


def _grain(days: Outing) -> int:
    """Return how many steps a mark is.  [step]"""
    return max(1, round(GRAIN_S / days.step_s))


def _marks(pick: NDArray[np.bool_]) -> tuple[NDArray[np.intp], NDArray[np.intp]]:
    """Return days and marks of what is picked, (days, marks)."""
    rows, marks = np.nonzero(pick)
    return rows, marks


def _only(
    may: NDArray[np.bool_], mark: NDArray[np.intp], *, every: int, reach: int
) -> NDArray[np.bool_]:
    """Return the marks near one of each day, every so manieth."""
    away = np.arange(may.shape[1]) - mark[:, None]
    return (np.abs(away) <= reach) & (away % every == 0)


def _alike(days: Outing) -> tuple[NDArray[np.intp], tuple[NDArray[np.float64], ...]]:
    """Return which days are judged alike, and the air of each lot.

    Air counts in a safety clock only by whether it is above 32.2 C, so days without such an
    hour are judged together.
    """
    air_c = np.append(days.climate.air_c, days.climate.air_c[:, -1:], axis=1)
    hot = air_c > HOT_DAY_C.value
    kinds, like = np.unique(hot, axis=0, return_inverse=True)
    either = (np.full(air_c.shape[1], MILD_C), np.full(air_c.shape[1], HOT_DAY_C.value + 1.0))
    return like.ravel(), tuple(np.where(kind, either[1], either[0]) for kind in kinds)
