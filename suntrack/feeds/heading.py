"""Which forecast is kept, told without its numbers: `now` only has to know whose plan it is."""

from __future__ import annotations

import hashlib
import json
from datetime import datetime
from typing import TYPE_CHECKING

from suntrack.feeds.place import cut
from suntrack.sky.freshness import is_from_later, is_stale

if TYPE_CHECKING:
    from pathlib import Path

    from suntrack.sky.site import Site

FOLDER = "feeds"
"""Of the user's cache folder: where forecasts are kept."""
SCHEMA = 1
NONE = "none"
"""The name of no forecast."""


def request_digest(feed: str, site: Site) -> str:
    """Return what stands for a request: the feed, the place, the form of what is kept."""
    place = (cut(site.latitude_deg), cut(site.longitude_deg), round(site.elevation_m))
    return hashlib.sha256(repr((SCHEMA, feed, place)).encode()).hexdigest()[:16]


def kept_path(folder: Path, feed: str, site: Site) -> Path:
    """Return where the forecast of a feed for a site is kept."""
    return folder / f"{feed}-{request_digest(feed, site)}.json"


def forecast_name(feed: str, fetched_at: datetime) -> str:
    """Return what tells one forecast from another."""
    return f"{feed} {fetched_at.isoformat()}"


def kept_name(path: Path, *, now: datetime) -> str:
    """Return the name of the forecast that a file keeps, `none` where it cannot be used now.

    The numbers are not looked at: of a damaged file the name may be told all the same.
    """
    try:
        forecast = json.loads(path.read_text(encoding="utf-8"))["forecast"]
        feed, fetched_at = str(forecast["feed"]), datetime.fromisoformat(forecast["fetched_at"])
        fits = not is_stale(fetched_at, now=now) and not is_from_later(fetched_at, now=now)
    except (OSError, ValueError, LookupError, TypeError):
        return NONE
    return forecast_name(feed, fetched_at) if fits else NONE
