"""How far a compass needle points from true north, by the World Magnetic Model."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date


@dataclass(frozen=True, slots=True, kw_only=True)
class Declination:
    """How far a compass needle points east of true north."""

    deg: float
    """East is positive.  [deg]"""
    model: str
    """Name of the magnetic model, such as WMM-2025."""
    in_date: bool
    """False outside the life of the model, when the value is still near but drifting."""


def declination(
    *, latitude_deg: float, longitude_deg: float, elevation_m: float, on: date
) -> Declination:
    """Return the magnetic declination by the World Magnetic Model.

    Parameters
    ----------
    latitude_deg, longitude_deg : float
        North and east are positive.  [deg]
    elevation_m : float
        Above sea level.  [m]
    on : date
        Outside the model's five years the model is carried on, which costs about a tenth
        of a degree for each year in most places; the answer is then marked out of date.

    Returns
    -------
    declination : Declination

    References
    ----------
    .. [1] NOAA NCEI and British Geological Survey, "World Magnetic Model"; the newest one
       that the installed pygeomag holds.
    """
    from pygeomag import GeoMag

    magnet = GeoMag()
    year = _decimal_year(on)
    starts_year, ends_year = magnet.life_span
    found = magnet.calculate(
        glat=latitude_deg,
        glon=longitude_deg,
        alt=elevation_m / 1000.0,
        time=year,
        allow_date_outside_lifespan=True,
    )
    return Declination(
        deg=float(found.d), model=str(magnet.model), in_date=bool(starts_year <= year < ends_year)
    )


def _decimal_year(on: date) -> float:
    """Return a date as a year and its fraction."""
    starts, ends = date(on.year, 1, 1), date(on.year + 1, 1, 1)
    return on.year + (on - starts).days / (ends - starts).days
