"""`suntrack record`: what came of the chances that were shown."""

from __future__ import annotations

import argparse

from suntrack.commands.context import Context, context_of, print_json
from suntrack.commands.pages import show
from suntrack.learn.chance_record import Scored, scored


def run(args: argparse.Namespace) -> int:
    """Show the record of all days that are over."""
    from suntrack.screen.text.record import record_json, record_page

    context = context_of(args)
    kinds = record_of(context)
    if args.json:
        print_json(record_json(kinds))
        return 0
    show(record_page(kinds, site_name=context.config.site.name), args)
    return 0


def record_of(context: Context) -> dict[str, Scored]:
    """Return the scores of dishes and of the box."""
    from suntrack.store.forecast_record import chances_of

    if not context.journal_path.exists():
        return {"dishes": scored([]), "box": scored([])}
    with context.journal() as journal:
        days = chances_of(journal, before=context.today)
    return {
        "dishes": scored([day for day in days if day[0].dish is not None]),
        "box": scored([day for day in days if day[0].dish is None]),
    }
