"""From the journal to the record: chances that were shown, beside what was noted."""

from __future__ import annotations

from datetime import datetime
from typing import TYPE_CHECKING, Any

from suntrack.learn.chance_record import DayNotes, ShownChance
from suntrack.plan.inputs import ObservedReading

if TYPE_CHECKING:
    from collections.abc import Iterable, Mapping, Sequence
    from datetime import date

    from suntrack.store.journal import Entry, Journal

Scoreable = tuple[ShownChance, DayNotes]
READ_OFF_K = 3.0
"""A reading counts as below the band only when it is so far below: an oven thermometer is
read to 5 F.  [K]"""


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
            on=on,
            dish=None,
            chance=float(data["box"]),
            threshold_c=threshold_c,
            hot=_hot(data.get("hot")),
            width=width,
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


def _hot(told: Sequence[str] | None) -> tuple[datetime, datetime] | None:
    """Return the foretold hours of heat; None where an older version did not keep them."""
    if not told:
        return None
    return datetime.fromisoformat(told[0]), datetime.fromisoformat(told[1])


def _notes(entries: Sequence[Entry]) -> DayNotes:
    pulled = {e.subject: e.at for e in entries if e.kind == "pulled" and e.subject}
    readings = tuple(
        ObservedReading(at=e.at, box_c=float(e.data["box_c"]))
        for e in sorted(entries, key=lambda entry: entry.at)
        if e.kind == "reading"
    )
    last = {dish: _last_plan(entries, before=at) for dish, at in pulled.items()}
    ready = {dish: _ready_at(dish, plan) for dish, plan in last.items()}
    return DayNotes(
        readings=readings,
        first_load_at=_first_load_at(entries),
        pulled=pulled,
        said={
            e.subject: e.kind == "good"
            for e in entries
            if e.kind in ("good", "failed") and e.subject
        },
        ready_at={dish: at for dish, at in ready.items() if at is not None},
        cooler=frozenset(
            dish for dish, plan in last.items() if _is_cooler(readings, plan, until=pulled[dish])
        ),
        skipped=any(e.kind == "skipped" for e in entries),
    )


def _last_plan(entries: Sequence[Entry], *, before: datetime) -> Entry | None:
    """Return the last plan that was shown before a dish came out."""
    plans = [entry for entry in entries if entry.kind == "plan" and entry.at < before]
    return plans[-1] if plans else None


def _ready_at(dish: str, plan: Entry | None) -> datetime | None:
    """Return when a dish was to be done and safe; an older version kept only when to pull it."""
    data: Mapping[str, Any] = {} if plan is None else plan.data
    told = data.get("ready", data.get("pulls", {})).get(dish)
    return None if told is None else datetime.fromisoformat(told)


def _is_cooler(readings: Sequence[ObservedReading], plan: Entry | None, *, until: datetime) -> bool:
    """Return True when the box was read below the band of a plan that did not yet know of it."""
    if plan is None:
        return False
    low = [(datetime.fromisoformat(at), float(c)) for at, c in plan.data.get("low_c", ())]
    for reading in readings:
        if plan.at < reading.at <= until:
            before = [c for at, c in low if at <= reading.at]
            after = [c for at, c in low if at >= reading.at]
            if before and after and reading.box_c < min(before[-1], after[0]) - READ_OFF_K:
                return True
    return False


def _first_load_at(entries: Sequence[Entry]) -> datetime | None:
    """Return when the first dish went in: as noted, or as the last plan shown has it."""
    loads = [entry.at for entry in entries if entry.kind == "loaded"]
    plans = [entry for entry in entries if entry.kind == "plan"]
    if plans:
        loads += [datetime.fromisoformat(at) for at in plans[-1].data.get("loads", {}).values()]
    return min(loads, default=None)
