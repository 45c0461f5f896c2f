"""The US National Weather Service: the place's grid cell, then the raw grid.

Only the raw grid has cloud.  There is no sunlight and no ensemble; layers may be empty or
gone, each office as it likes.
"""

from __future__ import annotations

import re
from datetime import timedelta
from typing import TYPE_CHECKING, Any
from urllib.parse import urlsplit

import numpy as np

from suntrack.config.feed_terms import FEEDS
from suntrack.errors import FeedError
from suntrack.feeds.fault import content
from suntrack.feeds.found import Found, changed_at, clock_note, fresh_for, missing_note
from suntrack.feeds.layers import hours_of, on_hours, stretches
from suntrack.feeds.place import cut, distance_m
from suntrack.feeds.reading import instant, listed, optional_number, table
from suntrack.feeds.wire import Request
from suntrack.sky.forecast import Forecast

if TYPE_CHECKING:
    from collections.abc import Mapping
    from datetime import datetime

    from numpy.typing import NDArray

    from suntrack.feeds.ask import Ask
    from suntrack.sky.site import Site

# Without it old grids have been served; the identification goes with every request.
ACCEPT = {"Accept": "application/geo+json"}
GRID_PATH = re.compile(r"/gridpoints/[A-Z]{3}/\d{1,3},\d{1,3}")
ASK_PLACE_AGAIN = timedelta(days=7)
"""Grids are redrawn now and then."""
MOST_HOURS = 24 * 9
PERCENT = {"percent": 0.01}
SPEED = {"km_h-1": 1.0 / 3.6, "m_s-1": 1.0}
LAYERS: Mapping[str, tuple[str, Mapping[str, float]]] = {
    "cloud": ("skyCover", PERCENT),
    "air_c": ("temperature", {"degC": 1.0}),
    "wind_m_s": ("windSpeed", SPEED),
    "gust_m_s": ("windGust", SPEED),
    "rain_chance": ("probabilityOfPrecipitation", PERCENT),
}


def fetch(*, site: Site, ask: Ask, memory: Mapping[str, str], now: datetime) -> Found:
    """Return the forecast of the site's grid cell.

    `memory` keeps the cell and when its grid was last changed; a cell that is gone is looked
    up once more.
    """
    grid = _grid_kept(memory, now=now)
    if grid is None:
        grid, resolved = _resolve(site, ask=ask), now.isoformat()
        memory = {}
    else:
        resolved = memory["resolved_at"]
    try:
        return _grid(grid, resolved, site=site, ask=ask, memory=memory, now=now)
    except FeedError as fault:
        if fault.kind != "moved" or not memory:
            raise
    return fetch(site=site, ask=ask, memory={}, now=now)


def _grid_kept(memory: Mapping[str, str], *, now: datetime) -> str | None:
    """Return the path of the cell's grid as it was found before, within the last week."""
    grid, resolved = memory.get("grid", ""), memory.get("resolved_at", "")
    if not GRID_PATH.fullmatch(grid) or not resolved:
        return None
    age = now - instant(resolved, "resolved_at")
    return grid if timedelta(0) <= age < ASK_PLACE_AGAIN else None


def _resolve(site: Site, *, ask: Ask) -> str:
    """Return the path of the grid of the cell that a site lies in."""
    point = f"/points/{cut(site.latitude_deg)},{cut(site.longitude_deg)}"
    body = table(ask(Request(path=point, headers=ACCEPT)).data, "The answer")
    properties = table(body.get("properties"), "properties")
    # Only the path is taken: the answer does not choose whom we ask next.
    path = urlsplit(str(properties.get("forecastGridData"))).path
    if not GRID_PATH.fullmatch(path):
        raise content(f"The feed's grid for the place, {path[:60]!r}, is no grid.")
    return path


def _grid(
    grid: str,
    resolved: str,
    *,
    site: Site,
    ask: Ask,
    memory: Mapping[str, str],
    now: datetime,
) -> Found:
    since = {"If-Modified-Since": memory["changed_at"]} if "changed_at" in memory else {}
    answer = ask(Request(path=grid, headers={**ACCEPT, **since}))
    reply = answer.reply
    if reply.status == 304:
        return Found(forecast=None, memory=memory, fresh_for=fresh_for(reply))
    changed = changed_at(reply)
    kept = {"grid": grid, "resolved_at": resolved} | ({"changed_at": changed} if changed else {})
    return Found(
        forecast=read(answer.data, site=site, now=now, notes=clock_note(reply, now=now)),
        memory=kept,
        fresh_for=fresh_for(reply),
    )


def read(data: Any, *, site: Site, now: datetime, notes: tuple[str, ...] = ()) -> Forecast:
    """Return a raw grid as our record; raise FeedError when it is none."""
    body = table(data, "The answer")
    grid = table(body.get("properties"), "properties")
    given = {
        name: stretches(grid.get(layer), layer, factors=factors, now=now)
        for name, (layer, factors) in LAYERS.items()
    }
    # Rain reaches days further than the rest; hours of rain alone tell nothing of the sun.
    starts_s = hours_of(given["cloud"] + given["air_c"], most=MOST_HOURS)
    fields: dict[str, Any] = {}
    for name in LAYERS:
        row = on_hours(given[name], starts_s)
        if row is not None:
            fields[name] = row
    if "cloud" not in fields:
        raise content("The feed has no cloud for this place today, so it tells nothing of the sun.")
    return Forecast(
        feed="weather-gov",
        kind="cloud only",
        starts_at_s=starts_s,
        ends_at_s=starts_s + 3600.0,
        fetched_at=now,
        issued_at=instant(grid.get("updateTime"), "updateTime"),
        elevation_m=_elevation_m(grid),
        cell_distance_m=_distance_m(body, site),
        attribution=FEEDS["weather-gov"].attribution,
        notes=(*notes, *missing_note(fields, LAYERS)),
        **_gusts_over_wind(fields),
    )


def _gusts_over_wind(fields: dict[str, Any]) -> dict[str, Any]:
    """Return the fields with no gust weaker than the wind it blows in."""
    if "gust_m_s" not in fields or "wind_m_s" not in fields:
        return fields
    gust, wind = fields["gust_m_s"], fields["wind_m_s"]
    return fields | {"gust_m_s": np.where(np.isnan(gust), np.nan, np.fmax(gust, wind))}


def _elevation_m(grid: Mapping[str, Any]) -> float | None:
    elevation = grid.get("elevation")
    if not isinstance(elevation, dict) or not str(elevation.get("unitCode")).endswith(":m"):
        return None
    return optional_number(elevation.get("value"))


def _distance_m(body: Mapping[str, Any], site: Site) -> float | None:
    """Return how far the middle of the cell's outline is; None where it has none."""
    try:
        outline = table(body.get("geometry"), "geometry")["coordinates"][0][:-1]
        corners: NDArray[np.float64] = np.array(listed(outline, "geometry"), np.float64)
        longitude_deg, latitude_deg = corners[:, :2].mean(axis=0)
    except (FeedError, LookupError, TypeError, ValueError):
        return None
    return distance_m(
        latitude_deg=site.latitude_deg,
        longitude_deg=site.longitude_deg,
        other_latitude_deg=float(latitude_deg),
        other_longitude_deg=float(longitude_deg),
    )
