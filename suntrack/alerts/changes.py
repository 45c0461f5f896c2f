"""What a new plan changes: told when it matters, so that nobody waits for the old times."""

from __future__ import annotations

from datetime import datetime, timedelta
from typing import TYPE_CHECKING, Literal

from suntrack.alerts.alert import Alert, Change

if TYPE_CHECKING:
    from collections.abc import Iterator

    from suntrack.plan.records import DayPlan, DishPlan

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
