"""`suntrack whatif`: what changes to the box would bring, the best first."""

from __future__ import annotations

import argparse
from pathlib import Path
from typing import TYPE_CHECKING

from suntrack.commands.context import Context, context_of, print_json
from suntrack.commands.pages import show
from suntrack.day.verdict import ENOUGH_H
from suntrack.errors import InputError, Problem

if TYPE_CHECKING:
    from collections.abc import Sequence

    from suntrack.day.whatif import Change


def run(args: argparse.Namespace) -> int:
    """Weigh the changes that were asked for, or the usual ones."""
    from suntrack.day.whatif import EVERY_DAYS, usual_changes, weigh
    from suntrack.edge.season_sky import season_sky, site_for
    from suntrack.screen.whatif_words import whatif_json, whatif_page

    context = context_of(args)
    config = context.config
    usual = usual_changes(config.box, inches=config.units.length == "in")
    changes = changes_of(context, args.changes or usual)
    path = Path(args.weather).expanduser() if args.weather else None
    sky, _ = season_sky(config, path, year=context.today.year)
    found = weigh(
        config.box,
        changes,
        site=site_for(config, path),
        sky=sky.every(EVERY_DAYS),
        pots=config.pots,
        threshold_c=config.threshold_c,
        hours=ENOUGH_H,
    )
    if args.json:
        print_json(whatif_json(found))
        return 0
    show(whatif_page(found, config.units, box_name=config.box.name), args)
    return 0


def changes_of(context: Context, words: Sequence[str]) -> list[Change]:
    """Return the changes; raise InputError with the mistakes of all of them."""
    from suntrack.day.whatif import Change
    from suntrack.edge.change import changed_box

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
