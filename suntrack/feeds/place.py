"""Coordinates as feeds want them, and how far their grid cell lies from the box."""

from __future__ import annotations

import math
from decimal import ROUND_DOWN, Decimal

EARTH_M = 6371000.0
"""Mean radius of the earth (IUGG 1980, rounded).  [m]"""
DECIMALS = Decimal("0.0001")


def cut(degrees: float) -> str:
    """Return a coordinate cut, not rounded, to four decimals: eleven metres.

    More decimals are refused by some services and would tell more of a home than a
    forecast needs; zeros at the end are left off, which some services insist on.
    """
    text = format(Decimal(repr(degrees)).quantize(DECIMALS, ROUND_DOWN), "f")
    text = text.rstrip("0").rstrip(".")
    return "0" if text in ("-0", "") else text


def distance_m(
    *,
    latitude_deg: float,
    longitude_deg: float,
    other_latitude_deg: float,
    other_longitude_deg: float,
) -> float:
    """Return the great-circle distance between two places, by the haversine formula.  [m]"""
    here, there = math.radians(latitude_deg), math.radians(other_latitude_deg)
    apart = math.radians(other_longitude_deg - longitude_deg)
    half = (
        math.sin((there - here) / 2.0) ** 2
        + math.cos(here) * math.cos(there) * math.sin(apart / 2.0) ** 2
    )
    return 2.0 * EARTH_M * math.asin(min(1.0, math.sqrt(half)))
