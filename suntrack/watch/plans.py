"""When the plan is made again, and what holds when it cannot be made."""

from __future__ import annotations

import logging
from collections.abc import Callable
from datetime import date, datetime, timedelta
from typing import TYPE_CHECKING

from suntrack.alerts.rules import Reason, alerts_for, change_alert

if TYPE_CHECKING:
    from suntrack.alerts.alert import Alert, Kind
    from suntrack.plan.records import DayPlan
    from suntrack.watch.ledger import Ledger

PlanSource = Callable[[datetime], "DayPlan"]
"""Returns a plan, or raises StillPlanningError: then it is asked again at the next look."""
EVERY = timedelta(minutes=15)
"""How often the plan is made again when nothing happens (our choice)."""
AFTER_FAILURE = tuple(timedelta(minutes=minutes) for minutes in (1, 2, 5, 10, 15))
"""How long after each failure in a row the plan is tried again; then as the last."""
FOOD: tuple[Kind, ...] = ("pull", "pull by", "stove", "danger near", "danger")
"""What midnight does not end."""
NOT_SEEN = -1
"""Stands for notes that came while the first plan was made: there is one more plan then."""
log = logging.getLogger(__name__)


class StillPlanningError(Exception):
    """The plan is being made; nothing is wrong."""


class Plans:
    """The plan of the day, and from noon on that of tomorrow, as far as they can be made."""

    def __init__(
        self, today: PlanSource, *, tomorrow: PlanSource | None, every: timedelta = EVERY
    ) -> None:
        self._source, self._tomorrow_source, self._every = today, tomorrow, every
        self._next_at: datetime | None = None
        self._made_on: date | None = None
        self._noted = self._noted_before = 0
        self._is_making = self._is_hurried = self._wants_tomorrow = False
        self._failed: str | None = None
        self._failures = 0
        self._tomorrow_failed: str | None = None
        self._measure: DayPlan | None = None
        self._changes: tuple[Alert, ...] = ()
        self.plan: DayPlan | None = None
        self.tomorrow: DayPlan | None = None
        self.alerts: dict[date, tuple[Alert, ...]] = {}
        """The alerts of each day; of tomorrow only what belongs to this evening."""

    @property
    def trouble(self) -> str | None:
        """Why there is no newer plan; None when all is well."""
        return self._failed or self._tomorrow_failed

    def hurry(self) -> None:
        """Have the plan made again at the next look, or after the one that is being made."""
        self._next_at, self._is_hurried = None, self._is_making

    def refresh(self, now: datetime, ledger: Ledger) -> bool:
        """Make the plans again if it is time to; return True when there is a new one."""
        is_new = self._refresh_today(now, ledger)
        if self._refresh_tomorrow(now) or is_new:
            self._set_alerts(now, ledger)
            return True
        return False

    def _refresh_today(self, now: datetime, ledger: Ledger) -> bool:
        """Make today's plan again, or go on making it; True when there is a new one."""
        if not self._is_making:
            if not self._is_time(now, ledger):
                return False
            # What is noted from here on is not in the plan that is begun here.
            self._noted_before = ledger.last_id(self.plan.date) if self.plan else NOT_SEEN
        was_waited_for = self._is_making
        try:
            plan = self._source(now)
        except StillPlanningError:
            self._is_making = True
            return False
        except Exception as error:  # the old plan still calls the cook; ours must go on
            self._fail(error, now)
            return False
        noted = self._noted_before if was_waited_for else ledger.last_id(plan.date)
        self._compare(plan, is_noted=noted != self._noted, now=now)
        self._noted = noted
        self.plan, self._failed, self._failures, self._is_making = plan, None, 0, False
        self._made_on = self._local_date(now)
        self._next_at, self._is_hurried = None if self._is_hurried else now + self._every, False
        self._wants_tomorrow = self._tomorrow_source is not None and now >= plan.solar_noon_at
        if self.tomorrow is not None and not self._wants_tomorrow:
            self.tomorrow = None
        return True

    def _fail(self, error: Exception, now: datetime) -> None:
        """Remember why there is no new plan; tell the log once for each reason."""
        failed = f"The plan could not be made again: {error}"
        if failed != self._failed:
            log.error("the plan could not be made", exc_info=error)
        wait = AFTER_FAILURE[min(self._failures, len(AFTER_FAILURE) - 1)]
        self._failed, self._failures = failed, self._failures + 1
        self._is_making, self._next_at = False, now + wait

    def _compare(self, plan: DayPlan, *, is_noted: bool, now: datetime) -> None:
        """Remember what a new plan changes, measured by the one the cook was last told of."""
        old = self._measure
        if old is None or old.date != plan.date:
            self._measure, self._changes = plan, ()
            return
        reason: Reason = "slower" if is_noted else "cloud"
        if not is_noted and plan.sky == old.sky:
            return
        alert = change_alert(old, plan, reason=reason, now=now)
        if alert is not None:
            self._measure, self._changes = plan, (*self._changes, alert)

    def _refresh_tomorrow(self, now: datetime) -> bool:
        """Make tomorrow's plan after today's, once it is afternoon; True when there is one."""
        if not self._wants_tomorrow or self._tomorrow_source is None or self._is_making:
            return False
        try:
            self.tomorrow = self._tomorrow_source(now)
        except StillPlanningError:
            return False
        except Exception as error:  # tomorrow must not cost today its calls
            log.exception("tomorrow could not be planned")
            self._tomorrow_failed = f"Tomorrow could not be planned: {error}"
            self._wants_tomorrow = False
            return False
        self._tomorrow_failed, self._wants_tomorrow = None, False
        return True

    def _is_time(self, now: datetime, ledger: Ledger) -> bool:
        """Return True when the plan is old, another day has begun, or something was noted."""
        if self._next_at is None or now >= self._next_at:
            return True
        if self.plan is None or self._failed is not None:
            return False
        return (
            self._local_date(now) != self._made_on or ledger.last_id(self.plan.date) != self._noted
        )

    def _set_alerts(self, now: datetime, ledger: Ledger) -> None:
        """Work out the alerts of all days at hand."""
        if self.plan is None:
            return
        begun = {day: self._still_called(day, now) for day in self.alerts if day < self.plan.date}
        left = ledger.leftover(self.plan.date)
        self.alerts = {**left, **_without_empty(begun), **_alerts(self.plan, self.tomorrow)}
        self.alerts[self.plan.date] += self._changes

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
