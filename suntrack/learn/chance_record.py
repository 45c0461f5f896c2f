"""The record of a site: chances that were shown, and what came of them.

The first plan of a day that was shown counts, once for the box and once for each dish: later
ones know more and would make the record look better than the morning's word was.  What came
is what the cook said, or else what the notes leave no doubt of; the rest is not known.
"""

from __future__ import annotations

from dataclasses import dataclass, field
from datetime import date, datetime, timedelta
from math import sqrt
from typing import TYPE_CHECKING, Literal

import numpy as np

from suntrack.sky.scores import Bin, brier, reliability
from suntrack.sky.spread_calibration import own_width

if TYPE_CHECKING:
    from collections.abc import Mapping, Sequence

    from suntrack.plan.inputs import ObservedReading

GRACE = timedelta(minutes=15)
"""A dish that came out so long after its meal was in time (our choice)."""
EARLY = timedelta(minutes=10)
"""And one that came out so long before it was to be done and safe was left to it (our choice)."""
ENOUGH_DAYS = 60
NOISE = 0.05
"""With 60 days, differences of the Brier score under this are noise (our estimate); with fewer
days more, as one over the root.  [-]"""


@dataclass(frozen=True, slots=True, kw_only=True)
class ShownChance:
    """One chance as it was first shown on a day."""

    on: date
    """The day it is about."""
    dish: str | None
    """Key of the dish; None for the box."""
    chance: float
    """As it was told, 0 to 1.  [-]"""
    threshold_c: float
    """What the box had to hold.  [C]"""
    serve_at: datetime | None = None
    """When the dish was wanted; None for the box."""
    hot: tuple[datetime, datetime] | None = None
    """From when to when the empty box was foretold to be above its threshold."""
    width: float = 1.0
    """Factor on the width of the skies that it was counted over.  [-]"""


@dataclass(frozen=True, slots=True, kw_only=True)
class DayNotes:
    """What is known of a day: the cook's notes, and what was planned as they were written."""

    readings: tuple[ObservedReading, ...] = ()
    """In order of time."""
    first_load_at: datetime | None = None
    """When the first dish went in, noted or as planned; None for a box that stayed empty."""
    pulled: Mapping[str, datetime] = field(default_factory=dict)
    """When each dish came out, by key."""
    said: Mapping[str, bool] = field(default_factory=dict)
    """The cook's own word: True for good, False for failed."""
    ready_at: Mapping[str, datetime] = field(default_factory=dict)
    """When a dish was to be done and safe, by the last plan shown before it came out."""
    cooler: frozenset[str] = frozenset()
    """Dishes in whose time the box was read below all that this plan thought likely."""
    skipped: bool = False
    """True when the cook did not cook."""


Came = Literal["came", "did not", "unknown"]


def what_came(shown: ShownChance, notes: DayNotes) -> Came:
    """Return what became of a chance, as far as the notes tell; the rest does not count."""
    if notes.skipped:
        return "unknown"
    if shown.dish is None:
        return _box_came(shown, notes)
    return _dish_came(shown.dish, notes, serve_at=shown.serve_at)


def _dish_came(dish: str, notes: DayNotes, *, serve_at: datetime | None) -> Came:
    """Return what became of a dish: the cook's word first, then when it came out.

    Out after its meal it was not in time.  Out by its meal it came, unless that was before
    it was to be done and safe, as when it is saved on the stove, or the box was too cool.
    """
    pulled_at, said = notes.pulled.get(dish), notes.said.get(dish)
    late = pulled_at is not None and serve_at is not None and pulled_at > serve_at + GRACE
    if said is not None:
        return "came" if said and not late else "did not"
    if pulled_at is None or serve_at is None:
        return "unknown"
    if late:
        return "did not"
    ready_at = notes.ready_at.get(dish)
    sure = ready_at is not None and pulled_at >= ready_at - EARLY and dish not in notes.cooler
    return "came" if sure else "unknown"


def _box_came(shown: ShownChance, notes: DayNotes) -> Came:
    """Return what became of the box: it was read at its threshold, or below while it was empty.

    Below counts only in the hours in which it was foretold to be hot, and without pots: with
    them it might have got there empty.
    """
    if any(reading.box_c >= shown.threshold_c for reading in notes.readings):
        return "came"
    told = [
        reading
        for reading in notes.readings
        if (shown.hot is None or shown.hot[0] <= reading.at <= shown.hot[1])
        and (notes.first_load_at is None or reading.at <= notes.first_load_at)
    ]
    return "did not" if told else "unknown"


@dataclass(frozen=True, slots=True, kw_only=True)
class Scored:
    """How good the chances of one kind were."""

    counted: int
    """Chances whose day has come and is known."""
    unknown: int
    """Chances of which nobody said what came."""
    brier: float | None
    """Mean squared distance of the chance from what came; None without any.  [-]"""
    brier_of_mean: float | None
    """The same for saying, every day, how often it came in all.  [-]"""
    noise: float | None
    """Differences of the score under this are noise.  [-]"""
    bins: tuple[Bin, ...]
    """Said and came, by how much was said."""
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
