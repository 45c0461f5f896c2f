"""Cutting the day into strides."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from suntrack.box.hours import glass_halves, opening_shares, pot_steps, series, stride_counts


@given(st.lists(st.booleans(), min_size=1, max_size=60), st.integers(1, 7))
def test_strides_cover_the_day_and_begin_at_news(breaks: list[bool], longest: int) -> None:
    counts = stride_counts(np.array(breaks), longest=longest)
    starts = np.cumsum([0, *counts[:-1]])
    assert sum(counts) == len(breaks)
    assert min(counts) >= 1
    assert max(counts) <= longest
    assert set(np.flatnonzero(breaks)) <= set(starts.tolist())
    # What is quick happens right after the news, so that step stands alone.
    assert all(counts[int(np.searchsorted(starts, at))] == 1 for at in np.flatnonzero(breaks))


@pytest.mark.parametrize("step_s", [10.0, 45.0, 60.0, 300.0])
def test_the_lid_is_up_for_45_seconds(step_s: float) -> None:
    opened = np.zeros((1, 30), np.bool_)
    opened[0, 4] = True
    shares = opening_shares(opened, step_s=step_s)
    assert shares.sum() * step_s == pytest.approx(45.0)
    assert shares[0, :4].sum() == 0.0


def test_one_glass_shares_its_light_between_its_faces() -> None:
    inner, outer = glass_halves(np.full((1, 5, 1), 8.0), steps=5)
    assert (inner == 4.0).all()
    assert (outer == 4.0).all()


def test_two_glasses_come_outermost_first() -> None:
    inner, outer = glass_halves(np.array([[[7.0, 3.0]]]), steps=1)
    assert (outer[0, 0], inner[0, 0]) == (7.0, 3.0)


def test_a_single_run_may_leave_its_axis_out() -> None:
    panes_w = np.arange(6.0).reshape(3, 2)
    inner, outer = glass_halves(panes_w, steps=3)
    assert outer.tolist() == [[0.0, 2.0, 4.0]]
    assert inner.tolist() == [[1.0, 3.0, 5.0]]


def test_load_steps_of_one_kind_serve_all_pots() -> None:
    assert pot_steps(3, pots=2).tolist() == [[3, 3]]
    assert pot_steps([1, 2], pots=2).tolist() == [[1, 2]]
    assert pot_steps([[1, 2], [3, 4]], pots=2).shape == (2, 2)


def test_one_run_is_plain_floats() -> None:
    assert all(type(value) is float for value in series(np.ones((1, 3))))
    assert [value.shape for value in map(np.asarray, series(np.ones((4, 3))))] == [(4,)] * 3
