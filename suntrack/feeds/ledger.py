"""What was asked of a feed, and when it may be asked again: on disk, for every process.

A schedule can go wrong and a loop can run wild; here, below both, is where the least
interval and the ceiling of a day are kept.
"""

from __future__ import annotations

import json
from dataclasses import dataclass, replace
from datetime import UTC, datetime, timedelta
from pathlib import Path
from typing import TYPE_CHECKING

from suntrack.errors import FeedError
from suntrack.feeds.kept import write_whole
from suntrack.units import span_words

if TYPE_CHECKING:
    from suntrack.config.feed_terms import Terms

SCHEMA = 1
BACK_OFF = (timedelta(minutes=5), timedelta(minutes=15), timedelta(hours=1), timedelta(hours=3))
"""How long a feed is left alone after one, two, three, more failures in a row (our choice)."""
BETWEEN = timedelta(seconds=60)
"""Between two rounds of questions, even for two places or after the cache is gone."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Ledger:
    """The book of one feed."""

    day: str = ""
    """The UTC date that `weight` belongs to."""
    weight: float = 0.0
    """What was asked on that day, as the feed counts it."""
    asked_at: datetime | None = None
    """When it was last asked, with or without success."""
    failures: int = 0
    """Since the last success."""
    blocked_until: datetime | None = None
    """Nobody asks before; None when anybody may."""
    complaint: str = ""
    """The last failure, in words; empty after a success."""

    def may_ask(self, *, now: datetime) -> timedelta:
        """Return how long the feed has to be left alone; zero or less for not at all.

        A moment to come that lies further off than any wait of ours is a clock that was set
        back, and counts for nothing.
        """
        waits = [timedelta(0)]
        if self.blocked_until is not None:
            waits.append(self.blocked_until - now)
        if self.asked_at is not None:
            waits.append(self.asked_at + BETWEEN - now)
        longest = max(waits)
        return timedelta(0) if longest > timedelta(hours=25) else longest

    def spent(self, weight: float, *, terms: Terms, now: datetime) -> Ledger:
        """Return the book with one more request; raise FeedError when the day is used up."""
        before = self.weight_on(now)
        if before + weight > terms.most_a_day:
            raise FeedError(
                "The feed has been asked enough for today; it is left alone until midnight UTC.",
                kind="limit",
                wait=_to_midnight(now),
            )
        return replace(self, day=_utc_day(now), weight=before + weight, asked_at=now)

    def weight_on(self, now: datetime) -> float:
        """Return the weight of what was asked on the UTC day of a moment."""
        return self.weight if self.day == _utc_day(now) else 0.0

    def failed(self, error: FeedError, *, now: datetime, dice: float) -> Ledger:
        """Return the book after a failure: when to ask again, a little later for each dice."""
        usual = BACK_OFF[min(self.failures, len(BACK_OFF) - 1)]
        wait = max(error.wait or usual, timedelta(minutes=1)) + dice * timedelta(minutes=2)
        return replace(
            self,
            failures=self.failures + 1,
            blocked_until=now + wait,
            complaint=error.message,
        )

    def succeeded(self) -> Ledger:
        """Return the book after a success."""
        return replace(self, failures=0, blocked_until=None, complaint="")


def wait_words(wait: timedelta) -> str:
    """Return how long a feed is left alone, in words, at least a minute."""
    return span_words(max(wait, timedelta(minutes=1)))


def ledger_path(folder: Path, feed: str) -> Path:
    """Return where the book of a feed is."""
    return folder / f"{feed}.ledger.json"


def read_ledger(path: Path) -> Ledger:
    """Return the book; an empty one when there is none that fits."""
    try:
        data = json.loads(path.read_text(encoding="utf-8"))
        if data.pop("schema") != SCHEMA:
            return Ledger()
        for name in ("asked_at", "blocked_until"):
            if data[name] is not None:
                data[name] = datetime.fromisoformat(data[name]).astimezone(UTC)
        return Ledger(
            day=str(data["day"]),
            weight=float(data["weight"]),
            asked_at=data["asked_at"],
            failures=int(data["failures"]),
            blocked_until=data["blocked_until"],
            complaint=str(data["complaint"]),
        )
    except (OSError, ValueError, LookupError, TypeError, AttributeError):
        return Ledger()


def write_ledger(path: Path, ledger: Ledger) -> None:
    """Write the book, whole; raise OSError when the folder cannot be written."""
    data = {
        "schema": SCHEMA,
        "day": ledger.day,
        "weight": ledger.weight,
        "asked_at": ledger.asked_at and ledger.asked_at.isoformat(),
        "failures": ledger.failures,
        "blocked_until": ledger.blocked_until and ledger.blocked_until.isoformat(),
        "complaint": ledger.complaint,
    }
    write_whole(path, json.dumps(data))


def _utc_day(now: datetime) -> str:
    return now.astimezone(UTC).date().isoformat()


def _to_midnight(now: datetime) -> timedelta:
    utc = now.astimezone(UTC)
    return utc.replace(hour=0, minute=0, second=0, microsecond=0) + timedelta(days=1) - utc
