"""Many skies out of one forecast: repeatable, as wide as asked, and adding up."""

from __future__ import annotations

from dataclasses import replace
from datetime import UTC, date, datetime, timedelta

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from numpy.typing import NDArray

from suntrack.sky.clear_sky import clear_weather
from suntrack.sky.clear_sky_index import interval_means
from suntrack.sky.ensemble import (
    day_seed,
    departure_width,
    dressed_skies,
    typical_skies,
)
from suntrack.sky.error_quantiles import BRIGHTEST, DARKEST, hour_correlation, measured_departures
from suntrack.sky.forecast import Forecast
from suntrack.sky.index_to_light import BOX_WIND
from suntrack.sky.site import Site, TypicalAir
from suntrack.sky.sun import SunTable, day_grid, sun_table
from suntrack.sky.weather import Weather

SITE = Site(
    name="courtyard",
    latitude_deg=-24.65,
    longitude_deg=25.91,
    elevation_m=1010.0,
    time_zone="Africa/Gaborone",
    typical_air=tuple(TypicalAir(low_c=15.0, high_c=30.0, wind_m_s=2.0) for _ in range(12)),
)
DAY = date(2026, 11, 25)
STEP_S = 120.0
ISSUED = datetime(2026, 11, 25, 0, 0, tzinfo=UTC)


def clear_day() -> tuple[Weather, SunTable]:
    starts_s = day_grid(DAY, SITE.zone, step_s=STEP_S)
    sun = sun_table(
        starts_s + STEP_S / 2.0,
        latitude_deg=SITE.latitude_deg,
        longitude_deg=SITE.longitude_deg,
        elevation_m=SITE.elevation_m,
    )
    return clear_weather(sun, site=SITE, step_s=STEP_S, on=DAY), sun


CLEAR, SUN = clear_day()
STARTS_S = CLEAR.at_s[0] + 3600.0 * np.arange(24)
CLEAR_W_M2 = interval_means(CLEAR.global_horizontal_w_m2[0], CLEAR, STARTS_S, STARTS_S + 3600.0)
NOON = 12
"""The hour from 12 to 13 at the site."""


def forecast(share: object = 0.9, **changes: object) -> Forecast:
    """Return an hourly forecast that leaves a share of the clear sky; one row for a member."""
    given: dict[str, object] = {
        "feed": "made up",
        "kind": "radiation",
        "starts_at_s": STARTS_S,
        "ends_at_s": STARTS_S + 3600.0,
        "fetched_at": ISSUED,
        "issued_at": ISSUED,
        "global_horizontal_w_m2": np.asarray(share).reshape(-1, 1) * CLEAR_W_M2,
    }
    return Forecast(**(given | changes))  # type: ignore[arg-type]


def index_of(weather: Weather) -> NDArray[np.float64]:
    """Return the index of every sky but the middle one in every hour with sun, (skies, 24)."""
    rows = weather.global_horizontal_w_m2[1:].reshape(-1, 24, 30).mean(axis=2)
    return np.asarray(rows / np.where(CLEAR_W_M2 > 1.0, CLEAR_W_M2, np.nan))


def dressed(given: Forecast, *, skies: int = 100, seed: int = 1) -> Weather:
    return dressed_skies(given, clear=CLEAR, sun=SUN, seed=seed, skies=skies)


def noon_spread(given: Forecast) -> float:
    return float(index_of(dressed(given, skies=400))[:, NOON].std())


def test_equal_seeds_give_equal_skies_and_others_do_not() -> None:
    one, same, other = (dressed(forecast(), seed=seed).global_horizontal_w_m2 for seed in (1, 1, 2))
    assert np.array_equal(one, same)
    assert not np.array_equal(one, other)


def test_the_seed_is_the_day_and_the_place() -> None:
    assert day_seed(SITE, DAY) == day_seed(replace(SITE, name="another name"), DAY)
    others = [
        day_seed(SITE, DAY + timedelta(days=1)),
        day_seed(replace(SITE, latitude_deg=1.0), DAY),
    ]
    assert all(other != day_seed(SITE, DAY) for other in others)
    assert min(day_seed(replace(SITE, latitude_deg=-90.0, longitude_deg=-180.0), DAY)) == 0


def test_quantiles_at_full_width_are_the_measured_ones() -> None:
    """At a lead time of days an hour follows the table.

    The error of a quantile of 4000 draws is at most 0.02 here.
    """
    old = forecast(0.705, issued_at=ISSUED - timedelta(days=6))
    found = index_of(dressed(old, skies=4000))[:, NOON]
    table = measured_departures()
    expected = table.at(0.705, table.normal_levels)
    middle = (table.levels > 0.04) & (table.levels < 0.96)
    assert np.quantile(found, table.levels)[middle] == pytest.approx(expected[middle], abs=0.025)


def test_the_middle_sky_is_the_median() -> None:
    skies = dressed(forecast(0.7), skies=4000)
    middle = skies.global_horizontal_w_m2[0].reshape(24, 30).mean(axis=1)[NOON] / CLEAR_W_M2[NOON]
    assert middle == pytest.approx(np.median(index_of(skies)[:, NOON]), abs=0.01)


def test_hours_hang_together_as_their_ranks_should() -> None:
    """Spearman's rank correlation of normal numbers is 6/pi asin(r/2), and a table keeps ranks.

    Pearson 1907, from memory.
    """
    index = index_of(dressed(forecast(0.7), skies=4000))[:, 8:17]
    ranks = index.argsort(axis=0).argsort(axis=0)
    found = np.corrcoef(ranks.T)
    apart = np.arange(9.0)
    expected = 6.0 / np.pi * np.arcsin(hour_correlation(apart[:, None] - apart) / 2.0)
    assert found == pytest.approx(expected, abs=0.06)


def test_departures_reach_further_down_than_up() -> None:
    """Mathiesen and Kleissl 2011: weather models are too bright rather than too dark."""
    low, middle, high = np.nanquantile(
        index_of(dressed(forecast(0.95), skies=1000)), [0.1, 0.5, 0.9]
    )
    assert middle - low > 3.0 * (high - middle)


def test_the_later_the_wider() -> None:
    spreads = [
        noon_spread(forecast(issued_at=ISSUED - timedelta(hours=age)))
        for age in (-10, 0, 24, 48, 96)
    ]
    assert spreads == sorted(spreads)
    assert spreads[-1] > 2.0 * spreads[0]


def test_a_forecast_that_does_not_say_when_it_was_made_is_taken_as_older() -> None:
    assert noon_spread(forecast(issued_at=None)) > noon_spread(forecast())


@given(st.floats(-10.0, 500.0), st.floats(-10.0, 500.0))
def test_width_grows_with_the_lead_and_stays_a_share(one: float, other: float) -> None:
    near, far = departure_width(sorted((one, other)))
    assert 0.0 < near <= far <= 1.0


def test_cloud_alone_and_coarse_intervals_are_dressed_wider() -> None:
    radiation = noon_spread(forecast(0.7))
    cloud = np.full((1, 24), (0.3 / 0.75) ** (1.0 / 3.4))
    assert noon_spread(
        forecast(kind="cloud only", global_horizontal_w_m2=None, cloud=cloud)
    ) == pytest.approx(1.4 * radiation, rel=0.05)
    starts_s = STARTS_S[::6]
    light = 0.7 * CLEAR_W_M2.reshape(4, 6).mean(axis=1)
    coarse = forecast(
        starts_at_s=starts_s, ends_at_s=starts_s + 21600.0, global_horizontal_w_m2=light[None]
    )
    assert noon_spread(coarse) == pytest.approx(1.2 * radiation, rel=0.05)


def test_members_that_agree_are_dressed_like_one_forecast() -> None:
    alike = index_of(dressed(forecast([0.7] * 20), skies=2000))[:, NOON]
    single = index_of(dressed(forecast(0.7), skies=2000))[:, NOON]
    assert alike.std() == pytest.approx(single.std(), rel=0.08)


def test_members_get_only_the_variance_they_lack() -> None:
    """Members that differ by more than a forecast errs are left as they are."""
    members = np.linspace(0.2, 1.0, 25)
    found = index_of(dressed(forecast(members), skies=100))[:, NOON]
    assert np.sort(found) == pytest.approx(np.repeat(members, 4))
    some = 0.7 + 0.06 * np.resize([-1.0, 1.0], 20)
    total = index_of(dressed(forecast(some), skies=4000))[:, NOON].std()
    single = index_of(dressed(forecast(0.7), skies=4000))[:, NOON].std()
    assert total == pytest.approx(single, rel=0.1)


def test_hours_left_out_get_the_usual_sky() -> None:
    share = np.full(24, 0.9)
    share[NOON] = np.nan
    gap = forecast(global_horizontal_w_m2=(share * CLEAR_W_M2)[None])
    found = index_of(dressed(gap, skies=2000))
    usual = index_of(typical_skies(clear=CLEAR, sun=SUN, seed=1, skies=2000))
    assert found[:, NOON].std() == pytest.approx(usual[:, NOON].std(), rel=0.05)
    assert found[:, NOON - 2].std() < 0.7 * usual[:, NOON].std()


def test_usual_skies_are_those_of_the_table() -> None:
    skies = typical_skies(clear=CLEAR, sun=SUN, seed=1, skies=4000)
    table = measured_departures()
    found = np.quantile(index_of(skies)[:, NOON], [0.1, 0.5, 0.9])
    expected = np.interp([0.1, 0.5, 0.9], table.levels, table.usual)
    assert found == pytest.approx(expected, abs=0.03)
    assert (skies.source, skies.issued_at) == ("typical sky", None)
    assert np.array_equal(skies.air_c[3], CLEAR.air_c[0])


@settings(max_examples=30)
@given(st.floats(0.0, 1.4), st.integers(0, 2**32), st.integers(-24, 200))
def test_light_adds_up_and_keeps_its_bounds(share: float, seed: int, age_h: int) -> None:
    """Identity: global = diffuse + beam sin(height); no light is negative."""
    given = forecast(share, issued_at=ISSUED - timedelta(hours=age_h))
    skies = dressed(given, skies=5, seed=seed)
    rise = np.maximum(np.sin(np.radians(SUN.elevation_deg)), 0.0)
    total = skies.diffuse_horizontal_w_m2 + skies.beam_normal_w_m2 * rise
    assert total == pytest.approx(skies.global_horizontal_w_m2, abs=1e-9)
    assert skies.beam_normal_w_m2.min() >= 0.0
    assert skies.diffuse_horizontal_w_m2.min() >= -1e-9
    assert skies.beam_normal_w_m2.max() < 1200.0
    index = index_of(skies)[:, 8:17]
    assert DARKEST - 1e-9 <= index.min() <= index.max() <= BRIGHTEST + 1e-9


def test_air_and_wind_follow_the_forecast_and_the_day_between() -> None:
    """Hourly means come back as means; wind is brought down from 10 m to the box."""
    typical = interval_means(CLEAR.air_c[0], CLEAR, STARTS_S, STARTS_S + 3600.0)
    warm = forecast(air_c=(typical + 4.0)[None], wind_m_s=np.full((1, 24), 5.0))
    skies = dressed(warm)
    assert skies.air_c[7] == pytest.approx(CLEAR.air_c[0] + 4.0, abs=0.3)
    assert skies.wind_m_s == pytest.approx(5.0 * BOX_WIND)
    assert np.array_equal(dressed(forecast()).air_c[2], CLEAR.air_c[0])


def test_wind_at_the_box_is_that_of_the_seventh_root_law() -> None:
    assert pytest.approx(0.1 ** (1.0 / 7.0), abs=0.005) == BOX_WIND


def test_no_sky_is_refused() -> None:
    with pytest.raises(ValueError, match="at least 1"):
        dressed(forecast(), skies=0)


@settings(max_examples=40)
@given(st.data())
def test_whatever_a_forecast_leaves_out_a_sky_has_light_in_every_hour(data: st.DataObject) -> None:
    """Holes, members with other holes, odd lengths: no nan and nothing negative comes out."""
    hours = data.draw(st.integers(0, 24))
    first = data.draw(st.integers(0, 24 - hours))
    length_s = data.draw(st.sampled_from([1800.0, 3600.0]))
    rows = data.draw(st.integers(1, 3))
    values = st.one_of(st.just(np.nan), st.floats(0.0, 1500.0))
    light = data.draw(st.lists(values, min_size=rows * hours, max_size=rows * hours))
    cover = data.draw(st.lists(values.map(lambda v: v / 1500.0), min_size=hours, max_size=hours))
    starts_s = STARTS_S[first : first + hours]
    given = forecast(
        starts_at_s=starts_s,
        ends_at_s=starts_s + length_s,
        global_horizontal_w_m2=np.array(light).reshape(rows, hours),
        cloud=np.tile(np.array(cover).reshape(1, hours), (rows, 1)),
        air_c=np.full((rows, hours), np.nan),
    )
    skies = dressed(given, skies=4)
    for light_w_m2 in (
        skies.global_horizontal_w_m2,
        skies.beam_normal_w_m2,
        skies.diffuse_horizontal_w_m2,
        skies.wind_m_s,
    ):
        assert np.isfinite(light_w_m2).all()
        assert light_w_m2.min() >= -1e-9
    noon = skies.global_horizontal_w_m2[:, 12 * 30]
    assert noon.min() > 0.0
    assert np.isfinite(skies.air_c).all()
