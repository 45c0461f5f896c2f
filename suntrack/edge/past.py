"""From the journal to the record: chances that were shown, beside what was noted."""

from __future__ import annotations

from datetime import datetime
from typing import TYPE_CHECKING, Any

from suntrack.day.score import DayNotes, ShownChance

if TYPE_CHECKING:
    from collections.abc import Iterable, Mapping, Sequence
    from datetime import date

    from suntrack.edge.journal import Entry, Journal

Scoreable = tuple[ShownChance, DayNotes]


def chances_of(journal: Journal, *, before: date) -> tuple[Scoreable, ...]:
    """Return every chance first shown on a day that is over, with the notes of that day."""
    days = [on for on in journal.days_with("plan") if on < before]
    return tuple(one for on in days for one in chances_on(on, journal.entries(on)))


def chances_on(on: date, entries: Sequence[Entry]) -> tuple[Scoreable, ...]:
    """Return the chances first shown on a day, with its notes."""
    notes = _notes(entries)
    shown: dict[str | None, ShownChance] = {}
    for entry in entries:
        if entry.kind == "plan":
            for one in _shown(on, entry.data.get("chances") or {}):
                shown.setdefault(one.dish, one)
    return tuple((one, notes) for one in shown.values())


def _shown(on: date, data: Mapping[str, Any]) -> Iterable[ShownChance]:
    threshold_c = float(data.get("threshold_c", float("nan")))
    width = float(data.get("width", 1.0))
    if data.get("box") is not None:
        yield ShownChance(
            on=on, dish=None, chance=float(data["box"]), threshold_c=threshold_c, width=width
        )
    for dish, told in data.get("dishes", {}).items():
        yield ShownChance(
            on=on,
            dish=dish,
            chance=float(told["chance"]),
            threshold_c=threshold_c,
            serve_at=datetime.fromisoformat(told["serve_at"]),
            width=width,
        )


def _notes(entries: Sequence[Entry]) -> DayNotes:
    return DayNotes(
        readings_c=tuple(float(e.data["box_c"]) for e in entries if e.kind == "reading"),
        loaded=tuple(e.subject for e in entries if e.kind == "loaded" and e.subject),
        pulled={e.subject: e.at for e in entries if e.kind == "pulled" and e.subject},
        skipped=any(e.kind == "skipped" for e in entries),
    )
