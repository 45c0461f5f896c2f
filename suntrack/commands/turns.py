"""`suntrack turns`: what each number of turns keeps, and which the plan takes."""

from __future__ import annotations

import argparse

from suntrack.commands.context import context_of, parse_day, print_json
from suntrack.commands.pages import show_either
from suntrack.commands.plans import kept_plan


def run(args: argparse.Namespace) -> int:
    """Show the table; nothing is noted, because nothing new is followed."""
    context = context_of(args)
    plan = kept_plan(context, parse_day(args.date, today=context.today))
    if args.json:
        from suntrack.screen.text.turns import turns_json

        print_json(turns_json(plan))
        return 0
    from suntrack.screen.text.turns import turns_block, turns_lines

    units = context.config.units
    show_either(
        args,
        lines=lambda ink: turns_lines(plan, units, ink=ink),
        block=lambda width, ink: turns_block(plan, units, width, ink=ink),
    )
    return 0
