"""The skyline: trees, roofs and hills that stand between the box and the sun.

Only its shape is kept here; what it does to light is the business of `surface`.  numpy is
loaded where it is needed: who only reads the record must not wait for it.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import ArrayLike, NDArray


@dataclass(frozen=True, slots=True, kw_only=True)
class Skyline:
    """How high the surroundings reach in each direction; without points, an open horizon.

    Raises
    ------
    ValueError
        If the points are not pairs, not in rising order, or outside the range below.
    """

    azimuth_deg: tuple[float, ...] = ()
    """Clockwise from true north, ascending, 0 to 360.  [deg]"""
    height_deg: tuple[float, ...] = ()
    """Height above the horizontal in that direction, -90 to 90.  [deg]"""

    def __post_init__(self) -> None:
        """Refuse points that cannot be a skyline."""
        if len(self.azimuth_deg) != len(self.height_deg):
            raise ValueError("every azimuth_deg of a skyline needs one height_deg")
        steps = zip(self.azimuth_deg, self.azimuth_deg[1:], strict=False)
        if any(before >= after for before, after in steps):
            raise ValueError(f"azimuth_deg is {self.azimuth_deg}; it has to rise")
        if not all(0.0 <= azimuth <= 360.0 for azimuth in self.azimuth_deg):
            raise ValueError(f"azimuth_deg is {self.azimuth_deg}; it has to be in 0 to 360")
        if not all(-90.0 <= height <= 90.0 for height in self.height_deg):
            raise ValueError(f"height_deg is {self.height_deg}; it has to be in -90 to 90")

    def height_at(self, azimuth_deg: ArrayLike) -> NDArray[np.float64]:
        """Return the height of the skyline, by straight lines between its points.  [deg]

        Wraps at north: past the last point the line runs on to the first.  `azimuth_deg`
        may have any shape, which is kept; nan stays nan.
        """
        import numpy as np

        azimuth = np.asarray(azimuth_deg, np.float64)
        if not self.azimuth_deg:
            return np.where(np.isnan(azimuth), np.nan, 0.0)
        # numpy's own wrapping folds points at 0 and at 360 into one, so it is done here.
        turns = (self.azimuth_deg[-1] - 360.0, *self.azimuth_deg, self.azimuth_deg[0] + 360.0)
        heights = (self.height_deg[-1], *self.height_deg, self.height_deg[0])
        return np.asarray(np.interp(azimuth % 360.0, turns, heights))

    def sky_share(self) -> float:
        r"""Return the share of an even sky's light on level ground that stays visible.  [-]

        For an even sky above a skyline of height h(A) the share is the mean over A of
        :math:`\cos^2 h`, since the sky's light on level ground above height h is
        proportional to :math:`\int_h^{90} \sin a \cos a \, da`.
        """
        import numpy as np

        height_rad = np.radians(self.height_at(np.arange(0.0, 360.0)))
        return float(np.mean(np.cos(np.maximum(height_rad, 0.0)) ** 2))
