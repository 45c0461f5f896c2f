"""The last good forecast on disk: written whole, read back exactly, or simply not there.

    feeds/open-meteo-3f9c....json   schema, request, fetched_at, due_at, memory, forecast

The name holds a digest of the place and the request, so that a box that moved never gets
the old place's sky.  nan is written as null.  Whether a kept one may be used at a moment, and
what the cook is told of it, is decided here too.

Our record is kept, checked once, not the service's reply.  Lost: a general HTTP cache, which
believes a change dated in the future and knows no ceiling for a day; a client library for each
service, which keeps its names and units and lets zeros stand for what is not known.
"""

from __future__ import annotations

import contextlib
import json
import math
import os
from dataclasses import dataclass, field
from datetime import datetime, timedelta
from pathlib import Path
from typing import TYPE_CHECKING, Any

import numpy as np

from suntrack.config.feed_terms import FEEDS
from suntrack.feeds.heading import SCHEMA
from suntrack.sky.forecast import MEMBER_FIELDS, Forecast
from suntrack.sky.freshness import is_from_later
from suntrack.sky.localday import covered, day_bounds_s
from suntrack.units import FOOT_M, MILE_M, span_words

if TYPE_CHECKING:
    from collections.abc import Mapping

    from suntrack.config.reader import Config
    from suntrack.sky.forecast import Forecast


DATES = ("fetched_at", "issued_at")
PLAIN = ("feed", "kind", "elevation_m", "cell_distance_m", "attribution")
TIMES = ("starts_at_s", "ends_at_s")


@dataclass(frozen=True, slots=True, kw_only=True)
class Kept:
    """A forecast as it was kept."""

    forecast: Forecast
    """As it was read then."""
    due_at: datetime
    """Not asked again before."""
    memory: Mapping[str, str] = field(default_factory=dict)
    """What the feed's module wants to know the next time."""


def write_kept(path: Path, kept: Kept) -> None:
    """Keep a forecast: whole or not at all; raise OSError when the folder cannot be written."""
    data = {
        "schema": SCHEMA,
        "request": path.stem,
        "due_at": kept.due_at.isoformat(),
        "memory": dict(kept.memory),
        "forecast": _written(kept.forecast),
    }
    write_whole(path, json.dumps(data, allow_nan=False))


def write_whole(path: Path, text: str) -> None:
    """Write a file so that a crash leaves the old one or the new one; raise OSError."""
    part = path.with_name(f"{path.name}.{os.getpid()}.part")
    try:
        path.parent.mkdir(parents=True, exist_ok=True)
        part.write_text(text, encoding="utf-8")
        part.replace(path)
    except OSError:
        with contextlib.suppress(OSError):
            part.unlink(missing_ok=True)
        raise


def read_kept(path: Path) -> Kept | None:
    """Return a kept forecast; None when there is none that fits, be it damaged or older."""
    try:
        data = json.loads(path.read_text(encoding="utf-8"))
        if data["schema"] != SCHEMA or data["request"] != path.stem:
            return None
        return Kept(
            forecast=_read(data["forecast"]),
            due_at=_aware(data["due_at"]),
            memory={str(name): str(value) for name, value in data["memory"].items()},
        )
    except (OSError, ValueError, LookupError, TypeError, AttributeError):
        return None


def _written(forecast: Forecast) -> dict[str, Any]:
    """Return a forecast as JSON values, to full precision."""
    data: dict[str, Any] = {name: getattr(forecast, name) for name in PLAIN}
    for name in DATES:
        at = getattr(forecast, name)
        data[name] = at and at.isoformat()
    data["notes"] = list(forecast.notes)
    for name in TIMES:
        data[name] = getattr(forecast, name).tolist()
    for name, values in forecast.member_arrays().items():
        data[name] = [[None if math.isnan(v) else v for v in row] for row in values.tolist()]
    return data


def _read(data: Mapping[str, Any]) -> Forecast:
    """Return the forecast that `_written` wrote; raise ValueError, LookupError or TypeError."""
    fields: dict[str, Any] = {name: data[name] for name in PLAIN}
    for name in DATES:
        fields[name] = None if data[name] is None else _aware(data[name])
    fields["notes"] = tuple(str(note) for note in data["notes"])
    for name in TIMES:
        fields[name] = np.array(data[name], np.float64)
    for name in MEMBER_FIELDS:
        if data.get(name) is not None:
            # None becomes nan; the shape is checked when the record is built.
            fields[name] = np.array(data[name], np.float64)
    return Forecast(**fields)


def _aware(text: str) -> datetime:
    at = datetime.fromisoformat(text)
    if at.tzinfo is None:
        raise ValueError(f"{text}: no offset from UTC")
    return at


OLD = timedelta(hours=12)
"""From here on the age of a forecast is told even when nothing failed (our choice)."""
WHOLE = 0.995
"""Share of the rest of a day that counts as all of it, for a last half hour at midnight."""
FAR_M, STEEP_M = 30_000.0, 300.0
"""Distance and height between box and grid cell that are told to the cook (our choice)."""


def news_of(
    kept: Kept | None, complaint: str, *, config: Config, now: datetime
) -> tuple[Forecast | None, tuple[str, ...]]:
    """Return the forecast to use and the messages that go with it."""
    title = FEEDS[config.feed.use].title
    complaints = [f"{title}: {complaint}"] if complaint else []
    if kept is None:
        none = "No forecast is used."
        return None, (*complaints, none)
    forecast = kept.forecast
    fetched = span_words(now - forecast.fetched_at)
    if not forecast.usable(now):
        old = f"The last forecast was fetched {fetched} ago, too long to be used."
        return None, (*complaints, old)
    if is_from_later(forecast.fetched_at, now=now):
        return None, (*complaints, "The last forecast is from after this moment; it is not used.")
    ages = []
    if complaint or forecast.age(now) > OLD:
        ages = [f"The forecast used is {span_words(forecast.age(now))} old."]
    rest = (*_partial(forecast, config=config, now=now), *_elsewhere(forecast, config=config))
    return forecast, (*complaints, *ages, *rest)


def _partial(forecast: Forecast, *, config: Config, now: datetime) -> list[str]:
    """Return a message when the rest of the local day is not all covered."""
    zone = config.site.zone
    _, ends_s = day_bounds_s(now.astimezone(zone).date(), zone)
    left_s = ends_s - now.timestamp()
    if left_s <= 0.0:
        return []
    share = covered(forecast, starts_s=now.timestamp(), ends_s=ends_s)
    if share >= WHOLE:
        return []
    left = timedelta(seconds=left_s)
    known = timedelta(seconds=share * left_s)
    return [f"Of the {span_words(left)} left of today the forecast knows {span_words(known)}."]


def _elsewhere(forecast: Forecast, *, config: Config) -> list[str]:
    """Return messages when the grid cell lies far from the box, or much higher or lower."""
    inches = config.units.length == "in"
    messages = []
    if forecast.cell_distance_m is not None and forecast.cell_distance_m > FAR_M:
        away = forecast.cell_distance_m / (MILE_M if inches else 1000.0)
        unit = "miles" if inches else "km"
        messages.append(f"The forecast is for a place {away:.0f} {unit} from the box.")
    higher_m = (
        0.0 if forecast.elevation_m is None else forecast.elevation_m - config.site.elevation_m
    )
    if abs(higher_m) > STEEP_M:
        way = "higher" if higher_m > 0.0 else "lower"
        high = abs(higher_m) / (FOOT_M if inches else 1.0)
        unit = "ft" if inches else "m"
        messages.append(f"The forecast is for a place {high:.0f} {unit} {way} than the box.")
    return messages
