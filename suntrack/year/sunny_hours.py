"""What a year of days shares: the sunny part of the day, and its rays on the box."""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

from suntrack.plan.rays import Rays, site_rays

if TYPE_CHECKING:
    from numpy.typing import NDArray

    from suntrack.sky.site import Site
    from suntrack.sky.year import YearSky

TURN_S = 1800.0
"""How often the box is turned (common practice, no source).  [s]"""
LEAST_SUN_DEG = 5.0
"""Sun height from which the box is out (our choice).  [deg]"""
AFTER_S = 5400.0
"""How far past the last sun of the year a day is followed.  [s]"""


def sunny_window(sky: YearSky) -> slice:
    """Return the steps of the day that have sun on any day, from a half hour on, and some after."""
    up = np.flatnonzero((sky.elevation_deg > LEAST_SUN_DEG).any(axis=0))
    if not up.size:
        return slice(0, sky.elevation_deg.shape[1])
    last = int(up[-1]) + 1 + round(AFTER_S / sky.step_s)
    first = int(up[0]) - int(up[0]) % max(1, round(TURN_S / sky.step_s))
    return slice(first, min(last, sky.elevation_deg.shape[1]))


def rays_of_year(site: Site, sky: YearSky, pick: tuple[slice | NDArray[np.bool_], ...]) -> Rays:
    """Return the rays of some days and steps."""
    return site_rays(
        site,
        at_s=sky.at_s[pick],
        sun_elevation_deg=sky.elevation_deg[pick],
        sun_azimuth_deg=sky.azimuth_deg[pick],
        beam_normal_w_m2=sky.beam_normal_w_m2[pick],
        diffuse_horizontal_w_m2=sky.diffuse_horizontal_w_m2[pick],
        global_horizontal_w_m2=sky.global_horizontal_w_m2[pick],
    )
