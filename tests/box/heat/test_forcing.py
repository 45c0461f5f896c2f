"""What drives the simulator, in one shape."""

from __future__ import annotations

import numpy as np

from suntrack.box.heat.forcing import glass_halves, pot_steps


def test_one_glass_shares_its_light_between_its_faces() -> None:
    inner, outer = glass_halves([np.full((1, 5, 1), 8.0)], steps=5)
    assert (inner == 4.0).all()
    assert (outer == 4.0).all()


def test_two_glasses_come_outermost_first() -> None:
    inner, outer = glass_halves([np.array([[[7.0, 3.0]]])], steps=1)
    assert (outer[0, 0, 0], inner[0, 0, 0]) == (7.0, 3.0)


def test_a_single_run_may_leave_its_axis_out() -> None:
    panes_w = np.arange(6.0).reshape(3, 2)
    inner, outer = glass_halves([panes_w], steps=3)
    assert outer[..., 0].tolist() == [[0.0, 2.0, 4.0]]
    assert inner[..., 0].tolist() == [[1.0, 3.0, 5.0]]


def test_openings_may_have_runs_of_their_own_or_share_one() -> None:
    top, front = np.ones((4, 3, 2)), np.zeros((1, 3, 1))
    inner, outer = glass_halves([top, front], steps=3)
    assert inner.shape == outer.shape == (4, 3, 2)
    assert (inner[..., 0] == 1.0).all()
    assert (outer[..., 1] == 0.0).all()


def test_load_steps_of_one_kind_serve_all_pots() -> None:
    assert pot_steps(3, pots=2).tolist() == [[3, 3]]
    assert pot_steps([1, 2], pots=2).tolist() == [[1, 2]]
    assert pot_steps([[1, 2], [3, 4]], pots=2).shape == (2, 2)
