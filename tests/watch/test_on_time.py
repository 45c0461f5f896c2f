"""On time: in a replay every alert is handed over at its own instant, counted and not timed.

`tests/benchmarks/lateness.py` measures the same against the real clock, with 10,000 alerts.
"""

from __future__ import annotations

from collections.abc import Callable
from datetime import timedelta
from typing import Any

import pytest

from suntrack.clock import ReplayClock
from suntrack.notify.channel import Accepted, Notice, Outcome
from suntrack.watch.daemon import run_replay

Make = Callable[..., Any]
COUNT = 60


class TimedWay:
    """Writes down what it was given at which time of the replay."""

    name = "timed"

    def __init__(self, clock: ReplayClock) -> None:
        self._clock = clock
        self.at: dict[str, list[Any]] = {}

    def send(self, notice: Notice) -> Outcome:
        self.at.setdefault(notice.key.partition("/")[2], []).append(self._clock.now())
        return Accepted()


@pytest.mark.promise("On time, and late ones say so")
def test_every_call_for_food_comes_at_its_own_instant(
    bench: Any, make_plan: Make, make_soup: Make
) -> None:
    """Odd seconds apart, so that no round step of a loop could meet them all."""
    starts_at = bench.at("07:00")
    due = {f"dish-{i}": starts_at + i * timedelta(seconds=61.3) for i in range(COUNT)}
    dishes = [
        make_soup(key=key, name=key, load_at=at - timedelta(hours=1), pull_at=at, pull_by=at)
        for key, at in due.items()
    ]
    bench.clock = ReplayClock(starts_at - timedelta(minutes=5), speed=None)
    way = TimedWay(bench.clock)
    watch = bench.watch(make_plan([], *dishes), way, plan_every=timedelta(days=2))
    run_replay(watch, clock=bench.clock, to_at=max(due.values()) + timedelta(seconds=1))
    told = {key: way.at[f"pull-{key}"][0] for key in due}
    assert told == due
