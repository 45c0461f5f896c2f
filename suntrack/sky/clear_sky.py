"""Sunlight before it meets any surface: outside the air, and through a clear sky.

Clouds are not made here: a forecast becomes a `Weather` elsewhere.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from suntrack.sky.air import air_of, typical_air_c
from suntrack.sky.sun import SunEvents, SunTable, sun_events
from suntrack.sky.weather import Weather

if TYPE_CHECKING:
    from datetime import date

    from numpy.typing import ArrayLike, NDArray

    from suntrack.sky.site import Site

SOLAR_CONSTANT_W_M2 = 1361.0
"""Total solar irradiance at the mean distance of the sun: Kopp and Lean 2011.  [W/m2]"""
J2000_S = 946728000.0
"""2000-01-01 12:00, from which the almanac counts its days.  [s]"""
HALF_DAY_S = 9.0 * 3600.0
"""From noon to the coolest air where no sunrise or sunset tells (our choice).  [s]"""


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class ClearSky:
    """Light of a cloudless sky, arrays of shape (steps,)."""

    global_horizontal_w_m2: NDArray[np.float64]
    """On level ground.  [W/m2]"""
    beam_normal_w_m2: NDArray[np.float64]
    """Square to the rays.  [W/m2]"""
    diffuse_horizontal_w_m2: NDArray[np.float64]
    """From the sky on level ground.  [W/m2]"""


def extraterrestrial_w_m2(at_s: ArrayLike) -> NDArray[np.float64]:
    r"""Return sunlight outside the air, square to its rays.

    Parameters
    ----------
    at_s : array_like
        Seconds since 1970 UTC, any shape.  [s]

    Returns
    -------
    extraterrestrial_w_m2 : ndarray
        In the shape of `at_s`; nan stays nan.  [W/m2]

    Notes
    -----
    With n days since J2000 and the sun's mean anomaly :math:`g = 357.528 + 0.9856003 n`
    degrees, the distance is :math:`R = 1.00014 - 0.01671 \cos g - 0.00014 \cos 2g` [1]_
    and the light :math:`E_0 / R^2`.

    References
    ----------
    .. [1] "The Astronomical Almanac", page C5, low-precision formulas for the sun.
       From memory.
    """
    days = (np.asarray(at_s, np.float64) - J2000_S) / 86400.0
    anomaly = np.radians(357.528 + 0.9856003 * days)
    distance_au = 1.00014 - 0.01671 * np.cos(anomaly) - 0.00014 * np.cos(2.0 * anomaly)
    return np.asarray(SOLAR_CONSTANT_W_M2 / distance_au**2)


def clear_sky(sun: SunTable, *, site: Site) -> ClearSky:
    """Return the light of a cloudless sky by Ineichen and Perez, with the month's turbidity.

    Parameters
    ----------
    sun : SunTable
        Where the sun stands, shape (steps,).
    site : Site
        Its position chooses the turbidity, its elevation thins the air.

    Returns
    -------
    light : ClearSky
        Shape (steps,); nothing while the sun is down, nan where its height is nan.

    Notes
    -----
    The model takes the month's usual haze.  At NREL SRRL, June and August 2012, the best
    tenth of hours reached 0.97 to 1.00 of its global light and 1.04 to 1.10 of its beam.

    References
    ----------
    .. [1] P. Ineichen and R. Perez, "A new airmass independent formulation for the Linke
       turbidity coefficient", Solar Energy 73 (2002) 151-157; the turbidity climatology is
       the one pvlib ships.
    """
    import pandas as pd
    from pvlib import atmosphere, clearsky

    times = pd.to_datetime(sun.at_s, unit="s", utc=True)
    turbidity = clearsky.lookup_linke_turbidity(times, site.latitude_deg, site.longitude_deg)
    relative = atmosphere.get_relative_airmass(90.0 - sun.elevation_deg)
    pressure_pa = atmosphere.alt2pres(site.elevation_m)
    with np.errstate(divide="ignore", invalid="ignore"):  # the sun on or below the horizon
        found = clearsky.ineichen(
            90.0 - sun.elevation_deg,
            atmosphere.get_absolute_airmass(relative, pressure_pa),
            turbidity.to_numpy(),
            altitude=site.elevation_m,
            dni_extra=extraterrestrial_w_m2(sun.at_s),
        )
    light = {name: np.asarray(found[name], np.float64) for name in found}
    return ClearSky(
        global_horizontal_w_m2=light["ghi"],
        beam_normal_w_m2=light["dni"],
        diffuse_horizontal_w_m2=light["dhi"],
    )


def clear_weather(sun: SunTable, *, site: Site, step_s: float, on: date) -> Weather:
    """Return a cloudless day with the site's typical air: one sky, the steps of `sun`.

    Parameters
    ----------
    sun : SunTable
        The sun at the middle of each step.
    site : Site
    step_s : float
        Length of a step.  [s]
    on : date
        The local date, which chooses the typical air.

    Returns
    -------
    weather : Weather
        Arrays of shape (1, steps).
    """
    light = clear_sky(sun, site=site)
    low_c, high_c, wind_m_s = air_of(site.typical_air, on)
    rises_s, noon_s, sets_s = _air_day_s(sun_events(sun))
    air_c = typical_air_c(
        sun.at_s,
        low_c=low_c,
        high_c=high_c,
        sunrise_s=rises_s,
        sunset_s=sets_s,
        noon_s=noon_s,
    )
    return Weather(
        at_s=sun.at_s - step_s / 2.0,
        step_s=step_s,
        global_horizontal_w_m2=light.global_horizontal_w_m2[None],
        beam_normal_w_m2=light.beam_normal_w_m2[None],
        diffuse_horizontal_w_m2=light.diffuse_horizontal_w_m2[None],
        air_c=air_c[None],
        wind_m_s=np.full((1, sun.at_s.size), wind_m_s),
        source="clear sky",
    )


def _air_day_s(events: SunEvents) -> tuple[float, float, float]:
    """Return sunrise, noon and sunset for the air; near the poles some are made up."""
    noon_s, rises_s, sets_s = events.noon_at_s, events.rises_at_s, events.sets_at_s
    if rises_s is None:
        rises_s = noon_s - HALF_DAY_S if sets_s is None else 2.0 * noon_s - sets_s
    if sets_s is None:
        sets_s = 2.0 * noon_s - rises_s
    return rises_s, noon_s, sets_s
