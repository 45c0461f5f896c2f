"""What drives the simulator, brought into one shape.

Everything that varies from run to run may be given for one run only.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

if TYPE_CHECKING:
    from collections.abc import Sequence

    from numpy.typing import ArrayLike, NDArray

    from suntrack.box.heat.integrate import Drive


def check_shapes(drive: Drive) -> int:
    """Return the number of runs.

    Parameters
    ----------
    drive : Drive
        Each array with one row for all runs, one for each, or a number that divides theirs.

    Returns
    -------
    runs : int
        At least 1.  [-]

    Raises
    ------
    ValueError
        If a length of time is not above 0, or the shapes do not fit together.
    """
    if not (drive.step_s > 0 and drive.longest_s > 0):
        msg = f"step_s is {drive.step_s}, longest_s {drive.longest_s}; both have to be above 0"
        raise ValueError(msg)
    arrays = [part for part in drive if isinstance(part, np.ndarray)]
    runs = int(max(part.shape[0] for part in arrays))
    steps = drive.inside_w.shape[1]
    timed = [*drive[:6], drive.opened]
    uneven = [part for part in arrays if runs % part.shape[0]]
    if uneven or {part.shape[1] for part in timed} != {steps}:
        shapes = sorted({part.shape for part in arrays})
        msg = f"runs and steps do not fit together: {shapes}"
        raise ValueError(msg)
    return runs


def light_in_j(drive: Drive, *, runs: int) -> NDArray[np.float64]:
    """Return all light absorbed, shape (runs,).  [J]"""
    panes_w = drive.inner_w.sum(axis=(1, 2)) + drive.outer_w.sum(axis=(1, 2))
    total_w = np.resize(drive.inside_w.sum(axis=1), runs) + np.resize(panes_w, runs)
    return np.asarray(total_w * drive.step_s)


def glass_halves(
    openings: Sequence[ArrayLike], *, steps: int
) -> tuple[NDArray[np.float64], NDArray[np.float64]]:
    """Return the light in inner and outer glasses; one glass is cut in half.

    Parameters
    ----------
    openings : sequence of array_like
        For each opening shape (..., steps, glasses), outermost glass first.  [W]
    steps : int
        Steps of the day.  [-]

    Returns
    -------
    inner_w, outer_w : ndarray
        Shape (runs or 1, steps, openings).  [W]
    """
    inner, outer = [], []
    for panes_w in openings:
        panes = np.asarray(panes_w, np.float64)
        panes = panes.reshape(-1, steps, panes.shape[-1])
        single = panes.shape[-1] == 1
        inner.append(0.5 * panes[..., 0] if single else panes[..., 1])
        outer.append(0.5 * panes[..., 0] if single else panes[..., 0])
    return _side_by_side(inner), _side_by_side(outer)


def _side_by_side(openings: Sequence[NDArray[np.float64]]) -> NDArray[np.float64]:
    """Return openings of (runs or 1, steps) as one array of (runs or 1, steps, openings)."""
    return np.ascontiguousarray(np.stack(np.broadcast_arrays(*openings), axis=-1))


def pot_steps(value: ArrayLike, *, pots: int) -> NDArray[np.intp]:
    """Return load or pull steps in the shape (runs or 1, pots)."""
    steps = np.atleast_1d(np.asarray(value, np.intp))
    if steps.ndim == 1:
        steps = steps[None, :]
    return np.ascontiguousarray(np.broadcast_to(steps, (steps.shape[0], pots)))
