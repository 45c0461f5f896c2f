"""How late alerts are handed over when a whole season is replayed at a real pace.

    python tests/benchmarks/lateness.py --alerts 10000

Each alert has a due instant on the real clock, all a few milliseconds apart; a watch with
its real timer, journal (synced to disk) and two ways runs through them.  Lateness is from
the due instant to the moment at which the way was given the notice.  Promised: the 99th
percentile is at most 1 s.  Ends with status 1 when it is not.
"""

from __future__ import annotations

import argparse
import sys
import tempfile
import threading
from dataclasses import replace
from datetime import datetime, timedelta
from pathlib import Path

import numpy as np

sys.path.insert(0, str(Path(__file__).parents[1]))
from benchmarks.killed_day import the_day, words

from suntrack.clock import SystemClock
from suntrack.notify.channel import Accepted, Notice, Outcome
from suntrack.plan.records import DayPlan, DishPlan
from suntrack.store.journal import Journal
from suntrack.watch.daemon import Watch

MOST_S = 1.0
A_DAY = 200
"""Alerts of one day; far more than any real day has."""
EVERY = timedelta(milliseconds=15)
HEAD_START = timedelta(seconds=0.5)


class TimedWay:
    """Notes when it was given each notice."""

    def __init__(self, name: str) -> None:
        self.name = name
        self.at: dict[str, float] = {}
        self.all = threading.Event()
        self.wanted = A_DAY

    def send(self, notice: Notice) -> Outcome:
        for line in (notice.title, *notice.body.splitlines()):
            self.at.setdefault(line.removesuffix(". "), SystemClock().now().timestamp())
        if len(self.at) >= self.wanted:
            self.all.set()
        return Accepted()


def one_day(count: int, folder: Path) -> list[float]:
    """Return how late each alert of one day was.  [s]"""
    clock = SystemClock()
    start = clock.now() + HEAD_START
    # Food to take out, since that is never told along with something else before its time.
    due = {f"dish-{i}": start + i * EVERY for i in range(count)}
    dishes = tuple(_dish(key, at) for key, at in due.items())
    plan: DayPlan = replace(the_day(0), dishes=dishes, date=start.date())
    way, other, stop = TimedWay("one"), TimedWay("two"), threading.Event()
    way.wanted = count
    with Journal.open(folder / "journal.db") as journal:
        watch = Watch(
            clock=clock, journal=journal, ways=[way, other], plan_source=lambda now: plan,
            words=words,
        )  # fmt: skip
        thread = threading.Thread(target=watch.run, args=(stop,))
        thread.start()
        way.all.wait(60)
        stop.set()
        watch._wake.set()
        thread.join()
    day = plan.date.isoformat()
    return [way.at[f"{day}/pull-{key}"] - at.timestamp() for key, at in due.items()]


def _dish(key: str, at: datetime) -> DishPlan:
    """Return a dish that comes out at a moment and may not wait."""
    return DishPlan(
        key=key, name=key, pot=None, serve_at=at, load_at=at - timedelta(hours=1), done_at=None,
        safe_at=None, pull_at=at, pull_by=at, stove_by=None, status="ready", notes=(),
    )  # fmt: skip


def main() -> int:
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--alerts", type=int, default=10_000)
    count: int = parser.parse_args().alerts
    late_s: list[float] = []
    while len(late_s) < count:
        with tempfile.TemporaryDirectory() as folder:
            late_s += one_day(min(A_DAY, count - len(late_s)), Path(folder))
    p50, p99, worst = (float(np.quantile(late_s, q)) for q in (0.5, 0.99, 1.0))
    print(
        f"{count} alerts: half within {p50 * 1000:.0f} ms, 99 % within {p99 * 1000:.0f} ms"
        f" (at most {MOST_S * 1000:.0f}), the latest {worst * 1000:.0f} ms,"
        f" the earliest {min(late_s) * 1000:.1f} ms"
    )
    return int(p99 > MOST_S or min(late_s) < 0.0)


if __name__ == "__main__":
    sys.exit(main())
