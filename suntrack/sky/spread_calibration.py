"""How wide a site's own record says its skies should be dressed.

Chances counted over skies that lie too close together are too sure of themselves.  If what
is foretold is about normal and the true spread is w times the dressed one, a chance p is
really Phi(z / w) with z the normal deviate of p.  The w that makes the record likeliest is
found, held near 1 as long as days are few.
"""

from __future__ import annotations

from math import erfc, sqrt
from statistics import NormalDist
from typing import TYPE_CHECKING

import numpy as np

if TYPE_CHECKING:
    from numpy.typing import ArrayLike, NDArray

ENOUGH_DAYS = 60
"""Before so many days a record says nothing that chance could not (our estimate: with 60 days
differences of the Brier score under about 0.05 are noise).  [days]"""
NARROWEST, WIDEST = 0.6, 1.8
"""As far as a record may move the width (our choice).  [-]"""
PRIOR_SPREAD = 0.25
"""Of the width's logarithm, before the record (our choice).  [-]"""
SUREST = 0.005
"""A hundred skies know no chance nearer to 0 or 1 than this.  [-]"""


def own_width(chance: ArrayLike, came: ArrayLike, *, dressed: ArrayLike = 1.0) -> float:
    """Return the factor on the width of the dressing that a record asks for.

    Parameters
    ----------
    chance, came : array_like, shape (days,)
        The chance given on each day, and 1 or True where it came true.  [-]
    dressed : array_like
        Factor on the width of the skies that each chance was counted over.  [-]

    Returns
    -------
    width : float
        1 with fewer than `ENOUGH_DAYS`; above 1 for chances that were too sure.  [-]

    Raises
    ------
    ValueError
        If the rows do not fit together.
    """
    chances, came_true = np.asarray(chance, np.float64), np.asarray(came, bool)
    if chances.shape != came_true.shape or chances.ndim != 1:
        msg = f"rows of {chances.shape} and {came_true.shape} do not fit together"
        raise ValueError(msg)
    if chances.size < ENOUGH_DAYS:
        return 1.0
    normal = NormalDist()
    z = np.array([normal.inv_cdf(p) for p in np.clip(chances, SUREST, 1.0 - SUREST)])
    # As it would have been over skies of the usual width.
    z = z * np.asarray(dressed, np.float64)
    tried = np.exp(np.linspace(np.log(NARROWEST), np.log(WIDEST), 121))
    likely = [_log_likelihood(z / width, came_true) for width in tried]
    score = np.array(likely) - 0.5 * (np.log(tried) / PRIOR_SPREAD) ** 2
    return float(tried[int(score.argmax())])


def _log_likelihood(deviate: NDArray[np.float64], came: NDArray[np.bool_]) -> float:
    """Return how likely what came is, with chances given as normal deviates."""
    signed = np.where(came, deviate, -deviate)
    chances = np.array([0.5 * erfc(-one / sqrt(2.0)) for one in signed])
    return float(np.log(np.maximum(chances, 1e-12)).sum())
