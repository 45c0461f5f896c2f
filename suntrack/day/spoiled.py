"""A plan as it stands at a moment: whose safety clock has run out, and what has to come out.

A plan is made once and shown for hours.  What it says of the kitchen stove holds until a
safety clock runs out; from then on only one thing may be said of the dish.
"""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

from suntrack.day.records import TakeOut

if TYPE_CHECKING:
    from collections.abc import Iterable
    from datetime import datetime

    from suntrack.day.records import DayPlan, DishPlan

NEVER_EAT = (
    "Do not taste it, and do not cook it on: food that stood warm too long can make you ill, even "
    "boiled. Follow your local food authority."
)
THROW_AWAY = f"Throw it away. {NEVER_EAT}"
"""USDA FSIS: what stood too long between cold and hot is thrown away; never taste food to find
out whether it is safe (consumer advice, from memory)."""


def is_spoiled(dish: DishPlan, *, at: datetime) -> bool:
    """Return whether a dish in the box, or taken out too late, has outlived its safety clock.

    A dish that comes good is taken out before; one that never went in has no clock.
    """
    if dish.status not in ("not done", "not safe") or dish.load_at is None:
        return False
    return dish.red_at is not None and dish.load_at < dish.red_at <= at


def as_of(plan: DayPlan, *, at: datetime, strays: Iterable[TakeOut] = ()) -> DayPlan:
    """Return a plan as it is to be shown at a moment.

    Parameters
    ----------
    plan : DayPlan
        As it was made.  [-]
    at : datetime
        The moment, aware.  [-]
    strays : iterable of TakeOut, optional
        What was noted as loaded and is not for the box or not in the plan.  [-]

    Returns
    -------
    plan : DayPlan
        Dishes past their safety clock are `spoiled` and say nothing else; `take_out` lists them
        first, then the strays.  [-]
    """
    spoiled = [dish for dish in plan.dishes if is_spoiled(dish, at=at)]
    return replace(
        plan,
        dishes=tuple(_spoiled(dish) if dish in spoiled else dish for dish in plan.dishes),
        take_out=(*map(_take_out, spoiled), *strays),
    )


def _spoiled(dish: DishPlan) -> DishPlan:
    """Return the plan of a dish past its safety clock: no time of it is left to follow."""
    return replace(
        dish, status="spoiled", notes=(THROW_AWAY,), safe_at=None, pull_by=None, stove_by=None
    )


def _take_out(dish: DishPlan) -> TakeOut:
    assert dish.load_at is not None
    return TakeOut(kind="spoiled", dish=dish.key, name=dish.name, loaded_at=dish.load_at)
