"""The day's steps in order of time: what the cook does, and when."""

from __future__ import annotations

from datetime import datetime, time, timedelta
from typing import TYPE_CHECKING

from suntrack.plan.records import DishPlan, Step, TurnChoice

if TYPE_CHECKING:
    from collections.abc import Mapping, Sequence
    from datetime import date
    from zoneinfo import ZoneInfo

    from suntrack.food.dish import AdvanceStep, Dish
    from suntrack.plan.records import Window

EVENING = time(20, 0)
"""When the evening before is thought of (our choice)."""
BEFORE_LOADING = timedelta(minutes=30)
"""How long before loading a dish is got ready (kitchen judgement)."""


def day_steps(
    *,
    on: date,
    zone: ZoneInfo,
    turns: TurnChoice,
    plans: Sequence[DishPlan],
    dishes: Mapping[str, Dish],
    window: Window,
) -> tuple[Step, ...]:
    """Return every step of the day, the evening before included, in order of time."""
    steps = [*_turn_steps(turns)]
    for plan in plans:
        steps.extend(_dish_steps(plan, dishes[plan.key], turns=turns, on=on, zone=zone))
    cover = _cover_step(turns, plans, window)
    steps = [step for step in steps if step.kind != "turn" or all(step.at < c.at for c in cover)]
    return tuple(sorted([*steps, *cover], key=lambda step: step.at))


def _turn_steps(turns: TurnChoice) -> list[Step]:
    """Return the first aim, called preheat, and the turns after it."""
    return [
        Step(
            # By its time, not by its number: a new plan may count its turns anew.
            key="preheat" if i == 0 else f"turn-{turn.at:%H%M}",
            kind="preheat" if i == 0 else "turn",
            at=turn.at,
            turn=turn,
        )
        for i, turn in enumerate(turns.turns)
    ]


def _dish_steps(
    plan: DishPlan, dish: Dish, *, turns: TurnChoice, on: date, zone: ZoneInfo
) -> list[Step]:
    """Return what one dish asks of the cook; nothing when it will not come good in the box."""
    if plan.load_at is None or plan.status not in ("ready", "late"):
        return []
    steps = [
        Step(
            key=f"prepare-{i}-{plan.key}",
            kind="prepare",
            at=_advance_at(advance, plan.load_at, turns=turns, on=on, zone=zone),
            dish=plan.key,
            detail=advance.text,
        )
        for i, advance in enumerate(dish.advance, start=1)
    ]
    steps.append(Step(key=f"load-{plan.key}", kind="load", at=plan.load_at, dish=plan.key))
    if plan.pull_at is not None:
        steps.append(Step(key=f"pull-{plan.key}", kind="pull", at=plan.pull_at, dish=plan.key))
    return steps


def _advance_at(
    advance: AdvanceStep, load_at: datetime, *, turns: TurnChoice, on: date, zone: ZoneInfo
) -> datetime:
    """Return when an advance step is due; the morning is when the box is first aimed."""
    if advance.when == "evening before":
        return datetime.combine(on - timedelta(days=1), EVENING, tzinfo=zone)
    before_loading = load_at - BEFORE_LOADING
    if not turns.turns:
        return before_loading
    # A plan that begins late in the day asks for nothing before it begins.
    begins_at = min(turns.turns[0].at, load_at)
    return begins_at if advance.when == "morning" else max(before_loading, begins_at)


def _cover_step(turns: TurnChoice, plans: Sequence[DishPlan], window: Window) -> tuple[Step, ...]:
    """Return when to fold the mirror and cover the box: after the last dish, or the window."""
    pulls = [plan.pull_at for plan in plans if plan.pull_at is not None]
    after = max(pulls) + timedelta(minutes=10) if pulls else window.closes_at
    if not turns.turns or after is None:
        return ()
    return (Step(key="cover", kind="cover", at=after),)
