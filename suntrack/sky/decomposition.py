"""Light that a forecast only hints at: beam out of global light, and light out of cloud."""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

from suntrack.sky.clear_sky import extraterrestrial_w_m2

if TYPE_CHECKING:
    from numpy.typing import ArrayLike, NDArray

LOW_SUN_DEG = 5.0
"""Under this height of the sun a feed's beam is not used: it is a small light divided by the
sine of a small angle.  [deg]"""
HIGH_CLOUD_WEIGHT = 0.4
"""How far high cloud counts as cloud: thin ice lets most of the sun through (our estimate,
no source).  [-]"""


def split_global(
    global_horizontal_w_m2: ArrayLike, *, sun_elevation_deg: ArrayLike, at_s: ArrayLike
) -> tuple[NDArray[np.float64], NDArray[np.float64]]:
    """Return beam normal and diffuse horizontal light out of global horizontal light.

    For a mean over an interval the sun has to be that of its middle: with the sun of the
    label, at its end, the error of the beam more than doubles.

    Parameters
    ----------
    global_horizontal_w_m2 : array_like, shape (..., intervals)
        Mean over each interval; below zero counts as zero.  [W/m2]
    sun_elevation_deg : array_like, shape (intervals,)
        Of the sun at the middle of each interval.  [deg]
    at_s : array_like, shape (intervals,)
        The middles, seconds since 1970 UTC.  [s]

    Returns
    -------
    beam_normal_w_m2, diffuse_horizontal_w_m2 : ndarray
        In the shape of the global light; nan stays nan.  With the sun under 3 degrees there
        is no beam.  [W/m2]

    References
    ----------
    .. [1] D. G. Erbs, S. A. Klein and J. A. Duffie, Solar Energy 28 (1982) 293-302, in the
       continuous form of A. Driesse, A. Jensen and R. Perez, Solar Energy 267 (2024) 112093.
    """
    from pvlib import irradiance

    total = np.maximum(np.asarray(global_horizontal_w_m2, np.float64), 0.0)
    found = irradiance.erbs_driesse(
        total,
        np.broadcast_to(90.0 - np.asarray(sun_elevation_deg, np.float64), total.shape),
        dni_extra=extraterrestrial_w_m2(at_s),
    )
    return np.asarray(found["dni"], np.float64), np.asarray(found["dhi"], np.float64)


def light_under_cloud(cloud: ArrayLike) -> NDArray[np.float64]:
    r"""Return the share of the clear sky's global light that is left under cloud.

    Parameters
    ----------
    cloud : array_like
        Share of the sky that is covered, 0 to 1, any shape; nan stays nan.  [-]

    Returns
    -------
    clear_index : ndarray
        :math:`1 - 0.75 n^{3.4}`, from 1 down to 0.25.  [-]

    References
    ----------
    .. [1] F. Kasten and G. Czeplak, "Solar and terrestrial radiation dependent on the amount
       and type of cloud", Solar Energy 24 (1980) 177-189.  From memory.
    """
    covered = np.clip(np.asarray(cloud, np.float64), 0.0, 1.0)
    return np.asarray(1.0 - 0.75 * covered**3.4)


def shading_cloud(
    *,
    cloud: NDArray[np.float64] | None,
    low: NDArray[np.float64] | None,
    mid: NDArray[np.float64] | None,
    high: NDArray[np.float64] | None,
) -> NDArray[np.float64] | None:
    """Return the cloud that matters for the sun: low and middle in full, high in part.

    Parameters
    ----------
    cloud : ndarray or None
        Cover of all heights together, 0 to 1.  [-]
    low, mid, high : ndarray or None
        Cover of each height, 0 to 1; all three are needed.  [-]

    Returns
    -------
    cloud : ndarray or None
        The layers as if they lay at random over each other, never more than `cloud`;
        `cloud` itself where the layers are not known; None when nothing is.  [-]
    """
    if low is None or mid is None or high is None:
        return cloud
    gaps = (1.0 - low) * (1.0 - mid) * (1.0 - HIGH_CLOUD_WEIGHT * high)
    layered = 1.0 - gaps
    if cloud is None:
        return layered
    return np.where(np.isnan(layered), cloud, np.fmin(layered, cloud))
