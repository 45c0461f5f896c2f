"""`suntrack turns`: what each number of turns keeps, and which the plan takes."""

from __future__ import annotations

import argparse
import os
import sys

from suntrack.commands.context import context_of, parse_day, print_json
from suntrack.commands.plans import kept_plan


def run(args: argparse.Namespace) -> int:
    """Show the table; nothing is noted, because nothing new is followed."""
    context = context_of(args)
    plan = kept_plan(context, parse_day(args.date, today=context.today))
    if args.json:
        from suntrack.screen.turning import turns_json

        print_json(turns_json(plan))
        return 0
    from suntrack.screen.style import ink_for, is_dumb, make_console
    from suntrack.screen.turning import turns_block, turns_lines

    units, ink = context.config.units, ink_for(sys.stdout)
    if args.plain or is_dumb(sys.stdout, os.environ):
        print("\n".join(turns_lines(plan, units, ink=ink)))
        return 0
    console = make_console(sys.stdout, os.environ)
    console.print(turns_block(plan, units, console.width, ink=ink))
    return 0
