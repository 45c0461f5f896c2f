"""Where the sun stands at one moment between two rows of a table, without loading numpy.

The same as `suntrack.sky.sun.position_at`, for a command that has to answer at once.
"""

from __future__ import annotations

import math
from bisect import bisect_right
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from collections.abc import Sequence


def sun_between(
    at_s: float,
    *,
    rows_s: Sequence[float],
    elevation_deg: Sequence[float],
    azimuth_deg: Sequence[float],
) -> tuple[float, float]:
    """Return elevation and azimuth at one moment.  [deg]

    Parameters
    ----------
    at_s : float
        Seconds since 1970 UTC; outside the rows the nearest row is returned.  [s]
    rows_s, elevation_deg, azimuth_deg : sequence of float, shape (rows,)
        The table: one row at least, moments rising.  [s], [deg], [deg]
    """
    after = min(max(bisect_right(rows_s, at_s), 1), len(rows_s) - 1)
    before = max(after - 1, 0)
    span_s = rows_s[after] - rows_s[before]
    share = min(max((at_s - rows_s[before]) / span_s, 0.0), 1.0) if span_s > 0.0 else 0.0
    first, second = (_vector(elevation_deg[row], azimuth_deg[row]) for row in (before, after))
    east, north, up = (a + share * (b - a) for a, b in zip(first, second, strict=True))
    bearing_deg = math.degrees(math.atan2(east, north)) % 360.0
    return (
        math.degrees(math.atan2(up, math.hypot(east, north))),
        # A hair under zero comes out of the division as 360 itself.
        0.0 if bearing_deg >= 360.0 else bearing_deg,
    )


def _vector(elevation_deg: float, azimuth_deg: float) -> tuple[float, float, float]:
    """Return a direction as east, north and up."""
    elevation, azimuth = math.radians(elevation_deg), math.radians(azimuth_deg)
    level = math.cos(elevation)
    return level * math.sin(azimuth), level * math.cos(azimuth), math.sin(elevation)
