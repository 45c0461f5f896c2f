"""Is today a cooking day?  One place decides, from the window and the dishes.

The chance of a day is that of everything that goes in, not of the easiest dish; it is a cooking
day when one dish comes good more often than not.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from suntrack.plan.records import Verdict

if TYPE_CHECKING:
    from collections.abc import Sequence
    from datetime import datetime

    from suntrack.plan.records import Chances, DishPlan, Window

ENOUGH_H = 2.0
"""A day with no dish named is a cooking day with this much window (our choice).  [h]"""

EVEN = 0.5
"""From this chance on a day is a cooking day: more often good than not (our choice).  [-]"""


def window_h(window: Window, *, ends_at: datetime) -> float:
    """Return how long the window is open within a stretch; 0 when it never opens.  [h]"""
    if window.opens_at is None:
        return 0.0
    return ((window.closes_at or ends_at) - window.opens_at).total_seconds() / 3600.0


def verdict_of(
    window: Window,
    plans: Sequence[DishPlan],
    *,
    skipped: bool,
    ends_at: datetime,
    chances: Chances | None = None,
) -> Verdict:
    """Return the verdict: yes when at least one dish (or, with none, the window) comes good.

    `ends_at` is where the planned stretch ends, for a box that is still hot then.  With
    chances it is yes when one dish comes good more often than not; the chance of the verdict
    is that of everything that goes in.
    """
    if skipped:
        return Verdict(cook=False, chance=None, reason="You have skipped today.")
    if chances is not None:
        return _by_chances(plans, chances)
    if not plans:
        return _by_window(window_h(window, ends_at=ends_at))
    ready = [plan for plan in plans if plan.status == "ready"]
    late = [plan for plan in plans if plan.status == "late"]
    reason = f"{_count(len(ready), len(plans))} done and safe in time"
    if late:
        reason += f", {len(late)} later than wanted"
    return Verdict(cook=bool(ready), chance=None, reason=f"{reason}.")


def _by_chances(plans: Sequence[DishPlan], chances: Chances) -> Verdict:
    """Return the verdict of a day with many skies behind it."""
    if not plans:
        means = f"the empty box stays hot enough for {ENOUGH_H:.0f} hours or more"
        return Verdict(
            cook=chances.holds >= EVEN, chance=chances.holds, reason=f"Good means that {means}."
        )
    going = [plan for plan in plans if plan.chance is not None]
    if chances.good is None or not going:
        reason = "The box does not finish any of it under the middle sky of the forecast."
        return Verdict(cook=False, chance=chances.alone, reason=reason)
    ready = [plan for plan in going if plan.status == "ready"]
    count = _count(len(ready or going), len(plans))
    return Verdict(
        cook=any(plan.chance is not None and plan.chance >= EVEN for plan in ready),
        chance=chances.good,
        reason=f"Good means: {count[0].lower()}{count[1:]} done and safe in time.",
    )


def _by_window(hours: float) -> Verdict:
    """Return the verdict of a day with no dish named."""
    if hours == 0.0:
        reason = "The box does not get hot enough."
    else:
        reason = f"The box stays hot enough for {hours:.1f} hours."
    return Verdict(cook=hours >= ENOUGH_H, chance=None, reason=reason)


def _count(ready: int, all_: int) -> str:
    """Return how many dishes come good, as a cook would say it."""
    if all_ == 1:
        return "The dish is" if ready else "The dish is not"
    if ready == all_:
        return "Both dishes are" if all_ == 2 else f"All {all_} dishes are"
    return f"{ready or 'None'} of the {all_} dishes {'are' if ready > 1 else 'is'}"
