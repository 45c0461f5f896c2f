"""The US service's raw grid, from recorded answers and from layers of our own."""

from __future__ import annotations

from collections.abc import Callable
from datetime import UTC, datetime, timedelta
from typing import Any

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from suntrack.errors import FeedError
from suntrack.feeds.weather_gov import hours_of, on_hours, read, stretches
from suntrack.sky.site import Site

NOW = datetime(2022, 2, 4, 4, tzinfo=UTC)
HOUR_S = 3600.0


def at_s(text: str) -> float:
    return datetime.fromisoformat(text).timestamp()


def test_merged_hours_are_laid_out_again(payload: Callable[[str], Any], tallahassee: Site) -> None:
    """The recorded grid says 18.9 C once, from 01:00 for ten hours."""
    forecast = read(payload("nws_gridpoint.json"), site=tallahassee, now=NOW)
    assert forecast.air_c is not None
    starts_s = at_s("2022-02-04T01:00:00+00:00")
    inside = (forecast.starts_at_s >= starts_s) & (forecast.starts_at_s < starts_s + 10 * HOUR_S)
    assert np.count_nonzero(inside) == 10
    assert set(forecast.air_c[0, inside].round(6)) == {round(18.88888888888889, 6)}
    before = forecast.air_c[0, forecast.starts_at_s == starts_s - HOUR_S]
    assert before.tolist() == [20.0]


def test_units_become_ours(payload: Callable[[str], Any], tallahassee: Site) -> None:
    """The recorded first wind is 20.372 km/h, the gust 29.632 km/h, the sky 71 percent."""
    forecast = read(payload("nws_gridpoint.json"), site=tallahassee, now=NOW)
    assert forecast.wind_m_s is not None
    assert forecast.gust_m_s is not None
    assert forecast.cloud is not None
    assert forecast.rain_chance is not None
    assert forecast.wind_m_s[0, 0] == pytest.approx(20.372 / 3.6)
    assert forecast.gust_m_s[0, 0] == pytest.approx(29.632 / 3.6)
    assert forecast.cloud[0, 0] == pytest.approx(0.71)
    assert forecast.rain_chance[0, :3].tolist() == pytest.approx([0.08] * 3)
    assert forecast.kind == "cloud only"
    assert forecast.issued_at == datetime(2022, 2, 4, 3, 15, 41, tzinfo=UTC)


def test_the_old_prefix_of_units_is_still_read(
    payload: Callable[[str], Any], tallahassee: Site
) -> None:
    data = payload("nws_gridpoint.json")
    new = read(data, site=tallahassee, now=NOW)
    for layer in data["properties"].values():
        if isinstance(layer, dict) and "uom" in layer:
            layer["uom"] = layer["uom"].replace("wmoUnit:", "unit:")
    old = read(data, site=tallahassee, now=NOW)
    assert new.cloud is not None
    assert old.cloud is not None
    np.testing.assert_array_equal(new.cloud, old.cloud)


def test_a_grid_without_cloud_tells_nothing(
    payload: Callable[[str], Any], tallahassee: Site
) -> None:
    data = payload("nws_gridpoint.json")
    data["properties"]["skyCover"] = {"values": []}
    with pytest.raises(FeedError, match="no cloud"):
        read(data, site=tallahassee, now=NOW)


def grid(**layers: Any) -> dict[str, Any]:
    """Return a small raw grid of our own making."""
    values = [{"validTime": "2022-02-04T03:00:00+00:00/PT6H", "value": 40}]
    sky = {"uom": "wmoUnit:percent", "values": values}
    return {"properties": {"updateTime": "2022-02-04T03:00:00+00:00", "skyCover": sky, **layers}}


def test_no_gust_is_weaker_than_its_wind(tallahassee: Site) -> None:
    stretch = "2022-02-04T03:00:00+00:00/PT6H"
    speed = {"uom": "wmoUnit:km_h-1"}
    forecast = read(
        grid(
            windSpeed={**speed, "values": [{"validTime": stretch, "value": 36.0}]},
            windGust={**speed, "values": [{"validTime": stretch, "value": 18.0}]},
        ),
        site=tallahassee,
        now=NOW,
    )
    assert forecast.gust_m_s is not None
    assert forecast.gust_m_s[0].tolist() == pytest.approx([10.0] * 6)


@pytest.mark.parametrize(
    ("layer", "said"),
    [
        ({"uom": "wmoUnit:degF", "values": [{"validTime": "x", "value": 1}]}, "degF"),
        ({"values": [{"validTime": "x", "value": 1}]}, "None"),
        ({"uom": "wmoUnit:degC", "values": [{"validTime": "tomorrow", "value": 1}]}, "no stretch"),
        (
            {"uom": "wmoUnit:degC", "values": [{"validTime": "tomorrow/PT1H", "value": 1}]},
            "no time",
        ),
        (
            {
                "uom": "wmoUnit:degC",
                "values": [{"validTime": "2022-02-04T03:00:00Z/1H", "value": 1}],
            },
            "no time",
        ),
        (
            {"uom": "wmoUnit:degC", "values": [{"validTime": "NOW/PT1H", "value": "warm"}]},
            "number",
        ),
        ({"uom": "wmoUnit:degC", "values": ["NOW/PT1H"]}, "no table"),
        ({"uom": "wmoUnit:degC", "values": 3}, "no list"),
        ([], "a list"),
    ],
)
def test_each_bad_layer_has_a_message_of_its_own(tallahassee: Site, layer: Any, said: str) -> None:
    with pytest.raises(FeedError, match=said):
        read(grid(temperature=layer), site=tallahassee, now=NOW)


@given(
    lengths=st.lists(st.integers(1, 48), min_size=1, max_size=8),
    values=st.lists(st.floats(0.0, 100.0), min_size=8, max_size=8),
)
def test_hours_and_stretches_tell_the_same(lengths: list[int], values: list[float]) -> None:
    """Laid out by the hour, every stretch has its value for exactly its length."""
    at, given_stretches = NOW, []
    for length, value in zip(lengths, values, strict=False):
        given_stretches.append({"validTime": f"{at.isoformat()}/PT{length}H", "value": value})
        at += timedelta(hours=length)
    layer = {"uom": "wmoUnit:percent", "values": given_stretches}
    found = stretches(layer, "skyCover", factors={"percent": 1.0}, now=NOW)
    starts_s = hours_of(found, most=1000)
    row = on_hours(found, starts_s)
    assert row is not None
    assert starts_s.size == sum(lengths)
    expected = np.repeat(values[: len(lengths)], lengths)
    np.testing.assert_array_equal(row[0], expected)


def test_null_and_uncovered_hours_are_not_known() -> None:
    layer = {
        "uom": "wmoUnit:percent",
        "values": [
            {"validTime": "2022-02-04T03:00:00+00:00/PT1H", "value": 40},
            {"validTime": "2022-02-04T04:00:00+00:00/PT1H", "value": None},
            {"validTime": "2022-02-04T06:00:00+00:00/PT1H", "value": 60},
        ],
    }
    found = stretches(layer, "skyCover", factors={"percent": 0.01}, now=NOW)
    row = on_hours(found, hours_of(found, most=100))
    assert row is not None
    np.testing.assert_allclose(row[0], [0.4, np.nan, np.nan, 0.6])


def test_hours_that_begin_within_an_hour_are_laid_on_whole_ones() -> None:
    half = [(at_s("2022-02-04T03:30:00+00:00"), at_s("2022-02-04T05:30:00+00:00"), 1.0)]
    starts_s = hours_of(half, most=10)
    assert starts_s[0] == at_s("2022-02-04T03:00:00+00:00")
    assert starts_s.size == 3


def test_one_absurd_stretch_does_not_fill_the_memory() -> None:
    """Nine days are read, whatever a layer says of the next three thousand years."""
    long = [(at_s("2022-02-04T03:00:00+00:00"), at_s("5022-02-04T03:00:00+00:00"), 1.0)]
    assert hours_of(long, most=216).size == 216
