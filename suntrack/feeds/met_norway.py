"""MET Norway: instants become intervals, hourly first, then six-hourly.

The long form is asked for, since the short one has neither cloud by height nor gusts.
"""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

import numpy as np

from suntrack.config.feed_terms import FEEDS
from suntrack.feeds.found import Found, changed_at, clock_note, fresh_for, missing_note
from suntrack.feeds.place import cut, distance_m
from suntrack.feeds.reading import (
    instant,
    listed,
    number,
    optional_number,
    table,
)
from suntrack.feeds.wire import Request, content
from suntrack.sky.forecast import Forecast

if TYPE_CHECKING:
    from collections.abc import Mapping
    from datetime import datetime

    from numpy.typing import NDArray

    from suntrack.feeds.request import Ask
    from suntrack.sky.site import Site

PATH = "/weatherapi/locationforecast/2.0/complete"
HOUR_S = 3600.0
LONGEST_STEP_S = 6.0 * HOUR_S
INSTANTS: Mapping[str, tuple[str, str, float]] = {
    "cloud": ("cloud_area_fraction", "%", 0.01),
    "cloud_low": ("cloud_area_fraction_low", "%", 0.01),
    "cloud_mid": ("cloud_area_fraction_medium", "%", 0.01),
    "cloud_high": ("cloud_area_fraction_high", "%", 0.01),
    "air_c": ("air_temperature", "celsius", 1.0),
    "wind_m_s": ("wind_speed", "m/s", 1.0),
    "gust_m_s": ("wind_speed_of_gust", "m/s", 1.0),
}
"""Our field, the service's name, the unit it has to come in, the factor to ours."""
RAIN = "probability_of_precipitation"
EXPECTED = ("cloud_low", "air_c", "wind_m_s", "gust_m_s", "rain_chance")


def fetch(*, site: Site, ask: Ask, memory: Mapping[str, str], now: datetime) -> Found:
    """Return the forecast for a site, or that nothing has changed since `memory`."""
    since = {"If-Modified-Since": memory["changed_at"]} if "changed_at" in memory else {}
    params = {
        "lat": cut(site.latitude_deg),
        "lon": cut(site.longitude_deg),
        "altitude": f"{site.elevation_m:.0f}",
    }
    headers = {"Accept": "application/json", **since}
    answer = ask(Request(path=PATH, params=params, headers=headers))
    reply = answer.reply
    if reply.status == 304:
        return Found(forecast=None, memory=memory, fresh_for=fresh_for(reply))
    changed = changed_at(reply)
    notes = clock_note(reply, now=now)
    if reply.status == 203:
        notes = (*notes, "The feed says that this version of it will end; look for a new suntrack.")
    return Found(
        forecast=read(answer.data, site=site, now=now, notes=notes),
        memory={"changed_at": changed} if changed else {},
        fresh_for=fresh_for(reply),
    )


def read(data: Any, *, site: Site, now: datetime, notes: tuple[str, ...] = ()) -> Forecast:
    """Return the answer as our record; raise FeedError when it is not one."""
    body = table(data, "The answer")
    properties = table(body.get("properties"), "properties")
    meta = table(properties.get("meta"), "meta")
    steps = [
        table(step, "timeseries") for step in listed(properties.get("timeseries"), "timeseries")
    ]
    stamps_s = _stamps(steps)
    lengths_s = np.diff(stamps_s)
    whole = lengths_s <= LONGEST_STEP_S
    fields = _instants(steps, table(meta.get("units"), "units"), whole)
    rain = _rain(steps, lengths_s)[whole]
    if np.isfinite(rain).any():
        fields["rain_chance"] = rain[None]
    if "cloud" not in fields:
        raise content("The feed has no cloud for this place, so it tells nothing of the sun.")
    updated = instant(meta.get("updated_at"), "updated_at")
    elevation_m, distance = _cell(body, site)
    return Forecast(
        feed="met-norway",
        kind="cloud only",
        starts_at_s=stamps_s[:-1][whole],
        ends_at_s=stamps_s[1:][whole],
        fetched_at=now,
        issued_at=updated,
        elevation_m=elevation_m,
        cell_distance_m=distance,
        attribution=FEEDS["met-norway"].attribution,
        notes=(*notes, *missing_note(fields, EXPECTED)),
        **fields,
    )


def _stamps(steps: list[Mapping[str, Any]]) -> NDArray[np.float64]:
    stamps_s = np.array([instant(step.get("time"), "time").timestamp() for step in steps])
    if stamps_s.size < 2 or not np.all(np.diff(stamps_s) > 0.0):
        raise content("The feed's steps are out of order, or there are none.")
    return np.asarray(stamps_s, np.float64)


def _instants(
    steps: list[Mapping[str, Any]], units: Mapping[str, Any], whole: NDArray[np.bool_]
) -> dict[str, Any]:
    """Return each variable as (1, intervals): the mean of its two ends, for a gust the larger."""
    details = [_details(step, "instant") for step in steps]
    fields = {}
    for field, (name, unit, factor) in INSTANTS.items():
        values = factor * np.array([number(detail.get(name), name) for detail in details])
        if not np.isfinite(values).any():
            continue
        if units.get(name) != unit:
            raise content(f"{name} comes in the unit {units.get(name)!r}, where {unit!r} belongs.")
        if field == "gust_m_s":
            row = np.fmax(values[:-1], values[1:])
        else:
            row = 0.5 * (values[:-1] + values[1:])
        if np.isfinite(row[whole]).any():
            fields[field] = row[whole][None]
    return fields


def _rain(steps: list[Mapping[str, Any]], lengths_s: NDArray[np.float64]) -> NDArray[np.float64]:
    """Return the chance of rain of each interval, from the block that is as long as it."""
    rain = np.full(lengths_s.shape, np.nan)
    for i, length_s in enumerate(lengths_s):
        block = _details(steps[i], f"next_{length_s / HOUR_S:.0f}_hours")
        rain[i] = 0.01 * number(block.get(RAIN), RAIN)
    return rain


def _details(step: Mapping[str, Any], block: str) -> Mapping[str, Any]:
    """Return the values of a block; none where the step has no such block."""
    data = table(step.get("data"), "data")
    if block not in data:
        return {}
    return table(table(data[block], block).get("details", {}), block)


def _cell(body: Mapping[str, Any], site: Site) -> tuple[float | None, float | None]:
    """Return the height that the service reckoned with and the distance of its point.  [m]"""
    geometry = body.get("geometry")
    point = geometry.get("coordinates") if isinstance(geometry, dict) else None
    if not isinstance(point, list) or len(point) < 2:
        return None, None
    longitude_deg, latitude_deg = (optional_number(value) for value in point[:2])
    if longitude_deg is None or latitude_deg is None:
        return None, None
    away_m = distance_m(
        latitude_deg=site.latitude_deg,
        longitude_deg=site.longitude_deg,
        other_latitude_deg=latitude_deg,
        other_longitude_deg=longitude_deg,
    )
    return optional_number(point[2]) if len(point) > 2 else None, away_m
