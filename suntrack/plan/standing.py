"""A plan as it stands at a moment: whose safety clock has run out, and what has to come out.

A plan is made once and shown for hours.  What it says of the kitchen stove holds until a
safety clock runs out; from then on only one thing may be said of the dish.
"""

from __future__ import annotations

from dataclasses import replace
from datetime import timedelta
from types import MappingProxyType
from typing import TYPE_CHECKING

from suntrack.food.past_saving import THROW_AWAY
from suntrack.plan.records import TakeOut

if TYPE_CHECKING:
    from collections.abc import Iterable, Mapping, Sequence
    from datetime import datetime

    from suntrack.food.dish import Dish
    from suntrack.plan.records import DayPlan, DishPlan, TakeOutKind

NO_DISHES: Mapping[str, Dish] = MappingProxyType({})
SAMPLE = timedelta(minutes=10)
"""Between two samples of a curve that has only one."""
LONGEST = timedelta(days=1)
"""So far past the planned stretch a clock is followed; every limit is shorter."""
EVENING_C = 20.0
"""Air past the planned stretch: the sun is low, so clocks run at their usual pace.  [C]"""


def is_spoiled(dish: DishPlan, *, at: datetime, known: Dish | None = None) -> bool:
    """Return whether a dish in the box, or taken out too late, has outlived its safety clock.

    One that comes good has a clock too: of cooked food that is no longer hot, until it came out.
    One that never went in has none.  With `known`, the dish in the library, its clock also runs
    on past the planned stretch.
    """
    if dish.load_at is None or dish.status == "refused":
        return False
    red_at = dish.red_at if known is None else _red_at(dish, at=at, known=known)
    return red_at is not None and dish.load_at < red_at <= at


def clock_run_on(dish: DishPlan, *, known: Dish) -> DishPlan:
    """Return the plan of a dish with its safety clock followed past the planned stretch.

    Only for what is in the box and does not come good: nobody else calls for it then.
    """
    if dish.status not in ("not done", "not safe") or dish.load_at is None or not dish.curve:
        return dish
    return replace(dish, red_at=_red_at(dish, at=dish.curve[-1].at + LONGEST, known=known))


def _red_at(dish: DishPlan, *, at: datetime, known: Dish) -> datetime | None:
    """Return when a clock runs out, with a middle that is not known once the plan has ended.

    What is not known is not hot, as everywhere in `suntrack.food.safety`.  A pull that was
    planned lies within the stretch; one that was noted later ends the clock only then.
    """
    if dish.red_at is not None or not dish.curve:
        return dish.red_at
    if dish.pull_at is not None:
        if dish.pull_at <= dish.curve[-1].at + SAMPLE:
            return None
        at = min(at, dish.pull_at)
    # Heavy, and seldom needed: most dishes of most days come good.
    import numpy as np

    from suntrack.food.safety import red_steps

    first, last = dish.curve[0].at, dish.curve[-1].at
    every = (last - first) / (len(dish.curve) - 1) if len(dish.curve) > 1 else SAMPLE
    beyond = max(int((min(at, last + LONGEST) - last) / every), 0)
    core_c = np.append([sample.core_c for sample in dish.curve], np.full(beyond, np.nan))
    red = int(red_steps(core_c, step_s=every.total_seconds(), dish=known, air_c=EVENING_C))
    return None if red < 0 else first + red * every


def as_of(
    plan: DayPlan,
    *,
    at: datetime,
    dishes: Mapping[str, Dish] = NO_DISHES,
    strays: Iterable[TakeOut] = (),
) -> DayPlan:
    """Return a plan as it is to be shown at a moment.

    Parameters
    ----------
    plan : DayPlan
        As it was made.  [-]
    at : datetime
        The moment, aware.  [-]
    dishes : mapping of str to Dish, optional
        The library; without a dish its clock ends with the planned stretch.  [-]
    strays : iterable of TakeOut, optional
        What was noted as loaded and is not for the box or not in the plan.  [-]

    Returns
    -------
    plan : DayPlan
        Dishes past their safety clock are `spoiled` and say nothing else; `take_out` lists them
        first, then what came out unfinished, then the strays.  [-]
    """
    spoiled = [dish for dish in plan.dishes if is_spoiled(dish, at=at, known=dishes.get(dish.key))]
    return replace(
        plan,
        dishes=tuple(_spoiled(dish) if dish in spoiled else dish for dish in plan.dishes),
        take_out=(
            *(_take_out(dish, "spoiled") for dish in spoiled),
            *(_take_out(dish, "unfinished") for dish in _unfinished(plan, spoiled, at=at)),
            *strays,
        ),
    )


def _unfinished(
    plan: DayPlan, spoiled: Sequence[DishPlan], *, at: datetime
) -> tuple[DishPlan, ...]:
    """Return what the cook took out before it was done and safe; only a noted pull is like that."""
    return tuple(
        dish
        for dish in plan.dishes
        if dish.status in ("not done", "not safe")
        and dish.pull_at is not None
        and dish.load_at is not None
        and dish.pull_at <= at
        and dish not in spoiled
    )


def _spoiled(dish: DishPlan) -> DishPlan:
    """Return the plan of a dish past its safety clock: no time of it is left to follow."""
    return replace(
        dish, status="spoiled", notes=(THROW_AWAY,), safe_at=None, pull_by=None, stove_by=None
    )


def _take_out(dish: DishPlan, kind: TakeOutKind) -> TakeOut:
    assert dish.load_at is not None
    return TakeOut(kind=kind, dish=dish.key, name=dish.name, loaded_at=dish.load_at)
