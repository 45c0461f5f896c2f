"""Heights off the map, against the heights that airports and cities publish."""

from __future__ import annotations

import pytest

from suntrack.config.first_run.heights import map_height_m


@pytest.mark.parametrize(
    ("latitude_deg", "longitude_deg", "height_m"),
    [
        # Aerodrome elevations of the ICAO publications, from memory to ten metres.
        (-24.56, 25.92, 1010),  # Gaborone, FBSK
        (39.86, -104.67, 1660),  # Denver, KDEN
        (19.44, -99.07, 2230),  # Mexico City, MMMX
        (52.31, 4.76, 0),  # Amsterdam, EHAM
        (-1.32, 36.93, 1620),  # Nairobi, HKJK
    ],
)
def test_flat_places_are_within_what_its_makers_say(
    latitude_deg: float, longitude_deg: float, height_m: float
) -> None:
    found_m = map_height_m(latitude_deg=latitude_deg, longitude_deg=longitude_deg)
    assert found_m == pytest.approx(height_m, abs=100.0)
    assert found_m % 10.0 == 0.0


def test_the_sea_is_level() -> None:
    assert map_height_m(latitude_deg=0.0, longitude_deg=-30.0) == 0.0


def test_what_a_config_may_say_is_never_passed() -> None:
    """Mount Everest is higher than any place that the config takes."""
    assert map_height_m(latitude_deg=27.99, longitude_deg=86.93) <= 6000.0
