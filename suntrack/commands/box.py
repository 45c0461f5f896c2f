"""`suntrack box`: the builder's side: sizes, losses, figures, mirror, what gets too hot."""

from __future__ import annotations

import argparse
from datetime import timedelta
from typing import TYPE_CHECKING

import numpy as np

from suntrack.commands.context import Context, context_of, parse_day, print_json
from suntrack.commands.pages import show_either
from suntrack.errors import InputError, Problem
from suntrack.store.sun_table import sun_data

if TYPE_CHECKING:
    from datetime import date

    from numpy.typing import NDArray

    from suntrack.bench.box_report import BoxSheet, SheetInputs

SPAN_DAYS = 30
"""The days to come that a mirror is fixed for.  [days]"""
SPAN_STEP_S = 900.0
"""Step of the sun over these days: it moves less than four degrees in it.  [s]"""


def run(args: argparse.Namespace) -> int:
    """Show the box of the config at its site, on a day."""
    context = context_of(args)
    sheet = sheet_of(context, parse_day(args.date, today=context.today))
    if args.json:
        from suntrack.screen.json.box import box_json

        print_json(box_json(sheet))
        return 0
    from suntrack.screen.box_block import box_block
    from suntrack.screen.box_plain import box_lines

    units = context.config.units
    show_either(
        args,
        lines=lambda ink: box_lines(sheet, units, ink=ink),
        block=lambda width, ink: box_block(sheet, units, width, ink=ink),
    )
    return 0


def sheet_of(context: Context, on: date) -> BoxSheet:
    """Return the sheet of the config's box; raise InputError on a day without sun."""
    from suntrack.bench.box_report import box_sheet

    sheet = box_sheet(_inputs(context, on))
    if sheet is None:
        raise InputError(
            Problem(
                where="box",
                found=on.isoformat(),
                allowed=f"a day on which the sun rises at {context.config.site.name}",
                remedy="Ask for another day with --date.",
            )
        )
    return sheet


def _inputs(context: Context, on: date) -> SheetInputs:
    """Return everything the sheet is made from."""
    from suntrack.bench.box_report import SheetInputs
    from suntrack.sky.clear_sky import clear_sky
    from suntrack.sky.sun import sun_table

    config = context.config
    day = sun_data(config.site, on=on, cache_dir=context.cache)
    span_s, first_day_ends_s = _span_s(context, on)
    span_sun = sun_table(
        span_s,
        latitude_deg=config.site.latitude_deg,
        longitude_deg=config.site.longitude_deg,
        elevation_m=config.site.elevation_m,
    )
    return SheetInputs(
        date=on,
        at=context.now if on == context.today else None,
        site=config.site,
        box=config.box,
        pots=config.pots,
        sun=day.sun,
        weather=day.weather,
        span_sun=span_sun,
        span_sky=clear_sky(span_sun, site=config.site),
        span_days=SPAN_DAYS,
        first_day_ends_s=first_day_ends_s,
    )


def _span_s(context: Context, on: date) -> tuple[NDArray[np.float64], float]:
    """Return the middles of the steps of the span, and where its first day ends.  [s]"""
    from suntrack.sky.sun import day_grid

    zone = context.config.site.zone
    days = [
        day_grid(on + timedelta(days=i), zone, step_s=SPAN_STEP_S) + SPAN_STEP_S / 2.0
        for i in range(SPAN_DAYS)
    ]
    return np.concatenate(days), float(days[0][-1] + SPAN_STEP_S / 2.0)
