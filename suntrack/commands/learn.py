"""`suntrack learn`: what thermometer readings say of the box, and whether the plan uses it."""

from __future__ import annotations

import argparse
from dataclasses import replace
from itertools import groupby
from pathlib import Path
from typing import TYPE_CHECKING

from suntrack.box.build import Learned
from suntrack.commands.context import (
    Context,
    context_of,
    print_json,
    say_first_time,
    say_wait,
)
from suntrack.commands.pages import show
from suntrack.commands.plans import feed_news
from suntrack.errors import InputError, Problem
from suntrack.store.learned import Kept, keep, kept_for, take_back

if TYPE_CHECKING:
    from collections.abc import Sequence
    from datetime import date

    from suntrack.box.residuals import LoggedDay
    from suntrack.learn.calibration import Lesson
    from suntrack.learn.logged_day import PotStay
    from suntrack.plan.inputs import ObservedReading
    from suntrack.sky.forecast import Forecast
    from suntrack.store.journal import Entry

QUICK_DAYS = 3
"""With more days than this somebody who waits is told so."""
HOW = "The plan does not use it yet: suntrack learn --use."
NOT_FIT = "The plan does not use it; it cannot be used before a clear day is logged."


def run(args: argparse.Namespace) -> int:
    """Show what was learned; with --use write it, with --undo take it back."""
    context = context_of(args)
    if args.undo:
        return _undo(context, args)
    lesson = lesson_of(context, csv=args.csv)
    if args.use:
        _refuse_dull(lesson)
        keep(
            context.data,
            context.config.box,
            Kept(learned=lesson.fit.learned, days=len(lesson.days)),
        )
    in_use = kept_for(context.data, context.config.box)
    from suntrack.screen.text.learn import learn_json, learn_page

    if args.json:
        print_json(learn_json(lesson, in_use=in_use is not None))
        return 0
    done = NOT_FIT if lesson.all_dull else HOW
    if in_use is not None:
        same = in_use.learned == lesson.fit.learned
        done = "The plan uses it from now on." if same else "The plan uses what was learned before."
        done += " To take it back: suntrack learn --undo."
    units, name = context.config.units, context.config.box.name
    show(learn_page(lesson, units, box_name=name, done=done), args)
    return 0


def _refuse_dull(lesson: Lesson) -> None:
    """Raise InputError for days that cannot tell a poor box from a poor sky."""
    if lesson.all_dull:
        raise InputError(
            Problem(
                where="learn --use",
                found="no clear day, and no forecast that told of the light",
                allowed="a clear day, or one whose light a forecast told",
                remedy="Log a clear day, or switch a forecast on: suntrack feed.",
            )
        )


def _undo(context: Context, args: argparse.Namespace) -> int:
    was_there = take_back(context.data)
    if args.json:
        print_json({"taken_back": was_there})
    else:
        print(
            "Taken back: the plan uses the box as built."
            if was_there
            else "Nothing was in use: the plan uses the box as built."
        )
    return 0


def lesson_of(context: Context, *, csv: str | None) -> Lesson:
    """Return what the readings teach; raise InputError where there are none."""
    from suntrack.box.heat.network import as_built
    from suntrack.learn.calibration import learn

    by_day = _csv_days(context, Path(csv)) if csv else _journal_days(context)
    if not by_day:
        raise InputError(
            Problem(
                where="learn",
                found="no reading",
                allowed="readings in the journal, or in a logger's file",
                remedy="Note some (suntrack note reading 245F), or give --csv FILE.",
            )
        )
    say_first_time(context)
    if len(by_day) > QUICK_DAYS:
        say_wait(
            f"Holding {len(by_day)} days of readings against the box; dense ones may take a"
            " minute or two."
        )
    news = feed_news(context, fetch=False)
    forecast = news.forecast if news else None
    logged = {on: _logged(context, on, readings, forecast) for on, readings in by_day.items()}
    return learn(as_built(context.config.box), logged)


def _csv_days(context: Context, path: Path) -> dict[date, Sequence[ObservedReading]]:
    """Return a file's readings by local day."""
    from suntrack.logger.readings import read_log

    zone = context.config.site.zone
    readings = read_log(path, zone=zone)
    days = groupby(readings, key=lambda reading: reading.at.astimezone(zone).date())
    return {on: tuple(part) for on, part in days}


def _journal_days(context: Context) -> dict[date, Sequence[ObservedReading]]:
    """Return the journal's readings by day."""
    from suntrack.plan.inputs import ObservedReading

    if not context.journal_path.exists():
        return {}
    with context.journal() as journal:
        days = journal.days_with("reading")
        found = {on: journal.entries(on) for on in days}
    return {
        on: sorted(
            (
                ObservedReading(at=entry.at, box_c=float(entry.data["box_c"]))
                for entry in entries
                if entry.kind == "reading"
            ),
            key=lambda reading: reading.at,
        )
        for on, entries in found.items()
    }


def _logged(
    context: Context, on: date, readings: Sequence[ObservedReading], forecast: Forecast | None
) -> LoggedDay:
    """Return a day with its sky as it was told, and what the journal knows of aims and pots."""
    from suntrack.feeds.skies import hours_of
    from suntrack.learn.logged_day import logged_day
    from suntrack.sky.forecast_day import told_sky
    from suntrack.store.kept_light import kept_hours, told_by
    from suntrack.store.observations import day_so_far, place_of
    from suntrack.store.sun_table import sun_data

    config = context.config
    data = sun_data(config.site, on=on, cache_dir=context.cache)
    entries = context.entries(on)
    place = place_of(config.site, config.box)
    heard = day_so_far(entries, config.wishes_on(on), now=context.now, place=place).heard
    hours = kept_hours(entries, place=place)
    if forecast is not None:
        # What is still on disk is newer, and yesterday is in it.
        hours = (*hours, *hours_of(forecast, config, data))
    sky = told_sky(told_by(hours), clear=data.weather, sun=data.sun)
    return logged_day(
        replace(config.box, learned=Learned()),
        config.site,
        sun=data.sun,
        weather=sky.weather,
        readings=readings,
        aims=heard.aims,
        pots=_pots(context, entries),
        index=sky.index,
    )


def _pots(context: Context, entries: Sequence[Entry]) -> list[PotStay]:
    """Return the pots that were noted as loaded, those whose pot is known."""
    from suntrack.food.charge import pot_charge
    from suntrack.food.properties import boiling_c
    from suntrack.learn.logged_day import PotStay
    from suntrack.plan.dishes.pots import seat_dishes, wish_kg
    from suntrack.plan.records import Wish

    config = context.config
    loaded = {e.subject: e.at for e in entries if e.kind == "loaded" and e.subject}
    pulled = {e.subject: e.at for e in entries if e.kind == "pulled" and e.subject}
    wanted = {wish.dish: wish for wish in config.dishes}
    wishes = [
        Wish(
            dish=key,
            serve_at=pulled.get(key, at),
            mass_kg=wanted[key].mass_kg if key in wanted else None,
            pot=wanted[key].pot if key in wanted else None,
            loaded_at=at,
        )
        for key, at in loaded.items()
        if key in config.library
    ]
    seats = seat_dishes(wishes, dishes=config.library, pots=config.pots, box=config.box)
    return [
        PotStay(
            charge=pot_charge(
                config.library[seat.wish.dish],
                seat.pot,
                mass_kg=wish_kg(seat.wish, config.library[seat.wish.dish]),
                boiling_c=boiling_c(elevation_m=config.site.elevation_m),
            ),
            loaded_at=loaded[seat.wish.dish],
            pulled_at=pulled.get(seat.wish.dish),
        )
        for seat in seats
        if seat.pot is not None
    ]
