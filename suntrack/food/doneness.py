r"""Doneness: the cook value of a core, and the share of the way to done.

The cook value :math:`C = \int 10^{(T - 100)/z} dt` (Mansfield 1962, from memory) counts
minutes as if at 100 C, with the food's own z: beans soften ten times slower for every
19 degrees less, collagen for every 33.  Safety is another integral, in
`suntrack.food.safety`; the two are never merged.  Which z and how many minutes belong to a
dish is in `dishes.toml`.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

from suntrack.food.core import core_history
from suntrack.food.dish import CookValue, CoreReaches

if TYPE_CHECKING:
    from numpy.typing import ArrayLike, NDArray

    from suntrack.food.core import SolidNodes

REFERENCE_C = 100.0
COLD_C = 20.0
"""Where the way to a core temperature is counted from.  [C]"""
RECIPE_STEP_S = 10.0
"""About how finely a kitchen recipe is run.  [s]"""
GAS_KJ_MOLK = 8.314462618e-3
"""CODATA 2018.  [kJ/(mol K)]"""


def cook_value_min(
    core_c: ArrayLike, *, step_s: float, z_c: float, floor_c: float
) -> NDArray[np.float64]:
    """Return the cook value so far at each moment.

    Parameters
    ----------
    core_c : array_like, shape (..., steps + 1)
        Core at the start and after each step; nan makes all after it nan.  [C]
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

    Raises
    ------
    ValueError
        If z is not above 0.
    """
    if not z_c > 0.0:
        msg = f"z_c is {z_c}; it has to be above 0"
        raise ValueError(msg)
    core = np.asarray(core_c, np.float64)
    # exp is several times quicker than a power of ten, and this runs for every planned day.
    rate: NDArray[np.float64] = np.exp((core - REFERENCE_C) * (np.log(10.0) / z_c))
    rate[core < floor_c] = 0.0
    middles = (rate[..., 1:] + rate[..., :-1]) / 2.0
    minutes = np.zeros_like(rate)
    np.cumsum(middles * (step_s / 60.0), axis=-1, out=minutes[..., 1:])
    return minutes


def done_share(
    core_c: ArrayLike, *, step_s: float, doneness: CookValue | CoreReaches
) -> NDArray[np.float64]:
    """Return the share of the way to done at each moment; 1 is done.

    Parameters
    ----------
    core_c : array_like, shape (..., steps + 1)
        Core at the start and after each step; nan makes all after it nan.  [C]
    step_s : float
        Length of a step.  [s]
    doneness : CookValue or CoreReaches
        The dish's rule.  [-]

    Returns
    -------
    share : ndarray, shape (..., steps + 1)
        From 0 to 1; never falls: what is done stays done.  [-]
    """
    if isinstance(doneness, CookValue):
        minutes = cook_value_min(core_c, step_s=step_s, z_c=doneness.z_c, floor_c=doneness.floor_c)
        return np.minimum(minutes / doneness.minutes, 1.0)
    hottest = np.maximum.accumulate(np.asarray(core_c, np.float64), axis=-1)
    return np.clip((hottest - COLD_C) / (doneness.core_c - COLD_C), 0.0, 1.0)


def boiled_requirement_min(minutes: float, *, z_c: float, home_boiling_c: float) -> float:
    """Return the cook value that a kitchen recipe "boil for so long" gives small pieces.

    Small pieces (grains, pulses, diced vegetables) are as hot as the water around them, so
    boiling at home is worth `minutes` at the home's own boiling point.  For large pieces
    see `recipe_requirement_min`.

    Parameters
    ----------
    minutes : float
        Boiling time of the recipe.  [min]
    z_c : float
        Degrees that change the rate tenfold.  [K]
    home_boiling_c : float
        Where water boils in the kitchen the recipe is from.  [C]

    Returns
    -------
    requirement : float
        Equivalent minutes at 100 C.  [min]
    """
    return float(minutes * 10.0 ** ((home_boiling_c - REFERENCE_C) / z_c))


def recipe_requirement_min(
    minutes: float,
    *,
    parts: SolidNodes,
    start_c: float,
    around_c: float,
    z_c: float,
    floor_c: float,
) -> float:
    """Return the cook value that a kitchen recipe gives the core of large pieces.

    The recipe's minutes are mostly warming through, so the recipe is run in a kitchen with
    steady surroundings and the cook value of the core is taken.

    Parameters
    ----------
    minutes : float
        Time of the recipe.  [min]
    parts : Shells
        The pieces, with the kitchen's own film: boiling water about 1000, still oven air
        with radiation 20 to 25 W/(m2 K) (handbook ranges).  [-]
    start_c : float
        Of the pieces.  [C]
    around_c : float
        Boiling water; or for moist food in an oven about 100, as hot as a wet surface
        gets.  [C]
    z_c : float
        Degrees that change the rate tenfold.  [K]
    floor_c : float
        Below this nothing is credited.  [C]

    Returns
    -------
    requirement : float
        Equivalent minutes at 100 C.  [min]
    """
    steps = max(1, round(minutes * 60.0 / RECIPE_STEP_S))
    step_s = minutes * 60.0 / steps
    core_c = core_history(np.full(steps, around_c), parts=parts, start_c=start_c, step_s=step_s)
    return float(cook_value_min(core_c, step_s=step_s, z_c=z_c, floor_c=floor_c)[-1])


def minutes_at(temperature_c: float, *, requirement_min: float, z_c: float) -> float:
    """Return how long a steady temperature takes for a cook value.

    Parameters
    ----------
    temperature_c : float
        Of the core.  [C]
    requirement_min : float
        Cook value wanted, in equivalent minutes at 100 C.  [min]
    z_c : float
        Degrees that change the rate tenfold.  [K]

    Returns
    -------
    minutes : float
        At that temperature.  [min]
    """
    return float(requirement_min * 10.0 ** ((REFERENCE_C - temperature_c) / z_c))


def z_from_activation_k(activation_kj_mol: float, *, at_c: float) -> float:
    """Return z from an activation energy, as softening studies print it.

    Parameters
    ----------
    activation_kj_mol : float
        Activation energy, above 0.  [kJ/mol]
    at_c : float
        Temperature about which the two agree; z grows with it.  [C]

    Returns
    -------
    z : float
        ln(10) R T^2 / E.  [K]
    """
    at_k = at_c + 273.15
    return float(np.log(10.0) * GAS_KJ_MOLK * at_k**2 / activation_kj_mol)
