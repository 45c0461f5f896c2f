"""The next sunrise against the reference algorithm's table."""

from __future__ import annotations

from datetime import UTC, datetime, timedelta
from zoneinfo import ZoneInfo

import pytest

from suntrack.sky.rise import next_sunrise
from suntrack.sky.sun import day_grid, sun_events, sun_table

PLACES = [
    ("Africa/Gaborone", -24.65, 25.91),
    ("Asia/Kolkata", 28.65, 77.2),
    ("America/Denver", 39.74, -105.0),
    ("Europe/Helsinki", 60.17, 24.94),
    ("Pacific/Auckland", -36.85, 174.76),
]


@pytest.mark.parametrize(("zone", "latitude_deg", "longitude_deg"), PLACES)
@pytest.mark.parametrize(("month", "day"), [(5, 17), (11, 26), (2, 19)])
def test_sunrise_agrees_with_the_reference_table(
    zone: str, latitude_deg: float, longitude_deg: float, month: int, day: int
) -> None:
    """NREL SPA through pvlib is the reference: within 90 seconds at these latitudes."""
    place = {"latitude_deg": latitude_deg, "longitude_deg": longitude_deg}
    midnight = datetime(2026, month, day, tzinfo=ZoneInfo(zone))
    table = sun_table(
        day_grid(midnight.date(), ZoneInfo(zone), step_s=60.0), **place, elevation_m=0.0
    )
    expected_s = sun_events(table).rises_at_s
    found = next_sunrise(midnight, **place)
    assert found is not None
    assert expected_s is not None
    assert found.timestamp() == pytest.approx(expected_s, abs=90.0)
    assert found.utcoffset() == midnight.utcoffset() or found.tzinfo == midnight.tzinfo


def test_after_sunrise_it_is_the_next_days() -> None:
    noon = datetime(2026, 11, 25, 12, 0, tzinfo=ZoneInfo("Africa/Gaborone"))
    found = next_sunrise(noon, latitude_deg=-24.65, longitude_deg=25.91)
    assert found is not None
    assert found - noon > timedelta(hours=16)


def test_polar_night_has_no_sunrise() -> None:
    midwinter = datetime(2026, 12, 21, tzinfo=UTC)
    assert next_sunrise(midwinter, latitude_deg=78.2, longitude_deg=15.6) is None
