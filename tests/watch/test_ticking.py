"""The eye on the clock: what is a jump, and when is a clock believed."""

from __future__ import annotations

import threading
from datetime import UTC, datetime, timedelta

import pytest

from suntrack.watch.ticking import ClockEye

START = datetime(2026, 11, 25, 8, 0, tzinfo=UTC)


class Clock:
    """Two clocks, moved by hand."""

    def __init__(self) -> None:
        self.at, self.run_s = START, 50.0

    def now(self) -> datetime:
        return self.at

    def monotonic(self) -> float:
        return self.run_s

    def wait(self, stop: threading.Event, seconds: float) -> bool:
        raise AssertionError("looking does not wait")

    def run(self, seconds: float) -> None:
        self.at += timedelta(seconds=seconds)
        self.run_s += seconds


@pytest.fixture
def clock() -> Clock:
    return Clock()


@pytest.mark.parametrize("seconds", [0.0, 1.0, 3600.0, 7 * 86400.0])
def test_time_that_runs_is_no_jump_however_long(clock: Clock, seconds: float) -> None:
    eye = ClockEye(clock)
    clock.run(seconds)
    look = eye.look(newest_at=None)
    assert (look.step_s, look.trusted) == (0.0, True)


@pytest.mark.parametrize("step_s", [-3600.0, -3.0, 3.0, 3 * 3600.0])
def test_a_jump_is_seen_with_its_size_and_only_once(clock: Clock, step_s: float) -> None:
    eye = ClockEye(clock)
    clock.run(5.0)
    clock.at += timedelta(seconds=step_s)
    look = eye.look(newest_at=None)
    assert look.step_s == pytest.approx(step_s)
    assert look.trusted
    clock.run(1.0)
    assert eye.look(newest_at=None).step_s == 0.0


@pytest.mark.parametrize("trim_s", [-1.9, 1.9])
def test_a_clock_that_is_trimmed_has_not_jumped(clock: Clock, trim_s: float) -> None:
    eye = ClockEye(clock)
    clock.at += timedelta(seconds=trim_s)
    assert eye.look(newest_at=None).step_s == 0.0


def test_a_clock_days_behind_the_journal_is_not_believed(clock: Clock) -> None:
    """A board without a battery wakes with the time it was last switched off, or worse."""
    eye = ClockEye(clock)
    assert not eye.look(newest_at=START + timedelta(days=2)).trusted
    assert eye.look(newest_at=START + timedelta(hours=2)).trusted


def test_a_wild_jump_is_believed_after_ten_minutes_not_before(clock: Clock) -> None:
    eye = ClockEye(clock)
    clock.at += timedelta(days=40)
    assert not eye.look(newest_at=None).trusted
    clock.run(595.0)
    assert not eye.look(newest_at=None).trusted
    clock.run(10.0)
    assert eye.look(newest_at=None).trusted


def test_a_wild_clock_that_comes_back_is_believed_at_once(clock: Clock) -> None:
    eye = ClockEye(clock)
    clock.at += timedelta(days=40)
    assert not eye.look(newest_at=None).trusted
    clock.run(60.0)
    clock.at -= timedelta(days=40)
    assert eye.look(newest_at=None).trusted
