"""The air of an ordinary day at the site, when no forecast says better."""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

if TYPE_CHECKING:
    from datetime import date

    from numpy.typing import ArrayLike, NDArray

    from suntrack.sky.site import TypicalAir

LAG_H = 1.86
"""Hours from noon to the warmest air.  Parton and Logan 1981, value from memory.  [h]"""
NIGHT_DECAY = 2.2
"""How fast the night cools.  Parton and Logan 1981, value from memory.  [-]"""


def typical_air_c(
    at_s: ArrayLike,
    *,
    low_c: float,
    high_c: float,
    sunrise_s: float,
    sunset_s: float,
    noon_s: float,
) -> NDArray[np.float64]:
    r"""Return the air temperature through an ordinary day, in the shape of `at_s`.  [C]

    Parameters
    ----------
    at_s : array_like
        Seconds since 1970 UTC, within a day of noon; nan stays nan.  [s]
    low_c, high_c : float
        Coolest (at sunrise) and warmest air of the day.  [C]
    sunrise_s, noon_s, sunset_s : float
        Of this day, in this order.  [s]

    Returns
    -------
    air_c : ndarray
        Between `low_c` and `high_c`, without a jump.  [C]

    Raises
    ------
    ValueError
        If noon is not between sunrise and sunset.

    Notes
    -----
    By day, with the warmest air at :math:`t_w`, a little after noon [1]_,

    .. math:: T = T_{min} + (T_{max} - T_{min})
              \sin\left(\frac{\pi}{2} \frac{t - t_{rise}}{t_w - t_{rise}}\right)

    and by night an exponential fall from the sunset value.  As first printed that fall
    stops short of the low and leaves a jump of a kelvin at sunrise; here it is stretched
    to end there [2]_.

    References
    ----------
    .. [1] W. J. Parton and J. A. Logan, "A model for diurnal variation in soil and air
       temperature", Agricultural Meteorology 23 (1981) 205-216.  From memory.
    .. [2] J. Goudriaan and H. H. van Laar, "Modelling potential crop growth processes",
       Kluwer 1994, section on daily temperature.  From memory.
    """
    if not sunrise_s < noon_s < sunset_s:
        raise ValueError("noon_s has to lie between sunrise_s and sunset_s")
    at = np.asarray(at_s, np.float64)
    warming_s = noon_s + LAG_H * 3600.0 - sunrise_s

    def by_day(since_rise_s: ArrayLike) -> NDArray[np.float64]:
        return np.maximum(np.sin(0.5 * np.pi * np.asarray(since_rise_s) / warming_s), 0.0)

    night_s = max(86400.0 - (sunset_s - sunrise_s), 1.0)
    into_night_s = np.where(at < sunrise_s, at - sunrise_s + night_s, at - sunset_s)
    part = np.clip(into_night_s / night_s, 0.0, 1.0)
    left = (np.exp(-NIGHT_DECAY * part) - np.exp(-NIGHT_DECAY)) / (1.0 - np.exp(-NIGHT_DECAY))
    by_night = by_day(sunset_s - sunrise_s) * left
    daytime = (at >= sunrise_s) & (at <= sunset_s)
    return low_c + (high_c - low_c) * np.where(daytime, by_day(at - sunrise_s), by_night)


def air_of(months: tuple[TypicalAir, ...], on: date) -> tuple[float, float, float]:
    """Return low [C], high [C] and wind [m/s] of a date, between the middles of the months."""
    middle = np.arange(12) + 0.5
    position = on.month - 1 + (on.day - 0.5) / 30.5
    low, high, wind = (
        float(np.interp(position, middle, values, period=12.0))
        for values in (
            [month.low_c for month in months],
            [month.high_c for month in months],
            [month.wind_m_s for month in months],
        )
    )
    return low, high, wind
