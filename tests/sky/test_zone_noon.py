"""A clock and a longitude that can belong together: every city of a list that others keep."""

from __future__ import annotations

from zoneinfo import ZoneInfo

import pytest
from astral.geocoder import all_locations, database

from suntrack.sky.zone_noon import ahead_of_sun_h, can_belong


def test_every_city_of_the_sun_librarys_list_is_believed() -> None:
    """386 cities with their zones, kept by the authors of astral.

    Left out: zones whose names tz has dropped, and three whose longitudes lack their sign there.
    """
    for city in all_locations(database()):
        if city.name in ("Al Jubail", "Sana", "Sana'a"):
            continue
        try:
            zone = ZoneInfo(city.timezone)
        except (KeyError, ValueError):
            continue
        assert can_belong(zone, longitude_deg=city.longitude), city.name


@pytest.mark.parametrize(
    ("zone", "longitude_deg"),
    [
        ("Asia/Shanghai", 75.99),  # Kashgar, the latest noon of a large town
        ("Pacific/Kiritimati", -157.4),  # a day ahead of its neighbours
        ("Pacific/Apia", -171.8), ("Asia/Kolkata", 97.4), ("Europe/Madrid", -8.4),
        ("America/Adak", -176.6), ("Pacific/Chatham", -176.5),
    ],
)  # fmt: skip
def test_the_far_ends_of_zones_are_believed(zone: str, longitude_deg: float) -> None:
    """Places at the edges of their zones (tz database and atlas, from memory)."""
    assert can_belong(ZoneInfo(zone), longitude_deg=longitude_deg)


@pytest.mark.parametrize("longitude_deg", [139.7, 110.0, 151.2, -70.7, -105.0, 179.0])
def test_a_forgotten_zone_is_not(longitude_deg: float) -> None:
    assert not can_belong(ZoneInfo("Africa/Gaborone"), longitude_deg=longitude_deg)


def test_noon_by_the_sun_is_zero_and_days_do_not_matter() -> None:
    """A limit: Greenwich time at Greenwich; and 24 hours round the date line are none."""
    assert ahead_of_sun_h(ZoneInfo("UTC"), longitude_deg=0.0) == 0.0
    assert ahead_of_sun_h(ZoneInfo("Etc/GMT-12"), longitude_deg=-180.0) == pytest.approx(0.0)
