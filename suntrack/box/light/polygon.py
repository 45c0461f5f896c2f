"""Convex polygons in a plane: moved, clipped, measured.

A polygon is an array of corners, shape (CORNERS, 2), of which the first few are used; how
many goes beside it.  Plain loops on floats: they are compiled as they stand
(`suntrack.box.heat.number` says what that asks), because numpy is slow on four corners.
"""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

CORNERS = 48
"""Room for a rectangle clipped by every blocker there can be, and to spare."""

Corners = NDArray[np.float64]


def area_of(corners: Corners, count: int) -> float:
    """Return the area of a polygon, whichever way round its corners run.

    Parameters
    ----------
    corners : ndarray
        Its corners.  [m]
    count : int
        How many are used; fewer than three have no area.  [-]

    Returns
    -------
    area_m2 : float
        By the shoelace formula.  [m2]
    """
    twice = 0.0
    for i in range(1, count - 1):
        ax, ay = corners[i, 0] - corners[0, 0], corners[i, 1] - corners[0, 1]
        bx, by = corners[i + 1, 0] - corners[0, 0], corners[i + 1, 1] - corners[0, 1]
        twice += ax * by - ay * bx
    return abs(twice) / 2.0


def clip_to_line(
    corners: Corners, count: int, across: float, along: float, least: float, kept: Corners
) -> int:
    """Keep the part of a polygon on one side of a line (Sutherland and Hodgman).

    Parameters
    ----------
    corners : ndarray
        The polygon.  [m]
    count : int
        How many corners it has.  [-]
    across, along, least : float
        What is kept has across x + along y >= least.  [-], [-], [m]
    kept : ndarray
        Written over: the part that is kept.  [m]

    Returns
    -------
    count : int
        Corners of the part; 0 when nothing is left.  [-]
    """
    found = 0
    for i in range(count):
        j = i + 1 if i + 1 < count else 0
        here = across * corners[i, 0] + along * corners[i, 1] - least
        there = across * corners[j, 0] + along * corners[j, 1] - least
        if here >= 0.0:
            kept[found, 0], kept[found, 1] = corners[i, 0], corners[i, 1]
            found += 1
        if (here >= 0.0) != (there >= 0.0):
            part = here / (here - there)
            kept[found, 0] = corners[i, 0] + part * (corners[j, 0] - corners[i, 0])
            kept[found, 1] = corners[i, 1] + part * (corners[j, 1] - corners[i, 1])
            found += 1
    return found if found > 2 else 0


def clip_to_polygon(
    corners: Corners, count: int, window: Corners, edges: int, kept: Corners, spare: Corners
) -> int:
    """Keep the part of a polygon that lies inside another.

    Parameters
    ----------
    corners, count : ndarray, int
        The polygon, and how many corners it has.  [m], [-]
    window, edges : ndarray, int
        The other one, convex, and how many corners it has.  [m], [-]
    kept, spare : ndarray
        Written over; the part is in `kept`.  [m]

    Returns
    -------
    count : int
        Corners of the part; 0 when nothing is left.  [-]
    """
    turn = 1.0 if _runs_left(window, edges) else -1.0
    for i in range(count):
        kept[i, 0], kept[i, 1] = corners[i, 0], corners[i, 1]
    for i in range(edges):
        j = i + 1 if i + 1 < edges else 0
        across = -turn * (window[j, 1] - window[i, 1])
        along = turn * (window[j, 0] - window[i, 0])
        least = across * window[i, 0] + along * window[i, 1]
        count = _clip_over(kept, count, across, along, least, spare)
        if count == 0:
            break
    return count


def clip_to_rectangle(
    corners: Corners, count: int, wide: float, high: float, kept: Corners, spare: Corners
) -> int:
    """Keep the part of a polygon that lies between 0 and a width, and 0 and a height.

    Parameters
    ----------
    corners, count : ndarray, int
        The polygon, and how many corners it has.  [m], [-]
    wide, high : float
        Of the rectangle.  [m]
    kept, spare : ndarray
        Written over; the part is in `kept`.  [m]

    Returns
    -------
    count : int
        Corners of the part; 0 when nothing is left.  [-]
    """
    left = low = np.inf
    right = top = -np.inf
    for i in range(count):
        left, right = min(left, corners[i, 0]), max(right, corners[i, 0])
        low, top = min(low, corners[i, 1]), max(top, corners[i, 1])
        kept[i, 0], kept[i, 1] = corners[i, 0], corners[i, 1]
    if right <= 0.0 or left >= wide or top <= 0.0 or low >= high:
        return 0
    # Most polygons cross one or two of the four sides.
    if left < 0.0:
        count = _clip_over(kept, count, 1.0, 0.0, 0.0, spare)
    if right > wide:
        count = _clip_over(kept, count, -1.0, 0.0, -wide, spare)
    if low < 0.0:
        count = _clip_over(kept, count, 0.0, 1.0, 0.0, spare)
    if top > high:
        count = _clip_over(kept, count, 0.0, -1.0, -high, spare)
    return count


def far_apart(one: Corners, ones: int, other: Corners, others: int) -> bool:
    """Return True for polygons whose extents do not overlap; they share nothing then.

    Parameters
    ----------
    one, ones, other, others : ndarray, int
        Two polygons, and how many corners they have.  [m], [-]
    """
    for axis in range(2):
        low = least = np.inf
        high = most = -np.inf
        for i in range(ones):
            low, high = min(low, one[i, axis]), max(high, one[i, axis])
        for i in range(others):
            least, most = min(least, other[i, axis]), max(most, other[i, axis])
        if most <= low or least >= high:
            return True
    return False


def _clip_over(
    corners: Corners, count: int, across: float, along: float, least: float, spare: Corners
) -> int:
    """Clip a polygon to a line and write the part over it; return its corners."""
    count = clip_to_line(corners, count, across, along, least, spare)
    for i in range(count):
        corners[i, 0], corners[i, 1] = spare[i, 0], spare[i, 1]
    return count


def _runs_left(corners: Corners, count: int) -> bool:
    """Return whether the corners run anticlockwise."""
    twice = 0.0
    for i in range(1, count - 1):
        ax, ay = corners[i, 0] - corners[0, 0], corners[i, 1] - corners[0, 1]
        bx, by = corners[i + 1, 0] - corners[0, 0], corners[i + 1, 1] - corners[0, 1]
        twice += ax * by - ay * bx
    return twice >= 0.0


def area_outside(
    corners: Corners,
    count: int,
    blockers: NDArray[np.float64],
    sizes: NDArray[np.int64],
    blocked: int,
    work: NDArray[np.float64],
) -> float:
    """Return the area of a polygon that none of some others covers.

    Parameters
    ----------
    corners, count : ndarray, int
        The polygon, and how many corners it has.  [m], [-]
    blockers : ndarray, shape (blocked or more, CORNERS, 2)
        The others, convex.  [m]
    sizes : ndarray
        How many corners each of them has.  [-]
    blocked : int
        How many there are.  [-]
    work : ndarray, shape (3, CORNERS, 2)
        Written over.  [m]

    Returns
    -------
    area_m2 : float
        By inclusion and exclusion over every set of blockers.  [m2]
    """
    area_m2 = area_of(corners, count)
    for chosen in range(1, 2**blocked):
        left, sign = count, 1.0
        for i in range(count):
            work[0, i, 0], work[0, i, 1] = corners[i, 0], corners[i, 1]
        for k in range(blocked):
            if chosen >> k & 1 and left > 0:
                sign = -sign
                left = clip_to_polygon(work[0], left, blockers[k], sizes[k], work[1], work[2])
                for i in range(left):
                    work[0, i, 0], work[0, i, 1] = work[1, i, 0], work[1, i, 1]
        if left > 0:
            area_m2 += sign * area_of(work[0], left)
    return max(area_m2, 0.0)
