"""`suntrack whatif`: what changes to the box would bring, the best first."""

from __future__ import annotations

import argparse
from typing import TYPE_CHECKING

from suntrack.commands.context import Context, context_of, print_json, say_first_time
from suntrack.commands.pages import show
from suntrack.errors import InputError, Problem
from suntrack.plan.verdict import ENOUGH_H

if TYPE_CHECKING:
    from collections.abc import Sequence

    from suntrack.year.usual_changes import Change

EVERY_DAYS, CLEAR_EVERY = 4, 73
"""One day in so many stands for all of the year; five clear ones are dimmed.  [days]"""


def run(args: argparse.Namespace) -> int:
    """Weigh the changes that were asked for, or the usual ones."""
    from suntrack.commands.meals import meals_of
    from suntrack.feeds.season_sky import asked_year
    from suntrack.screen.json.whatif import whatif_json
    from suntrack.screen.text.whatif import whatif_page
    from suntrack.sky.year import clear_year
    from suntrack.year.compare_designs import Kitchen, weigh
    from suntrack.year.usual_changes import usual_changes

    context = context_of(args)
    config = context.config
    meals = meals_of(config, args.meal)
    usual = usual_changes(config.box, inches=config.units.length == "in")
    changes = changes_of(context, args.changes or usual)
    year = context.today.year
    # Under a clear sky most changes win no day at all; clouds tell them apart.
    asked = asked_year(config, args.weather, year=year, usual="usual")
    say_first_time(context)
    found = weigh(
        config.box,
        changes,
        kitchen=Kitchen(
            site=asked.site,
            pots=config.pots,
            meals=meals,
            free=config.free,
            threshold_c=config.threshold_c,
            hours=ENOUGH_H,
        ),
        sky=asked.sky.every(EVERY_DAYS),
        clear=clear_year(asked.site, year=year, utc_offset_h=asked.utc_offset_h, every=CLEAR_EVERY),
    )
    if args.json:
        print_json(whatif_json(found))
        return 0
    show(whatif_page(found, config.units, box_name=config.box.name), args)
    return 0


def changes_of(context: Context, words: Sequence[str]) -> list[Change]:
    """Return the changes; raise InputError with the mistakes of all of them."""
    from suntrack.config.box_change import changed_box
    from suntrack.year.usual_changes import Change

    changes: list[Change] = []
    problems: list[Problem] = []
    for one in words:
        try:
            changes.append(Change(words=one, box=changed_box(context.config, one)))
        except InputError as error:
            problems += error.problems
    if problems:
        raise InputError(*problems)
    return changes
