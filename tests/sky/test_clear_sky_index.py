"""A forecast's light as a clear-sky index: where the sun stands, and what fills the gaps."""

from __future__ import annotations

from dataclasses import replace
from datetime import UTC, date, datetime

import numpy as np
import pytest
from numpy.typing import NDArray

from suntrack.sky.clear_sky import clear_weather
from suntrack.sky.clear_sky_index import day_pieces, foreseen_index, interval_means
from suntrack.sky.forecast import Forecast
from suntrack.sky.site import Site, TypicalAir
from suntrack.sky.sun import SunTable, day_grid, sun_table
from suntrack.sky.weather import Weather

SITE = Site(
    name="courtyard",
    latitude_deg=-24.65,
    longitude_deg=25.91,
    elevation_m=1010.0,
    time_zone="Africa/Gaborone",
    typical_air=tuple(TypicalAir(low_c=15.0, high_c=30.0) for _ in range(12)),
)
DAY = date(2026, 11, 25)


def clear_day(site: Site = SITE, on: date = DAY) -> tuple[Weather, SunTable]:
    starts_s = day_grid(on, site.zone, step_s=120.0)
    sun = sun_table(
        starts_s + 60.0,
        latitude_deg=site.latitude_deg,
        longitude_deg=site.longitude_deg,
        elevation_m=site.elevation_m,
    )
    return clear_weather(sun, site=site, step_s=120.0, on=on), sun


CLEAR, SUN = clear_day()


def hourly(
    share: float | NDArray[np.float64] = 1.0, *, hours: int = 24, length_h: int = 1
) -> Forecast:
    """Return a forecast of the day that leaves a share of the clear sky."""
    starts_s = CLEAR.at_s[0] + 3600.0 * length_h * np.arange(hours // length_h)
    ends_s = starts_s + 3600.0 * length_h
    light = interval_means(CLEAR.global_horizontal_w_m2[0], CLEAR, starts_s, ends_s)
    return Forecast(
        feed="made up",
        kind="radiation",
        starts_at_s=starts_s,
        ends_at_s=ends_s,
        fetched_at=datetime(2026, 11, 25, 3, 0, tzinfo=UTC),
        global_horizontal_w_m2=np.atleast_2d(share * light),
    )


def index_of(forecast: Forecast) -> NDArray[np.float64]:
    pieces = day_pieces(forecast, clear=CLEAR)
    return foreseen_index(forecast, pieces, clear=CLEAR, sun=SUN)


@pytest.mark.parametrize("length_h", [1, 3, 6])
def test_a_share_of_the_clear_sky_is_that_index_in_every_hour(length_h: int) -> None:
    """An identity, whatever the length of the intervals; the night takes its neighbours'."""
    found = index_of(hourly(0.7, length_h=length_h))
    assert found.shape == (1, 24)
    assert found == pytest.approx(0.7)


def test_pieces_cover_the_day_without_gaps_and_last_an_hour_at_most() -> None:
    late = hourly(hours=18, length_h=6)
    pieces = day_pieces(late, clear=CLEAR)
    assert pieces.starts_at_s[0] == CLEAR.at_s[0]
    assert pieces.ends_at_s[-1] == CLEAR.at_s[-1] + CLEAR.step_s
    assert pieces.starts_at_s[1:] == pytest.approx(pieces.ends_at_s[:-1])
    assert (pieces.ends_at_s - pieces.starts_at_s).max() <= 3600.0
    assert pieces.interval.tolist() == [0] * 6 + [1] * 6 + [2] * 6 + [-1] * 6


@pytest.mark.parametrize(
    ("on", "zone", "pieces"),
    [
        (date(2026, 3, 29), "Europe/Berlin", 23),
        (date(2026, 10, 25), "Europe/Berlin", 25),
        (date(2026, 6, 21), "Asia/Kolkata", 25),
    ],
)
def test_days_of_other_lengths_and_half_hours_are_covered(on: date, zone: str, pieces: int) -> None:
    """Feeds speak whole hours of UTC; a half-hour zone begins and ends its day in one."""
    clear, _ = clear_day(replace(SITE, time_zone=zone), on)
    starts_s = 3600.0 * (np.floor(clear.at_s[0] / 3600.0) + np.arange(-2.0, 30.0))
    forecast = Forecast(
        feed="made up",
        kind="radiation",
        starts_at_s=starts_s,
        ends_at_s=starts_s + 3600.0,
        fetched_at=datetime(2026, 1, 1, tzinfo=UTC),
    )
    found = day_pieces(forecast, clear=clear)
    assert found.starts_at_s.size == pieces
    assert (found.interval >= 0).all()
    assert (found.starts_at_s[0], found.ends_at_s[-1]) == (clear.at_s[0], clear.at_s[-1] + 120.0)


def test_an_hour_that_is_not_known_stays_unknown_and_only_that_hour() -> None:
    share = np.ones(24)
    share[12] = np.nan
    assert np.isnan(index_of(hourly(share))[0]).nonzero()[0].tolist() == [12]


def test_low_sun_takes_the_index_of_the_nearest_hour_with_more() -> None:
    """Without it a few watts of haze at sunrise would make an index of 3, or of nothing."""
    share = np.where(np.arange(24) < 12, 0.3, 0.9)
    plain = hourly(share)
    low = np.interp(plain.mid_at_s, SUN.at_s, SUN.elevation_deg) < 8.0
    assert plain.global_horizontal_w_m2 is not None
    noise = np.where(low, 500.0, plain.global_horizontal_w_m2)
    noisy = replace(plain, global_horizontal_w_m2=noise)
    found = index_of(noisy)[0]
    assert found[:12] == pytest.approx(0.3)
    assert found[12:] == pytest.approx(0.9)


def test_cloud_stands_in_where_radiation_is_missing() -> None:
    """Kasten and Czeplak 1980, from memory: a quarter of the light is left under full cloud."""
    share = np.ones(24)
    share[10] = np.nan
    found = index_of(replace(hourly(share), cloud=np.ones((1, 24))))[0]
    assert found[10] == pytest.approx(0.25)
    assert found[11] == pytest.approx(1.0)
    cloud_only = replace(
        hourly(), kind="cloud only", global_horizontal_w_m2=None, cloud=np.zeros((1, 24))
    )
    assert index_of(cloud_only) == pytest.approx(1.0)


def test_what_says_nothing_of_the_sun_foresees_nothing() -> None:
    assert np.isnan(index_of(replace(hourly(), global_horizontal_w_m2=None))).all()


def test_means_are_the_means_of_the_steps_inside() -> None:
    values = np.arange(CLEAR.at_s.size, dtype=float)
    start = CLEAR.at_s[:1]
    found = interval_means(values, CLEAR, np.append(start, start), np.append(start + 240.0, start))
    assert found.tolist() == [0.5, 0.0]
