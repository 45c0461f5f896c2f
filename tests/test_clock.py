"""The clocks: the real one is aware, the replayed one moves only when it is waited for."""

from __future__ import annotations

import threading
from datetime import UTC, datetime, timedelta
from zoneinfo import ZoneInfo

import pytest
from hypothesis import given
from hypothesis import strategies as st

from suntrack.clock import Clock, ReplayClock, SystemClock

START = datetime(2026, 11, 25, 6, 0, tzinfo=UTC)


def test_the_system_clock_is_aware_and_never_runs_back() -> None:
    clock = SystemClock()
    assert clock.now().utcoffset() == timedelta(0)
    assert clock.monotonic() <= clock.monotonic()


def test_the_system_clock_is_the_systems() -> None:
    before = datetime.now(UTC)
    now = SystemClock().now()
    assert before <= now <= datetime.now(UTC)


def test_waiting_ends_at_once_when_it_has_been_stopped() -> None:
    """A wait of a day that did not look at the event would hang the suite."""
    stop = threading.Event()
    stop.set()
    assert SystemClock().wait(stop, 86400.0) is True


def test_waiting_for_a_time_that_is_past_ends_at_once() -> None:
    assert SystemClock().wait(threading.Event(), -5.0) is False


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


def test_a_replay_waits_speed_times_shorter() -> None:
    """Ten minutes of the day at speed 60 are ten seconds of the cook's."""
    waited: list[float | None] = []

    class Recorder(threading.Event):
        def wait(self, timeout: float | None = None) -> bool:
            waited.append(timeout)
            return False

    assert ReplayClock(START, speed=60.0).wait(Recorder(), 600.0) is False
    assert waited == [10.0]


def test_a_replay_tells_the_time_in_utc() -> None:
    """Gaborone is two hours ahead of UTC all year (IANA tz database; from memory)."""
    clock = ReplayClock(
        datetime(2026, 11, 25, 8, 0, tzinfo=ZoneInfo("Africa/Gaborone")), speed=None
    )
    assert clock.now() == START
    assert clock.now().utcoffset() == timedelta(0)


@given(waits_s=st.lists(st.integers(0, 5000), max_size=20))
def test_both_hands_of_a_replay_move_together(waits_s: list[int]) -> None:
    clock: Clock = ReplayClock(START, speed=None)
    for seconds in waits_s:
        clock.wait(threading.Event(), float(seconds))
    assert clock.monotonic() == sum(waits_s)
    assert (clock.now() - START).total_seconds() == sum(waits_s)


@pytest.mark.parametrize("speed", [0.0, -1.0, float("nan"), float("inf")])
def test_a_replay_needs_a_speed_that_moves(speed: float) -> None:
    with pytest.raises(ValueError, match="above 0"):
        ReplayClock(START, speed=speed)


def test_a_replay_needs_to_know_the_zone() -> None:
    with pytest.raises(ValueError, match="aware"):
        ReplayClock(datetime(2026, 11, 25, 6, 0), speed=None)  # noqa: DTZ001
