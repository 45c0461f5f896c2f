"""`suntrack feed`: the weather services, their terms, and the forecast that is kept."""

from __future__ import annotations

import argparse
import os
import sys
import textwrap

from suntrack.commands.context import Context, context_of, print_json
from suntrack.errors import InputError, Problem
from suntrack.feeds.report import FeedReport, feed_report
from suntrack.feeds.service import PATIENT, forecast_for


def run(args: argparse.Namespace) -> int:
    """Show the services and the forecast; with --fetch, ask for a new one first if it is due."""
    context = context_of(args)
    if args.fetch and not context.config.feed.is_on:
        raise InputError(_nothing_to_fetch(context))
    report = report_of(context, fetch=args.fetch)
    if args.json:
        from suntrack.screen.json.feed import feed_json

        print_json(feed_json(report))
    else:
        _show(report, context, plain=args.plain)
    return 1 if args.fetch and report.forecast is None else 0


def report_of(context: Context, *, fetch: bool) -> FeedReport:
    """Return what there is to tell, the network asked before where that is wanted."""
    news = forecast_for(
        context.config,
        now=context.now,
        cache_dir=context.cache,
        fetch=fetch,
        attempts=PATIENT,
    )
    return feed_report(context.config, news, now=context.now, cache_dir=context.cache)


def _nothing_to_fetch(context: Context) -> Problem:
    return Problem(
        where=f"{context.config.path}: feed.use",
        found='"none"',
        allowed="a weather service: suntrack feed lists them",
        remedy='Write use = "open-meteo" under [feed], or another of them.',
    )


def _show(report: FeedReport, context: Context, *, plain: bool) -> None:
    """Print the report, on a terminal wrapped to its width."""
    from suntrack.screen.style import ink_for, is_dumb, make_console
    from suntrack.screen.text.feed import feed_lines

    lines = feed_lines(report, context.config.units, ink=ink_for(sys.stdout))
    if plain or is_dumb(sys.stdout, os.environ):
        print("\n".join(line for line in lines if line))
        return
    width = make_console(sys.stdout, os.environ).width
    for line in lines:
        print(textwrap.fill(line, width, subsequent_indent="  ", break_on_hyphens=False) or "")
