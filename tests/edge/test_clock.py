"""The clocks: the real one is aware, the replayed one moves only when it is waited for."""

from __future__ import annotations

import threading
from datetime import UTC, datetime, timedelta

from suntrack.edge.clock import ReplayClock, SystemClock

START = datetime(2026, 11, 25, 6, 0, tzinfo=UTC)


def test_the_system_clock_is_aware_and_never_runs_back() -> None:
    clock = SystemClock()
    assert clock.now().utcoffset() == timedelta(0)
    assert clock.monotonic() <= clock.monotonic()


def test_a_replay_without_a_speed_moves_at_once() -> None:
    clock = ReplayClock(START, speed=None)
    assert clock.wait(threading.Event(), 3600.0) is False
    assert clock.now() == START + timedelta(hours=1)
    assert clock.monotonic() == 3600.0


def test_a_replay_with_a_speed_stops_when_told() -> None:
    clock = ReplayClock(START, speed=1e6)
    stop = threading.Event()
    stop.set()
    assert clock.wait(stop, 10.0) is True
    assert clock.now() == START + timedelta(seconds=10)
