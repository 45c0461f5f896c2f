"""`suntrack sheet`: the day as one page, for the kitchen wall and for a phone; its charts too."""

from __future__ import annotations

import argparse
import sys
from pathlib import Path
from typing import TYPE_CHECKING

from suntrack.commands.context import context_of, parse_day, print_json
from suntrack.commands.plans import feed_news, kept_plan, note_or_say
from suntrack.errors import InputError, Problem
from suntrack.feeds.planner import day_inputs
from suntrack.screen.sheet.png import PNG_MARK, png_of
from suntrack.store.files import write_whole

if TYPE_CHECKING:
    from suntrack.commands.context import Context
    from suntrack.plan.light_curve import LightSample
    from suntrack.plan.records import DayPlan
    from suntrack.screen.sheet.chart import Chart

KINDS = {"": "html", ".html": "html", ".htm": "html", ".svg": "svg", ".png": "png"}
"""What is written, by how the name of the file ends."""


def run(args: argparse.Namespace) -> int:
    """Write the sheet of a day or its charts, and say where; a sheet counts as shown."""
    kind = kind_of(args.out, chart=args.chart)
    context = context_of(args)
    plan = kept_plan(context, parse_day(args.date, today=context.today), fetch=True)
    if kind == "html":
        return _page(args, context, plan)
    return _picture(args, context, plan, kind)


def kind_of(out: str | None, *, chart: str | None) -> str:
    """Return html, svg or png; raise InputError for a name that means something else."""
    if out is None or out == "-":
        drawn = "svg" if out == "-" else "png"
        return drawn if chart else "html"
    kind = KINDS.get(Path(out).suffix.lower(), "")
    if not kind or (chart and kind == "html"):
        allowed = ".svg or .png, for charts" if chart else ".html, or .svg or .png for its charts"
        raise InputError(
            Problem(
                where="--out",
                found=repr(out),
                allowed=f"a name that ends in {allowed}",
                remedy="For PDF open the page in a browser and print it to a file.",
            )
        )
    return kind


def _page(args: argparse.Namespace, context: Context, plan: DayPlan) -> int:
    from suntrack.screen.sheet.curves import charts_of
    from suntrack.screen.sheet.page import MADE_BY, sheet_html

    units = context.config.units
    charts = charts_of(plan, units, _shine(context, plan))
    html = sheet_html(plan, units, charts=charts)
    note_or_say(context, plan)
    if args.out == "-":
        sys.stdout.write(html)
        return 0
    path = Path(args.out or f"suntrack-{plan.date.isoformat()}.html").expanduser()
    write_whole(path, html, ours=MADE_BY, option="--out")
    said = f"The sheet is {path}. Open it in any browser, or print it."
    return _told(args, plan, path, said, kind="html", charts=charts)


def _picture(args: argparse.Namespace, context: Context, plan: DayPlan, kind: str) -> int:
    from suntrack.screen.sheet.curves import charts_of
    from suntrack.screen.sheet.picture import ALL, MADE_BY_SVG, chosen, picture_svg

    name = args.chart or ALL
    charts = chosen(charts_of(plan, context.config.units, _shine(context, plan)), name)
    svg = picture_svg(plan, charts, context.config.units)
    if args.out == "-":
        sys.stdout.write(svg)
        return 0
    path = Path(args.out or f"suntrack-{plan.date.isoformat()}-{name}.{kind}").expanduser()
    if kind == "svg":
        write_whole(path, svg, ours=MADE_BY_SVG, option="--out")
    else:
        write_whole(path, png_of(svg), ours=PNG_MARK, option="--out")
    nothing = "" if charts else " There is nothing to draw for this day, and it says so."
    return _told(args, plan, path, f"The picture is {path}.{nothing}", kind=kind, charts=charts)


def _told(
    args: argparse.Namespace,
    plan: DayPlan,
    path: Path,
    said: str,
    *,
    kind: str,
    charts: tuple[Chart, ...],
) -> int:
    """Say where a file is."""
    if args.json:
        from suntrack.screen.json.files import sheet_json

        print_json(sheet_json(plan, path, kind=kind, charts=[chart.name for chart in charts]))
        return 0
    print(said)
    return 0


def _shine(context: Context, plan: DayPlan) -> tuple[LightSample, ...]:
    """Return the sun and the light of the day, as the plan aims the box."""
    from suntrack.plan.light_curve import shine_of

    news = feed_news(context, fetch=False)
    inputs = day_inputs(
        context.config,
        on=plan.date,
        now=context.now,
        entries=context.entries(plan.date),
        cache_dir=context.cache,
        forecast=news.forecast if news else None,
    )
    return shine_of(inputs, plan.turns.turns)
