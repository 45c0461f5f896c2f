"""The sky of a year for the commands: a file of typical weather, or the clear sky."""

from __future__ import annotations

from dataclasses import replace
from datetime import datetime, timedelta
from math import asin, cos, radians, sin, sqrt
from pathlib import Path
from typing import TYPE_CHECKING

from suntrack.edge.typical import read_typical
from suntrack.sky.year import YearSky, clear_year, typical_year

if TYPE_CHECKING:
    from suntrack.edge.config import Config
    from suntrack.sky.site import Site
    from suntrack.sky.year import TypicalHours

EARTH_KM = 6371.0
FAR_KM = 60.0
"""A file of a place further away is told to be (our choice).  [km]"""


def season_sky(config: Config, path: Path | None, *, year: int) -> tuple[YearSky, float | None]:
    """Return the year, and how far its place is when that is far.  [-], [km]

    A file's sun is that of its own place; the skyline and the clock are the site's where the
    two are near, and of the file's standard time where they are not.
    """
    if path is None:
        offset_h = _standard_h(config, year=year)
        return clear_year(config.site, year=year, utc_offset_h=offset_h), None
    hours = read_typical(path)
    away_km = _away_km(config.site, hours)
    return typical_year(place_of(config, hours), hours, year=year), (
        away_km if away_km > FAR_KM else None
    )


def place_of(config: Config, hours: TypicalHours) -> Site:
    """Return the site, standing where the file was measured."""
    return replace(
        config.site,
        latitude_deg=hours.latitude_deg,
        longitude_deg=hours.longitude_deg,
        elevation_m=hours.elevation_m,
    )


def site_for(config: Config, path: Path | None) -> Site:
    """Return the site whose clock and skyline a year is judged by."""
    if path is None:
        return config.site
    hours = read_typical(path)
    if _away_km(config.site, hours) <= FAR_KM:
        return config.site
    # The zone data's names run the other way: Etc/GMT+9 is nine hours behind.
    return replace(place_of(config, hours), time_zone=f"Etc/GMT{-round(hours.utc_offset_h):+d}")


def _standard_h(config: Config, *, year: int) -> float:
    """Return the site's standard time, hours ahead of UTC.  [h]"""
    zone = config.site.zone
    seasons = (datetime(year, month, 1, 12, tzinfo=zone) for month in (1, 7))
    none = timedelta(0)
    offsets = [(at.utcoffset() or none) - (at.dst() or none) for at in seasons]
    return min(offset.total_seconds() for offset in offsets) / 3600.0


def _away_km(site: Site, hours: TypicalHours) -> float:
    """Return the distance along the ground, by the haversine formula.  [km]"""
    a, b = radians(site.latitude_deg), radians(hours.latitude_deg)
    east = radians(hours.longitude_deg - site.longitude_deg)
    half = sin((b - a) / 2) ** 2 + cos(a) * cos(b) * sin(east / 2) ** 2
    return 2.0 * EARTH_KM * asin(min(1.0, sqrt(half)))
