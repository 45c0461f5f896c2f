"""`suntrack now`: the sun, the aim, and what comes next, at this moment."""

from __future__ import annotations

import argparse
import os
import sys
from datetime import datetime
from typing import TYPE_CHECKING

from suntrack.commands.context import Context, context_of, print_json
from suntrack.commands.plans import kept_plan, plan_at_hand
from suntrack.screen.moment import NowView, now_view
from suntrack.store.sun_path import sun_at

if TYPE_CHECKING:
    from suntrack.plan.records import DayPlan


def run(args: argparse.Namespace) -> int:
    """Show this moment; the plan is the one last made, or made now."""
    context = context_of(args)
    plan = plan_at_hand(context, context.today) or kept_plan(context, context.today)
    view = view_of(context, plan)
    if args.json:
        from suntrack.screen.json.day import now_json

        print_json(now_json(view))
        return 0
    from suntrack.screen.style import ink_for, is_dumb, make_console

    units, ink = context.config.units, ink_for(sys.stdout)
    if args.plain or is_dumb(sys.stdout, os.environ):
        from suntrack.screen.plain import now_lines

        print("\n".join(now_lines(view, plan, units, ink=ink)))
        return 0
    from suntrack.screen.blocks import now_block

    console = make_console(sys.stdout, os.environ)
    console.print(now_block(view, plan, units, console.width, ink=ink))
    return 0


def view_of(context: Context, plan: DayPlan) -> NowView:
    """Return the moment: the sun from the day's table, the rest from the plan."""
    from suntrack.config.compass import site_declination

    elevation_deg, azimuth_deg = sun_at(
        context.config.site, context.now, on=plan.date, cache_dir=context.cache
    )
    return now_view(
        plan,
        at=context.now,
        sun_elevation_deg=elevation_deg,
        sun_azimuth_deg=azimuth_deg,
        declination_in_date=site_declination(context.config, on=plan.date).in_date,
        sunrise_at=_next_sunrise(context) if elevation_deg < 0.0 else None,
    )


def _next_sunrise(context: Context) -> datetime | None:
    """Return when the sun is next up, asked only in the dark."""
    from suntrack.sky.rise import next_sunrise

    site = context.config.site
    return next_sunrise(
        context.now, latitude_deg=site.latitude_deg, longitude_deg=site.longitude_deg
    )
