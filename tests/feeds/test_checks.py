"""What arrived in good form, held against the sky and the clock."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from datetime import datetime, timedelta
from typing import Any

import numpy as np
import pytest

from suntrack.config.reader import Config
from suntrack.errors import FeedError
from suntrack.feeds.checks import checked
from suntrack.feeds.open_meteo import read
from suntrack.sky.complete_irradiance import clear_global_w_m2
from suntrack.sky.forecast import Forecast
from suntrack.sky.site import Site

Make = Callable[..., Forecast]
LIGHT = ("global_horizontal_w_m2", "beam_normal_w_m2", "diffuse_horizontal_w_m2")


@pytest.fixture(scope="module")
def site(example: Config) -> Site:
    return example.site


@pytest.fixture
def make(rows: Callable[..., dict[str, Any]], site: Site, noon: datetime) -> Make:
    """Return a good forecast of our own, with some fields replaced."""

    def forecast(**changes: Any) -> Forecast:
        first = noon - timedelta(hours=12)
        good = read(rows(site, first), feed="open-meteo", site=site, now=noon)
        return replace(good, **changes)

    return forecast


def refused(forecast: Forecast, site: Site, now: datetime) -> str:
    with pytest.raises(FeedError) as caught:
        checked(forecast, site=site, now=now)
    assert caught.value.kind == "content"
    return caught.value.message


def test_a_good_forecast_passes_without_a_note(make: Make, site: Site, noon: datetime) -> None:
    good = make()
    found = checked(good, site=site, now=noon)
    assert found.notes == ()
    for name, values in good.member_arrays().items():
        np.testing.assert_array_equal(found.member_arrays()[name], values)


def test_rows_of_the_past_under_a_fresh_date_are_refused(
    make: Make, site: Site, noon: datetime
) -> None:
    assert "is stuck" in refused(make(), site, noon + timedelta(days=5))
    assert "only 5 h" in refused(make(), site, noon + timedelta(hours=78))


@pytest.mark.parametrize(
    ("after", "said"), [(timedelta(hours=2), "future"), (-timedelta(hours=49), "49 h old")]
)
def test_the_date_of_issue_has_to_make_sense(
    make: Make, site: Site, noon: datetime, after: timedelta, said: str
) -> None:
    assert said in refused(make(issued_at=noon + after), site, noon)


def test_rows_that_begin_days_ahead_are_refused(make: Make, site: Site, noon: datetime) -> None:
    assert "begins only in 37 h" in refused(make(), site, noon - timedelta(hours=49))


@pytest.mark.parametrize(
    ("name", "value", "words"),
    [
        ("global_horizontal_w_m2", 2000.0, "sunlight"),
        ("global_horizontal_w_m2", -300.0, "sunlight"),
        ("air_c", 300.0, "air temperature"),
        ("cloud", 55.0, "cloud"),
        ("wind_m_s", -5.0, "wind"),
        ("rain_chance", 10.0, "chance of rain"),
    ],
)
def test_values_that_no_weather_has_are_refused(
    make: Make, site: Site, noon: datetime, name: str, value: float, words: str
) -> None:
    values = make().member_arrays()[name].copy()
    values[0, 30] = value
    message = refused(make(**{name: values}), site, noon)
    assert f"{words} of {value:g}" in message


def test_darkness_at_midday_without_cloud_is_refused(
    make: Make, site: Site, noon: datetime
) -> None:
    dark = {name: make().member_arrays()[name].copy() for name in LIGHT}
    for values in dark.values():
        values[0, 11:14] = 0.0
    assert "no sunlight at all" in refused(make(**dark), site, noon)
    under_cloud = make(**dark, cloud=np.full((1, 95), 1.0))
    assert checked(under_cloud, site=site, now=noon).members == 1
    # Without any cloud in the answer nothing can excuse the dark.
    assert "no sunlight at all" in refused(make(**dark, cloud=None), site, noon)


def test_one_dark_hour_is_a_storm_and_not_a_fault(make: Make, site: Site, noon: datetime) -> None:
    dark = {name: make().member_arrays()[name].copy() for name in LIGHT}
    for values in dark.values():
        values[0, 12] = 0.0
    assert checked(make(**dark), site=site, now=noon).notes == ()


def test_more_light_than_a_clear_sky_has_is_refused(make: Make, site: Site, noon: datetime) -> None:
    good = make()
    clear = clear_global_w_m2(good.starts_at_s, good.ends_at_s, site=site)
    rest = {"beam_normal_w_m2": None, "diffuse_horizontal_w_m2": None}
    bright = clear[None].copy()
    bright[0, 8] *= 1.35
    assert "more sunlight" in refused(make(global_horizontal_w_m2=bright, **rest), site, noon)
    beside_cloud = make(global_horizontal_w_m2=1.2 * clear[None], **rest)
    assert checked(beside_cloud, site=site, now=noon).notes == ()


def test_nothing_known_is_refused(make: Make, site: Site, noon: datetime) -> None:
    nothing = np.full((1, 95), np.nan)
    unknown = make(global_horizontal_w_m2=nothing, cloud=nothing)
    assert "neither sunlight nor cloud" in refused(unknown, site, noon)


def test_unknown_hours_are_told_and_stay_unknown(make: Make, site: Site, noon: datetime) -> None:
    light, cloud = make().global_horizontal_w_m2, make().cloud
    assert light is not None
    assert cloud is not None
    light, cloud = light.copy(), cloud.copy()
    light[0, 14:24] = cloud[0, 14:24] = np.nan
    found = checked(make(global_horizontal_w_m2=light, cloud=cloud), site=site, now=noon)
    assert found.notes == ("The feed knows the sun for 14 of the next 24 hours only.",)
    assert found.global_horizontal_w_m2 is not None
    assert np.isnan(found.global_horizontal_w_m2[0, 14:24]).all()


@pytest.mark.parametrize(
    ("label", "shift"), [("at the moment", "instant"), ("before the hour", "after")]
)
def test_light_stamped_otherwise_is_moved_and_told(
    make: Make, rows: Callable[..., dict[str, Any]], site: Site, noon: datetime,
    label: str, shift: str,
) -> None:  # fmt: skip
    """Light made for another moment is recognised by its own closure."""
    data = rows(site, noon - timedelta(hours=12))
    right = read(data, feed="open-meteo", site=site, now=noon)
    # Stamps half an hour (or an hour) earlier than the light they belong to.
    if shift == "after":
        data["hourly"]["time"] = [at - 3600 for at in data["hourly"]["time"]]
    else:
        data = rows(site, noon - timedelta(hours=12) + timedelta(minutes=30))
        data["hourly"]["time"] = [at - 1800 for at in data["hourly"]["time"]]
    found = checked(read(data, feed="open-meteo", site=site, now=noon), site=site, now=noon)
    assert any(label in note for note in found.notes)
    assert found.global_horizontal_w_m2 is not None
    assert right.global_horizontal_w_m2 is not None
    column = int(np.flatnonzero(found.starts_at_s == right.starts_at_s[8])[0])
    # A mean of two instants stands in for the hour's own mean: a few W/m2 off.
    assert found.global_horizontal_w_m2[0, column] == pytest.approx(
        right.global_horizontal_w_m2[0, 8], abs=8.0
    )


def many(make: Make, count: int, **changes: Any) -> Forecast:
    """Return the good forecast as members of an ensemble."""
    light = make().global_horizontal_w_m2
    assert light is not None
    fields: dict[str, Any] = dict.fromkeys(make().member_arrays())
    fields |= {"global_horizontal_w_m2": np.repeat(light, count, axis=0), **changes}
    return make(**fields)


def test_a_short_member_cuts_all_to_the_hours_that_all_know(
    make: Make, site: Site, noon: datetime
) -> None:
    light = many(make, 8).global_horizontal_w_m2
    assert light is not None
    light[0, 70:] = np.nan
    found = checked(many(make, 8, global_horizontal_w_m2=light), site=site, now=noon)
    assert (found.members, found.starts_at_s.size) == (8, 70)


def test_dead_and_impossible_members_are_left_out_and_told(
    make: Make, site: Site, noon: datetime
) -> None:
    light = many(make, 8).global_horizontal_w_m2
    assert light is not None
    light[2] = np.nan
    light[5, 10:15] = 0.0
    light[6] *= 2.0
    wrong = many(make, 8, global_horizontal_w_m2=np.minimum(light, 1400.0))
    found = checked(wrong, site=site, now=noon)
    assert found.members == 5
    assert found.notes == ("Left out: 1 of 8 members.", "Left out: 2 of 7 members.")
    light[3] = np.nan
    few = many(make, 8, global_horizontal_w_m2=np.minimum(light, 1400.0))
    assert "Only 4 of the forecast's 6" in refused(few, site, noon)


def test_a_feed_that_repeats_itself_is_told(make: Make, site: Site, noon: datetime) -> None:
    before = make()
    later = noon + timedelta(hours=20)
    same = make(fetched_at=later)
    (note,) = checked(same, site=site, now=later, before=before).notes
    assert "exactly the same for 20 h" in note
    gust = before.gust_m_s
    assert gust is not None
    gust = np.where(np.arange(95) == 50, np.nan, gust)
    gaps = (make(fetched_at=later, gust_m_s=gust), make(gust_m_s=gust))
    assert checked(gaps[0], site=site, now=later, before=gaps[1]).notes == (note,)
    soon = noon + timedelta(hours=6)
    assert checked(make(fetched_at=soon), site=site, now=soon, before=before).notes == ()
    air = make().air_c
    assert air is not None
    other = make(fetched_at=later, air_c=air + 1.0)
    assert checked(other, site=site, now=later, before=before).notes == ()
