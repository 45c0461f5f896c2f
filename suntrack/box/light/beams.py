"""Sunbeams among the top glass and up to three mirrors: exact areas by moving polygons.

Plates are numbered: the glass, the back mirror, the mirror on the side of +y and the one on
the side of -y, in the frame of `suntrack.box.light.mirror`.  A beam that all meets the same plates
in the same order is, on the first mirror it meets, a convex polygon: the last plate moved
back along the rays and clipped by every plate on the way.  Shadows and mirrors that stand in
the way are polygons too, and are taken off.  Counted are light that meets one mirror and
light that meets two, one after the other; what three bounces bring is left out (tests trace
it).  Plain loops on floats, compiled as they stand: see `suntrack.box.heat.number`.
"""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from suntrack.box.light.polygon import (
    CORNERS,
    area_outside,
    clip_to_line,
    clip_to_rectangle,
    far_apart,
)

LEVEL = 1e-9
"""Rays that come nearer to a plate by less than this never meet it.  [m/m]"""
TOUCH_M = 1e-9
"""Corners this far behind a plate still count as before it: they touch.  [m]"""
GLASS, BACK, RIGHT, LEFT = 0, 1, 2, 3
FIRST = np.array([1, 1, 1, 2, 2, 2, 3, 3, 3])
THEN = np.array([0, 2, 3, 0, 1, 3, 0, 1, 2])
"""The ways to the glass: the mirror that is met first, and the one after it; 0 for none."""
PATHS = 9
ORIGIN, ALONG, UP, NORMAL = 0, 1, 2, 3
"""What a plate's four rows of numbers are: a corner, two sides, the way it looks."""

Floats = NDArray[np.float64]


def trace_cups(
    suns: Floats,
    back_rad: Floats,
    plates: Floats,
    sizes: Floats,
    thrown_m2: Floats,
    cosine: Floats,
    shaded_m2: Floats,
) -> None:
    """Write down what the mirrors do to the glass in each of many moments.

    Parameters
    ----------
    suns : ndarray, shape (moments, 3)
        Unit vectors to the sun; one that is not above the glass is passed over.  [-]
    back_rad : ndarray, shape (moments,)
        Angle of the back mirror from the glass.  [rad]
    plates : ndarray, shape (4, 4, 3)
        Corner, sides and normal of each plate; the back mirror is turned here.  [m], [-]
    sizes : ndarray, shape (4, 2)
        Length along each side; a mirror of no length is not there.  [m]
    thrown_m2 : ndarray, shape (moments, PATHS)
        Written over: area square to the beam whose light perfect mirrors bring.  [m2]
    cosine : ndarray, shape (moments, PATHS)
        Written over where light is thrown: of its incidence on the glass.  [-]
    shaded_m2 : ndarray, shape (moments,)
        Written over: glass in the shadow of any mirror.  [m2]
    """
    rooms = np.zeros((8, CORNERS, 2))
    blockers = np.zeros((8, CORNERS, 2))
    counts = np.zeros(8, np.int64)
    before = np.zeros((4, 4), np.bool_)
    ways = np.zeros((3, 3))
    last_rad = np.nan
    for moment in range(suns.shape[0]):
        thrown_m2[moment, :] = 0.0
        shaded_m2[moment] = 0.0
        sun = suns[moment]
        if not sun[2] > LEVEL:
            continue
        if back_rad[moment] != last_rad:
            last_rad = back_rad[moment]
            turn_back(plates, last_rad)
            see_before(plates, sizes, before)
        for axis in range(3):
            ways[0, axis] = -sun[axis]
        shaded_m2[moment] = shade(plates, sizes, before, ways, rooms, blockers, counts)
        for path in range(PATHS):
            first, then = FIRST[path], THEN[path]
            if sizes[first, 1] <= 0.0 or (then and sizes[then, 1] <= 0.0):
                continue
            facing = -dot(ways[0], plates[first, NORMAL])
            if facing <= LEVEL or not reflect(plates, ways, first, then):
                continue
            area_m2 = lit(plates, sizes, before, ways, first, then, rooms, blockers, counts)
            thrown_m2[moment, path] = area_m2 * facing
            cosine[moment, path] = -ways[2 if then else 1, 2]


def dot(one: Floats, other: Floats) -> float:
    """Return the product of two vectors."""
    return float(one[0] * other[0] + one[1] * other[1] + one[2] * other[2])


def turn_back(plates: Floats, angle_rad: float) -> None:
    """Stand the back mirror at an angle from the glass.  [rad]"""
    rise, run = np.sin(angle_rad), np.cos(angle_rad)
    plates[BACK, UP, 0], plates[BACK, UP, 2] = run, rise
    plates[BACK, NORMAL, 0], plates[BACK, NORMAL, 2] = rise, -run


def see_before(plates: Floats, sizes: Floats, before: NDArray[np.bool_]) -> None:
    """Note which plates stand wholly before which others, and so cannot be cut by them."""
    for one in range(4):
        for other in range(4):
            least = 0.0
            for corner in range(4):
                away = 0.0
                for axis in range(3):
                    spot = plates[one, ORIGIN, axis] - plates[other, ORIGIN, axis]
                    if corner & 1:
                        spot += sizes[one, 0] * plates[one, ALONG, axis]
                    if corner & 2:
                        spot += sizes[one, 1] * plates[one, UP, axis]
                    away += spot * plates[other, NORMAL, axis]
                least = min(least, away)
            before[one, other] = least >= -TOUCH_M


def reflect(plates: Floats, ways: Floats, first: int, then: int) -> bool:
    """Write down the ways after each mirror; return whether the glass can be met at the end."""
    bounce(ways, 0, plates[first, NORMAL])
    if not then:
        return bool(ways[1, 2] < -LEVEL)
    if -dot(ways[1], plates[then, NORMAL]) <= LEVEL:
        return False
    bounce(ways, 1, plates[then, NORMAL])
    return bool(ways[2, 2] < -LEVEL)


def bounce(ways: Floats, leg: int, normal: Floats) -> None:
    """Write down the way after a leg's mirror."""
    twice = 2.0 * dot(ways[leg], normal)
    for axis in range(3):
        ways[leg + 1, axis] = ways[leg, axis] - twice * normal[axis]


def whole(sizes: Floats, plate: int, corners: Floats) -> int:
    """Write down a plate as a polygon in its own plane."""
    for i in range(4):
        corners[i, 0] = sizes[plate, 0] if i in (1, 2) else 0.0
        corners[i, 1] = sizes[plate, 1] if i in (2, 3) else 0.0
    return 4


def move(
    plates: Floats, at: int, corners: Floats, count: int, way: Floats, to: int, moved: Floats
) -> None:
    """Move a polygon from one plate's plane to another's along a way."""
    slant = dot(way, plates[to, NORMAL])
    for i in range(count):
        a = b = away = 0.0
        for axis in range(3):
            spot = (
                plates[at, ORIGIN, axis]
                - plates[to, ORIGIN, axis]
                + corners[i, 0] * plates[at, ALONG, axis]
                + corners[i, 1] * plates[at, UP, axis]
            )
            away += spot * plates[to, NORMAL, axis]
            a += spot * plates[to, ALONG, axis]
            b += spot * plates[to, UP, axis]
        moved[i, 0] = a - away / slant * dot(way, plates[to, ALONG])
        moved[i, 1] = b - away / slant * dot(way, plates[to, UP])


def cut_behind(plates: Floats, at: int, corners: Floats, count: int, by: int, kept: Floats) -> int:
    """Keep the part of a polygon on one plate that stands before another plate."""
    away = 0.0
    for axis in range(3):
        away += (plates[by, ORIGIN, axis] - plates[at, ORIGIN, axis]) * plates[by, NORMAL, axis]
    across = dot(plates[by, NORMAL], plates[at, ALONG])
    along = dot(plates[by, NORMAL], plates[at, UP])
    return clip_to_line(corners, count, across, along, away, kept)


def shade(
    plates: Floats,
    sizes: Floats,
    before: NDArray[np.bool_],
    ways: Floats,
    rooms: Floats,
    blockers: Floats,
    counts: NDArray[np.int64],
) -> float:
    """Return the glass that lies in the shadow of any mirror.  [m2]"""
    count = whole(sizes, GLASS, rooms[0])
    blocked = add_shadows(plates, sizes, before, ways, GLASS, rooms, count, blockers, counts)
    if not blocked:
        return 0.0
    lit_m2 = area_outside(rooms[0], count, blockers, counts, blocked, rooms[3:6])
    return float(sizes[GLASS, 0] * sizes[GLASS, 1] - lit_m2)


def add_shadows(
    plates: Floats,
    sizes: Floats,
    before: NDArray[np.bool_],
    ways: Floats,
    on: int,
    rooms: Floats,
    count: int,
    blockers: Floats,
    counts: NDArray[np.int64],
) -> int:
    """Note the shadows that other mirrors throw on a plate; return how many there are.

    Only those that may fall on the polygon of so many corners in `rooms[0]` are noted.
    """
    blocked = 0
    for mirror in range(BACK, LEFT + 1):
        clear = before[on, mirror] and dot(ways[0], plates[mirror, NORMAL]) <= 0.0
        if mirror == on or clear or sizes[mirror, 1] <= 0.0:
            continue
        size = whole(sizes, mirror, rooms[3])
        size = cut_behind(plates, mirror, rooms[3], size, on, rooms[4])
        move(plates, mirror, rooms[4], size, ways[0], on, blockers[blocked])
        if size and not far_apart(rooms[0], count, blockers[blocked], size):
            counts[blocked] = size
            blocked += 1
    return blocked


def lit(
    plates: Floats,
    sizes: Floats,
    before: NDArray[np.bool_],
    ways: Floats,
    first: int,
    then: int,
    rooms: Floats,
    blockers: Floats,
    counts: NDArray[np.int64],
) -> float:
    """Return the part of the first mirror whose light comes to the glass by this path.  [m2]"""
    count = beam_on_first(plates, sizes, ways, first, then, rooms)
    if not count:
        return 0.0
    blocked = add_shadows(plates, sizes, before, ways, first, rooms, count, blockers, counts)
    for mirror in range(BACK, LEFT + 1):
        for leg in range(2 if then else 1):
            at, goal = (then, GLASS) if leg else (first, then)
            apart = before[at, mirror] and before[goal, mirror]
            if mirror in (at, goal) or apart or sizes[mirror, 1] <= 0.0:
                continue
            size = stand_between(plates, sizes, mirror, at, goal, ways[leg + 1], rooms)
            if size and leg:
                move(plates, at, rooms[4], size, ways[1], first, blockers[blocked])
            elif size:
                for i in range(size):
                    blockers[blocked, i, 0], blockers[blocked, i, 1] = (
                        rooms[4, i, 0],
                        rooms[4, i, 1],
                    )
            if size and not far_apart(rooms[0], count, blockers[blocked], size):
                counts[blocked] = size
                blocked += 1
    return area_outside(rooms[0], count, blockers, counts, blocked, rooms[3:6])


def stand_between(
    plates: Floats, sizes: Floats, mirror: int, at: int, goal: int, way: Floats, rooms: Floats
) -> int:
    """Write what a mirror takes from the light between two others into `rooms[4]`.

    The polygon lies on the first of them; return its corners.
    """
    count = whole(sizes, mirror, rooms[3])
    count = cut_behind(plates, mirror, rooms[3], count, at, rooms[4])
    count = cut_behind(plates, mirror, rooms[4], count, goal, rooms[3])
    move(plates, mirror, rooms[3], count, way, at, rooms[4])
    return count


def beam_on_first(
    plates: Floats, sizes: Floats, ways: Floats, first: int, then: int, rooms: Floats
) -> int:
    """Write the polygon of a beam on its first mirror into `rooms[0]`; return its corners."""
    last, way = (then, ways[2]) if then else (first, ways[1])
    whole(sizes, GLASS, rooms[1])
    move(plates, GLASS, rooms[1], 4, way, last, rooms[2])
    count = clip_to_rectangle(rooms[2], 4, sizes[last, 0], sizes[last, 1], rooms[0], rooms[3])
    if not then or not count:
        return count
    count = cut_behind(plates, then, rooms[0], count, first, rooms[1])
    move(plates, then, rooms[1], count, ways[1], first, rooms[2])
    return clip_to_rectangle(rooms[2], count, sizes[first, 0], sizes[first, 1], rooms[0], rooms[3])
