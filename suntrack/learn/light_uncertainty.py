"""How far the light of each hour of a logged day may have been another than it is taken to be."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from suntrack.sky.error_quantiles import DARKEST, measured_departures

if TYPE_CHECKING:
    from numpy.typing import NDArray

HOUR_S = 3600.0
CLEAR_SPREAD = 0.05
"""Of the logarithm, for an hour that is taken as clear because nothing else is known; clouds
are in its tail, on the dark side alone (our choice).  [-]"""
TOLD_SHARE = 0.2
"""For an hour that was told, the share of the measured departure from "as yesterday": the
core of what forecasts miss by, the rest is in the tails.  Of 0.2, 0.3 and 0.55, with and
without tails, this foretold new days best: boxes made up under skies measured at NREL SRRL,
summer 2012, hours told with errors.  [-]"""
DARK = 0.01
"""An hour with less than this share of the brightest one's light has no factor.  [-]"""


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class LightUncertainty:
    """The hours of a day, as `suntrack.box.residuals.LoggedDay` has them."""

    hour: NDArray[np.intp]
    """Which hour each step belongs to, -1 for none, shape (steps,)."""
    spread: NDArray[np.float64]
    """Of the logarithm of each hour's light, shape (hours,).  [-]"""
    only_dimmer: NDArray[np.bool_]
    """True where the hour is taken as clear, shape (hours,)."""


def light_doubt(
    light_w: NDArray[np.float64], index: NDArray[np.float64], *, step_s: float
) -> LightUncertainty:
    """Return how far the light of each hour is to be doubted.

    Parameters
    ----------
    light_w : ndarray, shape (steps,)
        Light in the box.  [W]
    index : ndarray, shape (steps,)
        Clear-sky index that was told; nan where nothing was.  [-]
    step_s : float
        Length of a step.  [s]
    """
    row = np.arange(light_w.size) // max(1, round(HOUR_S / step_s))
    sums = np.bincount(row, weights=light_w)
    lit = sums > DARK * sums.max(initial=0.0)
    told = np.array([_mean_known(index[row == hour]) for hour in np.flatnonzero(lit)])
    return LightUncertainty(
        hour=np.where(lit[row], np.cumsum(lit)[row] - 1, -1),
        spread=np.where(np.isnan(told), CLEAR_SPREAD, told_spread(told)),
        only_dimmer=np.isnan(told),
    )


def told_spread(index: NDArray[np.float64]) -> NDArray[np.float64]:
    """Return how far light that was told may be off, of its logarithm; nan stays nan.  [-]"""
    low, high = measured_departures().at(index[:, None], np.array([-1.0, 1.0])).T
    spread = TOLD_SHARE * (high - low) / 2.0 / np.maximum(index, 2.0 * DARKEST)
    return np.where(np.isnan(index), np.nan, spread)


def _mean_known(values: NDArray[np.float64]) -> float:
    known = values[~np.isnan(values)]
    return float(known.mean()) if known.size else np.nan
