"""A day's light as it was told: kept without loss, made a sky again, clear where nothing was."""

from __future__ import annotations

from datetime import UTC, date, datetime

import numpy as np
import pytest

from suntrack.sky.clear_sky import clear_weather
from suntrack.sky.forecast import Forecast
from suntrack.sky.forecast_day import told_day, told_sky
from suntrack.sky.site import Site, TypicalAir
from suntrack.sky.sun import SunTable, day_grid, sun_table
from suntrack.sky.weather import Weather

SITE = Site(
    name="courtyard", latitude_deg=-24.65, longitude_deg=25.91, elevation_m=1010.0,
    time_zone="Africa/Gaborone", typical_air=(TypicalAir(low_c=18.0, high_c=31.0),) * 12,
)  # fmt: skip
ON = date(2026, 11, 25)
STEP_S = 600.0


@pytest.fixture(scope="module")
def day() -> tuple[Weather, SunTable]:
    starts = day_grid(ON, SITE.zone, step_s=STEP_S)
    sun = sun_table(
        starts + STEP_S / 2.0, latitude_deg=SITE.latitude_deg, longitude_deg=SITE.longitude_deg,
        elevation_m=SITE.elevation_m,
    )  # fmt: skip
    return clear_weather(sun, site=SITE, step_s=STEP_S, on=ON), sun


def forecast(clear: Weather, share: float, *, hours: slice = slice(None)) -> Forecast:
    """Return whole hours with a share of the clear light; 31 C and 5 m/s all day."""
    steps = clear.at_s.reshape(24, -1)[hours]
    light = share * clear.global_horizontal_w_m2[0].reshape(24, -1).mean(axis=1)[hours]
    return Forecast(
        feed="test", kind="radiation", starts_at_s=steps[:, 0], ends_at_s=steps[:, -1] + STEP_S,
        fetched_at=datetime(2026, 11, 25, tzinfo=UTC), global_horizontal_w_m2=light[None],
        air_c=np.full((1, steps.shape[0]), 31.0), wind_m_s=np.full((1, steps.shape[0]), 5.0),
    )  # fmt: skip


def test_a_day_with_three_fifths_of_the_light_has_three_fifths(
    day: tuple[Weather, SunTable],
) -> None:
    """The share of each hour comes out as it went in: division undone, by hand."""
    clear, sun = day
    sky = told_sky(told_day(forecast(clear, 0.6), clear=clear, sun=sun), clear=clear, sun=sun)
    high = sun.elevation_deg > 10.0
    assert sky.index[high] == pytest.approx(0.6, abs=0.005)
    given, made = (one.global_horizontal_w_m2[0].sum() for one in (clear, sky.weather))
    assert made == pytest.approx(0.6 * given, rel=0.01)
    assert sky.weather.air_c[0, high] == pytest.approx(31.0, abs=1.0)


def test_hours_that_nobody_told_are_clear_and_known_to_be_so(
    day: tuple[Weather, SunTable],
) -> None:
    clear, sun = day
    told = told_day(forecast(clear, 0.5, hours=slice(12, 24)), clear=clear, sun=sun)
    sky = told_sky(told, clear=clear, sun=sun)
    morning = slice(0, clear.at_s.size // 2)
    assert np.isnan(sky.index[morning]).all()
    assert sky.weather.global_horizontal_w_m2[0, morning] == pytest.approx(
        clear.global_horizontal_w_m2[0, morning]
    )


def test_a_day_of_which_nothing_was_told_is_the_clear_one(day: tuple[Weather, SunTable]) -> None:
    clear, sun = day
    assert told_sky(None, clear=clear, sun=sun).weather is clear


def test_the_night_is_not_kept(day: tuple[Weather, SunTable]) -> None:
    clear, sun = day
    told = told_day(forecast(clear, 0.8), clear=clear, sun=sun)
    assert told.starts_at_s.size < 24
    assert (told.ends_at_s > sun.at_s[sun.elevation_deg > 0.0][0]).all()
