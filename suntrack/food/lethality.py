"""The beef table of the inspected plants as a formula: to be shown, never to be credited.

It is here because cooks ask why 60 C for a quarter of an hour is not enough.  The table
is for cooked, roast and corned beef in damp ovens, with records kept; it must not be used
for poultry, and a study could not confirm its coldest rows.  So nothing in
`suntrack.food.safety` reads this module.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

if TYPE_CHECKING:
    from numpy.typing import ArrayLike, NDArray

D60_MIN = 1.731
"""Minutes at 60 C for a tenfold reduction, from the 6.5-log column.  [min]"""
Z_C = 5.556
"""10 F: the whole column is 85 s x 10^((149 - F)/10).  [K]"""
FLOOR_C = 57.0
"""Nothing is counted below: the times did not hold at 54.4 C (Meat and Muscle Biology,
article 9048, found abstract).  [C]"""


def beef_lethality_log10(core_c: ArrayLike, *, step_s: float) -> NDArray[np.float64]:
    r"""Return the tenfold reductions of Salmonella in beef so far, by the FSIS table.

    Parameters
    ----------
    core_c : array_like, shape (..., steps + 1)
        Core at the start and after each step; nan stays nan.  [C]
    step_s : float
        Length of a step.  [s]

    Returns
    -------
    logs : ndarray, shape (..., steps + 1)
        By the trapezoid rule; starts at 0.  [-]

    Notes
    -----
    :math:`\int dt / D(T)`, :math:`D = 1.731 \cdot 10^{(60 - T)/5.556}` minutes, fitted to
    FSIS Appendix A, 1999, 6.5-log column (found copy, rhosey.com/usda_cooking_guideline).
    """
    core = np.asarray(core_c, np.float64)
    rate = np.where(core < FLOOR_C, 0.0, 10.0 ** ((core - 60.0) / Z_C) / D60_MIN)
    middles = (rate[..., 1:] + rate[..., :-1]) / 2.0
    logs = np.zeros_like(rate)
    np.cumsum(middles * (step_s / 60.0), axis=-1, out=logs[..., 1:])
    return logs
