"""The skyline: trees, roofs and hills that stand between the box and the sun."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

if TYPE_CHECKING:
    from numpy.typing import ArrayLike, NDArray


@dataclass(frozen=True, slots=True, kw_only=True)
class Skyline:
    """How high the surroundings reach in each direction; without points, an open horizon."""

    azimuth_deg: tuple[float, ...] = ()
    """Clockwise from true north, ascending, 0 to 360.  [deg]"""
    height_deg: tuple[float, ...] = ()
    """Height above the horizontal in that direction.  [deg]"""

    def height_at(self, azimuth_deg: ArrayLike) -> NDArray[np.float64]:
        """Return the height of the skyline, by straight lines between its points.  [deg]

        Wraps at north: past the last point the line runs on to the first.
        """
        azimuth = np.asarray(azimuth_deg, np.float64)
        if not self.azimuth_deg:
            return np.where(np.isnan(azimuth), np.nan, 0.0)
        return np.interp(azimuth, self.azimuth_deg, self.height_deg, period=360.0)

    def sky_share(self) -> float:
        r"""Return the share of an even sky's light on level ground that stays visible.  [-]

        For an even sky above a skyline of height h(A) the share is the mean over A of
        :math:`\cos^2 h`, since the sky's light on level ground above height h is
        proportional to :math:`\int_h^{90} \sin a \cos a \, da`.
        """
        height_rad = np.radians(self.height_at(np.arange(0.0, 360.0)))
        return float(np.mean(np.cos(np.maximum(height_rad, 0.0)) ** 2))
