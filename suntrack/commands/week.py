"""`suntrack week`: the next seven days, the best to cook on first."""

from __future__ import annotations

import argparse
from datetime import timedelta
from typing import TYPE_CHECKING

from suntrack.commands.context import context_of, print_json
from suntrack.commands.pages import show_either
from suntrack.commands.patience import patience
from suntrack.commands.plans import kept_plan
from suntrack.plan.week import DAYS, ranked

if TYPE_CHECKING:
    from suntrack.commands.context import Context
    from suntrack.plan.records import DayPlan


def run(args: argparse.Namespace) -> int:
    """Show the days; nothing is noted, because nothing is followed yet."""
    context = context_of(args)
    plans = ranked(week_plans(context))
    units = context.config.units
    if args.json:
        from suntrack.screen.text.week import week_json

        print_json(week_json(plans, units))
        return 0
    from suntrack.screen.text.week import week_block, week_lines

    show_either(
        args,
        lines=lambda ink: week_lines(plans, units, ink=ink),
        block=lambda width, ink: week_block(plans, units, width, ink=ink),
    )
    return 0


def week_plans(context: Context) -> list[DayPlan]:
    """Return the plans of the next days: from today, or from tomorrow once the sun is down."""
    today = kept_plan(context, context.today, fetch=True)
    is_over = today.sunset_at is not None and context.now >= today.sunset_at
    first = 1 if is_over else 0
    later = range(max(first, 1), first + DAYS)
    plans = [] if is_over else [today]
    with patience() as stop:
        for day in later:
            plan = kept_plan(context, context.today + timedelta(days=day), stop=stop)
            # A day that was cut short is no match for the others.
            if stop.over and plans:
                break
            plans.append(plan)
    return plans
