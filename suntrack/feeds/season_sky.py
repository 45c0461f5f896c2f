"""The sky of a year for the commands: a file of typical weather, the clear or the usual sky."""

from __future__ import annotations

from dataclasses import dataclass, replace
from datetime import datetime, timedelta
from math import asin, cos, radians, sin, sqrt
from pathlib import Path
from typing import TYPE_CHECKING, Literal

from suntrack.errors import InputError, Problem, did_you_mean
from suntrack.feeds.typical_year import ALLOWED, read_typical
from suntrack.sky.usual_year import usual_year
from suntrack.sky.year import YearSky, clear_year, typical_year

if TYPE_CHECKING:
    from suntrack.config.reader import Config
    from suntrack.sky.site import Site
    from suntrack.sky.year import TypicalHours

Word = Literal["clear", "usual"]
EARTH_KM = 6371.0
BETWEEN = {
    3.5: "Asia/Tehran",
    4.5: "Asia/Kabul",
    5.5: "Asia/Kolkata",
    5.75: "Asia/Kathmandu",
    6.5: "Asia/Yangon",
    9.5: "Australia/Darwin",
}
"""Zones between the whole hours whose clocks no longer change: the zone data names no others by
their offset.  [h]"""
FAR_KM = 60.0
"""A file of a place further away is told to be (our choice).  [km]"""


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class AskedYear:
    """The year that a command is to run."""

    sky: YearSky
    """The year of days."""
    site: Site
    """Whose clock and skyline it is judged by."""
    away_km: float | None
    """How far the place of a file is, where that is far.  [km]"""
    utc_offset_h: float
    """Standard time there.  [h]"""


def asked_year(config: Config, weather: str | None, *, year: int, usual: Word) -> AskedYear:
    """Return the year that `--weather` asks for: `clear`, `usual`, or a file.

    `usual` is what is meant where nothing was asked for.  A file's sun is that of its own
    place; the skyline and the clock are the site's where the two are near, and of the file's
    standard time where they are not.
    """
    word = weather or usual
    if word in ("clear", "usual"):
        offset_h = standard_h(config, year=year)
        make = clear_year if word == "clear" else usual_year
        sky = make(config.site, year=year, utc_offset_h=offset_h)
        return AskedYear(sky=sky, site=config.site, away_km=None, utc_offset_h=offset_h)
    path = Path(word).expanduser()
    if not path.suffix and not path.exists():
        raise InputError(_no_such_word(word))
    hours = read_typical(path)
    away_km = _away_km(config.site, hours)
    site = _site_of(config, hours)
    return AskedYear(
        sky=typical_year(place_of(config, hours), hours, year=year),
        site=site,
        away_km=away_km if away_km > FAR_KM else None,
        utc_offset_h=hours.utc_offset_h,
    )


def place_of(config: Config, hours: TypicalHours) -> Site:
    """Return the site, standing where the file was measured."""
    return replace(
        config.site,
        latitude_deg=hours.latitude_deg,
        longitude_deg=hours.longitude_deg,
        elevation_m=hours.elevation_m,
    )


def _site_of(config: Config, hours: TypicalHours) -> Site:
    """Return the site whose clock and skyline a file's year is judged by."""
    if _away_km(config.site, hours) <= FAR_KM:
        return config.site
    # The zone data's names run the other way: Etc/GMT+9 is nine hours behind.
    whole = f"Etc/GMT{-round(hours.utc_offset_h):+d}"
    return replace(
        place_of(config, hours), time_zone=BETWEEN.get(round(hours.utc_offset_h, 2), whole)
    )


def _no_such_word(word: str) -> Problem:
    """Return the problem of a word that is neither a sky nor a file."""
    return Problem(
        where="--weather",
        found=repr(word),
        allowed=f"clear, usual, or {ALLOWED}",
        remedy=did_you_mean(word.lower(), ("clear", "usual"), otherwise="Give one of these."),
    )


def standard_h(config: Config, *, year: int) -> float:
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
