"""For how long a forecast may be used, without its numbers."""

from __future__ import annotations

from datetime import datetime, timedelta

USABLE = timedelta(hours=48)
"""How long a forecast is used after it was fetched, when nothing newer comes."""
EARLIEST = timedelta(hours=24)
"""How long before it was fetched a forecast is used, for a look back at today."""


def is_stale(fetched_at: datetime, *, now: datetime) -> bool:
    """Return whether a forecast was fetched too long ago."""
    return now - fetched_at > USABLE


def is_from_later(fetched_at: datetime, *, now: datetime) -> bool:
    """Return whether a forecast was fetched too long after the moment asked about."""
    return fetched_at - now > EARLIEST
