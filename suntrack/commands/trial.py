"""`suntrack trial NAME`: a trial of the box, step by step, and what the notes of it mean."""

from __future__ import annotations

import argparse
from typing import TYPE_CHECKING

from suntrack.commands.context import Context, context_of, parse_day, print_json
from suntrack.commands.pages import show
from suntrack.errors import InputError, Problem
from suntrack.store.note import COLDEST_C
from suntrack.store.note import HOTTEST_C as BOX_HOTTEST_C
from suntrack.units import parse_temperature_c

if TYPE_CHECKING:
    from datetime import date

    from suntrack.bench.trials import TrialDay

WATER_HOTTEST_C = 105.0
"""Water in a pot boils at 101 C at the lowest place on land; the rest is the thermometer."""


def run(args: argparse.Namespace) -> int:
    """Show the trial of a day; with --note write a temperature down first."""
    from suntrack.bench.trial_model import outlook_of
    from suntrack.bench.trials import TrialNote, judged, trial_of
    from suntrack.food.properties import boiling_c
    from suntrack.screen.text.trials import trial_json, trial_page
    from suntrack.store.trial_notes import add_note, notes_of

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
        _refuse_other_day(on, context.today)
        read_c = _read_c(args.note, name=trial.name)
        add_note(context.data, trial.name, TrialNote(at=context.now, read_c=read_c))
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
    from suntrack.bench.trials import TrialDay
    from suntrack.config.compass import site_declination
    from suntrack.store.sun_table import sun_data

    config = context.config
    data = sun_data(config.site, on=on, cache_dir=context.cache)
    return TrialDay(
        box=config.box,
        site=config.site,
        sun=data.sun,
        weather=data.weather,
        declination_deg=site_declination(config, on=on).deg,
    )


def _read_c(text: str, *, name: str) -> float:
    """Return the temperature that was noted; raise InputError for none.  [C]"""
    hottest_c = BOX_HOTTEST_C if name == "empty" else WATER_HOTTEST_C
    try:
        read_c = parse_temperature_c(text)
    except ValueError:
        read_c = float("nan")
    if not COLDEST_C <= read_c <= hottest_c:
        what = "a box" if name == "empty" else "water in a pot"
        raise InputError(
            Problem(
                where="trial --note",
                found=repr(text),
                allowed=f"a number and C or F, such as 90C or 194F, that {what} can reach",
                remedy=f"Write it so: suntrack trial {name} --note 90C.",
            )
        )
    return read_c


def _refuse_other_day(on: date, today: date) -> None:
    """Raise InputError for a reading beside another day: it would be kept under this one."""
    if on == today:
        return
    raise InputError(
        Problem(
            where="trial --note",
            found=f"--date {on.isoformat()}",
            allowed=f"a reading of {today.isoformat()}, now or at --at",
            remedy="Leave --date out, or name the moment of the reading with --at.",
        )
    )
