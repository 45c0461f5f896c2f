"""When wind is too much for the mirrors of a box."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from suntrack.box.build import Box

WINDY_M_S = 8.0
"""Wind at which a hinged mirror wants tying (common practice, no source).  [m/s]"""


def tying_wind_m_s(box: Box) -> float:
    """Return the wind at which the mirrors of a box want tying.  [m/s]"""
    return WINDY_M_S * wind_share(box)


def wind_share(box: Box) -> float:
    """Return how much weaker a wind pushes all mirrors of a box as hard as its largest.  [-]

    The push of wind grows with the area and with the square of the speed; none of the
    mirrors shelters another here.  1 for a box with one mirror or none.
    """
    sides, back = box.side_mirrors, box.mirror
    if sides is None:
        return 1.0
    side_m2 = sides.length_m * sides.width_m
    back_m2 = back.length_m * back.width_m if back else 0.0
    return math.sqrt(max(side_m2, back_m2) / (back_m2 + 2.0 * side_m2))
