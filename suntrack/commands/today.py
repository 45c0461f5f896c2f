"""`suntrack today`: the verdict and the plan of a day."""

from __future__ import annotations

import argparse
import os
import sys
from dataclasses import replace

from suntrack.commands.context import context_of, parse_day, print_json
from suntrack.commands.plans import kept_plan, note_shown


def run(args: argparse.Namespace) -> int:
    """Show the day, as it was last planned as long as nothing changed; note what was shown."""
    context = context_of(args)
    kept = kept_plan(context, parse_day(args.date, today=context.today), fetch=True)
    note_shown(context, kept)
    plan = replace(kept, made_at=context.now)
    if args.json:
        from suntrack.screen.asjson import plan_json

        print_json(plan_json(plan))
        return 0
    from suntrack.screen.style import ink_for, is_dumb, make_console

    units, ink = context.config.units, ink_for(sys.stdout)
    if args.plain or is_dumb(sys.stdout, os.environ):
        from suntrack.screen.plain import today_lines

        print("\n".join(today_lines(plan, units, ink=ink)))
        return 0
    from suntrack.screen.blocks import today_block

    console = make_console(sys.stdout, os.environ)
    console.print(today_block(plan, units, console.width, ink=ink))
    return 0
