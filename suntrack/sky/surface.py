"""Sunlight on a tilted surface, before glass: beam, sky and ground, by Hay and Davies."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

if TYPE_CHECKING:
    from numpy.typing import ArrayLike, NDArray


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class SurfaceLight:
    """Light on a surface, every array in the broadcast shape of the question."""

    beam_w_m2: NDArray[np.float64]
    """Beam on the surface, the bright ring around the sun included.  [W/m2]"""
    sky_w_m2: NDArray[np.float64]
    """The rest of the sky's light on the surface.  [W/m2]"""
    ground_w_m2: NDArray[np.float64]
    incidence_deg: NDArray[np.float64]
    """Between the sun's rays and the surface's outward normal.  [deg]"""
    beam_normal_w_m2: NDArray[np.float64]
    """Beam square to its rays, the bright ring included; what a mirror sees.  [W/m2]"""


def incidence_cosine(
    *,
    sun_elevation_deg: ArrayLike,
    sun_azimuth_deg: ArrayLike,
    tilt_deg: ArrayLike,
    azimuth_deg: ArrayLike,
) -> NDArray[np.float64]:
    """Return the cosine of the angle between the sun's rays and a surface's normal.  [-]"""
    elevation, tilt = np.radians(sun_elevation_deg), np.radians(tilt_deg)
    offset = np.radians(np.asarray(sun_azimuth_deg, np.float64) - np.asarray(azimuth_deg))
    cosine = np.sin(elevation) * np.cos(tilt) + np.cos(elevation) * np.sin(tilt) * np.cos(offset)
    return np.asarray(cosine, np.float64)


def surface_light(
    *,
    sun_elevation_deg: ArrayLike,
    sun_azimuth_deg: ArrayLike,
    beam_normal_w_m2: ArrayLike,
    diffuse_horizontal_w_m2: ArrayLike,
    global_horizontal_w_m2: ArrayLike,
    extraterrestrial_normal_w_m2: ArrayLike,
    tilt_deg: ArrayLike,
    azimuth_deg: ArrayLike,
    albedo: ArrayLike,
    skyline_height_deg: ArrayLike = 0.0,
    sky_share: ArrayLike = 1.0,
) -> SurfaceLight:
    r"""Return the light on a tilted surface.

    All arguments broadcast together.

    Parameters
    ----------
    sun_elevation_deg, sun_azimuth_deg : array_like
        Where the sun stands; azimuth clockwise from true north.  [deg]
    beam_normal_w_m2, diffuse_horizontal_w_m2, global_horizontal_w_m2 : array_like
        The sky's light.  [W/m2]
    extraterrestrial_normal_w_m2 : array_like
        Sunlight outside the air.  [W/m2]
    tilt_deg, azimuth_deg : array_like
        Of the surface: 0 lies flat facing up, 90 stands upright facing `azimuth_deg`.
        [deg]
    albedo : array_like
        Share of light that the ground sends back.  [-]
    skyline_height_deg : array_like
        Height of the skyline under the sun; it blocks beam and ring together.  [deg]
    sky_share : array_like
        Share of the even sky left above the skyline.  [-]

    Returns
    -------
    light : SurfaceLight

    Notes
    -----
    The sky's light splits into a part from the sun's own direction, with the anisotropy
    index :math:`A = DNI / E_0`, and an even rest [1]_.  The first part is returned with
    the beam, because glass, mirror and skyline treat it as beam.

    References
    ----------
    .. [1] J. E. Hay and J. A. Davies 1980, as in Duffie and Beckman, "Solar Engineering of
       Thermal Processes", section 2.16.  Equation from memory.
    """
    elevation_deg = np.asarray(sun_elevation_deg, np.float64)
    up = elevation_deg > np.maximum(np.asarray(skyline_height_deg, np.float64), 0.0)
    direct = np.where(up, np.maximum(np.asarray(beam_normal_w_m2, np.float64), 0.0), 0.0)
    reflected = np.maximum(np.asarray(global_horizontal_w_m2, np.float64), 0.0) * np.asarray(albedo)
    diffuse = np.maximum(np.asarray(diffuse_horizontal_w_m2, np.float64), 0.0)
    ring_share = np.clip(direct / np.asarray(extraterrestrial_normal_w_m2, np.float64), 0.0, 1.0)
    # Near the horizon the ring's light would be divided by almost nothing.
    height = np.maximum(np.sin(np.radians(elevation_deg)), np.sin(np.radians(3.0)))
    bright = direct + diffuse * ring_share / height
    cosine = incidence_cosine(
        sun_elevation_deg=elevation_deg,
        sun_azimuth_deg=sun_azimuth_deg,
        tilt_deg=tilt_deg,
        azimuth_deg=azimuth_deg,
    )
    view = (1.0 + np.cos(np.radians(np.asarray(tilt_deg, np.float64)))) / 2.0
    even = np.ones(np.broadcast_shapes(cosine.shape, bright.shape))
    return SurfaceLight(
        beam_w_m2=bright * np.maximum(cosine, 0.0),
        sky_w_m2=diffuse * (1.0 - ring_share) * view * np.asarray(sky_share) * even,
        ground_w_m2=reflected * (1.0 - view) * even,
        incidence_deg=np.degrees(np.arccos(np.clip(cosine, -1.0, 1.0))),
        beam_normal_w_m2=bright,
    )
