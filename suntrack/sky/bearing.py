"""Bearings: true and compass, and which way to turn.

Angles only; in which words a screen names them is not decided here.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

if TYPE_CHECKING:
    from numpy.typing import ArrayLike, NDArray


def to_compass_deg(true_deg: ArrayLike, *, declination_deg: float) -> NDArray[np.float64]:
    """Return the bearing a compass shows for a true bearing, from 0 to just under 360.  [deg]"""
    return around_deg(np.asarray(true_deg, np.float64) - declination_deg)


def around_deg(bearing_deg: ArrayLike) -> NDArray[np.float64]:
    """Return bearings from 0 to just under 360.  [deg]"""
    around = np.asarray(bearing_deg, np.float64) % 360.0
    # A hair under zero comes out of the division as 360 itself.
    return np.where(around >= 360.0, 0.0, around)


def turn_deg(from_deg: ArrayLike, to_deg: ArrayLike) -> NDArray[np.float64]:
    """Return the shorter turn between two bearings, to the right positive, -180 to 180.  [deg]"""
    difference = np.asarray(to_deg, np.float64) - np.asarray(from_deg, np.float64)
    return -((-difference + 180.0) % 360.0 - 180.0)


def compass_point(bearing_deg: float) -> int:
    """Return which of the sixteen points of the compass is nearest; 0 is north, 4 east."""
    return round(bearing_deg / 22.5) % 16
