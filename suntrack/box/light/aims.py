"""Light for many aims at once: the table that turns are chosen from, and the best there is.

An aim is a face (where the front points) and a mirror angle.  Choosing turns over a day
from such a table belongs to `suntrack.plan.turns.search`.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import partial
from typing import TYPE_CHECKING

import numpy as np

from suntrack.box.light.gain import box_light

if TYPE_CHECKING:
    from collections.abc import Callable

    from numpy.typing import ArrayLike, NDArray

    from suntrack.box.build import Box

GRAINS = ((10.0, 5.0), (2.0, 1.0), (0.5, 0.25))
"""Grains of the search for the best aim, of face and mirror, each finer than the last.  [deg]"""
NEAR = np.arange(-5, 6)
"""Steps of a grain that are tried around the best of the grain before; spans a whole one."""


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Followed:
    """A box turned to its best aim at every moment, arrays of shape (steps,)."""

    inside_w: NDArray[np.float64]
    """Light absorbed inside.  [W]"""
    face_deg: NDArray[np.float64]
    """Where the box faces, clockwise from true north.  [deg]"""
    mirror_deg: NDArray[np.float64]
    """Mirror angle from the glass; 90 without a mirror.  [deg]"""


def gain_matrix(
    box: Box,
    *,
    sun_elevation_deg: NDArray[np.float64],
    sun_azimuth_deg: NDArray[np.float64],
    beam_normal_w_m2: NDArray[np.float64],
    diffuse_horizontal_w_m2: NDArray[np.float64],
    global_horizontal_w_m2: NDArray[np.float64],
    extraterrestrial_normal_w_m2: NDArray[np.float64],
    faces_deg: NDArray[np.float64],
    mirrors_deg: NDArray[np.float64],
    albedo: ArrayLike = 0.2,
    skyline_height_deg: ArrayLike = 0.0,
    sky_share: ArrayLike = 1.0,
) -> NDArray[np.float64]:
    """Return the light inside for every face, mirror angle and step.

    The arguments that are not named below are those of `box_light`, each of shape (steps,).

    Parameters
    ----------
    box : Box
    faces_deg : ndarray, shape (faces,)
        Where the box could face, clockwise from true north.  [deg]
    mirrors_deg : ndarray, shape (mirrors,)
        Mirror angles from the glass; one placeholder will do without a mirror.  [deg]

    Returns
    -------
    inside_w : ndarray, shape (faces, mirrors, steps)
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
        face_deg=faces_deg[:, None, None],
        mirror_deg=mirrors_deg[:, None],
        albedo=albedo,
        skyline_height_deg=skyline_height_deg,
        sky_share=sky_share,
    )
    return np.array(light.inside_w)


def followed_gain(
    box: Box,
    *,
    sun_elevation_deg: NDArray[np.float64],
    sun_azimuth_deg: NDArray[np.float64],
    beam_normal_w_m2: NDArray[np.float64],
    diffuse_horizontal_w_m2: NDArray[np.float64],
    global_horizontal_w_m2: NDArray[np.float64],
    extraterrestrial_normal_w_m2: NDArray[np.float64],
    albedo: ArrayLike = 0.2,
    skyline_height_deg: ArrayLike = 0.0,
    sky_share: ArrayLike = 1.0,
) -> Followed:
    """Return the light of a box that always has its best aim, the measure of all others.

    The arguments are those of `box_light`, each of shape (steps,).

    Notes
    -----
    Light depends on how far the box faces from the sun and not on which side, so offsets
    of 0 to 180 degrees are searched.  Zero is not always best: a fixed mirror that leans
    too far back for a low sun throws more in from aside.  Of equals the smallest offset and
    mirror angle win.
    """
    light = partial(
        box_light,
        box,
        sun_elevation_deg=sun_elevation_deg,
        sun_azimuth_deg=sun_azimuth_deg,
        beam_normal_w_m2=beam_normal_w_m2,
        diffuse_horizontal_w_m2=diffuse_horizontal_w_m2,
        global_horizontal_w_m2=global_horizontal_w_m2,
        extraterrestrial_normal_w_m2=extraterrestrial_normal_w_m2,
        albedo=albedo,
        skyline_height_deg=skyline_height_deg,
        sky_share=sky_share,
    )

    def inside_w(
        offset_deg: NDArray[np.float64], mirror_deg: NDArray[np.float64]
    ) -> NDArray[np.float64]:
        return light(face_deg=sun_azimuth_deg + offset_deg, mirror_deg=mirror_deg).inside_w

    low, high = _mirror_range_deg(box)
    return _follow(inside_w, sun_azimuth_deg, lowest_deg=low, highest_deg=high)


def _follow(
    inside_w: Callable[[NDArray[np.float64], NDArray[np.float64]], NDArray[np.float64]],
    sun_azimuth_deg: NDArray[np.float64],
    *,
    lowest_deg: float,
    highest_deg: float,
) -> Followed:
    """Narrow a grid of offsets and mirror angles around the best of every step."""
    face_grain, mirror_grain = GRAINS[0]
    offsets = np.arange(0.0, 180.0 + face_grain, face_grain)[:, None]
    mirrors = np.append(np.arange(lowest_deg, highest_deg, mirror_grain), highest_deg)[:, None]
    best = _best_aim(inside_w, offsets, mirrors, steps=sun_azimuth_deg.size)
    for face_grain, mirror_grain in GRAINS[1:]:
        offsets = np.clip(best[1] + face_grain * NEAR[:, None], 0.0, 180.0)
        mirrors = np.clip(best[2] + mirror_grain * NEAR[:, None], lowest_deg, highest_deg)
        finer = _best_aim(inside_w, offsets, mirrors, steps=sun_azimuth_deg.size)
        best = np.where(finer[0] > best[0], finer, best)
    return Followed(
        inside_w=best[0], face_deg=(sun_azimuth_deg + best[1]) % 360.0, mirror_deg=best[2]
    )


def _best_aim(
    inside_w: Callable[[NDArray[np.float64], NDArray[np.float64]], NDArray[np.float64]],
    offsets_deg: NDArray[np.float64],
    mirrors_deg: NDArray[np.float64],
    *,
    steps: int,
) -> NDArray[np.float64]:
    """Return light, offset and mirror angle of the best pair in every step, shape (3, steps).

    Offsets and mirror angles have a row for each choice, and one column or one a step.
    """
    offsets, mirrors = offsets_deg[:, None, :], mirrors_deg[None, :, :]
    shape = (offsets_deg.shape[0], mirrors_deg.shape[0], steps)
    tried = [
        np.broadcast_to(part, shape).reshape(-1, steps)
        for part in (inside_w(offsets, mirrors), offsets, mirrors)
    ]
    at = tried[0].argmax(axis=0)[None, :]
    return np.stack([np.take_along_axis(part, at, axis=0)[0] for part in tried])


def _mirror_range_deg(box: Box) -> tuple[float, float]:
    """Return the lowest and highest angle the mirror can take; a placeholder without one."""
    if box.mirror is None:
        return 90.0, 90.0
    fixed = box.mirror.fixed_angle_deg
    if fixed is not None:
        return fixed, fixed
    return box.mirror.lowest_angle_deg, box.mirror.highest_angle_deg
