"""Where the sun stands, as a table for a day; what the table says between its rows.

The table is made once by the reference algorithm (NREL SPA, in pvlib), whose import takes
a second; everything that reads the table is numpy only.

Positions are pvlib's NREL SPA once a day into a table on disk, numpy between its rows.  Lost:
astral for rising and setting (raises for 130 of 1200 cities on some day of 2026), pvlib at
every call (a second of import).  SPA drops refraction below the horizon, half a degree at once;
the table carries it on to the almanac's 34 arc minutes, so that a straight line finds sunrise
to seconds.
"""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date, datetime, time, timedelta
from typing import TYPE_CHECKING

import numpy as np

from suntrack.sky.bearing import around_deg
from suntrack.sky.skyline import Skyline

if TYPE_CHECKING:
    from zoneinfo import ZoneInfo

    from numpy.typing import ArrayLike, NDArray

OPEN_HORIZON = Skyline()
SUNRISE_DEG = -0.2667
"""Refracted height of the sun's centre when its upper edge touches the horizon: the sun's
half width, 16 arc minutes (astronomical convention; refraction is already in the table)."""

ALMANAC_REFRACTION_DEG = 34.0 / 60.0
"""Refraction on the horizon by the convention of almanacs.  [deg]"""
ALMANAC_SUNRISE_DEG = SUNRISE_DEG - ALMANAC_REFRACTION_DEG
"""True height of the sun's centre at sunrise: 50 arc minutes down (same convention).  [deg]"""
KEEP_DEG, FADE_DEG = 1.0, 2.0
"""How far under sunrise refraction is kept, and then faded out, so that no step is left and
straight lines between rows minutes apart still find sunrise.  [deg]"""
AIR_C = 12.0
"""Air for refraction; 20 K more take off 0.03 degrees on the horizon.  [C]"""


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class SunTable:
    """The sun at given moments, arrays of shape (steps,)."""

    at_s: NDArray[np.float64]
    """Seconds since 1970 UTC, ascending.  [s]"""
    elevation_deg: NDArray[np.float64]
    """Height of the centre above the horizontal, refraction included.  [deg]"""
    azimuth_deg: NDArray[np.float64]
    """Clockwise from true north.  [deg]"""


@dataclass(frozen=True, slots=True, kw_only=True)
class SunEvents:
    """The day's turning points; None where the sun does not rise or set."""

    rises_at_s: float | None
    """None when it does not rise.  [s]"""
    sets_at_s: float | None
    """None when it does not set.  [s]"""
    noon_at_s: float
    """When the sun stands highest.  [s]"""


def day_grid(on: date, zone: ZoneInfo, *, step_s: float = 60.0) -> NDArray[np.float64]:
    """Return the starts of equal steps from local midnight to the next.  [s]

    Days on which the clocks change have 23, 25 or some other number of hours; midnight is
    taken as the first moment of the date where it does not exist.  A step that does not
    divide the day leaves up to half of itself over, or runs half of itself past the end.

    Raises
    ------
    ValueError
        If the step is not longer than zero.
    """
    if not step_s > 0.0:
        raise ValueError(f"step_s is {step_s}; it has to be above 0")
    starts_s = _midnight_s(on, zone)
    ends_s = _midnight_s(on + timedelta(days=1), zone)
    steps = round((ends_s - starts_s) / step_s)
    return starts_s + step_s * np.arange(steps, dtype=np.float64)


def _midnight_s(on: date, zone: ZoneInfo) -> float:
    return datetime.combine(on, time(0, 0), tzinfo=zone).timestamp()


def sun_table(
    at_s: ArrayLike, *, latitude_deg: float, longitude_deg: float, elevation_m: float
) -> SunTable:
    """Return the sun at given moments by the NREL solar position algorithm.

    Parameters
    ----------
    at_s : array_like, shape (steps,)
        Seconds since 1970 UTC.  [s]
    latitude_deg, longitude_deg : float
        North and east are positive.  [deg]
    elevation_m : float
        Above sea level.  [m]

    Returns
    -------
    table : SunTable
        Refraction is that of the standard atmosphere at this elevation and 12 C for the
        sun's centre above the horizontal; below, it runs to the almanac's 34 arc minutes.

    References
    ----------
    .. [1] I. Reda and A. Andreas, "Solar position algorithm for solar radiation
       applications", Solar Energy 76 (2004) 577-589; NREL/TP-560-34302.
    """
    import pandas as pd
    from pvlib import atmosphere, solarposition

    moments_s = np.atleast_1d(np.asarray(at_s, np.float64))
    pressure_pa = float(atmosphere.alt2pres(elevation_m))
    found = solarposition.spa_python(
        pd.to_datetime(moments_s, unit="s", utc=True),
        latitude_deg,
        longitude_deg,
        altitude=elevation_m,
        pressure=pressure_pa,
        temperature=AIR_C,
    )
    true_deg = found["elevation"].to_numpy(np.float64)
    return SunTable(
        at_s=moments_s,
        elevation_deg=np.where(
            true_deg >= 0.0,
            found["apparent_elevation"].to_numpy(np.float64),
            true_deg + _low_refraction_deg(true_deg, pressure_pa=pressure_pa),
        ),
        azimuth_deg=found["azimuth"].to_numpy(np.float64),
    )


def _low_refraction_deg(
    true_deg: NDArray[np.float64], *, pressure_pa: float
) -> NDArray[np.float64]:
    """Return the refraction of a sun below the horizontal.

    The algorithm drops refraction, half a degree of it, the moment the sun has set; a
    straight line across that step would put sunrise minutes off.  Here refraction runs
    from the algorithm's value on the horizontal (NREL/TP-560-34302, eq. 42) to the
    almanac's at sunrise, so that sunrise is the printed one, and fades out further down.
    """
    level_deg = (
        (pressure_pa / 101000.0)
        * (283.0 / (273.0 + AIR_C))
        * (1.02 / (60.0 * np.tan(np.radians(10.3 / 5.11))))
    )
    kept_deg = ALMANAC_SUNRISE_DEG - KEEP_DEG
    heights_deg = (kept_deg - FADE_DEG, kept_deg, ALMANAC_SUNRISE_DEG, 0.0)
    bent_deg = (0.0, ALMANAC_REFRACTION_DEG, ALMANAC_REFRACTION_DEG, level_deg)
    return np.asarray(np.interp(true_deg, heights_deg, bent_deg))


def position_at(
    table: SunTable, at_s: ArrayLike
) -> tuple[NDArray[np.float64], NDArray[np.float64]]:
    """Return elevation and azimuth between the rows of a table, in the shape of `at_s`.  [deg]

    The direction is interpolated as a vector, so that neither north (359 to 1 degree) nor a
    sun overhead does any harm.  Outside the table the nearest row is returned; nan stays
    nan.
    """
    moments_s = np.asarray(at_s, np.float64)
    elevation, azimuth = np.radians(table.elevation_deg), np.radians(table.azimuth_deg)
    parts = (
        np.cos(elevation) * np.sin(azimuth),
        np.cos(elevation) * np.cos(azimuth),
        np.sin(elevation),
    )
    east, north, up = (np.interp(moments_s, table.at_s, part) for part in parts)
    return (
        np.degrees(np.arctan2(up, np.hypot(east, north))),
        around_deg(np.degrees(np.arctan2(east, north))),
    )


def sun_events(table: SunTable, *, skyline: Skyline = OPEN_HORIZON) -> SunEvents:
    """Return when the sun first clears the skyline, last leaves it, and stands highest.

    Over an open horizon the sun's upper edge counts, over a skyline its centre.  Where
    the evening runs past the end of the table, as in a northern June, the setting that
    stands at the start of it belongs to the day before, and there is none for this day.
    """
    height_deg = skyline.height_at(table.azimuth_deg)
    above_deg = table.elevation_deg - np.where(height_deg > 0.0, height_deg, SUNRISE_DEG)
    up = above_deg > 0.0
    risings = np.flatnonzero(~up[:-1] & up[1:])
    settings = np.flatnonzero(up[:-1] & ~up[1:])
    rises = _crossing(table.at_s, above_deg, int(risings[0])) if risings.size else None
    sets = _crossing(table.at_s, above_deg, int(settings[-1])) if settings.size else None
    if rises is not None and sets is not None and sets < rises:
        sets = None
    return SunEvents(rises_at_s=rises, sets_at_s=sets, noon_at_s=_peak(table))


def _crossing(at_s: NDArray[np.float64], values: NDArray[np.float64], i: int) -> float:
    """Return where the straight line from row i to row i + 1 crosses zero."""
    share = values[i] / (values[i] - values[i + 1])
    return float(at_s[i] + share * (at_s[i + 1] - at_s[i]))


def _peak(table: SunTable) -> float:
    """Return the moment of the greatest elevation, by a parabola through its three rows."""
    top = int(np.argmax(table.elevation_deg))
    if not 0 < top < table.at_s.size - 1:
        return float(table.at_s[top])
    before, at, after = table.elevation_deg[top - 1 : top + 2]
    bend = before - 2.0 * at + after
    shift = 0.0 if bend == 0.0 else 0.5 * (before - after) / bend
    return float(table.at_s[top] + shift * (table.at_s[top + 1] - table.at_s[top]))


def shadow_azimuth_deg(azimuth_deg: ArrayLike) -> NDArray[np.float64]:
    """Return where the shadow of an upright stick points, clockwise from true north.  [deg]"""
    return around_deg(np.asarray(azimuth_deg, np.float64) + 180.0)
