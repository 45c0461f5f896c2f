"""How mirrors are set: the hinge of the back one, and what side mirrors bring at their angle.

For one sun, for a day or for a month; an angle left alone keeps a share of the light.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

import numpy as np

from suntrack.box.light.fixed_mirror import FixedMirror, best_fixed, kept_at, mirror_table
from suntrack.box.light.gain import box_light
from suntrack.box.light.mirror_setting import mirrors_set_deg, set_mirror_deg
from suntrack.box.light.mirrors import SIDE_RANGE_DEG
from suntrack.plan.rays import Rays, part_of, site_rays

if TYPE_CHECKING:
    from numpy.typing import NDArray

    from suntrack.box.build import Box, Mirror
    from suntrack.plan.rays import Rays
    from suntrack.sky.clear_sky import ClearSky
    from suntrack.sky.site import Site
    from suntrack.sky.sun import SunTable


@dataclass(frozen=True, slots=True, kw_only=True)
class HingeAdvice:
    """How to set a mirror, the box turned to the sun."""

    now_deg: float | None
    """For the sun of the moment; None while there is none.  [deg]"""
    noon_deg: float
    """Best angle from the glass at noon.  [deg]"""
    day: FixedMirror
    """The best angle to leave alone for the day."""
    span: FixedMirror
    """The best angle to leave alone for all days of the span."""
    built: FixedMirror | None
    """A mirror that is fixed as it was built, over the span; None for one that moves."""
    without: float
    """Light of the span without any mirror, as a share of a mirror set all the time.  [-]"""


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class SpanLight:
    """The light of a box over many days, for every mirror angle."""

    mirrors_deg: NDArray[np.float64]
    """The angles that were tried, shape (angles,).  [deg]"""
    inside_w: NDArray[np.float64]
    """Shape (mirrors, steps).  [W]"""
    without_w: NDArray[np.float64]
    """Without the mirror, shape (steps,).  [W]"""
    rays: Rays
    """The light of the span."""
    at_s: NDArray[np.float64]
    """Seconds since 1970 UTC, shape (steps,).  [s]"""
    first_day: int
    """How many of the steps belong to the first day.  [-]"""

    def brightest(self, box: Box) -> tuple[int, float]:
        """Return the step in which the box as built takes in most, and its mirror.  [-], [deg]"""
        rows = slice(None)
        if box.mirror is not None and box.mirror.fixed_angle_deg is not None:
            row = _row_of(self, box.mirror.fixed_angle_deg)
            rows = slice(row, row + 1)
        inside_w = self.inside_w[rows]
        place, step = np.unravel_index(int(inside_w.argmax()), inside_w.shape)
        return int(step), float(self.mirrors_deg[rows][place])


def span_light(
    box: Box, site: Site, *, sun: SunTable, sky: ClearSky, first_day_ends_s: float
) -> SpanLight:
    """Return the light of a span of days for every whole degree of the mirror.

    Parameters
    ----------
    box : Box
        As built; a mirror that is fixed is asked about all the angles it could have had.
    site : Site
    sun : SunTable
        Equal steps through all days of the span, nights included.
    sky : ClearSky
        The light of these steps.
    first_day_ends_s : float
        End of the first day, seconds since 1970 UTC.  [s]
    """
    up = sun.elevation_deg > 0.0
    rays = site_rays(
        site,
        at_s=sun.at_s[up],
        sun_elevation_deg=sun.elevation_deg[up],
        sun_azimuth_deg=sun.azimuth_deg[up],
        beam_normal_w_m2=sky.beam_normal_w_m2[up],
        diffuse_horizontal_w_m2=sky.diffuse_horizontal_w_m2[up],
        global_horizontal_w_m2=sky.global_horizontal_w_m2[up],
    )
    mirrors_deg = mirror_angles_deg(box.mirror)
    return SpanLight(
        mirrors_deg=mirrors_deg,
        inside_w=mirror_table(box, mirrors_deg=mirrors_deg, **rays),
        without_w=mirror_table(replace(box, mirror=None), mirrors_deg=np.array([90.0]), **rays)[0],
        rays=rays,
        at_s=sun.at_s[up],
        first_day=int(np.count_nonzero(sun.at_s[up] < first_day_ends_s)),
    )


def mirror_angles_deg(mirror: Mirror | None) -> NDArray[np.float64]:
    """Return the angles to try: whole degrees, both ends, and the built one of a fixed mirror."""
    if mirror is None:
        return np.array([90.0])
    low, high = mirror.lowest_angle_deg, mirror.highest_angle_deg
    own = [] if mirror.fixed_angle_deg is None else [mirror.fixed_angle_deg]
    return np.unique([low, *np.arange(np.ceil(low), high), high, *own])


def hinge_advice(
    box: Box, span: SpanLight, *, now_elevation_deg: float | None, noon_elevation_deg: float
) -> HingeAdvice | None:
    """Return how to set the mirror; None without one.

    Parameters
    ----------
    box : Box
        As built.  [-]
    span : SpanLight
        The light of the days to come.
    now_elevation_deg : float or None
        Height of the sun of the moment; None while the site does not see it.  [deg]
    noon_elevation_deg : float
        Height of the sun at noon.  [deg]
    """
    if box.mirror is None:
        return None
    free = replace(box, mirror=replace(box.mirror, fixed_angle_deg=None))
    noon_deg = set_mirror_deg(free, elevation_deg=noon_elevation_deg)
    now_deg = (
        None if now_elevation_deg is None else set_mirror_deg(free, elevation_deg=now_elevation_deg)
    )
    fixed = box.mirror.fixed_angle_deg
    followed_w = float(span.inside_w.max(axis=0).sum())
    return HingeAdvice(
        now_deg=now_deg,
        noon_deg=90.0 if noon_deg is None else noon_deg,
        day=best_fixed(span.inside_w[:, : span.first_day], mirrors_deg=span.mirrors_deg),
        span=best_fixed(span.inside_w, mirrors_deg=span.mirrors_deg),
        built=None
        if fixed is None
        else kept_at(span.inside_w, row=_row_of(span, fixed), mirrors_deg=span.mirrors_deg),
        without=float(span.without_w.sum()) / followed_w if followed_w > 0.0 else 1.0,
    )


def _row_of(span: SpanLight, mirror_deg: float) -> int:
    """Return the row of the table with a built angle, which is always one of its angles."""
    return int(np.abs(span.mirrors_deg - mirror_deg).argmin())


def rays_at(span: SpanLight, step: int) -> Rays:
    """Return the rays of one step, as arrays of one."""
    return part_of(span.rays, slice(step, step + 1))


GRAIN_DEG = 3.0
"""Between the angles of side mirrors that are tried.  [deg]"""


@dataclass(frozen=True, slots=True, kw_only=True)
class SideAdvice:
    """How side mirrors stand and could stand, the box turned to the sun."""

    angle_deg: float
    """As built.  [deg]"""
    light_kept: float
    """Light of the span as built, as a share of that at the best angle.  [-]"""
    best_deg: float
    """The best angle to leave them at for the span, to a few degrees.  [deg]"""
    without: float
    """Light of the span without them, as a share of that at the best angle.  [-]"""


def side_advice(box: Box, rays: Rays) -> SideAdvice | None:
    """Return what side mirrors do over the suns of a span; None without any.

    Parameters
    ----------
    box : Box
        As built; its back mirror is set for each sun, or stays as it is fixed.  [-]
    rays : Rays
        Equal steps through all days of the span.
    """
    sides = box.side_mirrors
    if sides is None:
        return None
    mirror_deg = mirrors_set_deg(box, rays["sun_elevation_deg"])

    def light(one: Box) -> float:
        face_deg = rays["sun_azimuth_deg"]
        found = box_light(one, **rays, face_deg=face_deg, mirror_deg=mirror_deg)
        return float(found.inside_w.sum())

    tried = [sides.angle_deg, *np.arange(SIDE_RANGE_DEG[0], SIDE_RANGE_DEG[1] + 1.0, GRAIN_DEG)]
    lights = [light(replace(box, side_mirrors=replace(sides, angle_deg=deg))) for deg in tried]
    best = int(np.argmax(lights))
    most = lights[best]
    without = light(replace(box, side_mirrors=None))
    return SideAdvice(
        angle_deg=sides.angle_deg,
        light_kept=lights[0] / most if most > 0.0 else 1.0,
        best_deg=float(tried[best]),
        without=without / most if most > 0.0 else 1.0,
    )
