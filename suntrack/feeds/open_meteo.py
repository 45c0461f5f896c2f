"""Open-Meteo: its rows become intervals, one forecast or many members.

Times are asked for in UTC as seconds.  In local time the service uses one offset for the
whole range, which is wrong after a change of clocks, and in zones on the half hour its
labels do not even say which row is meant.  Daily values are not asked for at all.
"""

from __future__ import annotations

import re
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING, Any, Literal

import numpy as np

from suntrack.config.feed_terms import FEEDS, FeedName
from suntrack.feeds.found import Found, clock_note, missing_note
from suntrack.feeds.place import cut, distance_m
from suntrack.feeds.reading import listed, numbers, optional_number, table
from suntrack.feeds.wire import Request, content
from suntrack.sky.forecast import Forecast

if TYPE_CHECKING:
    from collections.abc import Mapping
    from datetime import datetime

    from numpy.typing import NDArray

    from suntrack.feeds.request import Ask
    from suntrack.sky.site import Site


@dataclass(frozen=True, slots=True, kw_only=True)
class Column:
    """One of the service's variables in our words."""

    field: str
    """The record's own name of it."""
    factors: Mapping[str, float]
    """From each unit the service may use to ours."""
    stamped: Literal["before", "instant"]
    """Whether a value stands for the interval before its stamp, or for the stamp itself."""


LIGHT = {"W/m²": 1.0}
PERCENT = {"%": 0.01}
SPEED = {"m/s": 1.0, "km/h": 1.0 / 3.6}
COLUMNS: Mapping[str, Column] = {
    "shortwave_radiation": Column(field="global_horizontal_w_m2", factors=LIGHT, stamped="before"),
    "direct_normal_irradiance": Column(field="beam_normal_w_m2", factors=LIGHT, stamped="before"),
    "diffuse_radiation": Column(field="diffuse_horizontal_w_m2", factors=LIGHT, stamped="before"),
    "cloud_cover": Column(field="cloud", factors=PERCENT, stamped="instant"),
    "temperature_2m": Column(field="air_c", factors={"°C": 1.0}, stamped="instant"),
    "wind_speed_10m": Column(field="wind_m_s", factors=SPEED, stamped="instant"),
    "wind_gusts_10m": Column(field="gust_m_s", factors=SPEED, stamped="before"),
    "precipitation_probability": Column(field="rain_chance", factors=PERCENT, stamped="before"),
    # Of an ensemble: each member says whether it rains, and their share is the chance.
    "precipitation": Column(field="rain_chance", factors={"mm": 1.0}, stamped="before"),
}
WET_MM = 0.1
"""Rain of an interval that counts as rain: the service's own threshold.  [mm]"""
NOT_OFFERED = "undefined"
"""The unit of a variable that the model behind the answer does not have."""
FORECAST = tuple(name for name in COLUMNS if name != "precipitation")
ENSEMBLE = (
    "shortwave_radiation",
    "cloud_cover",
    "temperature_2m",
    "wind_speed_10m",
    "wind_gusts_10m",
    "precipitation",
)
DAYS, DAYS_BEFORE = 8, 1
"""A week ahead; and yesterday, since a western evening is already tomorrow in UTC."""
GEFS_MEMBERS = 31
LONGEST_STEP_S = 6.0 * 3600.0


def fetch(
    *,
    site: Site,
    ask: Ask,
    memory: Mapping[str, str],  # noqa: ARG001 - the service has no validators to remember
    now: datetime,
) -> Found:
    """Return the forecast for a site."""
    return _fetch("open-meteo", "/v1/forecast", FORECAST, {}, site=site, ask=ask, now=now)


def fetch_ensemble(
    *,
    site: Site,
    ask: Ask,
    memory: Mapping[str, str],  # noqa: ARG001 - as above
    now: datetime,
) -> Found:
    """Return the members of an ensemble for a site, in the steps of the model itself."""
    more = {"models": "ncep_gefs_seamless", "temporal_resolution": "native"}
    return _fetch(
        "open-meteo-ensemble", "/v1/ensemble", ENSEMBLE, more, site=site, ask=ask, now=now
    )


def _fetch(
    feed: FeedName,
    path: str,
    variables: tuple[str, ...],
    more: Mapping[str, str],
    *,
    site: Site,
    ask: Ask,
    now: datetime,
) -> Found:
    members = GEFS_MEMBERS if more else 1
    request = Request(
        path=path,
        params={**_params(site, variables), **more},
        headers={"Accept": "application/json"},
        weight=call_weight(variables=len(variables), members=members, days=DAYS + DAYS_BEFORE),
    )
    answer = ask(request)
    forecast = read(answer.data, feed=feed, site=site, now=now)
    return Found(forecast=_with_notes(forecast, clock_note(answer.reply, now=now)))


def _with_notes(forecast: Forecast, notes: tuple[str, ...]) -> Forecast:
    return replace(forecast, notes=(*forecast.notes, *notes))


def _params(site: Site, variables: tuple[str, ...]) -> dict[str, str]:
    return {
        "latitude": cut(site.latitude_deg),
        "longitude": cut(site.longitude_deg),
        "elevation": f"{site.elevation_m:.0f}",
        "hourly": ",".join(variables),
        "wind_speed_unit": "ms",
        "timeformat": "unixtime",
        "timezone": "GMT",
        "past_days": str(DAYS_BEFORE),
        "forecast_days": str(DAYS),
    }


def call_weight(*, variables: int, members: int, days: int) -> float:
    """Return how many requests the service counts one for, by its published rule."""
    values = variables * members / 10.0
    return max(1.0, values, values * days / 14.0)


def read(data: Any, *, feed: FeedName, site: Site, now: datetime) -> Forecast:
    """Return the answer as our record; raise FeedError when it is not what was asked for."""
    body = table(data, "The answer")
    units = table(body.get("hourly_units"), "hourly_units")
    hourly = table(body.get("hourly"), "hourly")
    if body.get("utc_offset_seconds") != 0 or units.get("time") != "unixtime":
        raise content(
            "The feed answered in local time, whose labels are not reliable, though UTC was asked."
        )
    stamps_s = _stamps(hourly)
    whole = np.diff(stamps_s) <= LONGEST_STEP_S
    rows = {name: _rows(name, hourly, units, count=stamps_s.size) for name in COLUMNS}
    members = _members(rows)
    fields: dict[str, Any] = {
        COLUMNS[name].field: _as_intervals(name, given, members, count=stamps_s.size)[:, whole]
        for name, given in rows.items()
        if given
    }
    asked = FORECAST if feed == "open-meteo" else ENSEMBLE
    return Forecast(
        feed=feed,
        kind="radiation" if "global_horizontal_w_m2" in fields else "cloud only",
        starts_at_s=stamps_s[:-1][whole],
        ends_at_s=stamps_s[1:][whole],
        fetched_at=now,
        elevation_m=optional_number(body.get("elevation")),
        cell_distance_m=_distance_m(body, site),
        attribution=FEEDS[feed].attribution,
        notes=missing_note(fields, (COLUMNS[name].field for name in asked)),
        **fields,
    )


def _stamps(hourly: Mapping[str, Any]) -> NDArray[np.float64]:
    """Return the stamps of the rows, which have to ascend."""
    listed_times = listed(hourly.get("time"), "hourly.time")
    stamps_s = numbers(listed_times, "hourly.time", count=len(listed_times))
    if stamps_s.size < 2 or not np.all(np.diff(stamps_s) > 0.0):
        raise content("The feed's rows are out of order, or there are none.")
    return stamps_s


def _rows(
    name: str, hourly: Mapping[str, Any], units: Mapping[str, Any], *, count: int
) -> dict[str, NDArray[np.float64]]:
    """Return a variable by member, in our unit; empty when it is not offered.

    The control has no suffix and stands as member "00".
    """
    found = {}
    for key, values in hourly.items():
        match = re.fullmatch(rf"{name}(?:_member(\d\d))?", key)
        if match is None or units.get(key) == NOT_OFFERED:
            continue
        factor = COLUMNS[name].factors.get(str(units.get(key)))
        if factor is None:
            said = units.get(key)
            raise content(
                f"{key} comes " + (f"in {said!r}, which we do not know." if said else "unitless.")
            )
        found[match[1] or "00"] = factor * numbers(values, key, count=count)
    return found if any(np.isfinite(row).any() for row in found.values()) else {}


def _members(rows: Mapping[str, dict[str, NDArray[np.float64]]]) -> list[str]:
    """Return the members that say anything of the sun, in order."""
    for name in ("shortwave_radiation", "cloud_cover"):
        if rows[name]:
            return sorted(rows[name])
    return sorted(set().union(*rows.values()))


def _as_intervals(
    name: str, given: dict[str, NDArray[np.float64]], members: list[str], *, count: int
) -> NDArray[np.float64]:
    """Return a variable as (members, intervals), each interval ending at a stamp."""
    unknown = np.full(count, np.nan)
    rows = np.array([given.get(member, unknown) for member in members]).reshape(-1, count)
    if name == "precipitation":
        rows = np.where(np.isnan(rows), np.nan, rows > WET_MM)
    if COLUMNS[name].stamped == "before":
        return rows[:, 1:]
    return np.asarray(0.5 * (rows[:, :-1] + rows[:, 1:]))


def _distance_m(body: Mapping[str, Any], site: Site) -> float | None:
    latitude_deg = optional_number(body.get("latitude"))
    longitude_deg = optional_number(body.get("longitude"))
    if latitude_deg is None or longitude_deg is None:
        return None
    return distance_m(
        latitude_deg=site.latitude_deg,
        longitude_deg=site.longitude_deg,
        other_latitude_deg=latitude_deg,
        other_longitude_deg=longitude_deg,
    )
