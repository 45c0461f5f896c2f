"""Convex polygons against shapely, for any shapes."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st
from numpy.typing import NDArray
from shapely import MultiPoint, Polygon, box, unary_union
from shapely.affinity import translate

from suntrack.box.light.polygon import (
    CORNERS,
    area_of,
    area_outside,
    clip_to_line,
    clip_to_polygon,
    clip_to_rectangle,
    far_apart,
)

# To the micrometre: shapely gets next to nothing wrong, such as a corner at 1e-232.
places = st.floats(-2.0, 2.0).map(lambda place: round(place, 6))
spots = st.tuples(places, places)


@st.composite
def convex(draw: st.DrawFn) -> Polygon:
    """Return a convex polygon of some size: the hull of a few points."""
    hull = MultiPoint(draw(st.lists(spots, min_size=3, max_size=6))).convex_hull
    assume(isinstance(hull, Polygon) and hull.area > 0.01)
    assert isinstance(hull, Polygon)
    return hull


def filled(shape: Polygon) -> tuple[NDArray[np.float64], int]:
    """Return a shape as the code under test keeps it."""
    spot = np.array(shape.exterior.coords)[:-1]
    corners = np.zeros((CORNERS, 2))
    corners[: len(spot)] = spot
    return corners, len(spot)


def room() -> NDArray[np.float64]:
    return np.zeros((CORNERS, 2))


@given(shape=convex())
def test_area(shape: Polygon) -> None:
    assert area_of(*filled(shape)) == pytest.approx(shape.area, abs=1e-9)


def test_nothing_has_no_area() -> None:
    assert area_of(room(), 0) == 0.0


@given(one=convex(), other=convex(), flip=st.booleans())
def test_common_part(one: Polygon, other: Polygon, flip: bool) -> None:
    """Either way round: shapely's hulls run one way, half of them are turned."""
    corners, count = filled(one)
    window, edges = filled(other)
    if flip:
        window[:edges] = window[:edges][::-1].copy()
    kept = room()
    found = clip_to_polygon(corners, count, window, edges, kept, room())
    assert area_of(kept, found) == pytest.approx(one.intersection(other).area, abs=1e-7)


@given(shape=convex(), wide=st.floats(0.1, 2.0), high=st.floats(0.1, 2.0))
def test_part_in_a_rectangle(shape: Polygon, wide: float, high: float) -> None:
    corners, count = filled(shape)
    kept = room()
    found = clip_to_rectangle(corners, count, wide, high, kept, room())
    expected = shape.intersection(box(0.0, 0.0, wide, high)).area
    assert area_of(kept, found) == pytest.approx(expected, abs=1e-7)


@given(one=convex(), other=convex())
def test_what_is_far_apart_shares_nothing(one: Polygon, other: Polygon) -> None:
    """And what shares something is never called far apart."""
    apart = far_apart(*filled(one), *filled(other))
    assert not (apart and one.intersection(other).area > 1e-12)
    shifted = translate(one, xoff=5.0)
    assert far_apart(*filled(one), *filled(shifted))


@given(shape=convex(), across=st.floats(-1.0, 1.0), least=st.floats(-2.0, 2.0))
def test_one_side_of_a_line(shape: Polygon, across: float, least: float) -> None:
    """What is kept on both sides adds up to the whole."""
    corners, count = filled(shape)
    parts = []
    for sign in (1.0, -1.0):
        kept = room()
        found = clip_to_line(corners, count, sign * across, sign, sign * least, kept)
        parts.append(area_of(kept, found))
        assert (across * kept[:found, 0] + kept[:found, 1] - least) * sign == pytest.approx(
            np.abs(across * kept[:found, 0] + kept[:found, 1] - least), abs=1e-9
        )
    assert sum(parts) == pytest.approx(shape.area, abs=1e-9)


@settings(deadline=None)
@given(shape=convex(), blockers=st.lists(convex(), max_size=4))
def test_what_no_blocker_covers(shape: Polygon, blockers: list[Polygon]) -> None:
    """Shapely takes the union of all blockers off at once."""
    corners, count = filled(shape)
    rooms, sizes = np.zeros((5, CORNERS, 2)), np.zeros(5, np.int64)
    for i, blocker in enumerate(blockers):
        rooms[i], sizes[i] = filled(blocker)
    found = area_outside(corners, count, rooms, sizes, len(blockers), np.zeros((3, CORNERS, 2)))
    assert found == pytest.approx(shape.difference(unary_union(blockers)).area, abs=1e-7)
