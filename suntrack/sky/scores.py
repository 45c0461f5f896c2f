"""How good chances were: scores of forecasts once the day has come.

Low is good for every score here.  With 60 days a difference in the Brier score of less
than about 0.05 is chance (our estimate).
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

if TYPE_CHECKING:
    from collections.abc import Sequence

    from numpy.typing import ArrayLike, NDArray

FIVE_BINS = (0.0, 0.2, 0.4, 0.6, 0.8, 1.0)


@dataclass(frozen=True, slots=True, kw_only=True)
class Bin:
    """One row of a reliability table."""

    count: int
    """How many fell into it."""
    foretold: float
    """Mean chance that was given.  [-]"""
    came: float
    """Share of days on which it came true.  [-]"""


@dataclass(frozen=True, slots=True, kw_only=True)
class Parts:
    """Murphy's parts of a Brier score: reliability - resolution + uncertainty."""

    reliability: float
    """How far said and came are apart; small is good.  [-]"""
    resolution: float
    """How far outcomes differ with what was said; large is good.  [-]"""
    uncertainty: float
    """Of the outcomes themselves.  [-]"""

    @property
    def brier(self) -> float:
        """The score that the parts add up to."""
        return self.reliability - self.resolution + self.uncertainty


def brier(chance: ArrayLike, came: ArrayLike) -> float:
    """Return the mean squared distance of chances from what came, 0 to 1.

    Parameters
    ----------
    chance, came : array_like, shape (days,)
        The chance given, and 1 or True where it came true.  [-]

    Raises
    ------
    ValueError
        If there is no day.

    References
    ----------
    .. [1] G. W. Brier 1950, "Verification of forecasts expressed in terms of probability",
       Monthly Weather Review 78(1).
    """
    chances, came_true = _days(chance, came)
    return float(np.mean((chances - came_true) ** 2))


def reliability(
    chance: ArrayLike, came: ArrayLike, *, edges: Sequence[float] = FIVE_BINS
) -> tuple[Bin, ...]:
    """Return what came true for each bin of chances; bins without a day are left out.

    The last bin holds its upper edge too.
    """
    chances, came_true = _days(chance, came)
    last = len(edges) - 2
    where = np.clip(np.digitize(chances, edges) - 1, 0, last)
    members = (where == i for i in range(last + 1))
    return tuple(
        Bin(
            count=int(one.sum()),
            foretold=float(chances[one].mean()),
            came=float(came_true[one].mean()),
        )
        for one in members
        if one.any()
    )


def murphy_parts(chance: ArrayLike, came: ArrayLike) -> Parts:
    """Return the parts of a Brier score, every different chance a bin of its own.

    References
    ----------
    .. [1] A. H. Murphy 1973, "A new vector partition of the probability score", Journal of
       Applied Meteorology 12(4).  Equation from memory.
    """
    chances, came_true = _days(chance, came)
    base = came_true.mean()
    _, where = np.unique(chances, return_inverse=True)
    days = np.bincount(where)
    foretold, then = (np.bincount(where, weights=row) / days for row in (chances, came_true))
    share = days / chances.size
    return Parts(
        reliability=float(np.sum(share * (foretold - then) ** 2)),
        resolution=float(np.sum(share * (then - base) ** 2)),
        uncertainty=float(base * (1.0 - base)),
    )


def fair_crps(members: ArrayLike, value: ArrayLike) -> NDArray[np.float64]:
    r"""Return the continuous ranked probability score of members, in their own unit.

    Parameters
    ----------
    members : array_like, shape (..., members)
        At least two equally likely values.
    value : array_like, shape (...)
        What came.

    Returns
    -------
    score : ndarray, shape (...)
        :math:`\frac1m \sum_i |x_i - y| - \frac{1}{m(m-1)} \sum_i (2i - m - 1) x_{(i)}`, which
        does not punish having few members [1]_.

    Raises
    ------
    ValueError
        If there are fewer than two members.

    References
    ----------
    .. [1] C. A. T. Ferro 2014, "Fair scores for ensemble forecasts", Quarterly Journal of
       the Royal Meteorological Society 140.  From memory.
    """
    rows = np.sort(np.asarray(members, np.float64), axis=-1)
    count = rows.shape[-1]
    if count < 2:
        raise ValueError("the fair score asks for at least two members")
    away = np.abs(rows - np.asarray(value, np.float64)[..., None]).mean(axis=-1)
    weight = 2.0 * np.arange(1, count + 1) - count - 1.0
    return np.asarray(away - (rows * weight).sum(axis=-1) / (count * (count - 1.0)))


def _days(chance: ArrayLike, came: ArrayLike) -> tuple[NDArray[np.float64], NDArray[np.float64]]:
    """Return both rows as floats; refuse rows that do not fit together."""
    chances, came_true = np.asarray(chance, np.float64), np.asarray(came, np.float64)
    if chances.shape != came_true.shape or chances.ndim != 1 or not chances.size:
        raise ValueError(f"rows of {chances.shape} and {came_true.shape}; give one day or more")
    return chances, came_true
