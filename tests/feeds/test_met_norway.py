"""MET Norway's steps as intervals, from recorded answers."""

from __future__ import annotations

from collections.abc import Callable
from datetime import UTC, datetime
from typing import Any

import numpy as np
import pytest

from suntrack.errors import FeedError
from suntrack.feeds.met_norway import read
from suntrack.sky.site import Site

NOW = datetime(2020, 7, 20, 11, 40, tzinfo=UTC)
HOUR_S = 3600.0


@pytest.fixture(scope="module")
def london() -> Site:
    return Site(
        name="London", latitude_deg=51.5, longitude_deg=-0.1, elevation_m=25.0,
        time_zone="Europe/London", typical_air=(),
    )  # fmt: skip


def test_instants_are_averaged_over_the_step(payload: Callable[[str], Any], london: Site) -> None:
    """The recorded 11:00 has 12.5 % of low cloud and 18.8 C."""
    data = payload("metno_complete_2020.json")
    forecast = read(data, site=london, now=NOW)
    first, second = (
        step["data"]["instant"]["details"] for step in data["properties"]["timeseries"][:2]
    )
    for name, key, factor in (
        ("air_c", "air_temperature", 1.0),
        ("cloud_low", "cloud_area_fraction_low", 0.01),
    ):
        expected = factor * (first[key] + second[key]) / 2.0
        assert forecast.member_arrays()[name][0, 0] == pytest.approx(expected)
    assert first["air_temperature"] == 18.8
    assert forecast.issued_at == datetime(2020, 7, 20, 1, 30, 57, tzinfo=UTC)
    assert forecast.elevation_m == 25.0
    assert forecast.cell_distance_m == pytest.approx(0.0, abs=1.0)


def test_the_short_form_has_no_cloud_by_height_and_says_so(
    payload: Callable[[str], Any], london: Site
) -> None:
    forecast = read(payload("metno_compact_2020.json"), site=london, now=NOW)
    assert forecast.cloud_low is None
    assert "cloud by height" in forecast.notes[0]


def test_gusts_and_rain_are_read_where_there_are_some(
    payload: Callable[[str], Any], london: Site
) -> None:
    """Two recorded Nordic steps of 2024, brought an hour apart: gust 4.1 m/s, no rain."""
    data = payload("metno_complete_nordic_2024.json")
    data["properties"]["timeseries"][1]["time"] = "2024-03-08T13:00:00Z"
    forecast = read(data, site=london, now=NOW)
    assert forecast.gust_m_s is not None
    assert forecast.rain_chance is not None
    assert forecast.gust_m_s[0, 0] == pytest.approx(4.1)
    assert forecast.rain_chance[0, 0] == 0.0
    # Six hours apart, the chance is that of the six hours.
    data["properties"]["timeseries"][1]["time"] = "2024-03-08T18:00:00Z"
    data["properties"]["timeseries"][0]["data"]["next_6_hours"]["details"][
        "probability_of_precipitation"
    ] = 30.0
    longer = read(data, site=london, now=NOW)
    assert longer.rain_chance is not None
    assert longer.rain_chance[0, 0] == pytest.approx(0.3)


@pytest.mark.parametrize(
    ("change", "said"),
    [
        (lambda p: p["meta"]["units"].update(air_temperature="fahrenheit"), "fahrenheit"),
        (lambda p: p["meta"]["units"].pop("wind_speed"), "None"),
        (lambda p: p["meta"].pop("updated_at"), "updated_at"),
        (lambda p: p["timeseries"].reverse(), "out of order"),
        (lambda p: p.update(timeseries=[]), "out of order"),
        (lambda p: p["timeseries"][0].update(time="2020-07-20T11:00:00"), "without an offset"),
        (lambda p: p["timeseries"][0].update(time=11), "no time"),
        (lambda p: p["timeseries"][0].pop("data"), "data is missing"),
        (lambda p: p.pop("meta"), "meta is missing"),
        (
            lambda p: p["timeseries"][0]["data"]["instant"]["details"].update(wind_speed="calm"),
            "number",
        ),
    ],
)
def test_each_bad_form_has_a_message_of_its_own(
    payload: Callable[[str], Any], london: Site, change: Callable[[Any], Any], said: str
) -> None:
    data = payload("metno_complete_2020.json")
    change(data["properties"])
    with pytest.raises(FeedError, match=said):
        read(data, site=london, now=NOW)


def test_steps_of_our_own_need_no_recorded_answer(london: Site) -> None:
    """A plain clone has no recorded answers; the same rules on three steps by hand."""

    def step(time: str, cloud: float) -> dict[str, Any]:
        details = {"cloud_area_fraction": cloud}
        return {"time": time, "data": {"instant": {"details": details}}}

    data = {
        "properties": {
            "meta": {"updated_at": "2020-07-20T01:00:00Z", "units": {"cloud_area_fraction": "%"}},
            "timeseries": [
                step("2020-07-20T11:00:00Z", 0.0),
                step("2020-07-20T12:00:00Z", 50.0),
                step("2020-07-20T18:00:00Z", 100.0),
            ],
        }
    }
    forecast = read(data, site=london, now=NOW)
    assert forecast.cloud is not None
    np.testing.assert_allclose(forecast.cloud[0], [0.25, 0.75])
    assert forecast.coarse.tolist() == [False, True]
