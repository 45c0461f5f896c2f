"""`suntrack today`: the verdict and the plan of a day."""

from __future__ import annotations

import argparse
import os
import sys
from dataclasses import replace
from typing import TYPE_CHECKING

from suntrack.commands.context import context_of, parse_day, print_json
from suntrack.commands.plans import kept_plan, note_or_say

if TYPE_CHECKING:
    from suntrack.commands.context import Context


def run(args: argparse.Namespace) -> int:
    """Show the day, as it was last planned as long as nothing changed; note what was shown."""
    context = context_of(args)
    kept = kept_plan(context, parse_day(args.date, today=context.today), fetch=True)
    note_or_say(context, kept)
    plan = replace(kept, made_at=context.now)
    if args.json:
        from suntrack.screen.json.day import plan_json
        from suntrack.store.learned import kept_for

        learned = kept_for(context.data, context.config.box)
        print_json(plan_json(plan, learned=learned))
        return 0
    from suntrack.screen.style import ink_for, is_dumb, make_console

    units, ink = context.config.units, ink_for(sys.stdout)
    if args.plain or is_dumb(sys.stdout, os.environ):
        from suntrack.screen.plain import today_lines

        lines = (*today_lines(plan, units, ink=ink), *map(ink.text, _learned(context)))
        print("\n".join(lines))
        return 0
    from suntrack.screen.blocks import today_block

    console = make_console(sys.stdout, os.environ)
    console.print(today_block(plan, units, console.width, ink=ink))
    for line in _learned(context):
        console.print(ink.text(line), markup=False, highlight=False)
    return 0


def _learned(context: Context) -> tuple[str, ...]:
    """Return the one line that says the plan was made with what readings taught; none without."""
    from suntrack.store.learned import kept_for

    kept = kept_for(context.data, context.config.box)
    if kept is None:
        return ()
    from suntrack.screen.text.learn import learned_line

    return (learned_line(kept.learned, days=kept.days),)
