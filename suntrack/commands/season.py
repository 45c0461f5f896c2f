"""`suntrack season`: the year of a box and of the cook's meals, month by month."""

from __future__ import annotations

import argparse
import sys

from suntrack.commands.context import context_of, print_json, say_first_time
from suntrack.commands.pages import show
from suntrack.plan.verdict import ENOUGH_H


def run(args: argparse.Namespace) -> int:
    """Show the year."""
    from suntrack.bench.water_load import standard_pot
    from suntrack.commands.meals import meals_of
    from suntrack.feeds.season_sky import asked_year
    from suntrack.screen.json.season import season_json
    from suntrack.screen.style import ink_for
    from suntrack.screen.text.season import season_page
    from suntrack.year.meal_pots import cookbook
    from suntrack.year.season import season

    context = context_of(args)
    config = context.config
    meals = meals_of(config, args.meal)
    asked = asked_year(config, args.weather, year=context.today.year, usual="clear")
    site = asked.site
    say_first_time(context)
    found = season(
        config.box,
        site,
        asked.sky,
        pot=standard_pot(config.pots, box=config.box, elevation_m=site.elevation_m),
        threshold_c=config.threshold_c,
        hours=ENOUGH_H,
        book=cookbook(meals, box=config.box, pots=config.pots, site=site) if meals else None,
        free=config.free,
    )
    if args.json:
        print_json(season_json(found, away_km=asked.away_km))
        return 0
    marks = ("#", ".") if ink_for(sys.stdout).ascii else ("█", "░")
    page = season_page(
        found,
        config.units,
        box_name=config.box.name,
        away_km=asked.away_km,
        solid=marks[0],
        empty=marks[1],
    )
    show(page, args)
    return 0
