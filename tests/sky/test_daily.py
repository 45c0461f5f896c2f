"""Days of a forecast: their light against closed limits, their edges by the zone."""

from __future__ import annotations

from datetime import UTC, date, datetime
from typing import Any
from zoneinfo import ZoneInfo

import numpy as np
import pytest

from suntrack.sky.complete_irradiance import clear_global_w_m2
from suntrack.sky.daily import forecast_days
from suntrack.sky.forecast import Forecast
from suntrack.sky.site import Site, TypicalAir

HOUR_S = 3600.0
FIRST = datetime(2026, 11, 24, 22, tzinfo=UTC)
"""Midnight in the courtyard."""
STARTS_S = FIRST.timestamp() + HOUR_S * np.arange(48, dtype=np.float64)
SITE = Site(
    name="courtyard",
    latitude_deg=-24.65,
    longitude_deg=25.91,
    elevation_m=1010.0,
    time_zone="Africa/Gaborone",
    typical_air=(TypicalAir(low_c=19.0, high_c=32.0),) * 12,
)
CLEAR = clear_global_w_m2(STARTS_S, STARTS_S + HOUR_S, site=SITE)[None]


def forecast(**fields: Any) -> Forecast:
    return Forecast(
        feed="made up",
        kind="radiation",
        starts_at_s=STARTS_S,
        ends_at_s=STARTS_S + HOUR_S,
        fetched_at=FIRST,
        **fields,
    )


@pytest.mark.parametrize("share", [0.0, 0.5, 1.0])
def test_a_share_of_the_clear_sky_is_that_share_of_the_day(share: float) -> None:
    days = forecast_days(forecast(global_horizontal_w_m2=share * CLEAR), site=SITE)
    assert [day.on for day in days] == [date(2026, 11, 25), date(2026, 11, 26)]
    assert [day.clear_share for day in days] == pytest.approx([share, share])
    assert [day.covered for day in days] == [1.0, 1.0]


def test_unknown_hours_count_neither_as_dark_nor_as_bright() -> None:
    light = 0.5 * CLEAR
    light[0, 12:15] = np.nan
    first = forecast_days(forecast(global_horizontal_w_m2=light), site=SITE)[0]
    assert first.clear_share == pytest.approx(0.5)
    assert first.covered == pytest.approx(21.0 / 24.0)


def test_members_are_averaged() -> None:
    light = np.concatenate([0.2 * CLEAR, 0.8 * CLEAR])
    rain = np.zeros((2, 48))
    rain[1, 30] = 1.0
    first, second = forecast_days(
        forecast(global_horizontal_w_m2=light, rain_chance=rain), site=SITE
    )
    assert first.clear_share == pytest.approx(0.5)
    assert (first.rain_chance, second.rain_chance) == (0.0, 0.5)


def test_the_warmest_hour_and_strongest_gust_are_those_of_the_day() -> None:
    """A degree more each hour: 23 at the end of the first day, 47 at that of the second."""
    rising = np.arange(48, dtype=np.float64)[None]
    days = forecast_days(
        forecast(global_horizontal_w_m2=CLEAR, air_c=rising, gust_m_s=rising / 2.0), site=SITE
    )
    assert [day.warmest_c for day in days] == [23.0, 47.0]
    assert [day.gust_m_s for day in days] == [11.5, 23.5]
    assert [day.rain_chance for day in days] == [None, None]


def test_a_day_hardly_touched_is_left_out() -> None:
    zone = ZoneInfo("Africa/Gaborone")
    short = forecast(global_horizontal_w_m2=np.where(np.arange(48) < 28, CLEAR, np.nan))
    days = forecast_days(short, site=SITE)
    assert [day.on for day in days] == [FIRST.astimezone(zone).date()]


def test_a_polar_night_has_no_share() -> None:
    north = Site(
        name="north",
        latitude_deg=78.2,
        longitude_deg=15.6,
        elevation_m=0.0,
        time_zone="Arctic/Longyearbyen",
        typical_air=(),
    )
    days = forecast_days(forecast(global_horizontal_w_m2=np.zeros((1, 48))), site=north)
    assert {day.clear_share for day in days} == {None}
