"""A forecast by the cook's own days: how much of a clear day's light each brings."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date, datetime, timedelta
from typing import TYPE_CHECKING

import numpy as np

from suntrack.sky.complete_irradiance import interval_light
from suntrack.sky.localday import covered, day_bounds_s

if TYPE_CHECKING:
    from numpy.typing import NDArray

    from suntrack.sky.complete_irradiance import IntervalLight
    from suntrack.sky.forecast import Forecast
    from suntrack.sky.site import Site

LEAST_COVERED = 0.25
"""Share of a day below which nothing is said of it (our choice).  [-]"""


@dataclass(frozen=True, slots=True, kw_only=True)
class ForecastDay:
    """One local day of a forecast, the mean of its members; None is not known."""

    on: date
    """The day, at the site."""
    covered: float
    """Share of the day for which the sun is known.  [-]"""
    clear_share: float | None
    """Light of the known hours over that of a cloudless sky in the same hours.  [-]"""
    warmest_c: float | None
    """Of its hours; None where it is not told.  [C]"""
    gust_m_s: float | None
    """Strongest of the day."""
    rain_chance: float | None
    """Highest of any interval of the day: the chance of the whole day is higher.  [-]"""


def forecast_days(forecast: Forecast, *, site: Site) -> tuple[ForecastDay, ...]:
    """Return the local days that a forecast touches, in order.

    Parameters
    ----------
    forecast : Forecast
        With global light, or with cloud.
    site : Site
        Its time zone says when a day begins.

    Returns
    -------
    days : tuple of ForecastDay
        Without those of which less than a quarter is known.

    Raises
    ------
    ValueError
        If the forecast has neither global light nor cloud.
    """
    if not forecast.starts_at_s.size:
        return ()
    light = interval_light(forecast, site=site)
    first, last = (
        datetime.fromtimestamp(float(at_s), site.zone).date()
        for at_s in (forecast.starts_at_s[0], forecast.ends_at_s[-1] - 1.0)
    )
    dates = [first + timedelta(days=i) for i in range((last - first).days + 1)]
    days = (_day(forecast, light, on, site=site) for on in dates)
    return tuple(day for day in days if day.covered >= LEAST_COVERED)


def _day(forecast: Forecast, light: IntervalLight, on: date, *, site: Site) -> ForecastDay:
    starts_s, ends_s = day_bounds_s(on, site.zone)
    # An interval belongs to the day that holds its middle: midnight may cut one in two.
    inside = (forecast.mid_at_s >= starts_s) & (forecast.mid_at_s < ends_s)
    lengths_s = (forecast.ends_at_s - forecast.starts_at_s)[inside]
    return ForecastDay(
        on=on,
        covered=covered(forecast, starts_s=starts_s, ends_s=ends_s),
        clear_share=_share(
            light.global_horizontal_w_m2[:, inside], light.clear_global_w_m2[inside], lengths_s
        ),
        warmest_c=_highest(forecast.air_c, inside),
        gust_m_s=_highest(forecast.gust_m_s, inside),
        rain_chance=_highest(forecast.rain_chance, inside),
    )


def _share(
    light_w_m2: NDArray[np.float64],
    clear_w_m2: NDArray[np.float64],
    lengths_s: NDArray[np.float64],
) -> float | None:
    """Return the light of the known hours over a clear sky's; None for a day without sun."""
    weights = np.where(np.isfinite(light_w_m2), clear_w_m2 * lengths_s, 0.0)
    total = float(weights.sum())
    if total <= 0.0:
        return None
    return float(np.nansum(light_w_m2 * lengths_s) / total)


def _highest(values: NDArray[np.float64] | None, inside: NDArray[np.bool_]) -> float | None:
    """Return the highest of a day of the members' mean."""
    if values is None:
        return None
    known = values[:, inside]
    known = known[:, np.isfinite(known).any(axis=0)]
    return float(np.nanmean(known, axis=0).max()) if known.size else None
