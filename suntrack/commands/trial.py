"""`suntrack trial NAME`: a trial of the box, step by step, and what the notes of it mean."""

from __future__ import annotations

import argparse
from typing import TYPE_CHECKING

from suntrack.commands.context import Context, context_of, parse_day, print_json
from suntrack.commands.pages import show
from suntrack.errors import InputError, Problem

if TYPE_CHECKING:
    from datetime import date

    from suntrack.day.guided import TrialDay


def run(args: argparse.Namespace) -> int:
    """Show the trial of a day; with --note write a temperature down first."""
    from suntrack.day.guided import TrialNote, judged, trial_of
    from suntrack.day.trial_model import outlook_of
    from suntrack.edge.trial_notes import add_note, notes_of
    from suntrack.food.properties import boiling_c
    from suntrack.screen.trial_words import trial_json, trial_page

    context = context_of(args)
    on = parse_day(args.date, today=context.today)
    day = _day(context, on)
    trial = trial_of(args.trial, day)
    if trial is None:
        raise InputError(
            Problem(
                where="trial",
                found=on.isoformat(),
                allowed=f"a day on which the sun stands high enough at {context.config.site.name}",
                remedy="Ask for another day with --date.",
            )
        )
    if args.note is not None:
        add_note(context.data, trial.name, TrialNote(at=context.now, read_c=_read_c(args.note)))
    notes = notes_of(context.data, trial.name, on=on, zone=context.config.site.zone)
    result = judged(trial, notes, day, now=context.now)
    config = context.config
    outlook = outlook_of(
        trial, day, pots=config.pots, boiling_c=boiling_c(elevation_m=config.site.elevation_m)
    )
    if args.json:
        print_json(trial_json(trial, notes, result, outlook))
        return 0
    show(trial_page(trial, notes, result, outlook, config.units), args)
    return 0


def _day(context: Context, on: date) -> TrialDay:
    from suntrack.day.guided import TrialDay
    from suntrack.edge.compass import site_declination
    from suntrack.edge.sundata import sun_data

    config = context.config
    data = sun_data(config.site, on=on, cache_dir=context.cache)
    return TrialDay(
        box=config.box,
        site=config.site,
        sun=data.sun,
        weather=data.weather,
        declination_deg=site_declination(config, on=on).deg,
    )


def _read_c(text: str) -> float:
    """Return the temperature that was noted; raise InputError for none.  [C]"""
    from suntrack.edge.note import parse_note

    return float(parse_note(["reading", text]).data["box_c"])
