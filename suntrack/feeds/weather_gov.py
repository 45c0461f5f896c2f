"""The US National Weather Service: the place's grid cell, then the raw grid.

A stretch with one value, `2026-11-25T06:00:00+00:00/PT3H` as ISO 8601 writes it, is laid out
again as a row of half-open hours; an hour that no stretch covers is not known.

Only the raw grid has cloud.  There is no sunlight and no ensemble; layers may be empty or
gone, each office as it likes.
"""

from __future__ import annotations

import re
from datetime import UTC, datetime, timedelta
from typing import TYPE_CHECKING, Any
from urllib.parse import urlsplit

import numpy as np

from suntrack.config.feed_terms import FEEDS
from suntrack.errors import FeedError
from suntrack.feeds.found import Found, changed_at, clock_note, fresh_for, missing_note
from suntrack.feeds.place import cut, distance_m
from suntrack.feeds.reading import instant, listed, number, optional_number, table
from suntrack.feeds.wire import Request, content
from suntrack.sky.forecast import Forecast

if TYPE_CHECKING:
    from collections.abc import Mapping
    from datetime import datetime

    from numpy.typing import NDArray

    from suntrack.feeds.request import Ask
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


HOUR_S = 3600.0

Stretch = tuple[float, float, float]
"""Start [s], end [s] and value."""


def stretches(
    layer: Any, what: str, *, factors: Mapping[str, float], now: datetime
) -> list[Stretch]:
    """Return the stretches of a layer in our unit; none for a layer that is not there.

    Raises
    ------
    FeedError
        If there are values without a unit, or in one that is not in `factors`.
    """
    if layer is None:
        return []
    values = listed(table(layer, what).get("values"), what)
    if not values:
        return []
    # Before 2020 the prefix was `unit:`, since then `wmoUnit:`.
    unit = str(layer.get("uom")).rpartition(":")[2]
    if unit not in factors:
        raise content(f"{what} comes in the unit {layer.get('uom')!r}, which we do not know.")
    return [_stretch(item, what, factor=factors[unit], now=now) for item in values]


def _stretch(item: Any, what: str, *, factor: float, now: datetime) -> Stretch:
    entry = table(item, what)
    starts, ends = stretch(entry.get("validTime"), now=now)
    return starts.timestamp(), ends.timestamp(), factor * number(entry.get("value"), what)


def on_hours(given: list[Stretch], starts_at_s: NDArray[np.float64]) -> NDArray[np.float64] | None:
    """Return the value of each hour, shape (1, hours); None when there is none at all.

    An hour takes the value of the stretch that holds its middle.
    """
    mid_s = starts_at_s + HOUR_S / 2.0
    row = np.full(starts_at_s.shape, np.nan)
    for starts_s, ends_s, value in given:
        row[(mid_s >= starts_s) & (mid_s < ends_s)] = value
    return row[None] if np.isfinite(row).any() else None


def hours_of(given: list[Stretch], *, most: int) -> NDArray[np.float64]:
    """Return the starts of the whole hours from the first stretch to the end of the last.  [s]"""
    if not given:
        return np.empty(0)
    first_s = min(starts_s for starts_s, _, _ in given)
    last_s = max(ends_s for _, ends_s, _ in given)
    first_s = np.floor(first_s / HOUR_S) * HOUR_S
    count = min(int(np.ceil((last_s - first_s) / HOUR_S)), most)
    return np.asarray(first_s + HOUR_S * np.arange(max(count, 0), dtype=np.float64))


# The service's own grammar, in which weeks do not occur.
DURATION = re.compile(
    r"P(?:(\d{1,4})Y)?(?:(\d{1,4})M)?(?:(\d{1,4})D)?"
    r"(?:T(?:(\d{1,4})H)?(?:(\d{1,4})M)?(?:(\d{1,5})S)?)?"
)
YEAR, MONTH = timedelta(days=365), timedelta(days=30)
"""A forecast reaches days ahead; what these mean exactly makes no difference to it."""
NOW = "NOW"


def duration(text: str) -> timedelta:
    """Return the length of a duration; raise FeedError when it is none.

    >>> duration("P1DT6H")
    datetime.timedelta(days=1, seconds=21600)
    """
    match = DURATION.fullmatch(text)
    if match is None or text.endswith(("P", "T")):
        raise content(f"{text!r} is no length of time.")
    years, months, days, hours, minutes, seconds = (int(part or 0) for part in match.groups())
    return (
        years * YEAR
        + months * MONTH
        + timedelta(days=days, hours=hours, minutes=minutes, seconds=seconds)
    )


def stretch(text: object, *, now: datetime) -> tuple[datetime, datetime]:
    """Return start and end of a stretch, in UTC: start/duration, start/end or duration/end.

    `NOW` may stand for a start or an end.
    """
    first, slash, second = str(text).partition("/")
    if not slash:
        raise content(f"{str(text)[:60]!r} is no stretch of time.")
    if first.startswith("P"):
        ends = _moment(second, now=now)
        return ends - duration(first), ends
    starts = _moment(first, now=now)
    if second.startswith("P"):
        return starts, starts + duration(second)
    return starts, _moment(second, now=now)


def _moment(text: str, *, now: datetime) -> datetime:
    return now.astimezone(UTC) if text == NOW else instant(text, "A stretch of time")
