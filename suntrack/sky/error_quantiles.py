"""How the sky departs from what was foreseen: tables of measured clear-sky indices.

The clear-sky index is the light that falls on level ground, in shares of what a cloudless
sky would give.  For each index that was foreseen a table holds the quantiles of what then
was measured; hours near each other depart together.  The table that ships is in
`error_quantiles.toml`, whose head says from which data and by which script it was made.
"""

from __future__ import annotations

import tomllib
from dataclasses import dataclass
from functools import cache
from importlib.resources import files
from statistics import NormalDist
from typing import TYPE_CHECKING

import numpy as np

if TYPE_CHECKING:
    from collections.abc import Sequence

    from numpy.typing import ArrayLike, NDArray

EDGES = (0.0, 0.2, 0.4, 0.6, 0.8, 0.9, 1.0, np.inf)
"""Bins of the foreseen index; finer where most hours lie.  [-]"""
LEVELS = (0.01, 0.025, *(round(0.05 * i, 2) for i in range(1, 20)), 0.975, 0.99)
"""Shares of hours below each quantile of the table.  [-]"""
DARKEST, BRIGHTEST = 0.05, 1.1
"""Least and greatest index of a made-up hour: measured clear days stand up to 7 % above the
clear-sky model, and the darkest cloud still lets some light through.  [-]"""
ALL_DAY, FADES = 0.40, 0.6
"""Share of the departures that a whole day has in common, and what is left of the rest
after each hour: fits the seven correlations measured at seven US stations of 2018, 1 to 7
hours apart, within 0.02.  [-]"""


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class ErrorQuantiles:
    """What is measured where an index was foreseen."""

    foreseen: NDArray[np.float64]
    """Mean foreseen index of each bin, ascending, shape (bins,).  [-]"""
    levels: NDArray[np.float64]
    """Share of hours below each quantile, ascending within 0 to 1, shape (levels,).  [-]"""
    measured: NDArray[np.float64]
    """Quantiles of the measured index, shape (bins, levels).  [-]"""
    usual: NDArray[np.float64]
    """The same where nothing was foreseen, shape (levels,).  [-]"""

    def __post_init__(self) -> None:
        """Refuse tables that are out of order or of the wrong shape."""
        if self.measured.shape != (self.foreseen.size, self.levels.size):
            raise ValueError(f"the table has the shape {self.measured.shape}")
        if self.usual.shape != self.levels.shape:
            raise ValueError(f"the usual sky has {self.usual.size} quantiles")
        rows = (self.foreseen, self.levels, self.usual, self.measured)
        if any(np.any(np.diff(row, axis=-1) < 0.0) for row in rows):
            raise ValueError("bins, levels and quantiles have to ascend")
        if not (self.levels[0] > 0.0 and self.levels[-1] < 1.0):
            raise ValueError("levels lie between 0 and 1")

    @property
    def normal_levels(self) -> NDArray[np.float64]:
        """The standard normal number that each level's share of all lies under.  [-]"""
        return np.array([NormalDist().inv_cdf(level) for level in self.levels.tolist()])

    def at(self, foreseen: ArrayLike, normal: ArrayLike) -> NDArray[np.float64]:
        """Return the measured index that belongs to a standard normal number.

        Parameters
        ----------
        foreseen : array_like
            The index that was foreseen; nan where nothing was.  [-]
        normal : array_like
            Standard normal numbers, broadcast with `foreseen`: 0 asks for the median,
            -1.28 for the quantile that a tenth of such hours stays under.  [-]

        Returns
        -------
        index : ndarray
            By straight lines between the bins and between the quantiles; beyond them the
            outermost.  [-]
        """
        index, normal = np.broadcast_arrays(
            np.asarray(foreseen, np.float64), np.asarray(normal, np.float64)
        )
        known = np.where(np.isnan(index), 1.0, index)
        row, row_share = _place(known, self.foreseen)
        level, level_share = _place(normal, self.normal_levels)
        low = _between(self.measured[row, level], self.measured[row, level + 1], level_share)
        high = _between(
            self.measured[row + 1, level], self.measured[row + 1, level + 1], level_share
        )
        usual = _between(self.usual[level], self.usual[level + 1], level_share)
        return np.where(np.isnan(index), usual, _between(low, high, row_share))


def fit_departures(
    foreseen: ArrayLike,
    measured: ArrayLike,
    *,
    edges: Sequence[float] = EDGES,
    levels: Sequence[float] = LEVELS,
) -> ErrorQuantiles:
    """Return the table of pairs of foreseen and measured indices.

    Parameters
    ----------
    foreseen, measured : array_like, shape (hours,)
        Pairs with a nan in them are left out.  [-]
    edges : sequence of float
        Bins of the foreseen index, each closed below and open above.  [-]
    levels : sequence of float
        Share of hours below each quantile, between 0 and 1.  [-]

    Returns
    -------
    departures : Departures
        Quantiles are cut at the darkest and the brightest index.

    Raises
    ------
    ValueError
        If a bin holds no pair.
    """
    first, then = np.asarray(foreseen, np.float64), np.asarray(measured, np.float64)
    both = ~(np.isnan(first) | np.isnan(then))
    first, then = first[both], then[both]
    bins = np.digitize(first, edges) - 1
    members = [bins == i for i in range(len(edges) - 1)]
    empty = [f"{edges[i]} to {edges[i + 1]}" for i, one in enumerate(members) if not one.any()]
    if empty:
        raise ValueError(f"no pair with a foreseen index of {', '.join(empty)}")
    quantiles = np.stack([np.quantile(then[one], levels) for one in members])
    return ErrorQuantiles(
        foreseen=np.array([first[one].mean() for one in members]),
        levels=np.asarray(levels, np.float64),
        measured=np.clip(quantiles, DARKEST, BRIGHTEST),
        usual=np.clip(np.quantile(then, levels), DARKEST, BRIGHTEST),
    )


@cache
def measured_departures() -> ErrorQuantiles:
    """Return the table that ships: a day's index foretold by the day before."""
    text = files("suntrack.sky").joinpath("error_quantiles.toml").read_text(encoding="utf-8")
    table = tomllib.loads(text)
    bins = table["bin"]
    return ErrorQuantiles(
        foreseen=np.array([row["foreseen"] for row in bins]),
        levels=np.array(table["levels"]),
        measured=np.array([row["measured"] for row in bins]),
        usual=np.array(table["usual"]),
    )


def hour_correlation(apart_h: ArrayLike) -> NDArray[np.float64]:
    r"""Return how alike two hours depart: :math:`R(l) = 0.40 + 0.60 \cdot 0.6^l`.

    Parameters
    ----------
    apart_h : array_like
        Hours between them, 0 or more; the sign does not count.  [h]

    Returns
    -------
    correlation : ndarray
        Of standard normal numbers, 1 at 0 hours.  [-]
    """
    return np.asarray(ALL_DAY + (1.0 - ALL_DAY) * FADES ** np.abs(np.asarray(apart_h, np.float64)))


def correlated_normals(
    random: np.random.Generator, *, at_h: NDArray[np.float64], skies: int
) -> NDArray[np.float64]:
    """Return standard normal numbers, correlated over the hours, shape (skies, hours).

    Parameters
    ----------
    random : numpy.random.Generator
        Where the chance comes from.
    at_h : ndarray, shape (hours,)
        The hours, ascending.  [h]
    skies : int
        How many rows to draw.
    """
    correlation = hour_correlation(at_h[:, None] - at_h[None, :])
    return random.standard_normal((skies, at_h.size)) @ np.linalg.cholesky(correlation).T


def _place(
    values: NDArray[np.float64], marks: NDArray[np.float64]
) -> tuple[NDArray[np.intp], NDArray[np.float64]]:
    """Return the mark before each value, and how far it is on the way to the next."""
    before = np.clip(np.searchsorted(marks, values, side="right") - 1, 0, marks.size - 2)
    share = (values - marks[before]) / (marks[before + 1] - marks[before])
    return before, np.clip(share, 0.0, 1.0)


def _between(
    low: NDArray[np.float64], high: NDArray[np.float64], share: NDArray[np.float64]
) -> NDArray[np.float64]:
    """Return the point on a straight line."""
    return np.asarray(low + share * (high - low))
