"""Reading JSON that somebody else wrote: each thing is what it should be, or a clear fault."""

from __future__ import annotations

import json
import math
from datetime import UTC, datetime
from typing import TYPE_CHECKING, Any

import numpy as np

from suntrack.feeds.wire import broken, content

if TYPE_CHECKING:
    from collections.abc import Mapping

    from numpy.typing import NDArray

    from suntrack.feeds.wire import Reply

STREAM_FAULT = b"Unexpected error while streaming data"
"""What one server writes after a body it could not finish, under a status of success."""


def json_of(reply: Reply) -> Any:
    """Return the JSON of a body; raise FeedError for anything else, half a body included."""
    if STREAM_FAULT in reply.body:
        raise broken("The feed's answer broke off in the middle, as its own note says.", again=True)
    try:
        return json.loads(reply.body, parse_constant=_no_constant)
    except (ValueError, RecursionError):
        kind = reply.headers.get("content-type", "no type").partition(";")[0]
        if "json" in kind:
            raise broken("The feed's answer is not whole.", again=True) from None
        raise broken(
            f"The answer is no forecast but {kind}; does this network ask for a login first?"
        ) from None


def _no_constant(name: str) -> None:
    raise ValueError(f"{name} is no JSON")


def table(value: Any, what: str) -> Mapping[str, Any]:
    """Return a JSON object."""
    if isinstance(value, list):
        raise content(f"{what} is a list where one table was asked for: several places in one?")
    if not isinstance(value, dict):
        raise content(f"{what} is missing or no table.")
    return value


def listed(value: Any, what: str) -> list[Any]:
    """Return a JSON list."""
    if not isinstance(value, list):
        raise content(f"{what} is missing or no list.")
    return value


def number(value: Any, what: str) -> float:
    """Return a number; nan for null."""
    if value is None:
        return math.nan
    if isinstance(value, bool) or not isinstance(value, int | float):
        raise content(f"{what} has {value!r} where a number belongs.")
    return float(value)


def numbers(value: Any, what: str, *, count: int) -> NDArray[np.float64]:
    """Return a list of numbers, nan for null; raise FeedError when there are not `count`."""
    items = listed(value, what)
    if len(items) != count:
        raise content(f"{what} has {len(items)} values for {count} rows.")
    return np.array([number(item, what) for item in items], np.float64)


def optional_number(value: Any) -> float | None:
    """Return a finite number, or None for anything else: for what is only shown."""
    if isinstance(value, bool) or not isinstance(value, int | float):
        return None
    return float(value) if math.isfinite(value) else None


def instant(value: Any, what: str) -> datetime:
    """Return an ISO 8601 instant with an offset, in UTC."""
    try:
        at = datetime.fromisoformat(value)
    except (TypeError, ValueError):
        raise content(f"{what} is {value!r}, which is no time.") from None
    if at.tzinfo is None:
        raise content(f"{what} is {value}, without an offset from UTC.")
    return at.astimezone(UTC)
