"""Local days cut out of UTC rows: long days, short days, half hours."""

from __future__ import annotations

from datetime import UTC, date, datetime
from zoneinfo import ZoneInfo

import numpy as np
import pytest

from suntrack.sky.forecast import Forecast
from suntrack.sky.localday import covered, day_bounds_s, on_day

HOUR_S = 3600.0


def hours(first: datetime, count: int, *, unknown: slice | None = None) -> Forecast:
    """Return hourly rows from a UTC hour on."""
    starts_s = first.timestamp() + HOUR_S * np.arange(count, dtype=np.float64)
    light = np.full((1, count), 300.0)
    if unknown is not None:
        light[:, unknown] = np.nan
    return Forecast(
        feed="made up",
        kind="radiation",
        starts_at_s=starts_s,
        ends_at_s=starts_s + HOUR_S,
        fetched_at=first,
        global_horizontal_w_m2=light,
    )


@pytest.mark.parametrize(
    ("zone", "on", "length_h"),
    [
        # IANA time zone database; the US changes on the second Sunday of March and the first
        # of November (Energy Policy Act of 2005; from memory).
        ("America/Denver", date(2026, 3, 8), 23.0),
        ("America/Denver", date(2026, 11, 1), 25.0),
        ("America/Denver", date(2026, 6, 14), 24.0),
        # Lord Howe Island moves by half an hour only.
        ("Australia/Lord_Howe", date(2026, 4, 5), 24.5),
    ],
)
def test_a_local_day_has_its_own_length(zone: str, on: date, length_h: float) -> None:
    starts_s, ends_s = day_bounds_s(on, ZoneInfo(zone))
    assert ends_s - starts_s == length_h * HOUR_S
    forecast = hours(datetime(on.year, on.month, on.day, tzinfo=UTC), 60)
    day = on_day(forecast, on, ZoneInfo(zone))
    assert day.starts_at_s[-1] < ends_s <= day.ends_at_s[-1]


@pytest.mark.parametrize(
    ("zone", "minutes"),
    # Offsets from the IANA time zone database.
    [
        ("Asia/Kolkata", 330),
        ("Asia/Kathmandu", 345),
        ("America/St_Johns", -150),
        ("Australia/Adelaide", 570),
    ],
)
def test_midnight_on_the_half_hour_cuts_an_hour_in_two(zone: str, minutes: int) -> None:
    on = date(2026, 6, 14)
    starts_s, ends_s = day_bounds_s(on, ZoneInfo(zone))
    assert starts_s == datetime(2026, 6, 14, tzinfo=UTC).timestamp() - minutes * 60.0
    forecast = hours(datetime(2026, 6, 13, tzinfo=UTC), 72)
    day = on_day(forecast, on, ZoneInfo(zone))
    # 24 hours that begin inside an hour touch 25 of them.
    assert day.starts_at_s.size == 25
    assert covered(forecast, starts_s=starts_s, ends_s=ends_s) == pytest.approx(1.0)


def test_an_evening_without_rows_for_its_morning_is_partial() -> None:
    """In Denver 14 June begins at 06:00 UTC; rows from 18:00 UTC on leave half of it."""
    zone, on = ZoneInfo("America/Denver"), date(2026, 6, 14)
    starts_s, ends_s = day_bounds_s(on, zone)
    late = hours(datetime(2026, 6, 14, 18, tzinfo=UTC), 48)
    assert covered(late, starts_s=starts_s, ends_s=ends_s) == pytest.approx(0.5)


def test_unknown_hours_do_not_count_as_covered() -> None:
    first = datetime(2026, 6, 14, tzinfo=UTC)
    forecast = hours(first, 24, unknown=slice(18, 24))
    starts_s = first.timestamp()
    assert covered(forecast, starts_s=starts_s, ends_s=starts_s + 24 * HOUR_S) == 0.75
    with pytest.raises(ValueError, match="before it starts"):
        covered(forecast, starts_s=starts_s, ends_s=starts_s)
