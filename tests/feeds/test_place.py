"""Coordinates as feeds take them, distances against closed forms."""

from __future__ import annotations

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from suntrack.feeds.place import EARTH_M, cut, distance_m


@pytest.mark.parametrize(
    ("degrees", "text"),
    [
        (39.74299, "39.7429"),  # cut, not rounded
        (-24.65, "-24.65"),
        (-0.00001, "0"),
        (25.0, "25"),
        (100.0, "100"),
        (1e-7, "0"),
        (-105.17899, "-105.1789"),
    ],
)
def test_coordinates_are_cut_to_four_decimals(degrees: float, text: str) -> None:
    assert cut(degrees) == text


@given(st.floats(-180.0, 180.0))
def test_a_cut_coordinate_stays_within_eleven_metres(degrees: float) -> None:
    text = cut(degrees)
    assert abs(float(text) - degrees) <= 1.0001e-4
    assert "e" not in text
    assert len(text.partition(".")[2]) <= 4


def test_a_degree_along_the_equator_and_a_quarter_of_the_earth() -> None:
    """Closed forms on a sphere: radius times the angle."""

    def far(a: float, b: float, c: float, d: float) -> float:
        return distance_m(
            latitude_deg=a, longitude_deg=b, other_latitude_deg=c, other_longitude_deg=d
        )

    assert far(0.0, 0.0, 0.0, 1.0) == pytest.approx(EARTH_M * math.pi / 180.0)
    assert far(0.0, 10.0, 90.0, 55.0) == pytest.approx(EARTH_M * math.pi / 2.0)
    assert far(0.0, -179.5, 0.0, 179.5) == pytest.approx(EARTH_M * math.pi / 180.0)
    assert far(-24.65, 25.91, -24.65, 25.91) == 0.0
