"""Sunlight before it meets any surface: outside the air, and through a clear sky."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from suntrack.sky.air import air_of, typical_air_c
from suntrack.sky.sun import SunTable, sun_events
from suntrack.sky.weather import Weather

if TYPE_CHECKING:
    from datetime import date

    from numpy.typing import ArrayLike, NDArray

    from suntrack.sky.site import Site

SOLAR_CONSTANT_W_M2 = 1361.0
"""Total solar irradiance at the mean distance of the sun: Kopp and Lean 2011.  [W/m2]"""
YEAR_S = 365.2422 * 86400.0
PERIHELION_S = 259200.0
"""Seconds from the start of 1970 to the sun's nearest point, about 4 January.  [s]"""
ECCENTRICITY = 0.0167


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class ClearSky:
    """Light of a cloudless sky, arrays of shape (steps,)."""

    global_horizontal_w_m2: NDArray[np.float64]
    beam_normal_w_m2: NDArray[np.float64]
    diffuse_horizontal_w_m2: NDArray[np.float64]


def extraterrestrial_w_m2(at_s: ArrayLike) -> NDArray[np.float64]:
    r"""Return sunlight outside the air, square to its rays, in the shape of `at_s`.  [W/m2]

    To first order in the eccentricity of the orbit,
    :math:`E = E_0 (1 + 2 e \cos(2\pi (t - t_p)/T))`, good to 0.1 %.
    """
    phase = 2.0 * np.pi * (np.asarray(at_s, np.float64) - PERIHELION_S) / YEAR_S
    return SOLAR_CONSTANT_W_M2 * (1.0 + 2.0 * ECCENTRICITY * np.cos(phase))


def clear_sky(sun: SunTable, *, site: Site) -> ClearSky:
    """Return the light of a cloudless sky by Ineichen and Perez, with the month's turbidity.

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
    light = {name: np.nan_to_num(np.asarray(found[name], np.float64)) for name in found}
    return ClearSky(
        global_horizontal_w_m2=light["ghi"],
        beam_normal_w_m2=light["dni"],
        diffuse_horizontal_w_m2=light["dhi"],
    )


def clear_weather(sun: SunTable, *, site: Site, step_s: float, on: date) -> Weather:
    """Return a cloudless day with the site's typical air: one sky, the steps of `sun`.

    `sun` holds the sun at the middle of each step.
    """
    light = clear_sky(sun, site=site)
    low_c, high_c, wind_m_s = air_of(site.typical_air, on)
    events = sun_events(sun)
    rises_s = events.rises_at_s if events.rises_at_s is not None else float(sun.at_s[0])
    sets_s = events.sets_at_s if events.sets_at_s is not None else float(sun.at_s[-1])
    air_c = typical_air_c(sun.at_s, low_c=low_c, high_c=high_c, sunrise_s=rises_s, sunset_s=sets_s)
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
