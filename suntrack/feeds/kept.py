"""The last good forecast on disk: written whole, read back exactly, or simply not there.

    feeds/open-meteo-3f9c....json   schema, request, fetched_at, due_at, memory, forecast

The name holds a digest of the place and the request, so that a box that moved never gets
the old place's sky.  nan is written as null.
"""

from __future__ import annotations

import contextlib
import json
import math
import os
from dataclasses import dataclass, field
from datetime import datetime
from pathlib import Path
from typing import TYPE_CHECKING, Any

import numpy as np

from suntrack.feeds.heading import SCHEMA
from suntrack.sky.forecast import MEMBER_FIELDS, Forecast

if TYPE_CHECKING:
    from collections.abc import Mapping

DATES = ("fetched_at", "issued_at")
PLAIN = ("feed", "kind", "elevation_m", "cell_distance_m", "attribution")
TIMES = ("starts_at_s", "ends_at_s")


@dataclass(frozen=True, slots=True, kw_only=True)
class Kept:
    """A forecast as it was kept."""

    forecast: Forecast
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
