"""When the plan is made again, and what holds when it cannot be made."""

from __future__ import annotations

import logging
from collections.abc import Callable
from datetime import date, datetime, timedelta
from typing import TYPE_CHECKING

from suntrack.alerts.rules import alerts_for

if TYPE_CHECKING:
    from suntrack.alerts.alert import Alert, Kind
    from suntrack.day.records import DayPlan
    from suntrack.watch.ledger import Ledger

PlanSource = Callable[[datetime], "DayPlan"]
EVERY = timedelta(minutes=15)
"""How often the plan is made again when nothing happens (our choice)."""
AFTER_FAILURE = timedelta(minutes=1)
FOOD: tuple[Kind, ...] = ("pull", "pull by", "stove")
"""What midnight does not end."""
log = logging.getLogger(__name__)


class Plans:
    """The plan of the day, and from noon on that of tomorrow, as far as they can be made."""

    def __init__(
        self, today: PlanSource, *, tomorrow: PlanSource | None, every: timedelta = EVERY
    ) -> None:
        self._source, self._tomorrow_source, self._every = today, tomorrow, every
        self._next_at: datetime | None = None
        self._made_on: date | None = None
        self._noted = 0
        self.plan: DayPlan | None = None
        self.tomorrow: DayPlan | None = None
        self.trouble: str | None = None
        self.alerts: dict[date, tuple[Alert, ...]] = {}
        """The alerts of each day; of tomorrow only what belongs to this evening."""

    def hurry(self) -> None:
        """Have the plan made again at the next look."""
        self._next_at = None

    def refresh(self, now: datetime, ledger: Ledger) -> bool:
        """Make the plan again if it is time to; return True when there is a new one."""
        if not self._is_time(now, ledger):
            return False
        try:
            self.plan = self._source(now)
        except Exception as error:  # the old plan still calls the cook; ours must go on
            log.exception("the plan could not be made")
            self.trouble = f"The plan could not be made again: {error}"
            self._next_at = now + AFTER_FAILURE
            return False
        self.trouble = None
        try:
            self.tomorrow = self._plan_tomorrow(now)
        except Exception as error:  # tomorrow must not cost today its calls
            log.exception("tomorrow could not be planned")
            self.trouble = f"Tomorrow could not be planned: {error}"
        begun = {day: self._still_called(day, now) for day in self.alerts if day < self.plan.date}
        left = ledger.leftover(self.plan.date)
        self.alerts = {**left, **_without_empty(begun), **_alerts(self.plan, self.tomorrow)}
        self._noted = ledger.last_id(self.plan.date)
        self._made_on = self._local_date(now)
        self._next_at = now + self._every
        return True

    def _is_time(self, now: datetime, ledger: Ledger) -> bool:
        """Return True when the plan is old, another day has begun, or something was noted."""
        if self._next_at is None or now >= self._next_at:
            return True
        if self.plan is None or self.trouble is not None:
            return False
        return (
            self._local_date(now) != self._made_on or ledger.last_id(self.plan.date) != self._noted
        )

    def _plan_tomorrow(self, now: datetime) -> DayPlan | None:
        """Return tomorrow's plan once it is afternoon, for what the evening has to prepare."""
        is_afternoon = self.plan is not None and now >= self.plan.solar_noon_at
        if self._tomorrow_source is None or not is_afternoon:
            return None
        return self._tomorrow_source(now)

    def _still_called(self, day: date, now: datetime) -> tuple[Alert, ...]:
        """Return what an earlier day of this run still has to call for: food to take out."""
        return tuple(
            alert
            for alert in self.alerts[day]
            if alert.kind in FOOD and alert.due_at <= now < alert.lapses_at
        )

    def _local_date(self, now: datetime) -> date:
        """Return the date at the site."""
        zone = self.plan.made_at.tzinfo if self.plan else None
        return now.astimezone(zone).date()


def _without_empty(alerts: dict[date, tuple[Alert, ...]]) -> dict[date, tuple[Alert, ...]]:
    return {day: found for day, found in alerts.items() if found}


def _alerts(plan: DayPlan, tomorrow: DayPlan | None) -> dict[date, tuple[Alert, ...]]:
    """Return the alerts of today, and of tomorrow what has to be prepared this evening."""
    found = {plan.date: alerts_for(plan)}
    if tomorrow is not None and tomorrow.date != plan.date:
        evening = (alert for alert in alerts_for(tomorrow) if alert.kind == "evening before")
        found[tomorrow.date] = tuple(evening)
    return found
