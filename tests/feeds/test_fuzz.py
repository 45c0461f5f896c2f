"""Whatever a service sends, the cook gets a forecast or a sentence, never a traceback."""

from __future__ import annotations

import copy
import json
from collections.abc import Callable
from dataclasses import replace
from datetime import datetime, timedelta
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from suntrack.config.feed_settings import FeedSettings
from suntrack.config.reader import Config
from suntrack.feeds.request import Tools
from suntrack.feeds.service import forecast_for
from suntrack.feeds.wire import Reply, Request

LEAVES = (
    st.none()
    | st.booleans()
    | st.integers()
    | st.floats(allow_nan=False, allow_infinity=False)
    | st.text(max_size=5)
    | st.sampled_from([1e15, 10**400, "P1D", "NOW/PT1H", "2022-01-01", "undefined", "W/m²"])
)
ANYTHING = st.recursive(
    LEAVES,
    lambda inner: st.lists(inner, max_size=3) | st.dictionaries(st.text(), inner, max_size=3),
)


class Said:
    """A wire that answers with one body after the other."""

    def __init__(self, *bodies: bytes) -> None:
        self._bodies = list(bodies)

    def get(self, origin: str, request: Request) -> Reply:
        body = self._bodies.pop(0) if len(self._bodies) > 1 else self._bodies[0]
        return Reply(status=200, headers={"content-type": "application/json"}, body=body)


def spots(value: Any, at: tuple[Any, ...] = ()) -> list[tuple[Any, ...]]:
    """Return the paths of everything in a JSON value, the first few of each list."""
    found = [at] if at else []
    if isinstance(value, dict):
        for key, each in value.items():
            found += spots(each, (*at, key))
    elif isinstance(value, list):
        for i, each in enumerate(value[:2]):
            found += spots(each, (*at, i))
    return found


def put(data: Any, path: tuple[Any, ...], value: Any) -> Any:
    changed = copy.deepcopy(data)
    holder = changed
    for part in path[:-1]:
        holder = holder[part]
    holder[path[-1]] = value
    return changed


def body_of(use: str, site: Any, noon: datetime, rows: Callable[..., Any]) -> Any:
    """Return a good answer of a service."""
    if use.startswith("open-meteo"):
        return rows(site, noon - timedelta(hours=12), hours=40)
    stretch = f"{noon.isoformat()}/P2D"
    values = [{"validTime": stretch, "value": 40}]
    if use == "weather-gov":
        sky = {"uom": "wmoUnit:percent", "values": values}
        elevation = {"unitCode": "wmoUnit:m", "value": 4}
        geometry = {"coordinates": [[[-85.0, 30.0], [-85.0, 30.1], [-85.1, 30.0], [-85.0, 30.0]]]}
        properties = {"updateTime": noon.isoformat(), "elevation": elevation, "skyCover": sky}
        return {"geometry": geometry, "properties": properties}
    details = {"cloud_area_fraction": 30.0}
    steps = [
        {
            "time": (noon + timedelta(hours=i)).isoformat(),
            "data": {"instant": {"details": details}, "next_1_hours": {"details": {}}},
        }
        for i in range(20)
    ]
    meta = {"updated_at": noon.isoformat(), "units": {"cloud_area_fraction": "%"}}
    return {
        "geometry": {"coordinates": [10, 60, 139]},
        "properties": {"meta": meta, "timeseries": steps},
    }


@pytest.mark.parametrize("use", ["open-meteo", "open-meteo-ensemble", "weather-gov", "met-norway"])
@settings(max_examples=60)
@given(data=st.data())
def test_one_wrong_spot_never_ends_in_a_crash(
    tmp_path_factory: pytest.TempPathFactory,
    example: Config,
    rows: Callable[..., Any],
    noon: datetime,
    use: str,
    data: st.DataObject,
) -> None:
    config = replace(example, feed=FeedSettings(use=use, contact="cook@courtyard.example"))
    good = body_of(use, config.site, noon, rows)
    path = data.draw(st.sampled_from(spots(good)))
    bad = put(good, path, data.draw(ANYTHING))
    point = {"properties": {"forecastGridData": "https://x/gridpoints/TAE/58,65"}}
    bodies = [json.dumps(point).encode()] if use == "weather-gov" else []
    tools = Tools(wire=Said(*bodies, json.dumps(bad).encode()), wait=_never, dice=lambda: 0.0)
    news = forecast_for(
        config, now=noon, cache_dir=tmp_path_factory.mktemp("fuzz"), fetch=True, tools=tools
    )
    assert news.forecast is not None or news.messages
    assert all(message.isprintable() for message in news.messages)


def _never(seconds: float) -> None:
    raise AssertionError("nobody waits here")


@pytest.mark.promise("A feed that answers rubbish")
@given(body=st.binary(max_size=200))
def test_no_bytes_at_all_end_in_a_crash(
    tmp_path_factory: pytest.TempPathFactory, example: Config, noon: datetime, body: bytes
) -> None:
    config = replace(example, feed=FeedSettings(use="open-meteo"))
    tools = Tools(wire=Said(body), wait=_never, dice=lambda: 0.0)
    news = forecast_for(
        config, now=noon, cache_dir=tmp_path_factory.mktemp("fuzz"), fetch=True, tools=tools
    )
    assert news.forecast is None
    assert news.messages
