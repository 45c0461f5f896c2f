"""The sun over the skyline and the light in the box through a day, for whoever draws it."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime
from typing import TYPE_CHECKING

import numpy as np

from suntrack.box.light.gain import box_light
from suntrack.plan.rays import rays_of

if TYPE_CHECKING:
    from collections.abc import Sequence

    from numpy.typing import NDArray

    from suntrack.plan.inputs import DayInputs
    from suntrack.plan.records import Turn

EVERY_MIN = 10


@dataclass(frozen=True, slots=True, kw_only=True)
class LightSample:
    """The sun, and the light it gives the box, at one moment."""

    at: datetime
    """The moment."""
    sun_deg: float
    """Height of the sun above the level horizon.  [deg]"""
    skyline_deg: float
    """Height of the skyline in the direction of the sun.  [deg]"""
    top_w: float
    """Light that gets in straight through the top; 0 before the box is aimed.  [W]"""
    front_w: float
    """The same through the front; 0 without a front pane.  [W]"""
    mirror_w: float
    """The same by the mirror; 0 without one.  [W]"""


def shine_of(inputs: DayInputs, turns: Sequence[Turn]) -> tuple[LightSample, ...]:
    """Return the day in steps of ten minutes, under the sky planned for, aimed by `turns`.

    The weather's step has to divide ten minutes.
    """
    rays = rays_of(inputs, steps=slice(None))
    face_deg, mirror_deg, lit = _aims(turns, inputs.sun.at_s)
    light = box_light(inputs.box, **rays, face_deg=face_deg, mirror_deg=mirror_deg)
    every = max(round(EVERY_MIN * 60.0 / inputs.weather.step_s), 1)
    return tuple(
        LightSample(
            at=datetime.fromtimestamp(float(inputs.sun.at_s[i]), tz=inputs.site.zone),
            sun_deg=float(rays["sun_elevation_deg"][i]),
            skyline_deg=float(rays["skyline_height_deg"][i]),
            top_w=float(light.top_w[i] * lit[i]),
            front_w=float(light.front_w[i] * lit[i]),
            mirror_w=float(light.mirror_w[i] * lit[i]),
        )
        for i in range(0, inputs.sun.at_s.size, every)
    )


def _aims(
    turns: Sequence[Turn], at_s: NDArray[np.float64]
) -> tuple[NDArray[np.float64], NDArray[np.float64], NDArray[np.float64]]:
    """Return where the box faces, its mirror's angle, and whether it is out, at each moment."""
    if not turns:
        return np.zeros_like(at_s), np.full_like(at_s, 90.0), np.zeros_like(at_s)
    starts_s = np.array([turn.at.timestamp() for turn in turns])
    which = np.searchsorted(starts_s, at_s, side="right") - 1
    face_deg = np.array([turn.face_true_deg for turn in turns])[np.maximum(which, 0)]
    # Without a mirror its angle is asked for all the same and counts for nothing.
    angles = [90.0 if turn.mirror_deg is None else turn.mirror_deg for turn in turns]
    return face_deg, np.array(angles)[np.maximum(which, 0)], (which >= 0).astype(np.float64)
