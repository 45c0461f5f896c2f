"""`suntrack note`: write down what was done; the plan follows it."""

from __future__ import annotations

import argparse
import sys
from datetime import timedelta
from typing import TYPE_CHECKING, Any

from suntrack.clock import SystemClock
from suntrack.commands.context import Context, context_of, print_json
from suntrack.config.compass import site_declination
from suntrack.errors import InputError, Problem, SuntrackError
from suntrack.sky.bearing import to_compass_deg
from suntrack.store.journal import Entry
from suntrack.store.note import Note, parse_note

if TYPE_CHECKING:
    from collections.abc import Sequence
    from datetime import datetime

    from suntrack.plan.records import Turn

EARLY = timedelta(minutes=20)
"""A turn noted this long before its time is the one that was planned."""
AHEAD = timedelta(minutes=1)
"""A note may be so far ahead of the clock: a cook rounds up to the minute."""


def run(args: argparse.Namespace) -> int:
    """Write one note into the journal; when this returns 0 it is kept."""
    context = context_of(args)
    entry = entry_of(context, args.words)
    warnings = warnings_of(context, entry)
    with context.journal() as journal:
        number = journal.append(entry)
    if entry.kind == "pulled":
        warnings = (*warnings, *_came_out(context, entry))
    if args.json:
        from suntrack.screen.json.take_out import note_json

        print_json(note_json(number, entry, warnings))
    else:
        from suntrack.screen.style import ink_for

        print(ink_for(sys.stdout).text("\n".join((note_words(context, entry), *warnings))))
    return 0


def warnings_of(context: Context, entry: Entry) -> tuple[str, ...]:
    """Return what the cook has to hear of a note that is written down all the same.

    Asked before the note is in the journal.
    """
    if entry.kind not in ("loaded", "pulled") or entry.subject is None:
        return ()
    from suntrack.screen.text.take_out import never_in_words, not_today_words, take_out_words
    from suntrack.store.unplanned_food import stray, was_loaded

    config, dish = context.config, entry.subject
    found = stray(dish, loaded_at=entry.at, config=config, on=entry.day)
    if entry.kind == "loaded":
        return () if found is None else (take_out_words(found, config.units),)
    name = config.library[dish].name
    is_known = was_loaded(dish, context.entries(entry.day), now=entry.at)
    unwanted = found is not None and found.kind == "not wanted"
    return (
        *(() if is_known else (never_in_words(dish, name),)),
        *((not_today_words(name),) if unwanted else ()),
    )


def _came_out(context: Context, entry: Entry) -> tuple[str, ...]:
    """Return what the plan makes of a dish that came out; nothing where it knows nothing of it."""
    from suntrack.commands.plans import kept_plan
    from suntrack.screen.text.take_out import came_out_words

    # The note is written already: whatever goes wrong with the plan must not look as if it was not.
    try:
        plan = kept_plan(context, entry.day)
    except SuntrackError:
        return ()
    mine = [d for d in plan.dishes if d.key == entry.subject and d.load_at and d.pull_at]
    return tuple(came_out_words(dish, context.config.units) for dish in mine)


def refuse_future(at: datetime, *, clock: datetime) -> None:
    """Raise InputError for a note of what has not happened yet."""
    if at - clock <= AHEAD:
        return
    raise InputError(
        Problem(
            where="note --at",
            found=repr(at.isoformat(timespec="minutes")),
            allowed=f"a time that has come; it is {clock.isoformat(timespec='minutes')} now",
            remedy="Note it once it is done; leave --at out for just now.",
        )
    )


def entry_of(
    context: Context, words: Sequence[str], *, turns: Sequence[Turn] | None = None
) -> Entry:
    """Return the journal's entry for a note; raise InputError when it says nothing we know.

    `turns` are those of the plan the cook is looking at; without them the kept plan's.
    """
    note = parse_note(words, dishes=context.config.library)
    if context.asked_at:
        refuse_future(context.now, clock=SystemClock().now().astimezone(context.now.tzinfo))
    return Entry(
        at=context.now,
        kind=note.kind,
        day=context.today,
        subject=note.subject,
        data=_data(context, note, turns),
    )


def _data(context: Context, note: Note, turns: Sequence[Turn] | None) -> dict[str, Any]:
    """Return what belongs to a note beside its words: a turn keeps the aim it was made to."""
    if note.kind != "turned":
        return dict(note.data)
    turn = turn_meant(turns if turns is not None else _kept_turns(context), context.now)
    if turn is None:
        return {}
    return {"face_true_deg": turn.face_true_deg, "mirror_deg": turn.mirror_deg}


def _kept_turns(context: Context) -> Sequence[Turn]:
    """Return the turns of today's plan."""
    from suntrack.commands.plans import kept_plan

    return kept_plan(context, context.today).turns.turns


def turn_meant(turns: Sequence[Turn], now: datetime) -> Turn | None:
    """Return the turn that was due last, or is about to be."""
    due = [turn for turn in turns if turn.at <= now + EARLY]
    return due[-1] if due else (turns[0] if turns else None)


def note_words(context: Context, entry: Entry) -> str:
    """Return the note as it was understood, bearings as a compass shows them."""
    units, at = context.config.units, context.config.units.time_text(entry.at)
    if entry.kind == "reading":
        return f"Noted: {at}, the box reads {units.temperature_text(entry.data['box_c'])}."
    if entry.kind == "core":
        name = context.config.library[entry.subject or ""].name
        shown = units.temperature_text(entry.data["core_c"])
        return f"Noted: {at}, the middle of {name} reads {shown}."
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
    if entry.kind in ("good", "failed"):
        from suntrack.screen.text.record import outcome_words

        return outcome_words(name, was_good=entry.kind == "good")
    return f"Noted: {at}, {name} {'went in' if entry.kind == 'loaded' else 'came out'}."
