"""The sunlight of a stretch of the day, in the shape the box's light model asks for."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING, TypeAlias, TypedDict

import numpy as np

from suntrack.sky.clear_sky import extraterrestrial_w_m2

if TYPE_CHECKING:
    from numpy.typing import NDArray

    from suntrack.plan.inputs import DayInputs
    from suntrack.sky.site import Site

Skies: TypeAlias = int | slice | Sequence[int]
"""The sky planned for (0), or which of the many."""


class Rays(TypedDict):
    """Keyword arguments of `suntrack.box.light.gain.box_light`; arrays have the shape (steps,).

    The sky's three lights may have a row for each of many skies, (skies, steps).
    """

    sun_elevation_deg: NDArray[np.float64]
    """Height of the sun above the level horizon.  [deg]"""
    sun_azimuth_deg: NDArray[np.float64]
    """Where it stands, clockwise from true north.  [deg]"""
    beam_normal_w_m2: NDArray[np.float64]
    """Square to the rays.  [W/m2]"""
    diffuse_horizontal_w_m2: NDArray[np.float64]
    """From the sky on level ground.  [W/m2]"""
    global_horizontal_w_m2: NDArray[np.float64]
    """On level ground.  [W/m2]"""
    extraterrestrial_normal_w_m2: NDArray[np.float64]
    """Outside the air.  [W/m2]"""
    skyline_height_deg: NDArray[np.float64]
    """Height of the skyline under the sun.  [deg]"""
    sky_share: float
    """Share of an even sky above the skyline.  [-]"""
    albedo: float
    """Share of light that the ground sends back.  [-]"""


def rays_of(inputs: DayInputs, *, steps: slice, skies: Skies = 0) -> Rays:
    """Return the rays of some steps of the day: for the sky planned for, or for many."""
    sun, weather = inputs.sun, inputs.weather
    return site_rays(
        inputs.site,
        at_s=sun.at_s[steps],
        sun_elevation_deg=sun.elevation_deg[steps],
        sun_azimuth_deg=sun.azimuth_deg[steps],
        beam_normal_w_m2=weather.beam_normal_w_m2[skies, steps],
        diffuse_horizontal_w_m2=weather.diffuse_horizontal_w_m2[skies, steps],
        global_horizontal_w_m2=weather.global_horizontal_w_m2[skies, steps],
    )


def site_rays(
    site: Site,
    *,
    at_s: NDArray[np.float64],
    sun_elevation_deg: NDArray[np.float64],
    sun_azimuth_deg: NDArray[np.float64],
    beam_normal_w_m2: NDArray[np.float64],
    diffuse_horizontal_w_m2: NDArray[np.float64],
    global_horizontal_w_m2: NDArray[np.float64],
) -> Rays:
    """Return the rays at a site from sun and sky, with what the site itself adds.

    Parameters
    ----------
    site : Site
        Its skyline and its ground.  [-]
    at_s : ndarray
        Seconds since 1970 UTC; the others go with it.  [s]
    sun_elevation_deg, sun_azimuth_deg : ndarray
        Where the sun stands, clockwise from true north.  [deg]
    beam_normal_w_m2, diffuse_horizontal_w_m2, global_horizontal_w_m2 : ndarray
        The sky's light.  [W/m2]
    """
    return Rays(
        sun_elevation_deg=sun_elevation_deg,
        sun_azimuth_deg=sun_azimuth_deg,
        beam_normal_w_m2=beam_normal_w_m2,
        diffuse_horizontal_w_m2=diffuse_horizontal_w_m2,
        global_horizontal_w_m2=global_horizontal_w_m2,
        extraterrestrial_normal_w_m2=extraterrestrial_w_m2(at_s),
        skyline_height_deg=site.skyline.height_at(sun_azimuth_deg),
        sky_share=site.skyline.sky_share(),
        albedo=site.albedo,
    )


def part_of(rays: Rays, steps: slice) -> Rays:
    """Return the rays of some of their steps."""
    return Rays(
        sun_elevation_deg=rays["sun_elevation_deg"][steps],
        sun_azimuth_deg=rays["sun_azimuth_deg"][steps],
        beam_normal_w_m2=rays["beam_normal_w_m2"][steps],
        diffuse_horizontal_w_m2=rays["diffuse_horizontal_w_m2"][steps],
        global_horizontal_w_m2=rays["global_horizontal_w_m2"][steps],
        extraterrestrial_normal_w_m2=rays["extraterrestrial_normal_w_m2"][steps],
        skyline_height_deg=rays["skyline_height_deg"][steps],
        sky_share=rays["sky_share"],
        albedo=rays["albedo"],
    )
