"""`suntrack season`: the year of a box, month by month."""

from __future__ import annotations

import argparse
import sys
from pathlib import Path

from suntrack.commands.context import context_of, print_json
from suntrack.commands.pages import show
from suntrack.day.verdict import ENOUGH_H


def run(args: argparse.Namespace) -> int:
    """Show the year."""
    from suntrack.day.season import season
    from suntrack.day.standard_pot import standard_pot
    from suntrack.edge.season_sky import season_sky, site_for
    from suntrack.screen.season_words import season_json, season_page
    from suntrack.screen.style import ink_for

    context = context_of(args)
    config = context.config
    path = Path(args.weather).expanduser() if args.weather else None
    sky, away_km = season_sky(config, path, year=context.today.year)
    site = site_for(config, path)
    found = season(
        config.box,
        site,
        sky,
        pot=standard_pot(config.pots, box=config.box, elevation_m=site.elevation_m),
        threshold_c=config.threshold_c,
        hours=ENOUGH_H,
    )
    if args.json:
        print_json(season_json(found, away_km=away_km))
        return 0
    marks = ("#", ".") if ink_for(sys.stdout).ascii else ("█", "░")
    page = season_page(
        found,
        config.units,
        box_name=config.box.name,
        away_km=away_km,
        solid=marks[0],
        empty=marks[1],
    )
    show(page, args)
    return 0
