"""Food that has to come out of the box, and a note that was written down, for programs."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from suntrack.screen.json.numbers import stamp

if TYPE_CHECKING:
    from collections.abc import Mapping, Sequence

    from suntrack.plan.records import TakeOut
    from suntrack.store.journal import Entry

TAKE_OUT_KEYS: Mapping[str, str] = {
    "take_out[].kind": "spoiled (throw it away), refused (take it out now), not wanted (it is "
    "none of the day's dishes), left over (in the box since the day before) or unfinished (it "
    "came out before it was done and safe)",
    "take_out[].dish": "key of the dish",
    "take_out[].name": "its name",
    "take_out[].loaded_at": "when it went in",
    "take_out[].reason": "why it is refused, in words; empty for other kinds",
}
NOTE_KEYS: Mapping[str, str] = {
    "id": "number of the note in the journal",
    "at": "when it was so",
    "kind": "turned, loaded, pulled, reading, core, skipped, good or failed",
    "day": "the day it belongs to, at the site",
    "subject": "key of the dish; null for none",
    "data": "what else was noted: the aim of a turn, the temperature of box or middle",
    "warnings[]": "what is wrong with what was noted, in words; it is written down all the same",
}
"""Every key of `note_json`, as a path."""


def take_out_json(one: TakeOut) -> dict[str, Any]:
    """Return a dish that has to come out."""
    return {
        "kind": one.kind,
        "dish": one.dish,
        "name": one.name,
        "loaded_at": stamp(one.loaded_at),
        "reason": one.reason,
    }


def note_json(number: int, entry: Entry, warnings: Sequence[str]) -> dict[str, Any]:
    """Return a note as it was written down."""
    return {
        "id": number,
        "at": entry.at.isoformat(timespec="seconds"),
        "kind": entry.kind,
        "day": entry.day.isoformat(),
        "subject": entry.subject,
        "data": dict(entry.data),
        "warnings": list(warnings),
    }
