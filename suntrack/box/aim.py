"""Light for many aims at once: the table that turns are chosen from, and the best there is."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from suntrack.box.gain import box_light

if TYPE_CHECKING:
    from numpy.typing import ArrayLike, NDArray

    from suntrack.box.build import Box


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Followed:
    """A box turned to its best aim at every moment, arrays of shape (steps,)."""

    inside_w: NDArray[np.float64]
    face_deg: NDArray[np.float64]
    mirror_deg: NDArray[np.float64]


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
    albedo: float = 0.2,
    skyline_height_deg: ArrayLike = 0.0,
    sky_share: float = 1.0,
) -> NDArray[np.float64]:
    """Return the light inside for every face, mirror angle and step.

    Parameters
    ----------
    box : Box
    faces_deg : ndarray, shape (faces,)
        Where the box could face, clockwise from true north.  [deg]
    mirrors_deg : ndarray, shape (mirrors,)
        Mirror angles from the glass.  [deg]

    Returns
    -------
    inside_w : ndarray, shape (faces, mirrors, steps)
        The other arguments are those of `box_light`, each of shape (steps,).  [W]
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
    shape = (faces_deg.size, mirrors_deg.size, sun_elevation_deg.size)
    return np.array(np.broadcast_to(light.inside_w, shape))


def followed_gain(
    box: Box,
    *,
    sun_elevation_deg: NDArray[np.float64],
    sun_azimuth_deg: NDArray[np.float64],
    beam_normal_w_m2: NDArray[np.float64],
    diffuse_horizontal_w_m2: NDArray[np.float64],
    global_horizontal_w_m2: NDArray[np.float64],
    extraterrestrial_normal_w_m2: NDArray[np.float64],
    albedo: float = 0.2,
    skyline_height_deg: ArrayLike = 0.0,
    sky_share: float = 1.0,
) -> Followed:
    """Return the light of a box that always has its best aim, the measure of all others.

    By symmetry the best face is towards the sun or, with the sun near overhead, away from
    it; both are tried with every whole degree the mirror can take.
    """
    mirrors_deg = _mirror_degrees(box)
    toward = np.asarray(sun_azimuth_deg, np.float64)
    faces_deg = np.stack([toward, (toward + 180.0) % 360.0])
    light = box_light(
        box,
        sun_elevation_deg=sun_elevation_deg,
        sun_azimuth_deg=sun_azimuth_deg,
        beam_normal_w_m2=beam_normal_w_m2,
        diffuse_horizontal_w_m2=diffuse_horizontal_w_m2,
        global_horizontal_w_m2=global_horizontal_w_m2,
        extraterrestrial_normal_w_m2=extraterrestrial_normal_w_m2,
        face_deg=faces_deg[:, None, :],
        mirror_deg=mirrors_deg[:, None],
        albedo=albedo,
        skyline_height_deg=skyline_height_deg,
        sky_share=sky_share,
    )
    shape = (2, mirrors_deg.size, toward.size)
    inside_w = np.broadcast_to(light.inside_w, shape).reshape(-1, toward.size)
    best = inside_w.argmax(axis=0)
    steps = np.arange(toward.size)
    return Followed(
        inside_w=inside_w[best, steps],
        face_deg=faces_deg[best // mirrors_deg.size, steps],
        mirror_deg=mirrors_deg[best % mirrors_deg.size],
    )


def _mirror_degrees(box: Box) -> NDArray[np.float64]:
    """Return every whole degree the mirror can take; a placeholder without one.  [deg]"""
    if box.mirror is None:
        return np.array([90.0])
    if box.mirror.fixed_angle_deg is not None:
        return np.array([box.mirror.fixed_angle_deg])
    return np.arange(box.mirror.lowest_angle_deg, box.mirror.highest_angle_deg + 0.5, 1.0)
