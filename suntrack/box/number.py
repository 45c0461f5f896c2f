"""Numbers that are one float or an array over many runs, and the arithmetic both share.

The simulator runs one day on plain floats (fast in Python) and thousands of days on
arrays (fast in numpy) with the very same lines.  That works as long as a formula keeps to
`+ - * /` and to the few functions here.  No physics belongs in this module.
"""

from __future__ import annotations

from typing import TypeAlias

import numpy as np
from numpy.typing import ArrayLike, NDArray

Number: TypeAlias = float | NDArray[np.float64]


def number(value: float | ArrayLike) -> Number:
    """Return a float as it is and anything else as an array of floats."""
    if isinstance(value, float):
        return value
    return np.asarray(value, np.float64)


def magnitude(value: Number) -> Number:
    """Return the value without its sign."""
    return abs(value) if isinstance(value, float) else np.abs(value)


def power(value: Number, exponent: float) -> Number:
    """Return a number that is not negative, raised to a power."""
    result: Number = value**exponent
    return result


def flag(condition: bool | NDArray[np.bool_]) -> Number:
    """Return 1 where a condition holds, and 0 elsewhere."""
    return float(condition) if isinstance(condition, bool) else condition.astype(np.float64)


def positive(value: Number) -> Number:
    """Return the value where it is above zero, and zero elsewhere."""
    return 0.5 * (value + magnitude(value))


def larger(first: Number, second: Number) -> Number:
    """Return the larger of two numbers, place by place."""
    return 0.5 * (first + second + magnitude(first - second))


def fourth_root(value: Number) -> Number:
    """Return the fourth root of a number that is not negative."""
    # Two square roots: numpy has a fast path for the power 0.5 and none for 0.25.
    return power(power(value, 0.5), 0.5)
