"""Which sky a day is planned for: a forecast's, the usual one, or the clear one."""

from __future__ import annotations

import json
from dataclasses import replace
from datetime import date, datetime, timedelta
from itertools import pairwise
from pathlib import Path

import numpy as np
import pytest

from suntrack.config.feed_settings import FeedSettings
from suntrack.config.reader import Config, load_config
from suntrack.feeds.planner import make_plan
from suntrack.feeds.skies import covers, day_sky
from suntrack.sky.forecast import Forecast
from suntrack.store.observations import plan_entry_data
from suntrack.store.sun_table import SunData, sun_data

ROOT = Path(__file__).parents[2]
DAY = date(2026, 11, 25)


@pytest.fixture(scope="module")
def config() -> Config:
    return load_config(ROOT / "config" / "suntrack.toml")


@pytest.fixture(scope="module")
def cache(tmp_path_factory: pytest.TempPathFactory) -> Path:
    return tmp_path_factory.mktemp("cache")


@pytest.fixture(scope="module")
def data(config: Config, cache: Path) -> SunData:
    return sun_data(config.site, on=DAY, cache_dir=cache)


@pytest.fixture(scope="module")
def dawn(config: Config) -> datetime:
    return datetime(2026, 11, 25, 5, 0, tzinfo=config.site.zone)


def forecast(data: SunData, dawn: datetime, *, share: float = 1.0, hours: int = 24) -> Forecast:
    """Return the first hours of the day with a share of the clear sky's light."""
    starts_s = data.weather.at_s[0] + 3600.0 * np.arange(hours)
    clear = data.weather.global_horizontal_w_m2[0].reshape(24, -1).mean(axis=1)[:hours]
    return Forecast(
        feed="open-meteo",
        kind="radiation",
        starts_at_s=starts_s,
        ends_at_s=starts_s + 3600.0,
        fetched_at=dawn - timedelta(minutes=20),
        issued_at=dawn - timedelta(hours=2),
        global_horizontal_w_m2=(share * clear)[None],
        air_c=np.full((1, hours), 33.0),
        gust_m_s=np.where(np.arange(hours) == 14, 16.0, 5.0)[None],
        rain_chance=np.where(np.arange(hours) >= 16, 0.7, 0.0)[None],
        attribution="Data from the weather office",
        notes=("No beam is given.",),
    )


def on(config: Config) -> Config:
    return replace(config, feed=FeedSettings(use="open-meteo"))


def test_without_a_feed_the_sky_is_clear(config: Config, data: SunData, dawn: datetime) -> None:
    sky = day_sky(config, data, on=DAY, now=dawn, forecast=None)
    assert (sky.weather.source, sky.note.source, sky.forecast) == ("clear sky", "clear sky", None)
    assert sky.weather.global_horizontal_w_m2.shape[0] == 1


def test_a_feed_with_nothing_to_say_leaves_the_usual_sky(
    config: Config, data: SunData, dawn: datetime
) -> None:
    sky = day_sky(on(config), data, on=DAY, now=dawn, forecast=None)
    assert sky.note.source == "typical sky"
    assert sky.weather.global_horizontal_w_m2.shape[0] == 101
    short = forecast(data, dawn, hours=9)
    assert day_sky(on(config), data, on=DAY, now=dawn, forecast=short).forecast is None


def test_a_forecast_names_its_service_its_doubts_and_its_terms(
    config: Config, data: SunData, dawn: datetime
) -> None:
    sky = day_sky(on(config), data, on=DAY, now=dawn, forecast=forecast(data, dawn))
    assert sky.note.source == "Open-Meteo forecast"
    assert sky.note.attribution == "Data from the weather office"
    assert sky.note.notes == ("No beam is given.",)
    assert sky.note.issued_at == dawn - timedelta(hours=2)


def test_the_light_that_a_forecast_told_is_kept_with_its_plan(
    config: Config, data: SunData, dawn: datetime, cache: Path
) -> None:
    """Shares of the clear light, so that the day's sum has the same share."""
    given = forecast(data, dawn, share=0.7)
    hours = day_sky(on(config), data, on=DAY, now=dawn, forecast=given).note.hours
    clear_wh = data.weather.global_horizontal_w_m2.sum() * data.weather.step_s / 3600.0
    kept_wh = sum(
        hour.global_w_m2 * (hour.ends_at - hour.starts_at).total_seconds() / 3600.0
        for hour in hours
    )
    assert kept_wh == pytest.approx(0.7 * clear_wh, rel=0.02)
    assert all(a.ends_at <= b.starts_at for a, b in pairwise(hours))
    plan = make_plan(on(config), on=DAY, now=dawn, cache_dir=cache, forecast=given)
    rows = json.loads(json.dumps(plan_entry_data(plan)))["light"]
    assert len(rows) == len(hours)
    bare = make_plan(config, on=DAY, now=dawn, cache_dir=cache)
    assert plan_entry_data(bare)["light"] == []


def test_only_the_daylight_still_to_come_has_to_be_known(
    config: Config, data: SunData, dawn: datetime
) -> None:
    morning = forecast(data, dawn, hours=11)
    assert not covers(morning, config, data, on=DAY, now=dawn)
    assert covers(forecast(data, dawn, hours=13), config, data, on=DAY, now=dawn)
    noon = dawn.replace(hour=12)
    assert not covers(forecast(data, dawn, hours=13), config, data, on=DAY, now=noon)
    assert covers(forecast(data, dawn), config, data, on=DAY, now=dawn.replace(hour=22))


def test_a_plan_with_a_forecast_has_chances_guards_and_a_hot_day(
    config: Config, data: SunData, cache: Path, dawn: datetime
) -> None:
    """33 C: above 32.2 C (90 F) food may stand one hour, not two (USDA FSIS, 2-hour rule)."""
    plan = make_plan(on(config), on=DAY, now=dawn, cache_dir=cache, forecast=forecast(data, dawn))
    assert plan.chances is not None
    assert plan.chances.skies == 100
    assert plan.verdict.chance == plan.chances.good
    assert [(g.kind, g.starts_at.hour, g.ends_at.hour) for g in plan.guards] == [
        ("gust", 14, 15),
        ("rain", 16, plan.guards[1].ends_at.hour),
    ]
    assert {"wind", "rain", "hot day"} <= set(plan.cautions)


def test_duller_forecasts_have_lower_chances_and_the_same_one_the_same(
    config: Config, data: SunData, cache: Path, dawn: datetime
) -> None:
    def holds(share: float) -> float:
        given = forecast(data, dawn, share=share)
        plan = make_plan(on(config), on=DAY, now=dawn, cache_dir=cache, forecast=given)
        assert plan.chances is not None
        return plan.chances.holds

    found = [holds(share) for share in (0.2, 0.6, 1.0)]
    assert found == sorted(found)
    assert found[0] < found[2]
    assert holds(0.6) == found[1]
