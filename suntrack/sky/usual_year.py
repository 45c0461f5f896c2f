"""A year of usual skies: clouds by measured quantiles, drawn for each day by itself.

The quantiles are those that a day without a forecast is planned by: a year of hours at seven
stations of one continent (`error_quantiles.toml`).  They know nothing of the site's clouds or of
its seasons; sun and air are the site's own.
"""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

import numpy as np

from suntrack.sky.decomposition import split_global
from suntrack.sky.error_quantiles import (
    BRIGHTEST,
    DARKEST,
    ErrorQuantiles,
    correlated_normals,
    measured_departures,
)
from suntrack.sky.surface import LOWEST_RISE
from suntrack.sky.year import STEP_S, YearSky, clear_year

if TYPE_CHECKING:
    from numpy.typing import NDArray

    from suntrack.sky.site import Site

SOURCE = "usual sky"


def usual_year(
    site: Site,
    *,
    year: int,
    utc_offset_h: float,
    step_s: float = STEP_S,
    departures: ErrorQuantiles | None = None,
) -> YearSky:
    """Return a year of usual skies, the same for a place every time it is asked for.

    Parameters
    ----------
    site, year, utc_offset_h, step_s
        As for `suntrack.sky.year.clear_year`.
    departures : Departures, optional
        Measured quantiles; None for the table that ships.
    """
    clear = clear_year(site, year=year, utc_offset_h=utc_offset_h, step_s=step_s)
    table = departures or measured_departures()
    hours = np.arange(24, dtype=np.float64) + 0.5
    place = (round(1e4 * (site.latitude_deg + 90.0)), round(1e4 * (site.longitude_deg + 180.0)))
    normal = correlated_normals(np.random.default_rng(place), at_h=hours, skies=len(clear.dates))
    index = np.clip(table.at(np.nan, normal), DARKEST, BRIGHTEST)
    return clouded(clear, index, source=SOURCE)


def clouded(clear: YearSky, index: NDArray[np.float64], *, source: str) -> YearSky:
    """Return a clear year under clouds.

    Parameters
    ----------
    clear : YearSky
    index : ndarray, shape (days, hours)
        Light on level ground in each hour, as a share of the clear sky's.  [-]
    source : str
        What the sky is then called.

    Returns
    -------
    sky : YearSky
        Beam and diffuse light are split at the middle of each hour, as a forecast's are.
    """
    hours = index.shape[1]
    per_hour = clear.elevation_deg.shape[1] // hours

    def of_hour(values: NDArray[np.float64]) -> NDArray[np.float64]:
        return np.asarray(values.reshape(-1, per_hour).mean(axis=1))

    whole_w_m2 = np.repeat(index, per_hour, axis=1) * clear.global_horizontal_w_m2
    mean_w_m2 = of_hour(whole_w_m2)
    _, diffuse_w_m2 = split_global(
        mean_w_m2, sun_elevation_deg=of_hour(clear.elevation_deg), at_s=of_hour(clear.at_s)
    )
    lit = mean_w_m2 > 0.0
    share = np.where(lit, diffuse_w_m2 / np.where(lit, mean_w_m2, 1.0), 1.0)
    fine = np.repeat(share, per_hour).reshape(whole_w_m2.shape)
    rise = np.sin(np.radians(clear.elevation_deg))
    beam_w_m2 = np.where(
        rise > LOWEST_RISE, (1.0 - fine) * whole_w_m2 / np.maximum(rise, LOWEST_RISE), 0.0
    )
    return replace(
        clear,
        global_horizontal_w_m2=whole_w_m2,
        beam_normal_w_m2=beam_w_m2,
        diffuse_horizontal_w_m2=whole_w_m2 - beam_w_m2 * np.maximum(rise, 0.0),
        source=source,
    )
