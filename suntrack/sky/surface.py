"""Sunlight on a tilted surface, before glass: beam, sky and ground, by Hay and Davies.

Which surfaces a box has, and what glass and mirror do to the light, is not known here.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

if TYPE_CHECKING:
    from numpy.typing import ArrayLike, NDArray

LOWEST_RISE = np.sin(np.radians(3.0))
"""Sine of the sun's height under which the ring is not made brighter any more: dividing by
almost nothing would make a sunrise blinding (our choice; libraries stop at 1 degree)."""


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class SurfaceLight:
    """Light on a surface, in the broadcast shape of the question.

    `incidence_deg` has the shape of the angles alone and `beam_normal_w_m2` that of the
    light alone; both broadcast against the rest.
    """

    beam_w_m2: NDArray[np.float64]
    """Beam on the surface, the bright ring around the sun included.  [W/m2]"""
    sky_w_m2: NDArray[np.float64]
    """The rest of the sky's light on the surface.  [W/m2]"""
    ground_w_m2: NDArray[np.float64]
    """What the ground throws back onto the surface.  [W/m2]"""
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

    All arguments broadcast together; a nan in any of them is nan in the light it touches.

    Parameters
    ----------
    sun_elevation_deg, sun_azimuth_deg : array_like
        Where the sun stands; azimuth clockwise from true north.  [deg]
    beam_normal_w_m2, diffuse_horizontal_w_m2, global_horizontal_w_m2 : array_like
        The sky's light, as it is over an open horizon; below zero counts as none.  [W/m2]
    extraterrestrial_normal_w_m2 : array_like
        Sunlight outside the air, above 0.  [W/m2]
    tilt_deg, azimuth_deg : array_like
        Of the surface: 0 lies flat facing up, 90 stands upright facing `azimuth_deg`,
        more leans over.  [deg]
    albedo : array_like
        Share of light that the ground sends back.  [-]
    skyline_height_deg : array_like
        Height of the skyline under the sun.  A sun behind it loses the beam and the bright
        ring with it, for the surface and for the ground before it.  [deg]
    sky_share : array_like
        Share of the even sky left above the skyline, for level ground.  It is used for any
        tilt; an upright surface looks lower and in truth loses more.  [-]

    Returns
    -------
    light : SurfaceLight
        Beam, sky and ground on the surface's own plane, before glass.  [W/m2]

    Notes
    -----
    The sky's light D splits into a part from the sun's own direction, with the anisotropy
    index :math:`A = DNI / E_0`, and an even rest [1]_:

    .. math:: B = (DNI + A D / \sin a) \max(\cos\theta, 0), \quad
              S = (1 - A) D (1 + \cos\beta) / 2, \quad
              G = \rho \, GHI (1 - \cos\beta) / 2

    The first part is returned with the beam, because glass, mirror and skyline treat it as
    beam.  With the sun less than 3 degrees high :math:`\sin a` is held at its value there
    and what then is missing from the ring is left in the even sky, so that level ground
    always gets back DHI + DNI sin a.

    References
    ----------
    .. [1] J. E. Hay and J. A. Davies 1980, as in Duffie and Beckman, "Solar Engineering of
       Thermal Processes", section 2.16.  Equation from memory.
    """
    cosine = incidence_cosine(
        sun_elevation_deg=sun_elevation_deg,
        sun_azimuth_deg=sun_azimuth_deg,
        tilt_deg=tilt_deg,
        azimuth_deg=azimuth_deg,
    )
    elevation_deg = np.asarray(sun_elevation_deg, np.float64)
    rise = np.maximum(np.sin(np.radians(elevation_deg)), 0.0)
    bright_w_m2, even_w_m2 = _split(
        beam_normal_w_m2, diffuse_horizontal_w_m2, extraterrestrial_normal_w_m2, rise=rise
    )
    # One where the sun stands clear, zero where it is hidden or down; nan stays nan.
    seen = np.heaviside(elevation_deg - np.maximum(skyline_height_deg, 0.0), 0.0)
    hidden_w_m2 = bright_w_m2 * (1.0 - seen) * rise
    ground_w_m2 = _not_below_zero(global_horizontal_w_m2) - hidden_w_m2
    view = (1.0 + np.cos(np.radians(np.asarray(tilt_deg, np.float64)))) / 2.0
    whole = np.ones(np.broadcast_shapes(cosine.shape, hidden_w_m2.shape))
    return SurfaceLight(
        beam_w_m2=bright_w_m2 * seen * np.maximum(cosine, 0.0),
        sky_w_m2=even_w_m2 * view * np.asarray(sky_share) * whole,
        ground_w_m2=_not_below_zero(ground_w_m2) * np.asarray(albedo) * (1.0 - view) * whole,
        incidence_deg=np.degrees(np.arccos(np.clip(cosine, -1.0, 1.0))),
        beam_normal_w_m2=bright_w_m2 * seen,
    )


def _split(
    beam_normal_w_m2: ArrayLike,
    diffuse_horizontal_w_m2: ArrayLike,
    extraterrestrial_normal_w_m2: ArrayLike,
    *,
    rise: NDArray[np.float64],
) -> tuple[NDArray[np.float64], NDArray[np.float64]]:
    """Return the beam with its ring, square to the rays, and the even sky on level ground."""
    beam_w_m2 = _not_below_zero(beam_normal_w_m2)
    diffuse_w_m2 = _not_below_zero(diffuse_horizontal_w_m2)
    share = np.clip(beam_w_m2 / np.asarray(extraterrestrial_normal_w_m2, np.float64), 0.0, 1.0)
    ring_w_m2 = diffuse_w_m2 * share / np.maximum(rise, LOWEST_RISE)
    return beam_w_m2 + ring_w_m2, diffuse_w_m2 - ring_w_m2 * rise


def _not_below_zero(light_w_m2: ArrayLike) -> NDArray[np.float64]:
    """Return light with the small negative readings of meters and feeds taken as none."""
    return np.maximum(np.asarray(light_w_m2, np.float64), 0.0)
