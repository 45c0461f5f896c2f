"""The clocks of food safety: hours spent warming up, and hours left out below hot.

Only the counting is here; which clock belongs to which food is in `suntrack.food.official`
and what its end means in `suntrack.food.safety`.  A clock adds up: minutes in the danger
zone are not forgiven by minutes out of it.  A temperature that is not known (nan) counts
as inside, and air that is not known counts as hot.
"""

from __future__ import annotations

from typing import TYPE_CHECKING, Literal

import numpy as np

from suntrack.food.official import (
    CLOCK_HIGH_C,
    HOLD_HOT_C,
    HOT_DAY_C,
    LEFT_OUT_H,
    RESTAURANT_HOLD_C,
)

if TYPE_CHECKING:
    from numpy.typing import ArrayLike, NDArray

ROUNDING_H = 1e-9
"""So that sixty minutes add up to an hour.  [h]"""


def hours_while(
    condition: NDArray[np.bool_], *, step_s: float, air_c: ArrayLike
) -> NDArray[np.float64]:
    """Return the hours so far in which something held, double on hot days.

    Parameters
    ----------
    condition : ndarray of bool, shape (..., steps + 1)
        A step counts when it holds at its start.  [-]
    step_s : float
        Length of a step.  [s]
    air_c : array_like, shape (steps + 1,) or ()
        Air outdoors.  Above 32.2 C an hour counts as two, which turns the two hours of
        the authorities into their one.  [C]

    Returns
    -------
    hours : ndarray, shape (..., steps + 1)
        Starts at 0.  [h]
    """
    air = np.broadcast_to(np.asarray(air_c, np.float64), condition.shape[-1:])[:-1]
    each_h = np.where(air <= HOT_DAY_C.value, step_s, 2.0 * step_s) / 3600.0
    hours = np.zeros(condition.shape)
    np.cumsum(condition[..., :-1] * each_h, axis=-1, out=hours[..., 1:])
    hours += ROUNDING_H
    return hours


def is_warming(core_c: NDArray[np.float64], *, from_c: float) -> NDArray[np.bool_]:
    """Return where a core lies between a bound and 57.2 C.

    Parameters
    ----------
    core_c : ndarray
        Any shape.  [C]
    from_c : float
        Lower bound of the clock.  [C]

    Returns
    -------
    warming : ndarray of bool
        In the shape of `core_c`.  [-]
    """
    return ~((core_c <= from_c) | (core_c >= CLOCK_HIGH_C.value))


def is_held_hot(core_c: float) -> tuple[bool, bool]:
    """Return whether a dish is hot enough to keep: at home (60 C), in a restaurant (57.2 C)."""
    return core_c >= HOLD_HOT_C.value, core_c >= RESTAURANT_HOLD_C.value


def left_out(minutes: float, *, air_c: float) -> Literal["fine", "amber", "discard"]:
    """Return what to do with cooked food that has been below 60 C for so long.

    USDA FSIS (found copy): throw it away after two hours, after one when the air is above
    90 F.  Half the time is the warning (our judgement).
    """
    limit_min = 60.0 * LEFT_OUT_H.value * (1.0 if air_c <= HOT_DAY_C.value else 0.5)
    if minutes < limit_min / 2.0:
        return "fine"
    return "amber" if minutes < limit_min else "discard"
