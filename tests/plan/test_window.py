"""The cooking window on curves drawn by hand."""

from __future__ import annotations

from datetime import UTC, datetime, timedelta
from zoneinfo import ZoneInfo

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from suntrack.plan.grid import Grid
from suntrack.plan.window import cooking_window, crossing

START = datetime(2026, 6, 1, 6, 0, tzinfo=UTC)
GRID = Grid(starts_s=START.timestamp(), step_s=600.0, steps=60, zone=ZoneInfo("Africa/Gaborone"))


@pytest.mark.parametrize(
    ("values", "level", "last", "expected"),
    [
        ([0, 10, 20, 10, 0], 15.0, False, 1.5),
        ([0, 10, 20, 10, 0], 15.0, True, 2.5),
        ([0, 20, 0, 20, 0], 10.0, False, 0.5),
        ([0, 20, 0, 20, 0], 10.0, True, 3.5),
        ([20, 10, 0], 5.0, False, 0.0),
        ([0, 10, 20], 5.0, True, None),
        ([0, 1, 2], 5.0, False, None),
    ],
)
def test_crossings_are_found_between_samples(
    values: list[float], level: float, last: bool, expected: float | None
) -> None:
    assert crossing(np.array(values, float), level, last=last) == expected


@given(peak=st.floats(50.0, 180.0), threshold=st.floats(40.0, 120.0))
def test_hotter_threshold_never_opens_earlier(peak: float, threshold: float) -> None:
    empty_c = 20.0 + (peak - 20.0) * np.sin(np.linspace(0.0, np.pi, GRID.steps + 1))
    low = cooking_window(empty_c, grid=GRID, threshold_c=threshold)
    high = cooking_window(empty_c, grid=GRID, threshold_c=threshold + 10.0)
    assert low.peak_c <= peak
    if high.opens_at and low.opens_at and low.closes_at and high.closes_at:
        assert low.opens_at <= high.opens_at <= high.closes_at <= low.closes_at
    assert not (low.opens_at is None and high.opens_at is not None)


def test_a_box_that_stays_cool_has_no_window() -> None:
    window = cooking_window(np.full(61, 60.0), grid=GRID, threshold_c=90.0)
    assert window.opens_at is None
    assert window.closes_at is None
    assert window.peak_c == 60.0


@given(minutes=st.integers(0, 600))
def test_steps_and_instants_agree(minutes: int) -> None:
    at = START + timedelta(minutes=minutes)
    step = GRID.step(at)
    assert GRID.at(step) <= at
    assert GRID.at(GRID.step_after(at)) >= at or GRID.step_after(at) == GRID.steps
    assert GRID.at(step).utcoffset() == timedelta(hours=2)
