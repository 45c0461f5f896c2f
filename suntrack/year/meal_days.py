"""On which days of a year the meals come good, judged as a planned day is.

    each dish alone   loaded first thing; where that is not good, at the best time found
    all together      as each is best alone; where that is not good, each in turn, the latest
                      meal first, at the best time found while the others stand still

Good is what it is in a plan: done and safe by its meal, no safety clock run out, and still
safe then (`suntrack.plan.chance`).  Of several times the best is the one that costs least in
the planner's own cost (`suntrack.plan.dishes.load_search`).  A dish stays in until its meal.

Whether any load time will do, coarse to fine, all days in one batch.  Lost: the plan's own
search (minutes a year), and giving up early on days that look far from good when dishes share
the box (a dish at a fifth of its way is still saved by loading another later).
"""

from __future__ import annotations

from dataclasses import dataclass
from itertools import product
from typing import TYPE_CHECKING

import numpy as np

from suntrack.year.dish_days import Best, DishDays, grain
from suntrack.year.exposure import Exposure, Hours, outing

if TYPE_CHECKING:
    from collections.abc import Sequence

    from numpy.typing import NDArray

    from suntrack.box.build import Box
    from suntrack.sky.site import Site
    from suntrack.sky.year import YearSky
    from suntrack.year.meal_pots import Cookbook

NEAR = 0.9
"""A dish that is less of the way to done at its meal, though it went in first thing, is not
tried later on that day: it would have less sun still (our choice).  [-]"""
COARSE, FINER = (18, 6), ((2, 4), (1, 1))
"""Load times are tried every three hours, then each hour, then every 20 min up to 40 min around
the best, then 10 min around that, for as long as the day is not good: places on the ten-minute
grain, and how many to either side.  [-]"""
ROUNDS = 2
"""How often each dish answers the others.  [-]"""


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
        found = _alone(days, DishDays.of(days, portion))
        good[i], load[i] = found.good, found.load
        ready_s[i] = days.starts_s + days.step_s * found.ready
    return MealYear(good=good, ready_s=ready_s, together=_together(days, book, good, load))


def _alone(days: Exposure, dish: DishDays) -> Best:
    """Return the best load of a dish that has the box to itself."""
    count = len(days.dates)
    best = Best(
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
    days: Exposure, dish: DishDays, best: Best, rows: NDArray[np.intp], mark: NDArray[np.intp]
) -> None:
    """Run a dish alone for days and load marks, and keep the best of each day."""
    if not rows.size:
        return
    load = mark * grain(days)
    core_c = days.cores(
        rows, load[:, None], pots=(dish.portion.charge,), pull=dish.serve[rows][:, None]
    )
    best.take(rows, mark, dish.judged(rows, load, core_c[:, 0]))


def _together(
    days: Exposure, book: Cookbook, good: NDArray[np.bool_], load: NDArray[np.intp]
) -> NDArray[np.bool_]:
    """Return the days on which all that may go in are good together."""
    going = list(book.going)
    if not going or not book.all_fit:
        return np.zeros(len(days.dates), bool)
    each = np.asarray(good[going].all(axis=0))
    if len(going) == 1:
        return each
    portions = [book.together[i] for i in going]
    dishes = [DishDays.of(days, portion) for portion in portions if portion is not None]
    first = np.array([dish.first() for dish in dishes])
    marks = np.maximum(load[going], first)
    table = _Table(days=days, dishes=dishes)
    rows = np.flatnonzero(each & np.all([dish.may.any(axis=1) for dish in dishes], axis=0))
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

    days: Exposure
    """The box on each day."""
    dishes: Sequence[DishDays]
    """Every dish on those days."""

    def run(
        self, rows: NDArray[np.intp], marks: NDArray[np.intp]
    ) -> tuple[NDArray[np.intp], NDArray[np.float64]]:
        """Return how many dishes are good, and the cost, of runs with marks (dishes, runs)."""
        number, minutes = np.zeros(rows.size, np.intp), np.zeros(rows.size)
        if not rows.size:
            return number, minutes
        load = marks * grain(self.days)
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


def _marks(pick: NDArray[np.bool_]) -> tuple[NDArray[np.intp], NDArray[np.intp]]:
    """Return days and marks of what is picked, (days, marks)."""
    rows, marks = np.nonzero(pick)
    return rows, marks


def _only(
    may: NDArray[np.bool_], mark: NDArray[np.intp], *, every: int, reach: int
) -> NDArray[np.bool_]:
    """Return the marks near one of each day, every so manieth."""
    away = np.arange(may.shape[1]) - mark[:, None]
    return np.asarray((np.abs(away) <= reach) & (away % every == 0))
