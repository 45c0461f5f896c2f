"""How the back mirror of a box is best set: for one sun ahead, or for many at once."""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

from suntrack.box.light.mirror import best_mirror_deg
from suntrack.box.light.mirrors import mirror_sizes

if TYPE_CHECKING:
    from numpy.typing import NDArray

    from suntrack.box.build import Box


def set_mirror_deg(box: Box, *, elevation_deg: float) -> float | None:
    """Return how the back mirror is best set for a sun ahead; None without one.  [deg]

    Side mirrors are left out here: the angle misses at most 1.4 % of the light of a box whose
    sides are as long as it is wide, and 0.3 % with sides half as long.
    """
    mirror = box.mirror
    if mirror is None or mirror.fixed_angle_deg is not None:
        return None if mirror is None else mirror.fixed_angle_deg
    return float(
        best_mirror_deg(
            sun_elevation_deg=elevation_deg,
            sun_offset_deg=0.0,
            lowest_deg=mirror.lowest_angle_deg,
            highest_deg=mirror.highest_angle_deg,
            reflectance=mirror.reflectance,
            **mirror_sizes(box, mirror),
        )
    )


def mirrors_set_deg(box: Box, heights_deg: NDArray[np.float64]) -> NDArray[np.float64]:
    """Return the best mirror for each height of the sun, by straight lines between degrees."""
    mirror = box.mirror
    if mirror is None or mirror.fixed_angle_deg is not None:
        return np.full(heights_deg.shape, 90.0 if mirror is None else mirror.fixed_angle_deg)
    whole = np.arange(0.0, 91.0, 3.0)
    # All heights in one call: a year asks for this once a box and tilt.
    table = best_mirror_deg(
        sun_elevation_deg=whole,
        sun_offset_deg=0.0,
        lowest_deg=mirror.lowest_angle_deg,
        highest_deg=mirror.highest_angle_deg,
        reflectance=mirror.reflectance,
        **mirror_sizes(box, mirror),
    )
    return np.asarray(np.interp(heights_deg, whole, table), np.float64)
