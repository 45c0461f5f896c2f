"""The timer: wakes at the last moment it was given, and holds nothing else."""

from __future__ import annotations

import threading
from collections.abc import Iterator
from datetime import timedelta

import pytest

from suntrack.clock import SystemClock
from suntrack.watch.ticking import WakeTimer

NOW = SystemClock().now


@pytest.fixture
def woken() -> threading.Event:
    return threading.Event()


@pytest.fixture
def timer(woken: threading.Event) -> Iterator[WakeTimer]:
    made = WakeTimer(woken.set)
    made.start()
    yield made
    made.stop()


def test_a_nearer_moment_takes_the_place_of_a_far_one(
    timer: WakeTimer, woken: threading.Event
) -> None:
    timer.set(NOW() + timedelta(hours=5))
    timer.set(NOW() + timedelta(seconds=0.1))
    assert woken.wait(30)


def test_a_moment_that_is_past_wakes_at_once_however_late(
    timer: WakeTimer, woken: threading.Event
) -> None:
    """The library's own default drops what is more than a second late."""
    timer.set(NOW() - timedelta(hours=3))
    assert woken.wait(30)


def test_it_holds_one_moment_or_none(timer: WakeTimer) -> None:
    for hours in (1, 2, 3):
        timer.set(NOW() + timedelta(hours=hours))
    assert len(timer._scheduler.get_jobs()) == 1
    timer.set(None)
    assert timer._scheduler.get_jobs() == []


def test_it_can_be_stopped_at_the_very_moment_it_fires(woken: threading.Event) -> None:
    """An error in the library's thread fails the test: warnings are errors here."""
    for _ in range(200):
        timer = WakeTimer(woken.set)
        timer.start()
        timer.set(NOW())
        woken.wait(30)
        timer.stop()
        woken.clear()
