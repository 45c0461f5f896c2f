"""The shells of a solid piece, and the lumped pot, against exact solutions."""

from __future__ import annotations

from math import exp, log

import numpy as np
import pytest
from scipy.linalg import expm

from suntrack.box.heat.solid_nodes import hang_shells, move_shells
from suntrack.box.heat.structs import BENCH, POT_ROWS, STATE, blank


def warm(
    stores: list[float],
    links: list[float],
    *,
    step_s: float,
    start_c: float,
    pot_c: float,
    steps: int,
) -> list[float]:
    """Return the shells after so many steps in a pot that keeps its temperature."""
    count = len(stores)
    pots, state, bench = blank(POT_ROWS), blank(STATE), blank(BENCH)
    pots.shells[0] = count
    pots.shell_j_k[0, :count], pots.shell_w_k[0, :count] = stores, links
    state.shells[0, :count] = start_c
    for _ in range(steps):
        hang_shells(state, bench, pots, 0, step_s)
        bench.moments.pots[0] = pot_c
        move_shells(state, bench, pots, 0)
    return [float(shell) for shell in state.shells[0, :count]]


def grip_w_k(store_j_k: float, link_w_k: float, *, step_s: float) -> float:
    """Return what one shell adds to the pot's own equation."""
    pots, state, bench = blank(POT_ROWS), blank(STATE), blank(BENCH)
    pots.shells[0], pots.shell_j_k[0, 0], pots.shell_w_k[0, 0] = 1, store_j_k, link_w_k
    hang_shells(state, bench, pots, 0, step_s)
    return float(bench.pivots.pots[0])


@pytest.mark.parametrize(
    ("room_c", "reach_c", "hours"),
    [
        (100, 60, 0.86),
        (120, 60, 0.65),
        (150, 60, 0.48),
        (100, 90, 2.3),
        (120, 90, 1.3),
        (150, 90, 0.9),
    ],
)
def test_lumped_pot(room_c: float, reach_c: float, hours: float) -> None:
    """2.3 kg stew and 2.5 kg iron, UA 2.7 W/K, from 5 C (closed form, as in the reference).

    The table rounds to two digits; the time constant is one hour.
    """
    store_j_k = 2.7 * 3600.0
    exact_h = log((room_c - 5.0) / (room_c - reach_c))
    assert exact_h == pytest.approx(hours, abs=0.06)
    found = warm([store_j_k], [2.7], step_s=exact_h * 60.0, start_c=5.0, pot_c=room_c, steps=60)
    assert found[0] == pytest.approx(reach_c, abs=0.05)


def test_shells_follow_the_matrix_exponential() -> None:
    """A linear row of shells has an exact solution, by scipy.linalg.expm."""
    stores, links = np.array([150.0, 500.0, 900.0]), np.array([3.0, 5.0, 8.0])
    rates = np.array(
        [
            [-links[0], links[0], 0.0],
            [links[0], -links[0] - links[1], links[1]],
            [0.0, links[1], -links[1] - links[2]],
        ]
    )
    exact = 95.0 - expm(rates / stores[:, None] * 1200.0) @ np.full(3, 85.0)
    found = warm(stores.tolist(), links.tolist(), step_s=30.0, start_c=10.0, pot_c=95.0, steps=40)
    # Second order in a step of 30 s: well below what a thermometer shows.
    assert np.allclose(found, exact, atol=0.15)


def test_quick_shell_does_not_ring() -> None:
    """A step of many time constants must creep up to the pot, never past it."""
    found = [
        warm([20.0], [9.0], step_s=60.0, start_c=10.0, pot_c=90.0, steps=n)[0] for n in range(6)
    ]
    assert found == sorted(found)
    assert max(found) <= 90.0


def test_grip_is_the_conductance_of_the_row_in_a_long_step() -> None:
    """In an endless step the shells follow the pot and take nothing from it."""
    assert grip_w_k(100.0, 5.0, step_s=1e9) == pytest.approx(0.0, abs=1e-6)
    assert grip_w_k(1e12, 5.0, step_s=60.0) == pytest.approx(5.0, rel=1e-6)


def test_slow_store_is_exact_to_second_order() -> None:
    """One step of a tenth of the time constant: midpoint rule against exp(-0.1)."""
    found = warm([600.0], [1.0], step_s=60.0, start_c=0.0, pot_c=1.0, steps=1)[0]
    assert found == pytest.approx(1.0 - exp(-0.1), abs=1e-4)
