"""Open-Meteo's rows as intervals, from measured hours in its form and from our own rows."""

from __future__ import annotations

from collections.abc import Callable
from datetime import UTC, datetime, timedelta
from typing import Any

import numpy as np
import pytest

from suntrack.errors import FeedError
from suntrack.feeds.checks import checked
from suntrack.feeds.open_meteo import call_weight, read
from suntrack.sky.site import Site

FIRST = datetime(2026, 6, 13, tzinfo=UTC)


def test_a_stamp_ends_the_interval_of_its_radiation(
    payload: Callable[[str], Any], golden: Site
) -> None:
    """The value stamped 20:00 is the mean of 19:00 to 20:00, as the service's pages say."""
    data = payload("openmeteo_forecast_gmt_unixtime.json")
    forecast = read(data, feed="open-meteo", site=golden, now=FIRST)
    assert forecast.kind == "radiation"
    assert forecast.global_horizontal_w_m2 is not None
    stamps, light = data["hourly"]["time"], data["hourly"]["shortwave_radiation"]
    for i in (1, 20, 95):
        column = int(np.flatnonzero(forecast.ends_at_s == stamps[i])[0])
        assert forecast.starts_at_s[column] == stamps[i] - 3600.0
        assert forecast.global_horizontal_w_m2[0, column] == light[i]


def test_instants_are_averaged_over_the_interval(
    payload: Callable[[str], Any], golden: Site
) -> None:
    data = payload("openmeteo_forecast_gmt_unixtime.json")
    forecast = read(data, feed="open-meteo", site=golden, now=FIRST)
    assert forecast.air_c is not None
    assert forecast.cloud is not None
    air, cloud = data["hourly"]["temperature_2m"], data["hourly"]["cloud_cover"]
    assert forecast.air_c[0, 0] == pytest.approx((air[0] + air[1]) / 2.0)
    assert forecast.cloud[0, 0] == pytest.approx((cloud[0] + cloud[1]) / 200.0)


def test_measured_light_passes_every_check_unchanged(
    payload: Callable[[str], Any], golden: Site
) -> None:
    """Four days measured at NREL SRRL in 2012, with cloud: nothing in them is impossible."""
    data = payload("openmeteo_forecast_gmt_unixtime.json")
    forecast = read(data, feed="open-meteo", site=golden, now=FIRST)
    good = checked(forecast, site=golden, now=FIRST + timedelta(hours=12))
    assert good.notes == ()
    assert good.global_horizontal_w_m2 is not None
    assert forecast.global_horizontal_w_m2 is not None
    np.testing.assert_array_equal(good.global_horizontal_w_m2, forecast.global_horizontal_w_m2)


def test_the_cells_distance_and_height_are_told(
    payload: Callable[[str], Any], golden: Site
) -> None:
    """0.014 degrees of longitude at 39.7 north: 1.2 km (111.2 km x 0.769 x 0.014)."""
    data = payload("openmeteo_forecast_gmt_unixtime.json")
    forecast = read(data, feed="open-meteo", site=golden, now=FIRST)
    assert forecast.cell_distance_m == pytest.approx(1240.0, rel=0.03)
    assert forecast.elevation_m == 1745.0
    del data["elevation"]
    assert read(data, feed="open-meteo", site=golden, now=FIRST).elevation_m is None


def test_small_negative_and_minus_zero_light_is_none(
    payload: Callable[[str], Any], golden: Site
) -> None:
    data = payload("openmeteo_forecast_negative_radiation.json")
    forecast = read(data, feed="open-meteo", site=golden, now=FIRST)
    assert forecast.global_horizontal_w_m2 is not None
    assert forecast.global_horizontal_w_m2.min() < 0.0
    good = checked(forecast, site=golden, now=FIRST).global_horizontal_w_m2
    assert good is not None
    assert not np.signbit(good).any()


def test_the_members_of_an_ensemble_are_kept_apart(payload: Callable[[str], Any]) -> None:
    """Real members of NOAA's GEFS, 2019-05-15: the control and twenty others, three-hourly."""
    data = payload("openmeteo_ensemble_gefs_native3h.json")
    site = Site(
        name="hills", latitude_deg=32.0, longitude_deg=-110.5, elevation_m=1000.0,
        time_zone="America/Phoenix", typical_air=(),
    )  # fmt: skip
    now = datetime(2019, 5, 15, 3, tzinfo=UTC)
    forecast = read(data, feed="open-meteo-ensemble", site=site, now=now)
    assert forecast.members == 21
    assert forecast.coarse.all()
    assert forecast.global_horizontal_w_m2 is not None
    assert forecast.beam_normal_w_m2 is None
    hourly = data["hourly"]
    for member, key in ((0, "shortwave_radiation"), (7, "shortwave_radiation_member07")):
        given = [np.nan if v is None else v for v in hourly[key][1:]]
        np.testing.assert_array_equal(forecast.global_horizontal_w_m2[member], given)
    assert checked(forecast, site=site, now=now).members == 21


def test_rain_of_members_is_a_yes_or_no(rows: Callable[..., dict[str, Any]], golden: Site) -> None:
    """More than a tenth of a millimetre counts, as the service counts it."""
    data = rows(golden, FIRST, hours=4)
    data["hourly"] |= {
        "precipitation": [0, 0.1, 0.2, None],
        "shortwave_radiation_member01": [1] * 4,
    }
    data["hourly_units"] |= {"precipitation": "mm", "shortwave_radiation_member01": "W/m²"}
    del data["hourly"]["precipitation_probability"]
    forecast = read(data, feed="open-meteo-ensemble", site=golden, now=FIRST)
    assert forecast.rain_chance is not None
    assert forecast.rain_chance[0, :2].tolist() == [0.0, 1.0]
    assert np.isnan(forecast.rain_chance[0, 2])
    assert np.isnan(forecast.rain_chance[1]).all(), "a member without rain rows is not known"


@pytest.mark.parametrize(
    ("variables", "members", "days", "weight"),
    [
        # The service's published rule: max(1, v m / 10, v m / 10 x days / 14).
        (8, 1, 9, 1.0),
        (5, 31, 9, 15.5),
        (20, 1, 14, 2.0),
        (20, 1, 28, 4.0),
    ],
)
def test_a_request_weighs_what_the_service_counts(
    variables: int, members: int, days: int, weight: float
) -> None:
    found = call_weight(variables=variables, members=members, days=days)
    assert found == pytest.approx(weight)


@pytest.mark.parametrize(
    ("change", "said"),
    [
        (lambda d: d["hourly"]["cloud_cover"].pop(), "values for 96 rows"),
        (lambda d: d["hourly"]["time"].reverse(), "out of order"),
        (lambda d: d["hourly"].update(time=[]), "out of order"),
        (lambda d: d["hourly"].pop("time"), "hourly.time is missing"),
        (lambda d: d.pop("hourly"), "hourly is missing"),
        (lambda d: d.pop("hourly_units"), "hourly_units is missing"),
        (lambda d: d["hourly_units"].update(time="iso8601"), "local time"),
        (lambda d: d.update(utc_offset_seconds=7200), "local time"),
        (lambda d: d["hourly_units"].pop("cloud_cover"), "unitless"),
        (lambda d: d["hourly_units"].update(temperature_2m="K"), "'K'"),
        (lambda d: d["hourly"]["temperature_2m"].__setitem__(3, "20"), "where a number belongs"),
        (lambda d: d["hourly"]["temperature_2m"].__setitem__(3, True), "where a number belongs"),
        (lambda d: d["hourly"].update(temperature_2m=5), "no list"),
    ],
)
def test_each_bad_form_has_a_message_of_its_own(
    rows: Callable[..., dict[str, Any]],
    golden: Site,
    change: Callable[[dict[str, Any]], Any],
    said: str,
) -> None:
    data = rows(golden, FIRST)
    change(data)
    with pytest.raises(FeedError, match=said):
        read(data, feed="open-meteo", site=golden, now=FIRST)


def test_a_gap_between_rows_is_no_interval(
    rows: Callable[..., dict[str, Any]], golden: Site
) -> None:
    data = rows(golden, FIRST, hours=24)
    for values in data["hourly"].values():
        del values[10:18]
    forecast = read(data, feed="open-meteo", site=golden, now=FIRST)
    assert np.max(forecast.ends_at_s - forecast.starts_at_s) == 3600.0
    assert np.max(forecast.starts_at_s[1:] - forecast.ends_at_s[:-1]) == 9 * 3600.0


def test_wind_may_come_in_kilometres_an_hour(
    rows: Callable[..., dict[str, Any]], golden: Site
) -> None:
    """The service's own default, should it ever overlook what was asked: 36 km/h is 10 m/s."""
    data = rows(golden, FIRST, hours=4)
    data["hourly_units"]["wind_speed_10m"] = "km/h"
    data["hourly"]["wind_speed_10m"] = [36.0] * 4
    wind = read(data, feed="open-meteo", site=golden, now=FIRST).wind_m_s
    assert wind is not None
    assert wind[0].tolist() == pytest.approx([10.0] * 3)
