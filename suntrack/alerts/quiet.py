"""Quiet hours: what is held back in them, and when they end.

What is held back is not lost: when the hours are over it is told, if it is still worth
telling; what is not is counted in one line.
"""

from __future__ import annotations

from dataclasses import dataclass
from datetime import UTC, datetime, time, timedelta, tzinfo
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from collections.abc import Iterator

    from suntrack.alerts.alert import Urgency

ALL_DAY = timedelta(days=1)


@dataclass(frozen=True, slots=True, kw_only=True)
class Quiet:
    """When the cook wants peace, and what is worth disturbing it."""

    stretches: tuple[tuple[time, time], ...] = ()
    """From and to, local times of day; one that ends before it starts goes over midnight."""
    tells: frozenset[Urgency] = frozenset({"urgent"})
    """How urgent an alert has to be to be told all the same."""
    zone: tzinfo = UTC
    """Whose clock the hours are told by."""

    def holds(self, urgency: Urgency, now: datetime) -> bool:
        """Return True when an alert of this urgency has to wait."""
        return urgency not in self.tells and self.ends_at(now) is not None

    def ends_at(self, now: datetime) -> datetime | None:
        """Return when the peace that holds now is over; None when there is none now."""
        if not self.stretches:
            return None
        until = now
        # Stretches may follow one another; each adds its own end, and none is used twice.
        for _ in range(len(self.stretches) + 1):
            ends = [ends for starts, ends in self._around(until) if starts <= until < ends]
            if not ends or max(ends) - now >= ALL_DAY:
                break
            until = max(ends)
        return until if until > now else None

    def _around(self, moment: datetime) -> Iterator[tuple[datetime, datetime]]:
        """Yield the stretches of the local day and of the one before, as instants."""
        local = moment.astimezone(self.zone).date()
        for day in (local - timedelta(days=1), local):
            for starts, ends in self.stretches:
                last = day if ends > starts else day + timedelta(days=1)
                yield (
                    datetime.combine(day, starts, tzinfo=self.zone).astimezone(UTC),
                    datetime.combine(last, ends, tzinfo=self.zone).astimezone(UTC),
                )


NEVER = Quiet()
"""No quiet hours."""
