"""The cooking window: from when to when the empty box is hot enough."""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

from suntrack.plan.records import Window

if TYPE_CHECKING:
    from numpy.typing import NDArray

    from suntrack.plan.grid import Grid


def crossing(values: NDArray[np.float64], level: float, *, last: bool = False) -> float | None:
    """Return where a curve first rises to a level, or (last) finally falls below it.

    Parameters
    ----------
    values : ndarray, shape (n,)
        The curve at 0, 1, ... n - 1.
    level : float
        In the curve's unit.
    last : bool
        Ask for the end of the last stretch at or above the level instead.

    Returns
    -------
    position : float or None
        Between samples by straight lines; None when the curve never gets there, or
        (last) is still there at its end.
    """
    above = np.flatnonzero(values >= level)
    if above.size == 0:
        return None
    inside = int(above[-1] if last else above[0])
    outside = inside + 1 if last else inside - 1
    if outside < 0:
        return float(inside)
    if outside >= values.size:
        return None
    rise = values[inside] - values[outside]
    share = (values[inside] - level) / rise if rise > 0 else 0.0
    return inside + share * (outside - inside)


def cooking_window(empty_c: NDArray[np.float64], *, grid: Grid, threshold_c: float) -> Window:
    """Return the window of an empty box whose air is `empty_c` at the start of each step.  [C]"""
    opens = crossing(empty_c, threshold_c)
    closes = crossing(empty_c, threshold_c, last=True)
    peak = int(empty_c.argmax())
    return Window(
        opens_at=None if opens is None else grid.at(opens),
        closes_at=None if closes is None else grid.at(closes),
        threshold_c=threshold_c,
        peak_c=float(empty_c[peak]),
        peak_at=grid.at(peak),
    )


def longest_above(values: NDArray[np.float64], level: float) -> NDArray[np.intp]:
    """Return the most samples in a row at or above a level, for each curve.

    Parameters
    ----------
    values : ndarray, shape (..., n)
        Curves.
    level : float
        In the curves' unit.

    Returns
    -------
    samples : ndarray of int, shape (...)
        0 for a curve that never gets there.
    """
    above = values >= level
    count = np.arange(1, above.shape[-1] + 1)
    last_below = np.maximum.accumulate(np.where(above, 0, count), axis=-1)
    return np.asarray((count - last_below).max(axis=-1, initial=0))
