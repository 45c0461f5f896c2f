"""How mirror and box are best set in each month, by the light they bring inside."""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

import numpy as np

from suntrack.bench.hinge import mirror_angles_deg
from suntrack.box.light.fixed_mirror import FixedMirror, best_fixed, mirror_table
from suntrack.box.light.gain import box_light
from suntrack.box.light.mirror_setting import mirrors_set_deg
from suntrack.year.sunny_hours import LEAST_SUN_DEG, rays_of_year

if TYPE_CHECKING:
    from numpy.typing import NDArray

    from suntrack.box.build import Box
    from suntrack.plan.rays import Rays
    from suntrack.sky.site import Site
    from suntrack.sky.year import YearSky

COARSE = 6
"""Angles are compared on every so many steps: half hours."""
MANY_DAYS = 180
"""From so many days on, one in three tells the angles of a month.  [days]"""
TILTS_DEG = np.arange(0.0, 46.0, 5.0)


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Angles:
    """Light of the sunny half hours of a year for every mirror angle and every tilt."""

    day: NDArray[np.intp]
    """Which day each half hour is of, shape (half hours,)."""
    mirrors_deg: NDArray[np.float64]
    """Empty without a mirror."""
    by_mirror_w: NDArray[np.float64]
    """Shape (mirrors, half hours)."""
    tilts_deg: NDArray[np.float64]
    """As built first."""
    by_tilt_w: NDArray[np.float64]
    """The mirror set all the time, shape (tilts, half hours)."""


def angles_of(box: Box, site: Site, sky: YearSky) -> Angles:
    """Return the light for every angle, the box turned to the sun."""
    some = np.arange(sky.elevation_deg.shape[1]) % COARSE == COARSE // 2
    sunny = (sky.elevation_deg > LEAST_SUN_DEG) & some
    if len(sky.dates) >= MANY_DAYS:
        sunny &= (np.arange(len(sky.dates)) % 3 == 1)[:, None]
    rays = rays_of_year(site, sky, (sunny,))
    tilts_deg = np.array([box.tilt_deg, *TILTS_DEG])
    tilted = [_taken_w(replace(box, tilt_deg=float(tilt)), rays) for tilt in tilts_deg]
    mirrors_deg, by_mirror_w = np.zeros(0), np.zeros((0, int(sunny.sum())))
    if box.mirror is not None:
        mirrors_deg = mirror_angles_deg(box.mirror)[::2]
        by_mirror_w = mirror_table(box, mirrors_deg=mirrors_deg, **rays)
    return Angles(
        day=np.nonzero(sunny)[0],
        mirrors_deg=mirrors_deg,
        by_mirror_w=by_mirror_w,
        tilts_deg=tilts_deg,
        by_tilt_w=np.array(tilted),
    )


def best_mirror(angles: Angles, inside: NDArray[np.bool_]) -> FixedMirror | None:
    """Return the one angle that keeps most light of a month; None without a mirror or sun."""
    if not angles.mirrors_deg.size or not inside.any():
        return None
    return best_fixed(angles.by_mirror_w[:, inside], mirrors_deg=angles.mirrors_deg)


def best_tilt(angles: Angles, inside: NDArray[np.bool_]) -> tuple[float, float]:
    """Return the tilt that takes in most light, and that light against the box as built."""
    taken = angles.by_tilt_w[:, inside].sum(axis=1)
    best = int(taken.argmax())
    return float(angles.tilts_deg[best]), float(taken[best] / taken[0]) if taken[0] > 0.0 else 1.0


def _taken_w(box: Box, rays: Rays) -> NDArray[np.float64]:
    """Return the light inside with the box turned to the sun and its mirror set.  [W]"""
    mirror_deg = mirrors_set_deg(box, np.asarray(rays["sun_elevation_deg"]))
    light = box_light(box, **rays, face_deg=rays["sun_azimuth_deg"], mirror_deg=mirror_deg)
    return np.asarray(light.inside_w)
