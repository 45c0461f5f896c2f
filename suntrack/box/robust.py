"""How much readings count: none leads a fit astray, and many together are not many apart."""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

if TYPE_CHECKING:
    from collections.abc import Sequence

    from numpy.typing import NDArray

READING_K = 2.5
"""How far a reading may be off: an oven thermometer is read to 5 F.  [K]"""
OUTLIER = 2.0
"""Readings further off than so many spreads pull less and less: an open lid.  [-]"""
FEWEST = 3
"""Pairs of readings, fewer of which do not tell whether they miss together (our choice).  [-]"""


def worsening(
    off_k: Sequence[NDArray[np.float64]], at_step: Sequence[NDArray[np.float64]]
) -> float:
    """Return by what the variance of readings is larger than it was taken to be, at least 1.

    Parameters
    ----------
    off_k : sequence of ndarray
        Model less reading of each day, in order of time.  [K]
    at_step : sequence of ndarray
        When each was read.  [-]

    Returns
    -------
    worse : float
        Mean square in `READING_K`, times (1 + r) / (1 - r) with r the correlation of misses
        that follow each other: the variance of a mean of an AR(1) series against that of
        independent ones.  [-]
    """
    every = np.clip(np.concatenate(list(off_k)) / READING_K, -2.0 * OUTLIER, 2.0 * OUTLIER)
    square = float(np.mean(every**2))
    pairs = [
        (one[:-1] * one[1:])[np.diff(at) > 0.0]
        for one, at in zip(off_k, at_step, strict=True)
        if one.size > 1
    ]
    together = np.concatenate(pairs) if pairs else np.zeros(0)
    if together.size < FEWEST or square == 0.0:
        return max(1.0, square)
    alike = float(np.clip(np.mean(together) / (READING_K**2 * square), 0.0, 0.9))
    return max(1.0, square * (1.0 + alike) / (1.0 - alike))


def soft(misses: NDArray[np.float64], tail: float) -> NDArray[np.float64]:
    """Return misses, in spreads, whose squares grow straight in the tails.

    The soft loss 2 c2 (sqrt(1 + z2 / c2) - 1), signed root of it.
    """
    root = np.sqrt(1.0 + (misses / tail) ** 2)
    return np.asarray(np.sign(misses) * tail * np.sqrt(2.0 * (root - 1.0)))


def soft_slope(misses: NDArray[np.float64], tail: float) -> NDArray[np.float64]:
    """Return the derivative of `soft`."""
    root = np.sqrt(1.0 + (misses / tail) ** 2)
    value = np.abs(soft(misses, tail))
    small = value < 1e-6
    return np.where(small, 1.0, np.abs(misses) / (root * np.where(small, 1.0, value)))


def weights(at_step: NDArray[np.float64], *, step_s: float) -> NDArray[np.float64]:
    """Return the weight of each reading: those in one stretch of ten minutes share one."""
    stretch = np.floor(at_step * step_s / 600.0)
    _, where, count = np.unique(stretch, return_inverse=True, return_counts=True)
    return np.asarray(1.0 / np.sqrt(count[where]))
