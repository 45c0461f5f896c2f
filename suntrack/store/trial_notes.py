"""Temperatures noted in guided trials: a line of JSON each, beside the journal.

They are no readings of the oven for the plan: the thermometer stands in water, or the box
is empty on purpose.
"""

from __future__ import annotations

import json
from datetime import date, datetime
from pathlib import Path
from typing import TYPE_CHECKING

from suntrack.bench.trials import TrialNote

if TYPE_CHECKING:
    from zoneinfo import ZoneInfo

FILE = "trials.jsonl"


def add_note(data_dir: Path, name: str, note: TrialNote) -> None:
    """Write a note; when this returns it is kept."""
    data_dir.mkdir(parents=True, exist_ok=True)
    line = {"trial": name, "at": note.at.isoformat(), "read_c": note.read_c}
    with (data_dir / FILE).open("a", encoding="utf-8") as file:
        file.write(json.dumps(line) + "\n")


def notes_of(data_dir: Path, name: str, *, on: date, zone: ZoneInfo) -> tuple[TrialNote, ...]:
    """Return the notes of a trial on a day, in order of time; damaged lines are passed over."""
    try:
        lines = (data_dir / FILE).read_text(encoding="utf-8").splitlines()
    except (OSError, UnicodeDecodeError):
        return ()
    found = []
    for line in lines:
        try:
            data = json.loads(line)
            at = datetime.fromisoformat(data["at"]).astimezone(zone)
            if data["trial"] == name and at.date() == on:
                found.append(TrialNote(at=at, read_c=float(data["read_c"])))
        except (ValueError, KeyError, TypeError):
            continue
    return tuple(sorted(found, key=lambda note: note.at))
