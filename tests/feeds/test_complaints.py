"""What users of forecast feeds have complained of over the years: none of it happens here.

Each test is one complaint, as it was reported of some program that reads these services.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from datetime import UTC, date, datetime, timedelta
from email.utils import format_datetime
from pathlib import Path
from typing import Any
from zoneinfo import ZoneInfo

import numpy as np
import pytest

from suntrack.config.feed_terms import FEEDS
from suntrack.config.reader import Config
from suntrack.errors import FeedError
from suntrack.feeds import met_norway, open_meteo, weather_gov
from suntrack.feeds.checks import checked
from suntrack.feeds.ledger import ledger_path, read_ledger
from suntrack.feeds.service import FeedNews, forecast_for
from suntrack.sky.forecast import Forecast
from suntrack.sky.localday import covered, day_bounds_s, on_day
from suntrack.sky.site import Site

HOUR, MINUTE = timedelta(hours=1), timedelta(minutes=1)
Rows = Callable[..., dict[str, Any]]
Ask = Callable[..., FeedNews]
JUNE = datetime(2026, 6, 13, 12, tzinfo=UTC)


@pytest.fixture
def ask(tmp_path: Path, hand: Any) -> Ask:
    def make(config: Config, now: datetime, *, attempts: int = 1, dice: float = 0.5) -> FeedNews:
        return forecast_for(
            config,
            now=now,
            cache_dir=tmp_path,
            fetch=True,
            attempts=attempts,
            tools=hand.tools(dice=dice),
        )

    return make


def point(grid: str = "TAE/58,65") -> dict[str, Any]:
    """Return the US service's answer for a place."""
    return {"properties": {"forecastGridData": f"https://api.weather.gov/gridpoints/{grid}"}}


def raw_grid(now: datetime, **layers: Any) -> dict[str, Any]:
    """Return a raw grid of two days: 40 % of cloud."""
    stretch = f"{now.isoformat()}/P2D"
    sky = {"uom": "wmoUnit:percent", "values": [{"validTime": stretch, "value": 40}]}
    return {"properties": {"updateTime": now.isoformat(), "skyCover": sky, **layers}}


def met_steps(now: datetime, hours: list[int], **more: Any) -> dict[str, Any]:
    """Return MET Norway's form with a step at each of the hours from now."""
    steps = []
    for hour in hours:
        details = {"cloud_area_fraction": float(hour), "air_temperature": 20.0, "wind_speed": 2.0}
        at = (now + timedelta(hours=hour)).isoformat()
        steps.append({"time": at, "data": {"instant": {"details": details | more}}})
    units = dict.fromkeys(("wind_speed", "wind_speed_of_gust"), "m/s")
    units |= {"cloud_area_fraction": "%", "air_temperature": "celsius"}
    meta = {"updated_at": now.isoformat(), "units": units}
    return {"properties": {"meta": meta, "timeseries": steps}}


def test_one_offset_for_a_week_in_which_the_clocks_change(
    payload: Callable[[str], Any], golden: Site
) -> None:
    """The recorded form labels all 72 rows with summer's offset: such labels are not read."""
    data = payload("openmeteo_forecast_dst_week_constant_offset.json")
    with pytest.raises(FeedError, match="local time"):
        open_meteo.read(data, feed="open-meteo", site=golden, now=JUNE)


def test_utc_and_seconds_are_asked_for(
    config: Callable[..., Config], ask: Ask, server: Any, rows: Rows, noon: datetime
) -> None:
    here = config()
    server.say_json(rows(here.site, noon - 12 * HOUR))
    ask(here, noon)
    query = server.seen[0].query
    assert query["timezone"] == ["GMT"]
    assert query["timeformat"] == ["unixtime"]
    assert query["wind_speed_unit"] == ["ms"]


@pytest.mark.parametrize(
    ("on", "hours"), [(date(2026, 11, 1), 25), (date(2026, 3, 8), 23), (date(2026, 6, 14), 24)]
)
def test_days_are_the_cooks_own_on_the_day_the_clocks_change(
    rows: Rows, golden: Site, on: date, hours: int
) -> None:
    """Clock changes of the IANA time zone database for Denver."""
    first = datetime(on.year, on.month, on.day, tzinfo=UTC) - 24 * HOUR
    forecast = open_meteo.read(rows(golden, first), feed="open-meteo", site=golden, now=first)
    day = on_day(forecast, on, golden.zone)
    assert day.starts_at_s.size == hours
    assert datetime.fromtimestamp(day.starts_at_s[0], golden.zone).date() == on
    assert datetime.fromtimestamp(day.ends_at_s[-1] - 1.0, golden.zone).date() == on


def test_the_forecast_is_not_a_day_off(
    config: Callable[..., Config], ask: Ask, server: Any, rows: Rows, noon: datetime
) -> None:
    """Daily values depend on whose day is meant; they are never asked for."""
    here = config()
    server.say_json(rows(here.site, noon - 12 * HOUR))
    forecast = ask(here, noon).forecast
    assert "daily" not in server.seen[0].query
    assert forecast is not None
    assert forecast.air_c is not None
    # Our own rows begin at local midnight, 22:00 UTC, and grow warmer by a degree an hour until
    # the next: the warmest hour of each of the courtyard's own days is that before 23:00.
    day = on_day(forecast, date(2026, 11, 26), here.site.zone)
    assert day.air_c is not None
    warmest = datetime.fromtimestamp(day.starts_at_s[np.argmax(day.air_c[0])], here.site.zone)
    assert warmest == datetime(2026, 11, 26, 22, 0, tzinfo=here.site.zone)


def test_noon_by_the_clock_is_not_noon_by_the_sun(rows: Rows, golden: Site) -> None:
    """In Denver in summer the sun is highest at 13:01, and that is when light is brightest.

    Longitude 105.18 W at UTC-6, and no equation of time in mid-June.
    """
    first = datetime(2026, 6, 14, tzinfo=UTC)
    forecast = checked(
        open_meteo.read(rows(golden, first), feed="open-meteo", site=golden, now=first),
        site=golden,
        now=first,
    )
    day = on_day(forecast, date(2026, 6, 14), golden.zone)
    light = day.global_horizontal_w_m2
    assert light is not None
    centre_s = float(np.sum(light[0] * day.mid_at_s) / np.sum(light[0]))
    centre = datetime.fromtimestamp(centre_s, golden.zone)
    assert abs(centre - datetime(2026, 6, 14, 13, 1, tzinfo=golden.zone)) < 10 * MINUTE


def test_labels_of_half_hour_zones_are_not_read(
    payload: Callable[[str], Any], golden: Site
) -> None:
    data = payload("openmeteo_forecast_kolkata_halfhour.json")
    with pytest.raises(FeedError, match="local time"):
        open_meteo.read(data, feed="open-meteo", site=golden, now=JUNE)


@pytest.mark.parametrize(
    "zone", ["Asia/Kolkata", "Asia/Kathmandu", "America/St_Johns", "Australia/Adelaide"]
)
def test_a_day_on_the_half_hour_is_covered_to_its_edges(
    rows: Rows, golden: Site, zone: str
) -> None:
    first = datetime(2026, 6, 12, tzinfo=UTC)
    forecast = open_meteo.read(rows(golden, first), feed="open-meteo", site=golden, now=first)
    starts_s, ends_s = day_bounds_s(date(2026, 6, 14), ZoneInfo(zone))
    assert starts_s % 3600.0 != 0.0
    assert covered(forecast, starts_s=starts_s, ends_s=ends_s) == pytest.approx(1.0)


def test_a_western_evening_still_has_its_morning(
    config: Callable[..., Config], ask: Ask, server: Any, rows: Rows, golden: Site
) -> None:
    """At 20:00 in Denver it is tomorrow in UTC: yesterday's rows are asked for as well."""
    evening = datetime(2026, 6, 15, 2, 0, tzinfo=UTC)
    here = config(site=golden)
    server.say_json(rows(golden, datetime(2026, 6, 14, tzinfo=UTC)))
    forecast = ask(here, evening).forecast
    assert server.seen[0].query["past_days"] == ["1"]
    assert forecast is not None
    starts_s, ends_s = day_bounds_s(date(2026, 6, 14), golden.zone)
    assert covered(forecast, starts_s=starts_s, ends_s=ends_s) == pytest.approx(1.0)


def test_which_hour_a_mean_covers_is_said_by_its_interval(
    payload: Callable[[str], Any], golden: Site
) -> None:
    """Measured hours stamped at their end (NREL SRRL): closure holds for that meaning only."""
    data = payload("openmeteo_forecast_gmt_unixtime.json")
    forecast = open_meteo.read(data, feed="open-meteo", site=golden, now=JUNE)
    good = checked(forecast, site=golden, now=JUNE)
    assert good.notes == ()
    np.testing.assert_array_equal(good.ends_at_s, data["hourly"]["time"][1:])


def test_instant_radiation_sold_as_a_mean_is_noticed(
    payload: Callable[[str], Any], golden: Site
) -> None:
    """The measured hours with their stamps moved by half an hour are values of the moment."""
    data = payload("openmeteo_forecast_gmt_unixtime.json")
    data["hourly"]["time"] = [at - 1800 for at in data["hourly"]["time"]]
    forecast = open_meteo.read(data, feed="open-meteo", site=golden, now=JUNE)
    assert any("at the moment" in note for note in checked(forecast, site=golden, now=JUNE).notes)


def test_trailing_nulls_are_not_darkness(payload: Callable[[str], Any], golden: Site) -> None:
    data = payload("openmeteo_forecast_nulls.json")
    forecast = open_meteo.read(data, feed="open-meteo", site=golden, now=JUNE)
    assert forecast.global_horizontal_w_m2 is not None
    assert np.isnan(forecast.global_horizontal_w_m2[0, -3:]).all()
    good = checked(forecast, site=golden, now=JUNE)
    assert good.starts_at_s.size == forecast.starts_at_s.size - 3
    assert good.global_horizontal_w_m2 is not None
    assert np.isfinite(good.global_horizontal_w_m2[0, -1])


def test_zeros_in_place_of_nulls_at_midday_are_refused(rows: Rows, golden: Site) -> None:
    data = rows(golden, JUNE - 12 * HOUR)
    for name in ("shortwave_radiation", "direct_normal_irradiance", "diffuse_radiation"):
        data["hourly"][name][43:46] = [0.0] * 3
    forecast = open_meteo.read(data, feed="open-meteo", site=golden, now=JUNE)
    with pytest.raises(FeedError, match="no sunlight at all at midday"):
        checked(forecast, site=golden, now=JUNE)


@pytest.mark.parametrize(
    ("gone", "words"),
    [("wind_gusts_10m", "gusts"), ("shortwave_radiation", "sunlight"), ("temperature_2m", "air")],
)
@pytest.mark.parametrize("way", ["undefined", "null", "absent"])
def test_a_variable_that_vanished_is_told_and_the_rest_is_used(
    rows: Rows, golden: Site, gone: str, words: str, way: str
) -> None:
    data = rows(golden, JUNE - 12 * HOUR)
    if way == "absent":
        del data["hourly"][gone]
    else:
        data["hourly"][gone] = [None] * 96
    if way == "undefined":
        data["hourly_units"][gone] = "undefined"
    forecast = checked(
        open_meteo.read(data, feed="open-meteo", site=golden, now=JUNE), site=golden, now=JUNE
    )
    assert words in forecast.notes[0]
    assert forecast.cloud is not None
    assert forecast.kind == ("cloud only" if gone == "shortwave_radiation" else "radiation")


def test_an_old_short_control_and_a_dead_member_do_no_harm(
    payload: Callable[[str], Any], golden: Site
) -> None:
    """Real GEFS members, the control's last 8 steps taken out and member 20 emptied."""
    site = replace(golden, latitude_deg=32.0, longitude_deg=-110.5, elevation_m=1000.0)
    now = datetime(2019, 5, 15, 3, tzinfo=UTC)
    data = payload("openmeteo_ensemble_short_control_dead_member.json")
    read = open_meteo.read(data, feed="open-meteo-ensemble", site=site, now=now)
    good = checked(read, site=site, now=now)
    assert (read.members, good.members) == (21, 20)
    assert read.starts_at_s.size - good.starts_at_s.size == 8
    assert "Left out: 1 of 21 members." in good.notes
    light = good.global_horizontal_w_m2
    assert light is not None
    assert np.isfinite(light).all()


def test_a_feed_frozen_for_days_in_perfect_form_is_refused(
    payload: Callable[[str], Any], golden: Site
) -> None:
    data = payload("openmeteo_forecast_stale_window.json")
    forecast = open_meteo.read(data, feed="open-meteo", site=golden, now=JUNE)
    with pytest.raises(FeedError, match="is stuck"):
        checked(forecast, site=golden, now=JUNE)


def test_the_service_counts_a_request_by_its_weight_and_so_do_we(
    config: Callable[..., Config], ask: Ask, server: Any, rows: Rows, noon: datetime,
    tmp_path: Path, answer: Any,
) -> None:  # fmt: skip
    """Six variables of 31 members weigh 18.6, by the published rule."""
    here = config("open-meteo-ensemble")
    server.say(answer(status=500))
    ask(here, noon)
    book = read_ledger(ledger_path(tmp_path / "feeds", "open-meteo-ensemble"))
    assert book.weight == pytest.approx(18.6)
    assert FEEDS["open-meteo-ensemble"].most_a_day < 10_000


def test_a_loop_over_places_meets_the_ceiling_of_the_day(
    config: Callable[..., Config], ask: Ask, server: Any, rows: Rows, noon: datetime
) -> None:
    here = config("open-meteo-ensemble")
    server.say_json(rows(here.site, noon - 12 * HOUR))
    said = ""
    for i in range(40):
        moved = replace(here, site=replace(here.site, latitude_deg=-24.0 + 0.01 * i))
        said = " ".join(ask(moved, noon + i * 2 * MINUTE).messages)
    assert len(server.seen) == int(FEEDS["open-meteo-ensemble"].most_a_day / 18.6)
    assert "enough for today" in said


def test_too_many_at_once_is_asked_again_after_a_pause(
    config: Callable[..., Config], ask: Ask, server: Any, rows: Rows, noon: datetime,
    hand: Any, answer: Any, in_json: Any,
) -> None:  # fmt: skip
    here = config()
    server.say(
        answer(status=429, body=b'{"error":true,"reason":"Too many concurrent requests"}'),
        in_json(rows(here.site, noon - 12 * HOUR)),
    )
    assert ask(here, noon, attempts=3).forecast is not None
    assert len(hand.waits) == 1


@pytest.mark.parametrize("attempts", [1, 3])
def test_nobody_is_asked_for_ever(
    config: Callable[..., Config], ask: Ask, server: Any, noon: datetime, answer: Any,
    hand: Any, attempts: int,
) -> None:  # fmt: skip
    server.say(answer(status=503))
    for minute in range(0, 60, 2):
        ask(config(), noon + minute * MINUTE, attempts=attempts)
    # Every failure leaves the feed alone for a quarter of an hour at least.
    assert attempts <= len(server.seen) <= 4 * attempts
    assert all(5.0 <= wait <= 22.5 for wait in hand.waits)


def test_a_used_up_limit_is_not_tried_again_until_it_starts_anew(
    config: Callable[..., Config], ask: Ask, server: Any, noon: datetime, answer: Any
) -> None:
    server.say(answer(status=429, body=b'{"reason":"Hourly API request limit exceeded."}'))
    ask(config(), noon, attempts=3)
    assert len(server.seen) == 1, "a limit is no reason to try at once"
    news = ask(config(), noon + 55 * MINUTE)
    assert len(server.seen) == 1
    assert "this hour" in news.messages[0]
    ask(config(), noon + 65 * MINUTE)
    assert len(server.seen) == 2


def test_a_schedule_gone_wild_asks_once_an_hour_all_the_same(
    config: Callable[..., Config], ask: Ask, server: Any, rows: Rows, noon: datetime
) -> None:
    here = config()
    server.say_json(rows(here.site, noon - 12 * HOUR))
    for second in range(0, 3600, 30):
        ask(here, noon + timedelta(seconds=second))
    assert len(server.seen) == 1


def test_old_names_under_new_ones_are_not_guessed_at(
    payload: Callable[[str], Any], golden: Site
) -> None:
    """A recorded answer has the units of the old names beside the values of the new."""
    data = payload("openmeteo_recorded_2021_excerpt.json")
    data["utc_offset_seconds"], data["hourly_units"]["time"] = 0, "unixtime"
    data["hourly"]["time"] = [int(JUNE.timestamp()) + 3600 * i for i in range(48)]
    with pytest.raises(FeedError, match="cloud_cover comes unitless"):
        open_meteo.read(data, feed="open-meteo", site=golden, now=JUNE)


def test_a_wind_of_another_height_is_not_taken(rows: Rows, golden: Site) -> None:
    data = rows(golden, JUNE - 12 * HOUR)
    data["hourly"]["windspeed_10m"] = data["hourly"].pop("wind_speed_10m")
    data["hourly"]["wind_speed_100m"] = [30.0] * 96
    forecast = open_meteo.read(data, feed="open-meteo", site=golden, now=JUNE)
    assert forecast.wind_m_s is None
    assert "wind" in forecast.notes[0]


def test_answers_with_more_than_is_documented_are_read(rows: Rows, golden: Site) -> None:
    plain = rows(golden, JUNE)
    more = rows(golden, JUNE)
    more |= {"location_id": 3, "current": {"time": 1}, "generationtime_ms": None}
    more["hourly"]["is_day"] = [1] * 96
    more["hourly_units"]["is_day"] = ""
    one, other = (
        open_meteo.read(data, feed="open-meteo", site=golden, now=JUNE) for data in (plain, more)
    )
    assert one.member_arrays().keys() == other.member_arrays().keys()


def test_several_places_in_one_answer_are_refused(
    payload: Callable[[str], Any], golden: Site
) -> None:
    with pytest.raises(FeedError, match="several places"):
        open_meteo.read(
            payload("openmeteo_forecast_two_locations.json"),
            feed="open-meteo",
            site=golden,
            now=JUNE,
        )


def test_a_body_cut_off_under_a_status_of_success_is_asked_for_again(
    config: Callable[..., Config], ask: Ask, server: Any, rows: Rows, noon: datetime,
    payload: Callable[[str], Any], answer: Any, in_json: Any, hand: Any,
) -> None:  # fmt: skip
    here = config()
    server.say(
        answer(body=payload("openmeteo_200_truncated_stream.txt")),
        in_json(rows(here.site, noon - 12 * HOUR)),
    )
    assert ask(here, noon, attempts=2).forecast is not None
    assert len(hand.waits) == 1


def test_a_change_dated_in_the_future_is_not_asked_about(
    config: Callable[..., Config], ask: Ask, server: Any, in_json: Any, noon: datetime
) -> None:
    """A stale cache between us and the service once dated its answers 18 hours ahead."""
    here = config("weather-gov")
    ahead = {"Last_Modified": format_datetime(noon + 18 * HOUR, usegmt=True)}
    dated = {"Date": format_datetime(noon, usegmt=True)}
    server.say(in_json(point()), in_json(raw_grid(noon), **ahead, **dated))
    ask(here, noon)
    ask(here, noon + 2 * HOUR)
    assert "If-Modified-Since" not in server.seen[-1].headers


def test_the_age_of_a_grid_is_its_own_word_and_not_the_headers(
    config: Callable[..., Config], ask: Ask, server: Any, in_json: Any, noon: datetime
) -> None:
    here = config("weather-gov")
    stale = raw_grid(noon)
    stale["properties"]["updateTime"] = (noon - 60 * HOUR).isoformat()
    fresh = {"Last_Modified": format_datetime(noon, usegmt=True)}
    server.say(in_json(point()), in_json(stale, **fresh))
    news = ask(here, noon)
    assert news.forecast is None
    assert "60 h old" in news.messages[0]


@pytest.mark.parametrize("use", ["open-meteo", "open-meteo-ensemble", "weather-gov", "met-norway"])
def test_what_is_wanted_and_who_wants_it_is_always_said(
    config: Callable[..., Config], ask: Ask, server: Any, in_json: Any, noon: datetime, use: str
) -> None:
    """Stale answers came to those who left out Accept."""
    server.say(in_json(point()))
    ask(config(use), noon)
    assert server.seen
    for seen in server.seen:
        assert "json" in seen.headers["Accept"]
        assert seen.headers["User-Agent"].startswith("suntrack/")
        assert "cook@courtyard.example" in seen.headers["User-Agent"]


def test_an_expired_grid_is_tried_three_times_and_then_the_last_good_one_serves(
    config: Callable[..., Config], ask: Ask, server: Any, in_json: Any, noon: datetime,
    answer: Any, hand: Any,
) -> None:  # fmt: skip
    here = config("weather-gov")
    server.say(in_json(point()), in_json(raw_grid(noon)))
    assert ask(here, noon).messages == ()
    problem = b'{"type": "https://api.weather.gov/problems/ForecastGridExpired", "status": 503}'
    server.say(answer(status=503, body=problem))
    news = ask(here, noon + 2 * HOUR, attempts=3)
    assert len(server.seen) == 2 + 3
    assert len(hand.waits) == 2
    assert hand.waits[0] != hand.waits[1]
    assert "run out" in news.messages[0]
    assert news.forecast is not None
    assert "The forecast used is 2 h old." in news.messages


def test_an_office_that_leaves_out_layers_is_told_of(
    payload: Callable[[str], Any], tallahassee: Site
) -> None:
    """A recorded grid with windGust emptied and the chance of rain taken out."""
    now = datetime(2022, 2, 4, 4, tzinfo=UTC)
    data = payload("nws_gridpoint_missing_layers.json")
    forecast = weather_gov.read(data, site=tallahassee, now=now)
    assert forecast.gust_m_s is None
    assert forecast.rain_chance is None
    assert forecast.notes == ("The feed gives no gusts, no chance of rain this time.",)


@pytest.mark.parametrize(
    ("name", "said"),
    [
        ("nws_problem_404_invalid_point.json", "does not cover"),
        ("nws_problem_404_marine.json", "in the sea"),
    ],
)
def test_a_place_outside_is_told_as_such_and_not_asked_for_again_today(
    config: Callable[..., Config], ask: Ask, server: Any, noon: datetime,
    payload: Callable[[str], Any], in_json: Any, name: str, said: str,
) -> None:  # fmt: skip
    problem = in_json(payload(name))
    problem.status = 404
    server.say(problem)
    assert said in ask(config("weather-gov"), noon, attempts=3).messages[0]
    ask(config("weather-gov"), noon + 20 * HOUR)
    assert len(server.seen) == 1


def test_a_grid_that_moved_is_looked_up_once(
    config: Callable[..., Config], ask: Ask, server: Any, in_json: Any, noon: datetime,
    answer: Any,
) -> None:  # fmt: skip
    here = config("weather-gov")
    server.say(in_json(point("TAE/58,65")), in_json(raw_grid(noon)))
    ask(here, noon)
    later = noon + 2 * HOUR
    server.say(answer(status=404), in_json(point("TAE/57,64")), in_json(raw_grid(later)))
    news = ask(here, later)
    assert news.messages == ()
    paths = [seen.path for seen in server.seen]
    assert paths[2] == "/gridpoints/TAE/58,65"
    assert paths[3].startswith("/points/")
    assert paths[4] == "/gridpoints/TAE/57,64"
    # A service that has lost it all is not asked round and round.
    server.say(answer(status=404))
    assert ask(here, later + 2 * HOUR).forecast is not None
    assert len(server.seen) == 5 + 2


def test_the_place_is_looked_up_again_every_week(
    config: Callable[..., Config], ask: Ask, server: Any, in_json: Any, noon: datetime
) -> None:
    """Grids are redrawn without a word, and an old number may then be another place."""
    here = config("weather-gov")
    server.say(in_json(point()), in_json(raw_grid(noon)))
    ask(here, noon)
    for days, lookups in ((6, 1), (8, 2)):
        later = noon + timedelta(days=days)
        looked = [in_json(point())] if lookups == 2 else []
        server.say(*looked, in_json(raw_grid(later)))
        assert ask(here, later).messages == ()
        paths = [seen.path for seen in server.seen]
        assert sum(path.startswith("/points/") for path in paths) == lookups


def test_an_answer_does_not_choose_whom_we_ask_next(
    config: Callable[..., Config], ask: Ask, server: Any, in_json: Any, noon: datetime
) -> None:
    elsewhere = {"properties": {"forecastGridData": "https://evil.example/gridpoints/../etc"}}
    server.say(in_json(elsewhere))
    assert "is no grid" in ask(config("weather-gov"), noon).messages[0]
    assert len(server.seen) == 1


def test_cloud_is_taken_from_the_raw_grid_hour_by_hour(
    config: Callable[..., Config], ask: Ask, server: Any, in_json: Any, noon: datetime
) -> None:
    """The short form of the service has no cloud; the raw one merges equal hours."""
    server.say(in_json(point()), in_json(raw_grid(noon)))
    forecast = ask(config("weather-gov"), noon).forecast
    assert server.seen[1].path == "/gridpoints/TAE/58,65"
    assert forecast is not None
    assert forecast.cloud is not None
    assert forecast.cloud.shape == (1, 48)
    assert not forecast.coarse.any()


def test_a_refusal_asks_for_the_cooks_address(
    config: Callable[..., Config], ask: Ask, server: Any, noon: datetime, answer: Any,
    payload: Callable[[str], Any],
) -> None:  # fmt: skip
    server.say(answer(status=403, body=payload("metno_403_forbidden.html")))
    news = ask(config("met-norway"), noon, attempts=3)
    assert "`contact` in [feed]" in news.messages[0]
    assert len(server.seen) == 1, "a refusal is not argued with"


def test_a_version_that_will_end_is_used_and_told(
    config: Callable[..., Config], ask: Ask, server: Any, in_json: Any, noon: datetime
) -> None:
    """MET Norway answers 203 for a version that it will take away."""
    ending = in_json(met_steps(noon, list(range(30))))
    ending.status = 203
    server.say(ending)
    forecast = ask(config("met-norway"), noon).forecast
    assert forecast is not None
    assert any("will end" in note for note in forecast.notes)


@pytest.mark.parametrize("dice", [0.0, 1.0])
def test_an_answer_is_not_asked_for_again_before_it_expires_and_never_on_the_dot(
    config: Callable[..., Config], ask: Ask, server: Any, in_json: Any, noon: datetime,
    dice: float,
) -> None:  # fmt: skip
    here = config("met-norway")
    expires = {
        "Date": format_datetime(noon, usegmt=True),
        "Expires": format_datetime(noon + 90 * MINUTE, usegmt=True),
    }
    server.say(in_json(met_steps(noon, list(range(60))), **expires))
    ask(here, noon, dice=dice)
    spread = 5.0 * dice
    ask(here, noon + timedelta(minutes=89.9 + spread), dice=dice)
    assert len(server.seen) == 1
    ask(here, noon + timedelta(minutes=90.1 + spread), dice=dice)
    assert len(server.seen) == 2


def test_no_day_is_lost_where_hours_become_six(payload: Callable[[str], Any], golden: Site) -> None:
    """A recorded answer goes from steps of an hour to steps of six on 2020-07-22 at 18:00."""
    now = datetime(2020, 7, 20, 11, 40, tzinfo=UTC)
    site = replace(golden, latitude_deg=51.5, longitude_deg=-0.1, elevation_m=25.0)
    forecast = met_norway.read(payload("metno_complete_2020.json"), site=site, now=now)
    jump_s = datetime(2020, 7, 22, 18, tzinfo=UTC).timestamp()
    before = forecast.ends_at_s <= jump_s
    assert not forecast.coarse[before].any()
    assert forecast.coarse[~before].all()
    thursday = day_bounds_s(date(2020, 7, 23), ZoneInfo("UTC"))
    # Of that day the recording kept 00:00, 06:00 and 12:00: two whole steps, none counted twice.
    assert covered(forecast, starts_s=thursday[0], ends_s=thursday[1]) == pytest.approx(0.5)


def test_hours_and_six_hours_cover_their_days_alike(
    config: Callable[..., Config], ask: Ask, server: Any, in_json: Any, noon: datetime
) -> None:
    hours = [*range(48), *range(48, 97, 6)]
    server.say(in_json(met_steps(noon, hours)))
    forecast = ask(config("met-norway"), noon).forecast
    assert isinstance(forecast, Forecast)
    starts_s = noon.timestamp()
    assert covered(forecast, starts_s=starts_s, ends_s=starts_s + 96 * 3600.0) == 1.0


def test_no_gust_and_no_rain_are_said_and_not_shown_as_zero(
    config: Callable[..., Config], ask: Ask, server: Any, in_json: Any, noon: datetime
) -> None:
    server.say(in_json(met_steps(noon, list(range(30)))))
    forecast = ask(config("met-norway"), noon).forecast
    assert forecast is not None
    assert forecast.gust_m_s is None
    assert forecast.rain_chance is None
    assert "no gusts, no chance of rain" in forecast.notes[0]
