"""`suntrack sheet`: the day as one page, for the kitchen wall and for a phone."""

from __future__ import annotations

import argparse
import sys
from pathlib import Path
from typing import TYPE_CHECKING

from suntrack.commands.context import context_of, parse_day, print_json
from suntrack.commands.plans import feed_news, kept_plan, note_or_say
from suntrack.edge.planner import day_inputs
from suntrack.edge.whole_file import write_whole

if TYPE_CHECKING:
    from suntrack.commands.context import Context
    from suntrack.day.records import DayPlan
    from suntrack.day.shine import ShineSample


def run(args: argparse.Namespace) -> int:
    """Write the sheet of a day, and say where it is; what it shows counts as shown."""
    from suntrack.screen.sheet import MADE_BY, sheet_html

    context = context_of(args)
    plan = kept_plan(context, parse_day(args.date, today=context.today), fetch=True)
    if args.svg:
        return _write(args, plan, _svg(plan, context), ours="<svg ", ending="svg")
    html = sheet_html(plan, context.config.units, shine=_shine(context, plan))
    note_or_say(context, plan)
    return _write(args, plan, html, ours=MADE_BY, ending="html")


def _shine(context: Context, plan: DayPlan) -> tuple[ShineSample, ...]:
    """Return the sun and the light of the day, as the plan aims the box."""
    from suntrack.day.shine import shine_of

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


def _svg(plan: DayPlan, context: Context) -> str:
    """Return the curve of the box alone; an empty drawing on a day without one."""
    from suntrack.screen.sheet_chart import chart_svg
    from suntrack.screen.sheet_curves import box_chart_of

    chart = box_chart_of(plan, context.config.units)
    if chart is None:
        return '<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 1 1"></svg>\n'
    return chart_svg(chart, context.config.units, alone=True) + "\n"


def _write(args: argparse.Namespace, plan: DayPlan, text: str, *, ours: str, ending: str) -> int:
    if args.out == "-":
        sys.stdout.write(text)
        return 0
    path = Path(args.out or f"suntrack-{plan.date.isoformat()}.{ending}").expanduser()
    write_whole(path, text, ours=ours, option="--out")
    if args.json:
        from suntrack.screen.files_json import sheet_json

        print_json(sheet_json(plan, path))
        return 0
    print(f"The sheet is {path}. Open it in any browser, or print it on one page.")
    return 0
