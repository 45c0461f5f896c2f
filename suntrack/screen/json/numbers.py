"""Numbers and instants as JSON writes them."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from datetime import datetime


def stamp(at: datetime | None) -> str | None:
    """Return an instant in ISO 8601, to the second."""
    return None if at is None else at.isoformat(timespec="seconds")


def rounded(value: float | None, digits: int = 1) -> float | None:
    """Return a number rounded, never minus zero; null for nan, which JSON does not have."""
    if value is None or not math.isfinite(value):
        return None
    return round(value, digits) + 0.0
