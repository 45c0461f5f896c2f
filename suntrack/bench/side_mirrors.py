"""Side mirrors over a span of days: what their angle keeps of the light, and what they bring."""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

import numpy as np

from suntrack.box.light.gain import box_light
from suntrack.box.light.mirror_setting import mirrors_set_deg
from suntrack.box.light.mirrors import SIDE_RANGE_DEG

if TYPE_CHECKING:
    from suntrack.box.build import Box
    from suntrack.plan.rays import Rays

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
