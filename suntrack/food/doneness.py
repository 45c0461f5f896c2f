r"""Doneness: the cook value of a core, and the share of the way to done.

The cook value :math:`C = \int 10^{(T - 100)/z} dt` (Mansfield 1962, from memory) counts
minutes as if at 100 C, with the food's own z: beans soften ten times slower for every
19 degrees less, collagen for every 33.  Safety is another integral, in
`suntrack.food.safety`; the two are never merged.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

from suntrack.food.dish import CookValue, CoreReaches

if TYPE_CHECKING:
    from numpy.typing import NDArray

REFERENCE_C = 100.0
COLD_C = 20.0
"""Where the way to a core temperature is counted from.  [C]"""


def cook_value_min(
    core_c: NDArray[np.float64], *, step_s: float, z_c: float, floor_c: float
) -> NDArray[np.float64]:
    """Return the cook value so far at each moment.

    Parameters
    ----------
    core_c : ndarray, shape (..., steps + 1)
        Core at the start and after each step.  [C]
    step_s : float
        Length of a step.  [s]
    z_c : float
        Degrees that change the rate tenfold, above 0.  [K]
    floor_c : float
        Below this nothing is credited.  [C]

    Returns
    -------
    minutes : ndarray, shape (..., steps + 1)
        Equivalent minutes at 100 C, by the trapezoid rule; starts at 0.  [min]
    """
    rate = np.where(core_c >= floor_c, 10.0 ** ((core_c - REFERENCE_C) / z_c), 0.0)
    middles = (rate[..., 1:] + rate[..., :-1]) / 2.0
    minutes = np.zeros_like(rate)
    np.cumsum(middles * (step_s / 60.0), axis=-1, out=minutes[..., 1:])
    return minutes


def done_share(
    core_c: NDArray[np.float64], *, step_s: float, doneness: CookValue | CoreReaches
) -> NDArray[np.float64]:
    """Return the share of the way to done at each moment; 1 and more is done.

    Parameters
    ----------
    core_c : ndarray, shape (..., steps + 1)
        Core at the start and after each step.  [C]
    step_s : float
        Length of a step.  [s]
    doneness : CookValue or CoreReaches

    Returns
    -------
    share : ndarray, shape (..., steps + 1)
        Never falls: what is done stays done.  [-]
    """
    if isinstance(doneness, CookValue):
        minutes = cook_value_min(core_c, step_s=step_s, z_c=doneness.z_c, floor_c=doneness.floor_c)
        return minutes / doneness.minutes
    hottest = np.maximum.accumulate(core_c, axis=-1)
    return np.maximum(hottest - COLD_C, 0.0) / (doneness.core_c - COLD_C)


def boiled_requirement_min(minutes: float, *, z_c: float, home_boiling_c: float) -> float:
    """Return the cook value that a kitchen recipe "boil for so long" gives small pieces.  [min]

    Small pieces (grains, pulses, diced vegetables) are as hot as the water around them,
    so boiling at home is worth `minutes` at the home's own boiling point.
    """
    return float(minutes * 10.0 ** ((home_boiling_c - REFERENCE_C) / z_c))


def minutes_at(temperature_c: float, *, requirement_min: float, z_c: float) -> float:
    """Return how long a steady temperature takes for a cook value.  [min]"""
    return float(requirement_min * 10.0 ** ((REFERENCE_C - temperature_c) / z_c))
