"""`suntrack calendar`: the day's steps for the cook's own calendar, with alarms."""

from __future__ import annotations

import argparse
import sys
from datetime import timedelta
from pathlib import Path
from typing import TYPE_CHECKING

from suntrack.commands.context import context_of, parse_day, print_json
from suntrack.commands.plans import kept_plan, note_or_say
from suntrack.errors import InputError, Problem
from suntrack.screen.sheet.calendar import MADE_BY, Appointment, calendar_text, older_text
from suntrack.screen.text import day as words
from suntrack.store.files import write_whole
from suntrack.units import parse_duration_min

if TYPE_CHECKING:
    from suntrack.plan.records import DayPlan, Step
    from suntrack.units import Units

LONGEST_MIN = 24 * 60


def run(args: argparse.Namespace) -> int:
    """Write the file, and say where it is; what it holds counts as shown."""
    before = parse_before(args.before)
    context = context_of(args)
    plan = kept_plan(context, parse_day(args.date, today=context.today), fetch=True)
    path = Path(args.out or f"suntrack-{plan.date.isoformat()}.ics").expanduser()
    text = calendar_text(
        appointments(plan, context.config.units),
        on=plan.date,
        place=plan.site_name,
        made_at=plan.made_at,
        before=before,
        older="" if args.out == "-" else older_text(path),
    )
    if args.out == "-":
        # The lines end as the standard says, on every system.
        sys.stdout.buffer.write(text.encode("utf-8"))
        return 0
    write_whole(path, text, ours=MADE_BY, option="--out")
    note_or_say(context, plan)
    if args.json:
        from suntrack.screen.json.files import calendar_json

        print_json(calendar_json(plan, path))
        return 0
    print(f"The calendar file is {path}, with {len(plan.steps)} steps. Open it on your phone.")
    print("It does not follow the plan: write and open it again when the plan changes.")
    return 0


def appointments(plan: DayPlan, units: Units) -> tuple[Appointment, ...]:
    """Return the steps of a plan in words."""
    return tuple(
        Appointment(
            key=step.key,
            at=step.at,
            title=words.step_words(step, plan, units),
            text=_text(step, plan),
        )
        for step in plan.steps
    )


def _text(step: Step, plan: DayPlan) -> str:
    """Return what helps with a step; with what comes out, that nobody has measured it."""
    care = words.caution_words("food") if step.kind == "pull" else ""
    return f"{words.step_detail(step, plan)} {care}".strip()


def parse_before(text: str) -> timedelta:
    """Return how long before a step to call; raise InputError."""
    try:
        minutes = parse_duration_min(text)
        if not 0.0 <= minutes <= LONGEST_MIN:
            raise ValueError
    except ValueError:
        raise InputError(
            Problem(
                where="--before",
                found=repr(text),
                allowed="a time span up to a day, such as 5min or 1 h",
                remedy="Write the time so.",
            )
        ) from None
    return timedelta(minutes=minutes)
