"""`suntrack note`: write down what was done; the plan follows it."""

from __future__ import annotations

import argparse
from datetime import timedelta
from typing import TYPE_CHECKING, Any

from suntrack.commands.context import Context, context_of, print_json
from suntrack.edge.journal import Entry, Journal
from suntrack.edge.note import Note, parse_note
from suntrack.edge.planner import site_declination
from suntrack.sky.bearing import to_compass_deg

if TYPE_CHECKING:
    from suntrack.day.records import Turn

EARLY = timedelta(minutes=20)
"""A turn noted this long before its time is the one that was planned."""


def run(args: argparse.Namespace) -> int:
    """Write one note into the journal; when this returns 0 it is kept."""
    context = context_of(args)
    note = parse_note(args.words, dishes=context.config.library)
    entry = Entry(
        at=context.now,
        kind=note.kind,
        day=context.today,
        subject=note.subject,
        data=_data(context, note),
    )
    with Journal.open(context.journal_path) as journal:
        number = journal.append(entry)
    if args.json:
        print_json(
            {
                "id": number,
                "at": entry.at.isoformat(timespec="seconds"),
                "kind": entry.kind,
                "day": entry.day.isoformat(),
                "subject": entry.subject,
                "data": dict(entry.data),
            }
        )
    else:
        print(_said(context, entry))
    return 0


def _data(context: Context, note: Note) -> dict[str, Any]:
    """Return what belongs to a note beside its words: a turn keeps the aim it was made to."""
    if note.kind != "turned":
        return dict(note.data)
    turn = _turn_meant(context)
    if turn is None:
        return {}
    return {"face_true_deg": turn.face_true_deg, "mirror_deg": turn.mirror_deg}


def _turn_meant(context: Context) -> Turn | None:
    """Return the turn of today's plan that was due last, or is about to be."""
    from suntrack.commands.plans import kept_plan

    turns = kept_plan(context, context.today).turns.turns
    due = [turn for turn in turns if turn.at <= context.now + EARLY]
    return due[-1] if due else (turns[0] if turns else None)


def _said(context: Context, entry: Entry) -> str:
    """Return the note as it was understood, bearings as a compass shows them."""
    units, at = context.config.units, context.config.units.time_text(entry.at)
    if entry.kind == "reading":
        return f"Noted: {at}, the box reads {units.temperature_text(entry.data['box_c'])}."
    if entry.kind == "turned":
        aim = entry.data.get("face_true_deg")
        if aim is None:
            return f"Noted: {at}, turned."
        needle_deg = site_declination(context.config, on=entry.day).deg
        compass_deg = float(to_compass_deg(aim, declination_deg=needle_deg))
        return f"Noted: {at}, turned to {compass_deg:.0f}° on a compass."
    if entry.kind == "skipped":
        return "Noted: today is skipped. Nothing will call you."
    name = context.config.library[entry.subject or ""].name
    return f"Noted: {at}, {name} {'went in' if entry.kind == 'loaded' else 'came out'}."
