"""Which of several days is the best to cook on."""

from __future__ import annotations

from typing import TYPE_CHECKING

from suntrack.plan.verdict import window_h

if TYPE_CHECKING:
    from collections.abc import Iterable

    from suntrack.plan.records import DayPlan

DAYS = 7
"""How many days a week command looks at."""


def ranked(plans: Iterable[DayPlan]) -> tuple[DayPlan, ...]:
    """Return the plans of several days, the best day first.

    A cooking day comes before any other; then counts the chance, in tenths because the skies
    tell no more; then how many dishes are ready in time; then how long the box is hot
    enough.  Of equal days the earlier one comes first.
    """
    return tuple(sorted(plans, key=_order))


def ready_count(plan: DayPlan) -> int:
    """Return how many dishes are ready in time."""
    return sum(dish.status == "ready" for dish in plan.dishes)


def hot_h(plan: DayPlan) -> float:
    """Return how long the empty box is hot enough.  [h]"""
    ends_at = plan.box[-1].at if plan.box else plan.made_at
    return window_h(plan.window, ends_at=ends_at)


def _order(plan: DayPlan) -> tuple[bool, float, int, float, int]:
    """Return what a day is ordered by; the smaller the better."""
    chance = plan.verdict.chance
    return (
        not plan.verdict.cook,
        0.0 if chance is None else -round(10.0 * chance),
        -ready_count(plan),
        # To the hour: the season's own drift of minutes makes no day better.
        -float(round(hot_h(plan))),
        plan.date.toordinal(),
    )
