"""Bearings: true and compass, and which way to turn."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date
from typing import TYPE_CHECKING

import numpy as np

if TYPE_CHECKING:
    from numpy.typing import ArrayLike, NDArray

MODEL = "WMM-2025"
VALID_FROM_YEAR, VALID_TO_YEAR = 2025.0, 2030.0
"""Life of the World Magnetic Model 2025 (NOAA/BGS, released November 2024)."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Declination:
    """How far a compass needle points east of true north."""

    deg: float
    model: str
    in_date: bool
    """False outside the life of the model, when the value is still near but drifting."""


def declination(
    *, latitude_deg: float, longitude_deg: float, elevation_m: float, on: date
) -> Declination:
    """Return the magnetic declination by the World Magnetic Model, east positive.

    Outside the model's five years the model is carried on, which drifts by about a tenth
    of a degree a year in most places, and the answer is marked as out of date.
    """
    from pygeomag import GeoMag

    year = _decimal_year(on)
    found = GeoMag().calculate(
        glat=latitude_deg,
        glon=longitude_deg,
        alt=elevation_m / 1000.0,
        time=year,
        allow_date_outside_lifespan=True,
    )
    in_date = VALID_FROM_YEAR <= year < VALID_TO_YEAR
    return Declination(deg=float(found.d), model=MODEL, in_date=in_date)


def _decimal_year(on: date) -> float:
    """Return a date as a year and its fraction."""
    starts, ends = date(on.year, 1, 1), date(on.year + 1, 1, 1)
    return on.year + (on - starts).days / (ends - starts).days


def to_compass_deg(true_deg: ArrayLike, *, declination_deg: float) -> NDArray[np.float64]:
    """Return the bearing a compass shows for a true bearing, 0 to 360.  [deg]"""
    return (np.asarray(true_deg, np.float64) - declination_deg) % 360.0


def turn_deg(from_deg: ArrayLike, to_deg: ArrayLike) -> NDArray[np.float64]:
    """Return the shorter turn between two bearings, to the right positive, -180 to 180.  [deg]"""
    difference = np.asarray(to_deg, np.float64) - np.asarray(from_deg, np.float64)
    return -((-difference + 180.0) % 360.0 - 180.0)


def compass_point(bearing_deg: float) -> int:
    """Return which of the sixteen points of the compass is nearest; 0 is north, 4 east."""
    return round(bearing_deg / 22.5) % 16
