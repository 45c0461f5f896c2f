"""The record of a site: chances that were shown, and what came of them.

The first plan of a day that was shown counts, once for the box and once for each dish: later
ones know more and would make the record look better than the morning's word was.
"""

from __future__ import annotations

from dataclasses import dataclass, field
from datetime import date, datetime, timedelta
from math import sqrt
from typing import TYPE_CHECKING, Literal

import numpy as np

from suntrack.sky.own_width import own_width
from suntrack.sky.score import Bin, brier, reliability

if TYPE_CHECKING:
    from collections.abc import Mapping, Sequence

GRACE = timedelta(minutes=15)
"""A dish that came out so long after its meal was in time (our choice)."""
ENOUGH_DAYS = 60
NOISE = 0.05
"""With 60 days, differences of the Brier score under this are noise (our estimate); with fewer
days more, as one over the root.  [-]"""


@dataclass(frozen=True, slots=True, kw_only=True)
class ShownChance:
    """One chance as it was first shown on a day."""

    on: date
    dish: str | None
    """Key of the dish; None for the box."""
    chance: float
    threshold_c: float
    serve_at: datetime | None = None
    width: float = 1.0
    """Factor on the width of the skies that it was counted over.  [-]"""


@dataclass(frozen=True, slots=True, kw_only=True)
class DayNotes:
    """What the cook noted on a day."""

    readings_c: tuple[float, ...] = ()
    loaded: tuple[str, ...] = ()
    pulled: Mapping[str, datetime] = field(default_factory=dict)
    skipped: bool = False


Came = Literal["came", "did not", "unknown"]


def what_came(shown: ShownChance, notes: DayNotes) -> Came:
    """Return what became of a chance, as far as the notes tell.

    A dish came when it was noted as pulled by its meal; not, when it was pulled later.  The
    box came when a reading was at its threshold or above; not, when it was read, never got
    there, and stood empty.  All else is unknown and does not count.
    """
    if notes.skipped:
        return "unknown"
    if shown.dish is not None:
        pulled_at = notes.pulled.get(shown.dish)
        if pulled_at is None or shown.serve_at is None:
            return "unknown"
        return "came" if pulled_at <= shown.serve_at + GRACE else "did not"
    if any(read_c >= shown.threshold_c for read_c in notes.readings_c):
        return "came"
    # With pots in it, a box that stayed below might have got there empty.
    return "did not" if notes.readings_c and not notes.loaded else "unknown"


@dataclass(frozen=True, slots=True, kw_only=True)
class Scored:
    """How good the chances of one kind were."""

    counted: int
    unknown: int
    brier: float | None
    """Mean squared distance of the chance from what came; None without any.  [-]"""
    brier_of_mean: float | None
    """The same for saying, every day, how often it came in all.  [-]"""
    noise: float | None
    """Differences of the score under this are noise.  [-]"""
    bins: tuple[Bin, ...]
    enough: bool
    """True when there are enough days for the record to say something."""
    width: float
    """Factor on how wide skies are dressed; 1 until there are enough days.  [-]"""


def scored(days: Sequence[tuple[ShownChance, DayNotes]]) -> Scored:
    """Return the scores of chances of one kind.

    Parameters
    ----------
    days : sequence of (ShownChance, DayNotes)
        Each chance with the notes of its day.
    """
    fates = [(shown.chance, what_came(shown, notes)) for shown, notes in days]
    known = [(chance, fate == "came") for chance, fate in fates if fate != "unknown"]
    widths = [
        shown.width for (shown, _), (_, fate) in zip(days, fates, strict=True) if fate != "unknown"
    ]
    unknown = len(fates) - len(known)
    if not known:
        return Scored(
            counted=0, unknown=unknown, brier=None, brier_of_mean=None, noise=None, bins=(),
            enough=False, width=1.0,
        )  # fmt: skip
    chance, came = (np.array(row, np.float64) for row in zip(*known, strict=True))
    count = len(
        {shown.on for (shown, _), (_, f) in zip(days, fates, strict=True) if f != "unknown"}
    )
    return Scored(
        counted=len(known),
        unknown=unknown,
        brier=brier(chance, came),
        brier_of_mean=brier(np.full_like(chance, came.mean()), came),
        noise=NOISE * sqrt(ENOUGH_DAYS / count),
        bins=reliability(chance, came),
        enough=count >= ENOUGH_DAYS,
        # Dishes of one day stand under one sky and are no two days.
        width=own_width(chance, came, dressed=widths) if count >= ENOUGH_DAYS else 1.0,
    )
