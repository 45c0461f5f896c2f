"""Bearings, and the magnetic model against published values."""

from __future__ import annotations

from datetime import date

import pytest
from hypothesis import given
from hypothesis import strategies as st

from suntrack.sky.bearing import compass_point, declination, to_compass_deg, turn_deg


@pytest.mark.parametrize(
    ("latitude_deg", "longitude_deg", "elevation_m", "expected"),
    [
        # NOAA WMM2025_TestValues.txt, 2025.0: alt 0 km, (80, 0), D 1.28; (0, 120), D -0.16;
        # (-80, 240), D 68.78.  Values from memory.
        (80.0, 0.0, 0.0, 1.28),
        (0.0, 120.0, 0.0, -0.16),
        (-80.0, 240.0, 0.0, 68.78),
    ],
)
def test_declination_meets_the_published_test_values(
    latitude_deg: float, longitude_deg: float, elevation_m: float, expected: float
) -> None:
    found = declination(
        latitude_deg=latitude_deg,
        longitude_deg=longitude_deg,
        elevation_m=elevation_m,
        on=date(2025, 1, 1),
    )
    assert found.deg == pytest.approx(expected, abs=0.01)
    assert found.in_date


def test_declination_at_golden_as_another_calculator_has_it() -> None:
    """wmm-calculator 1.4.4 gives 7.578195 for Golden, Colorado, 2026-11-25 (found)."""
    found = declination(
        latitude_deg=39.742, longitude_deg=-105.179, elevation_m=1829.0, on=date(2026, 11, 25)
    )
    assert found.deg == pytest.approx(7.578, abs=0.01)


def test_an_expired_model_still_answers_and_says_so() -> None:
    """WMM-2025 is valid 2025.0 to 2030.0 (NOAA); after that it drifts, it does not fail."""
    place = {"latitude_deg": -24.65, "longitude_deg": 25.91, "elevation_m": 1010.0}
    before, after = (declination(**place, on=date(year, 6, 1)) for year in (2029, 2031))
    assert before.in_date
    assert not after.in_date
    assert after.deg == pytest.approx(before.deg, abs=1.0)


@given(true_deg=st.floats(0.0, 359.0), declination_deg=st.floats(-30.0, 30.0))
def test_compass_plus_declination_is_true(true_deg: float, declination_deg: float) -> None:
    """True = magnetic + declination, east positive (NOAA's definition)."""
    compass = float(to_compass_deg(true_deg, declination_deg=declination_deg))
    assert 0.0 <= compass <= 360.0
    assert (compass + declination_deg - true_deg) % 360.0 == pytest.approx(0.0, abs=1e-9) or (
        compass + declination_deg - true_deg
    ) % 360.0 == pytest.approx(360.0, abs=1e-9)


@pytest.mark.parametrize(
    ("start", "end", "turn"), [(350, 10, 20), (10, 350, -20), (90, 90, 0), (0, 180, 180)]
)
def test_the_shorter_turn_is_taken(start: float, end: float, turn: float) -> None:
    assert float(turn_deg(start, end)) == turn


@pytest.mark.parametrize(("bearing", "point"), [(0, 0), (359, 0), (90, 4), (202.5, 9), (348.8, 0)])
def test_points_of_the_compass(bearing: float, point: int) -> None:
    assert compass_point(bearing) == point
