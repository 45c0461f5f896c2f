"""A forecast's sunlight made whole: global, beam and diffuse for every interval."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from suntrack.sky.clear_sky import clear_sky
from suntrack.sky.decomposition import LOW_SUN_DEG, light_under_cloud, shading_cloud, split_global
from suntrack.sky.sun import SunTable, sun_table

if TYPE_CHECKING:
    from numpy.typing import NDArray

    from suntrack.sky.forecast import Forecast
    from suntrack.sky.site import Site

PARTS = 12
"""Moments in each interval from which the mean of the clear sky is taken (our choice)."""


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class IntervalLight:
    """Light of a forecast's intervals, arrays of shape (members, intervals); nan is unknown."""

    global_horizontal_w_m2: NDArray[np.float64]
    """On level ground.  [W/m2]"""
    beam_normal_w_m2: NDArray[np.float64]
    """Square to the rays.  [W/m2]"""
    diffuse_horizontal_w_m2: NDArray[np.float64]
    """From the sky on level ground.  [W/m2]"""
    clear_global_w_m2: NDArray[np.float64]
    """Mean of the cloudless sky over each interval, shape (intervals,)."""
    sun_elevation_deg: NDArray[np.float64]
    """At the middle of each interval, shape (intervals,)."""


def clear_global_w_m2(
    starts_at_s: NDArray[np.float64], ends_at_s: NDArray[np.float64], *, site: Site
) -> NDArray[np.float64]:
    """Return the mean global light of a cloudless sky over each interval.

    Parameters
    ----------
    starts_at_s, ends_at_s : ndarray, shape (intervals,)
        Seconds since 1970 UTC, ascending.  [s]
    site : Site

    Returns
    -------
    clear_global_w_m2 : ndarray, shape (intervals,)
        Zero in the dark.  [W/m2]
    """
    part = (np.arange(PARTS) + 0.5) / PARTS
    moments_s = starts_at_s[:, None] + (ends_at_s - starts_at_s)[:, None] * part
    sky = clear_sky(_sun(moments_s.ravel(), site=site), site=site)
    means = sky.global_horizontal_w_m2.reshape(moments_s.shape).mean(axis=1)
    return np.asarray(means, np.float64)


def interval_light(forecast: Forecast, *, site: Site) -> IntervalLight:
    """Return the sunlight of a forecast, with whatever the feed left out worked out.

    Parameters
    ----------
    forecast : Forecast
        With global light, or with cloud.
    site : Site

    Returns
    -------
    light : IntervalLight
        Global light is the feed's, or the clear sky's under its cloud.  Beam and diffuse are
        the feed's where it gives both and the sun stands higher than 5 degrees, else split
        from the global light with the sun of the middle of the interval.

    Raises
    ------
    ValueError
        If the forecast has neither global light nor cloud.
    """
    clear = clear_global_w_m2(forecast.starts_at_s, forecast.ends_at_s, site=site)
    elevation_deg = _sun(forecast.mid_at_s, site=site).elevation_deg
    total = _global(forecast, clear)
    beam, diffuse = split_global(total, sun_elevation_deg=elevation_deg, at_s=forecast.mid_at_s)
    if forecast.beam_normal_w_m2 is not None and forecast.diffuse_horizontal_w_m2 is not None:
        given = np.isfinite(forecast.beam_normal_w_m2 + forecast.diffuse_horizontal_w_m2)
        given &= elevation_deg >= LOW_SUN_DEG
        beam = np.where(given, forecast.beam_normal_w_m2, beam)
        diffuse = np.where(given, forecast.diffuse_horizontal_w_m2, diffuse)
    return IntervalLight(
        global_horizontal_w_m2=total,
        beam_normal_w_m2=beam,
        diffuse_horizontal_w_m2=diffuse,
        clear_global_w_m2=clear,
        sun_elevation_deg=elevation_deg,
    )


def _sun(at_s: NDArray[np.float64], *, site: Site) -> SunTable:
    return sun_table(
        at_s,
        latitude_deg=site.latitude_deg,
        longitude_deg=site.longitude_deg,
        elevation_m=site.elevation_m,
    )


def _global(forecast: Forecast, clear: NDArray[np.float64]) -> NDArray[np.float64]:
    """Return the feed's global light, or what its cloud leaves of the clear sky."""
    if forecast.global_horizontal_w_m2 is not None:
        return forecast.global_horizontal_w_m2
    cloud = shading_cloud(
        cloud=forecast.cloud,
        low=forecast.cloud_low,
        mid=forecast.cloud_mid,
        high=forecast.cloud_high,
    )
    if cloud is None:
        raise ValueError("the forecast has neither global light nor cloud")
    return clear * light_under_cloud(cloud)
