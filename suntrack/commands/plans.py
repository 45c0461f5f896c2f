"""The plan of a day, for the commands: kept or made, and noted as shown."""

from __future__ import annotations

from datetime import date
from pathlib import Path
from typing import TYPE_CHECKING

from suntrack.edge.heard import plan_entry_data
from suntrack.edge.planfile import plan_path, read_plan, write_plan

if TYPE_CHECKING:
    from suntrack.commands.context import Context
    from suntrack.day.records import DayPlan


def fresh_plan(context: Context, on: date) -> DayPlan:
    """Return a plan made now, and keep it for `now`."""
    from suntrack.edge.planner import make_plan

    entries = context.entries(on)
    plan = make_plan(
        context.config, on=on, now=context.now, entries=entries, cache_dir=context.cache
    )
    write_plan(_path(context, on), plan)
    return plan


def kept_plan(context: Context, on: date) -> DayPlan:
    """Return the day's plan as it was last made, or made now when something has changed."""
    kept = read_plan(_path(context, on))
    if kept is None or _has_gone_by(context, kept):
        return fresh_plan(context, on)
    return kept


def _has_gone_by(context: Context, plan: DayPlan) -> bool:
    """Return True for a plan made ahead whose day began without anybody seeing it.

    Its first steps were never called for, so nobody has taken them.
    """
    if plan.made_at.date() == plan.date or not plan.steps:
        return False
    begun = any(step.at <= context.now for step in plan.steps if step.kind != "prepare")
    return begun and not any(entry.kind == "plan" for entry in context.entries(plan.date))


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


def _path(context: Context, on: date) -> Path:
    return plan_path(
        context.cache,
        on=on,
        fingerprint=context.config.fingerprint,
        entries=context.entries(on),
        asked_at=context.now if context.asked_at else None,
    )
