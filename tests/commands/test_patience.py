"""Ctrl-C while a plan is made: once for the best so far, twice to leave."""

from __future__ import annotations

import os
import signal
import threading
from collections.abc import Iterator

import pytest

from suntrack.commands.patience import patience


@pytest.fixture(autouse=True)
def as_in_a_terminal() -> Iterator[None]:
    """Listen to Ctrl-C, as a program in the background would not."""
    before = signal.signal(signal.SIGINT, signal.default_int_handler)
    yield
    signal.signal(signal.SIGINT, before)


def test_the_first_time_asks_for_the_best_so_far_and_the_second_leaves() -> None:
    with pytest.raises(KeyboardInterrupt), patience() as stop:
        assert not stop()
        os.kill(os.getpid(), signal.SIGINT)
        assert stop()
        os.kill(os.getpid(), signal.SIGINT)


def test_afterwards_everything_is_as_before() -> None:
    before = signal.getsignal(signal.SIGINT)
    with patience():
        assert signal.getsignal(signal.SIGINT) is not before
    assert signal.getsignal(signal.SIGINT) is before


def test_elsewhere_than_in_the_main_thread_nothing_is_touched() -> None:
    found: list[bool] = []

    def work() -> None:
        with patience() as stop:
            found.append(stop())

    thread = threading.Thread(target=work)
    thread.start()
    thread.join()
    assert found == [False]


def test_a_program_in_the_background_goes_on_ignoring_it() -> None:
    signal.signal(signal.SIGINT, signal.SIG_IGN)
    with patience():
        assert signal.getsignal(signal.SIGINT) == signal.SIG_IGN
