"""One mirror angle for a day or a month, and the light it keeps.

The box is turned to the sun; only the mirror stays put.  The measure is a mirror that is
set anew all the time.  The best angle for a single sun is in `suntrack.box.light.mirror`.

Chosen from a table of light inside, by whole degrees, so that glass and sky count and its share
is of the same light as everything else.  Lost: areas square to the beam.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from suntrack.box.light.gain import box_light

if TYPE_CHECKING:
    from numpy.typing import ArrayLike, NDArray

    from suntrack.box.build import Box


@dataclass(frozen=True, slots=True, kw_only=True)
class FixedMirror:
    """A mirror angle that is kept, and what it costs."""

    mirror_deg: float
    """From the glass, through the sky.  [deg]"""
    light_kept: float
    """Light inside, as a share of that with a mirror set anew all the time.  [-]"""


def mirror_table(
    box: Box,
    *,
    mirrors_deg: NDArray[np.float64],
    sun_elevation_deg: NDArray[np.float64],
    sun_azimuth_deg: NDArray[np.float64],
    beam_normal_w_m2: NDArray[np.float64],
    diffuse_horizontal_w_m2: NDArray[np.float64],
    global_horizontal_w_m2: NDArray[np.float64],
    extraterrestrial_normal_w_m2: NDArray[np.float64],
    albedo: ArrayLike = 0.2,
    skyline_height_deg: ArrayLike = 0.0,
    sky_share: ArrayLike = 1.0,
) -> NDArray[np.float64]:
    """Return the light inside for every mirror angle and step, the box turned to the sun.

    The arguments that are not named below are those of `box_light`, each of shape (steps,).

    Parameters
    ----------
    box : Box
    mirrors_deg : ndarray, shape (mirrors,)
        Mirror angles from the glass; one placeholder will do without a mirror.  [deg]

    Returns
    -------
    inside_w : ndarray, shape (mirrors, steps)
        Light absorbed inside.  [W]
    """
    light = box_light(
        box,
        sun_elevation_deg=sun_elevation_deg,
        sun_azimuth_deg=sun_azimuth_deg,
        beam_normal_w_m2=beam_normal_w_m2,
        diffuse_horizontal_w_m2=diffuse_horizontal_w_m2,
        global_horizontal_w_m2=global_horizontal_w_m2,
        extraterrestrial_normal_w_m2=extraterrestrial_normal_w_m2,
        face_deg=sun_azimuth_deg,
        mirror_deg=mirrors_deg[:, None],
        albedo=albedo,
        skyline_height_deg=skyline_height_deg,
        sky_share=sky_share,
    )
    return np.array(np.broadcast_to(light.inside_w, (mirrors_deg.size, sun_azimuth_deg.size)))


def best_fixed(inside_w: NDArray[np.float64], *, mirrors_deg: NDArray[np.float64]) -> FixedMirror:
    """Return the one angle that keeps most light over equal steps.

    Parameters
    ----------
    inside_w : ndarray, shape (mirrors, steps)
        Light inside, by `mirror_table`.  [W]
    mirrors_deg : ndarray, shape (mirrors,)
        Its angles.  [deg]

    Returns
    -------
    fixed : FixedMirror
        Of equals the smallest angle; keeps all when there is no light to lose.
    """
    return kept_at(inside_w, row=int(inside_w.sum(axis=1).argmax()), mirrors_deg=mirrors_deg)


def kept_at(
    inside_w: NDArray[np.float64], *, row: int, mirrors_deg: NDArray[np.float64]
) -> FixedMirror:
    """Return what one row of the table keeps; the arguments are those of `best_fixed`."""
    followed_w = float(inside_w.max(axis=0).sum())
    kept_w = float(inside_w[row].sum())
    return FixedMirror(
        mirror_deg=float(mirrors_deg[row]),
        light_kept=kept_w / followed_w if followed_w > 0.0 else 1.0,
    )
