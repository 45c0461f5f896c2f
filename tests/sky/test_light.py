"""Clear-sky light and the air, against measured days and closed limits."""

from __future__ import annotations

import csv
import os
from datetime import UTC, date, datetime, timedelta
from pathlib import Path
from zoneinfo import ZoneInfo

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from suntrack.sky.air import air_of, typical_air_c
from suntrack.sky.light import clear_sky, clear_weather, extraterrestrial_w_m2
from suntrack.sky.site import Site, TypicalAir
from suntrack.sky.sun import day_grid, sun_events, sun_table

SHARED = Path(os.environ.get("SUNTRACK_SHARED", Path(__file__).parents[3] / "shared"))
MEASURED = SHARED / "weather" / "srrl_201206ty.csv"
MONTHS = tuple(TypicalAir(low_c=5.0 + i, high_c=20.0 + i) for i in range(12))


def site(latitude_deg: float, longitude_deg: float, elevation_m: float, zone: str) -> Site:
    return Site(
        name="test",
        latitude_deg=latitude_deg,
        longitude_deg=longitude_deg,
        elevation_m=elevation_m,
        time_zone=zone,
        typical_air=MONTHS,
    )


GABORONE = site(-24.65, 25.91, 1010.0, "Africa/Gaborone")
GOLDEN = site(39.742, -105.179, 1829.0, "America/Denver")


@pytest.mark.parametrize(
    ("on", "expected"),
    [
        # Earth's distance at perihelion 0.98329 AU and aphelion 1.01671 AU (IAU almanac values,
        # from memory): 1361/r^2.
        (datetime(2026, 1, 3, tzinfo=UTC), 1361.0 / 0.98329**2),
        (datetime(2026, 7, 6, tzinfo=UTC), 1361.0 / 1.01671**2),
    ],
)
def test_sunlight_outside_the_air_follows_the_distance(on: datetime, expected: float) -> None:
    assert float(extraterrestrial_w_m2(on.timestamp())) == pytest.approx(expected, rel=2e-3)


def test_extraterrestrial_agrees_with_the_reference_library() -> None:
    import pandas as pd
    from pvlib import irradiance

    times = pd.date_range("2026-01-01", "2026-12-31", freq="D", tz="UTC")
    reference = irradiance.get_extra_radiation(times, solar_constant=1361.0, method="nrel")
    at_s = np.array([time.timestamp() for time in times])
    assert extraterrestrial_w_m2(at_s) == pytest.approx(reference.to_numpy(), rel=1.5e-3)


def test_clear_sky_closes_and_stays_below_the_sun_outside() -> None:
    """Identity: global = diffuse + beam x sin(height), within the model's own clipping."""
    at_s = day_grid(date(2026, 11, 25), ZoneInfo("Africa/Gaborone"), step_s=600.0)
    sun = sun_table(at_s, latitude_deg=-24.65, longitude_deg=25.91, elevation_m=1010.0)
    light = clear_sky(sun, site=GABORONE)
    height = np.sin(np.radians(sun.elevation_deg))
    high = sun.elevation_deg > 10.0
    total = light.diffuse_horizontal_w_m2 + light.beam_normal_w_m2 * height
    assert total[high] == pytest.approx(light.global_horizontal_w_m2[high], abs=1.0)
    assert np.all(light.beam_normal_w_m2 < extraterrestrial_w_m2(at_s))
    assert np.all(light.global_horizontal_w_m2[sun.elevation_deg < 0] == 0.0)
    assert 800.0 < light.beam_normal_w_m2.max() < 1100.0


def _measured_days() -> list[tuple[datetime, float]]:
    """Return (end of hour in UTC, measured global light) of the NREL SRRL file."""
    rows = []
    with MEASURED.open(newline="") as file:
        for row in list(csv.reader(file))[2:]:
            month, day, year = map(int, row[0].split("/"))
            ends = datetime(year, month, day, tzinfo=UTC) + timedelta(
                hours=int(row[1].split(":")[0]) + 7
            )
            rows.append((ends, float(row[4])))
    return rows


@pytest.mark.skipif(not MEASURED.exists(), reason="the measured weather is not beside the project")
def test_the_clearest_measured_hours_sit_at_the_clear_sky() -> None:
    """NREL SRRL, Golden, June 2012 (NREL MIDC): clear days sit at 1.02 to 1.07 of Ineichen.

    The hour before each stamp is compared at its middle; the upper decile of hours with the
    sun over 30 degrees has to lie within 0.97 to 1.10.
    """
    rows = [(ends, ghi) for ends, ghi in _measured_days() if ghi > 0.0]
    at_s = np.array([(ends - timedelta(minutes=30)).timestamp() for ends, _ in rows])
    sun = sun_table(at_s, latitude_deg=39.742, longitude_deg=-105.179, elevation_m=1829.0)
    clear = clear_sky(sun, site=GOLDEN).global_horizontal_w_m2
    high = sun.elevation_deg > 30.0
    index = np.array([ghi for _, ghi in rows])[high] / clear[high]
    assert 0.97 < np.quantile(index, 0.9) < 1.10


def test_clear_weather_has_one_sky_on_the_grid_of_the_day() -> None:
    starts_s = day_grid(date(2026, 11, 25), ZoneInfo("Africa/Gaborone"), step_s=600.0)
    sun = sun_table(starts_s + 300.0, latitude_deg=-24.65, longitude_deg=25.91, elevation_m=1010.0)
    weather = clear_weather(sun, site=GABORONE, step_s=600.0, on=date(2026, 11, 25))
    assert weather.source == "clear sky"
    assert weather.air_c.shape == (1, 144)
    assert weather.at_s.tolist() == starts_s.tolist()
    noon = sun_events(sun).noon_at_s
    assert abs(weather.at_s[weather.global_horizontal_w_m2[0].argmax()] - noon) < 1200.0


@given(low=st.floats(-10.0, 20.0), span=st.floats(0.0, 25.0), hour=st.floats(0.0, 24.0))
def test_air_stays_between_low_and_high(low: float, span: float, hour: float) -> None:
    rises, sets = 6.0 * 3600.0, 18.5 * 3600.0
    air_c = float(
        typical_air_c(hour * 3600.0, low_c=low, high_c=low + span, sunrise_s=rises, sunset_s=sets)
    )
    assert low - 1e-9 <= air_c <= low + span + 1e-9


def test_air_is_coolest_at_sunrise_and_warmest_two_hours_after_noon() -> None:
    """Common practice, no source: the warmest air comes about two hours after solar noon."""
    hours = np.arange(0.0, 24.0, 0.1)
    air_c = typical_air_c(
        hours * 3600.0, low_c=10.0, high_c=30.0, sunrise_s=6 * 3600.0, sunset_s=18 * 3600.0
    )
    assert hours[air_c.argmin()] == pytest.approx(6.0, abs=0.15)
    assert hours[air_c.argmax()] == pytest.approx(14.0, abs=0.5)
    assert air_c.max() == pytest.approx(30.0, abs=0.05)


def test_the_months_run_into_each_other() -> None:
    low_mid, high_mid, _ = air_of(MONTHS, date(2026, 6, 16))
    assert (low_mid, high_mid) == pytest.approx((10.0, 25.0), abs=0.1)
    low_new_year, _, _ = air_of(MONTHS, date(2026, 1, 1))
    assert 5.0 < low_new_year < 16.0
