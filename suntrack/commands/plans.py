"""The plan of a day, for the commands: kept or made, and noted as shown."""

from __future__ import annotations

from datetime import date, datetime
from typing import TYPE_CHECKING

from suntrack.commands.context import say_first_time
from suntrack.edge.heard import plan_entry_data
from suntrack.edge.planfile import plan_path, read_plan, write_plan

if TYPE_CHECKING:
    from collections.abc import Sequence

    from suntrack.commands.context import Context
    from suntrack.day.records import DayPlan
    from suntrack.edge.journal import Entry


def kept_plan(context: Context, on: date) -> DayPlan:
    """Return the day's plan as it was last made, or made now when something has changed."""
    entries = context.entries(on)
    path = plan_path(
        context.cache,
        on=on,
        fingerprint=context.config.fingerprint,
        entries=entries,
        asked_at=context.now if context.asked_at else None,
    )
    kept = read_plan(path)
    if kept is not None and not _has_gone_by(kept, entries, now=context.now):
        return kept
    from suntrack.edge.planner import make_plan

    say_first_time(context)
    plan = make_plan(
        context.config, on=on, now=context.now, entries=entries, cache_dir=context.cache
    )
    write_plan(path, plan)
    return plan


def _has_gone_by(plan: DayPlan, entries: Sequence[Entry], *, now: datetime) -> bool:
    """Return True for a plan made ahead whose day began without anybody seeing it.

    Its first steps were never called for, so nobody has taken them.
    """
    if plan.made_at.date() == plan.date or not plan.steps:
        return False
    begun = any(step.at <= now for step in plan.steps if step.kind != "prepare")
    return begun and not any(entry.kind == "plan" for entry in entries)


def note_shown(context: Context, plan: DayPlan) -> None:
    """Write a shown plan into the journal, unless it is the last one again or a what-if."""
    if context.asked_at or plan.date != context.today:
        return
    from suntrack.edge.journal import Entry, Journal

    data = plan_entry_data(plan)
    shown = [entry.data for entry in context.entries(plan.date) if entry.kind == "plan"]
    if shown and shown[-1] == data:
        return
    entry = Entry(at=context.now, kind="plan", day=plan.date, subject=None, data=data)
    with Journal.open(context.journal_path) as journal:
        journal.append(entry)
