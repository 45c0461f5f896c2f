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
) -> NDArray[np.float64]:
    r"""Return the air temperature through an ordinary day, in the shape of `at_s`.  [C]

    Parameters
    ----------
    at_s : array_like
        Seconds since 1970 UTC.  [s]
    low_c, high_c : float
        Coolest (at sunrise) and warmest air of the day.  [C]
    sunrise_s, sunset_s : float
        Of this day.  [s]

    Notes
    -----
    With day length Y and m hours after sunrise, by day

    .. math:: T = T_{min} + (T_{max} - T_{min}) \sin\frac{\pi m}{Y + 2a}

    and by night an exponential fall from the sunset value [1]_.

    References
    ----------
    .. [1] W. J. Parton and J. A. Logan, "A model for diurnal variation in soil and air
       temperature", Agricultural Meteorology 23 (1981) 205-216.  From memory.
    """
    since_rise_h = (np.asarray(at_s, np.float64) - sunrise_s) / 3600.0
    day_h = (sunset_s - sunrise_s) / 3600.0
    span_k = high_c - low_c

    def by_day(hours: NDArray[np.float64]) -> NDArray[np.float64]:
        return low_c + span_k * np.sin(np.pi * hours / (day_h + 2.0 * LAG_H))

    at_sunset_c = by_day(np.asarray(day_h))
    night_h = np.maximum(24.0 - day_h, 0.1)
    after_set_h = np.where(since_rise_h < 0.0, since_rise_h + night_h, since_rise_h - day_h)
    by_night_c = low_c + (at_sunset_c - low_c) * np.exp(-NIGHT_DECAY * after_set_h / night_h)
    daytime = (since_rise_h >= 0.0) & (since_rise_h <= day_h)
    return np.where(daytime, by_day(np.clip(since_rise_h, 0.0, day_h)), by_night_c)


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
