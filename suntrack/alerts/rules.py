"""From the day's plan to its alerts: what the cook is told, when, and how urgently.

What is due now, and what has become stale, is decided in `suntrack.alerts.decide`.
Nothing here calls food safe: a pull is told when the plan says done and safe, and a dish
that the plan cannot finish is sent to the kitchen stove while that still saves it.  What a
new plan changes is told when it matters, so that nobody waits for the old times.
"""

from __future__ import annotations

from dataclasses import replace
from datetime import datetime, timedelta
from typing import TYPE_CHECKING, Literal

from suntrack.alerts.alert import Alert, Change, Kind, Urgency

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator

    from suntrack.plan.records import DayPlan, DishPlan, Step


# Our choices, all of them: there is no source for how early a cook wants to hear.
PULL_BY_LEAD = timedelta(minutes=10)
"""The last call comes this long before the dish has to be out of the box."""
LAST_CALL_GAP = timedelta(minutes=5)
"""No last call sooner than this after the first one."""
STOVE_LEAD = timedelta(minutes=15)
"""Time to light the stove and carry the pot, before the latest moment to move it."""
DONE_EARLY = timedelta(minutes=20)
"""A turn or a load noted this long before its time counts for it."""
WORTH_SAYING_DONE = timedelta(minutes=15)
"""A dish that is done shorter than this before it comes out is not told of apart."""
DANGER_LEAD = timedelta(minutes=30)
"""The warning before a safety clock runs out."""
PULL_STAYS = timedelta(hours=12)
"""A dish is not forgotten: taking it out stays worth telling this long."""
NIGHT = timedelta(hours=10)
"""What belongs to the evening before can still be done until the morning."""
COVER_STAYS = timedelta(hours=3)
HOUR = timedelta(hours=1)
SHORTEST = timedelta(minutes=15)
"""A turn, a load or the like stays worth telling at least this long."""

LOUDNESS: dict[Kind, Urgency] = {
    "pull": "urgent",
    "pull by": "urgent",
    "stove": "urgent",
    "gust": "urgent",
    "rain": "urgent",
    "danger": "urgent",
    "done": "low",
    "window opens": "low",
    "window closes": "low",
}
"""How loudly each kind is told; what is not here is normal."""


def alerts_for(plan: DayPlan) -> tuple[Alert, ...]:
    """Return every alert of a day, in order of time."""
    dishes = {dish.key: dish for dish in plan.dishes}
    found = [*_turn_alerts(plan), *_window_alerts(plan)]
    for step in plan.steps:
        found.extend(_step_alerts(plan, step, dishes.get(step.dish or "")))
    found.extend(_guard_alerts(plan))
    for dish in plan.dishes:
        found.extend(_pull_alerts(plan, dish))
        found.extend(_stove_alerts(plan, dish))
        found.extend(_done_alerts(plan, dish))
        found.extend(_danger_alerts(plan, dish))
    ordered = sorted(found, key=lambda alert: (alert.due_at, alert.key))
    return tuple(_with_own_keys(ordered))


def _alert(
    plan: DayPlan,
    name: str,
    kind: Kind,
    *,
    due_at: datetime,
    lapses_at: datetime,
    dish: DishPlan | None = None,
    step: Step | None = None,
    noted_from: datetime | None = None,
) -> Alert:
    """Return an alert of the day, with what follows from its kind and its dish filled in."""
    return Alert(
        key=f"{plan.date.isoformat()}/{name}",
        kind=kind,
        due_at=due_at,
        lapses_at=lapses_at,
        urgency=LOUDNESS.get(kind, "normal"),
        step=step,
        dish=dish.name if dish else None,
        subject=dish.key if dish else None,
        detail=step.detail if step else "",
        in_box=dish is not None and dish.load_at is not None and dish.load_at <= plan.made_at,
        noted_from=noted_from,
    )


def _turn_alerts(plan: DayPlan) -> Iterator[Alert]:
    """Yield the first aim and the turns; each is pointless once the next one is due."""
    steps = [step for step in plan.steps if step.kind in ("preheat", "turn")]
    ends = [step.at for step in steps[1:]] + [plan.sunset_at]
    for step, ends_at in zip(steps, ends, strict=False):
        yield _alert(
            plan,
            step.key,
            "preheat" if step.kind == "preheat" else "turn",
            due_at=step.at,
            lapses_at=max(ends_at or step.at + 2 * HOUR, step.at + SHORTEST),
            step=step,
            noted_from=step.at - DONE_EARLY,
        )


def _window_alerts(plan: DayPlan) -> Iterator[Alert]:
    """Yield the opening and the closing of the cooking window, on a day that has one."""
    opens_at, closes_at = plan.window.opens_at, plan.window.closes_at
    if opens_at is None or closes_at is None:
        return
    yield _alert(
        plan,
        "window-opens",
        "window opens",
        due_at=opens_at,
        lapses_at=max(closes_at, opens_at + SHORTEST),
    )
    yield _alert(
        plan, "window-closes", "window closes", due_at=closes_at, lapses_at=closes_at + HOUR
    )


def _step_alerts(plan: DayPlan, step: Step, dish: DishPlan | None) -> Iterator[Alert]:
    """Yield the alert of a step to prepare, load or cover; the others have their own place."""
    if step.kind == "prepare":
        yield _prepare_alert(plan, step, dish)
    elif step.kind == "load":
        last = dish.stove_by if dish and dish.stove_by else step.at + 2 * HOUR
        yield _alert(
            plan,
            step.key,
            "load",
            due_at=step.at,
            lapses_at=max(last, step.at + SHORTEST),
            dish=dish,
            step=step,
            noted_from=step.at - DONE_EARLY,
        )
    elif step.kind == "cover":
        yield _alert(
            plan, step.key, "cover", due_at=step.at, lapses_at=step.at + COVER_STAYS, step=step
        )


def _guard_alerts(plan: DayPlan) -> Iterator[Alert]:
    """Yield the calls before gusts and rain; each is pointless once they are over."""
    ends_at = {f"{guard.kind}-{guard.starts_at:%H%M}": guard.ends_at for guard in plan.guards}
    for step in plan.steps:
        if step.kind in ("gust", "rain"):
            yield _alert(
                plan,
                step.key,
                "gust" if step.kind == "gust" else "rain",
                due_at=step.at,
                lapses_at=max(ends_at.get(step.key, step.at + HOUR), step.at + SHORTEST),
                step=step,
            )


def _prepare_alert(plan: DayPlan, step: Step, dish: DishPlan | None) -> Alert:
    """Return the alert to get a dish ready, on the evening before or on the day."""
    on_the_day = step.at.astimezone(plan.made_at.tzinfo).date() >= plan.date
    load_at = dish.load_at if dish and dish.load_at else step.at + HOUR
    return _alert(
        plan,
        step.key,
        "prepare" if on_the_day else "evening before",
        due_at=step.at,
        lapses_at=max(load_at, step.at + SHORTEST) if on_the_day else step.at + NIGHT,
        dish=dish,
        step=step,
        noted_from=step.at - DONE_EARLY,
    )


def _pull_alerts(plan: DayPlan, dish: DishPlan) -> Iterator[Alert]:
    """Yield when to take a dish out, and a last call when it may wait in the box."""
    if dish.pull_at is None:
        return
    by = max(dish.pull_by or dish.pull_at, dish.pull_at)
    steps = [step for step in plan.steps if step.kind == "pull" and step.dish == dish.key]
    at_that_time = [step for step in steps if step.at == dish.pull_at]
    yield _alert(
        plan,
        f"pull-{dish.key}",
        "pull",
        due_at=dish.pull_at,
        lapses_at=by + PULL_STAYS,
        dish=dish,
        step=next(iter(at_that_time + steps), None),
        noted_from=dish.load_at,
    )
    last_call_at = by - PULL_BY_LEAD
    if last_call_at >= dish.pull_at + LAST_CALL_GAP:
        yield _alert(
            plan,
            f"pull-by-{dish.key}",
            "pull by",
            due_at=last_call_at,
            lapses_at=by + PULL_STAYS,
            dish=dish,
            noted_from=dish.load_at,
        )


def _stove_alerts(plan: DayPlan, dish: DishPlan) -> Iterator[Alert]:
    """Yield when a dish that the sun will not finish has to go to the kitchen stove.

    A dish already warm in the box lapses when the stove can no longer save it: after that
    moment nobody must be told to cook it on.  One that never went in is only a late meal.
    """
    if dish.stove_by is None or dish.status not in ("not done", "not safe", "refused"):
        return
    is_warm = dish.load_at is not None and dish.load_at < dish.stove_by
    due_at = dish.stove_by - STOVE_LEAD
    if is_warm and dish.load_at is not None:
        due_at = max(due_at, dish.load_at)
    alert = _alert(
        plan,
        f"stove-{dish.key}",
        "stove",
        due_at=due_at,
        lapses_at=dish.stove_by if is_warm else max(dish.serve_at, due_at + SHORTEST),
        dish=dish,
        noted_from=dish.load_at,
    )
    yield alert if is_warm else replace(alert, urgency="normal")


def _done_alerts(plan: DayPlan, dish: DishPlan) -> Iterator[Alert]:
    """Yield when a dish is done and has had its safe heat, if it can wait in the box.

    Done alone is not told: a cook would take it out, and it might not be safe yet.
    """
    if None in (dish.done_at, dish.safe_at, dish.pull_at) or dish.status not in ("ready", "late"):
        return
    assert dish.done_at is not None
    assert dish.safe_at is not None
    assert dish.pull_at is not None
    due_at = max(dish.done_at, dish.safe_at)
    if dish.pull_at - due_at >= WORTH_SAYING_DONE:
        yield _alert(
            plan,
            f"done-{dish.key}",
            "done",
            due_at=due_at,
            lapses_at=dish.pull_at,
            dish=dish,
            noted_from=dish.load_at,
        )


def _danger_alerts(plan: DayPlan, dish: DishPlan) -> Iterator[Alert]:
    """Yield the warning before a safety clock runs out in the box, and the word when it has.

    Only for a dish the plan does not finish: one that came good is called out before.
    """
    if dish.red_at is None or dish.load_at is None or dish.red_at <= dish.load_at:
        return
    if dish.status not in ("not done", "not safe"):
        return
    yield _alert(
        plan,
        f"danger-near-{dish.key}",
        "danger near",
        due_at=max(dish.red_at - DANGER_LEAD, dish.load_at),
        lapses_at=dish.red_at,
        dish=dish,
        noted_from=dish.load_at,
    )
    yield _alert(
        plan,
        f"danger-{dish.key}",
        "danger",
        due_at=dish.red_at,
        lapses_at=dish.red_at + PULL_STAYS,
        dish=dish,
        noted_from=dish.load_at,
    )


def _with_own_keys(alerts: Iterable[Alert]) -> Iterator[Alert]:
    """Yield the alerts, each with a key of its own: a dish may be cooked twice in a day."""
    seen: dict[str, int] = {}
    for alert in alerts:
        count = seen[alert.key] = seen.get(alert.key, 0) + 1
        yield alert if count == 1 else replace(alert, key=f"{alert.key}-{count}")


Reason = Literal["slower", "cloud"]
"""Noted by the cook (a reading, a late turn), or seen by a newer forecast."""
CLEARLY_LATER = timedelta(minutes=15)
"""A dish that comes out so much later is worth telling (our choice)."""
STAYS = timedelta(hours=1)
GOOD = ("ready", "late")


def change_alert(before: DayPlan, after: DayPlan, *, reason: Reason, now: datetime) -> Alert | None:
    """Return the alert of a plan that is clearly later than an older one; None when it is not."""
    if before.date != after.date:
        return None
    changes = tuple(_changes(before, after, now=now))
    if not changes:
        return None
    at = now.astimezone(after.made_at.tzinfo)
    return Alert(
        key=f"{after.date.isoformat()}/{reason}-{at:%H%M}",
        kind=reason,
        due_at=now,
        lapses_at=now + STAYS,
        changes=changes,
    )


def _changes(before: DayPlan, after: DayPlan, *, now: datetime) -> Iterator[Change]:
    """Yield the dishes that are still to come and come clearly later, or not at all."""
    old = {dish.key: dish for dish in before.dishes}
    for dish in after.dishes:
        was = old.get(dish.key)
        if was is None or was.status not in GOOD or was.pull_at is None or was.pull_at <= now:
            continue
        if _is_good(dish) and dish.pull_at is not None:
            if dish.pull_at - was.pull_at >= CLEARLY_LATER:
                yield Change(dish=dish.name, pull_at=dish.pull_at)
        else:
            yield Change(dish=dish.name, pull_at=None)


def _is_good(dish: DishPlan) -> bool:
    return dish.status in GOOD
