"""The plan of a day, for the commands: kept or made, and noted as shown."""

from __future__ import annotations

import sys
from contextlib import nullcontext
from dataclasses import replace
from datetime import date, datetime, timedelta
from typing import TYPE_CHECKING

from suntrack.commands.context import say_first_time
from suntrack.commands.patience import Patience, patience
from suntrack.errors import JournalError
from suntrack.plan.standing import as_of
from suntrack.store.plan_file import plan_path, read_plan, write_plan
from suntrack.store.unplanned_food import left_over, strays

if TYPE_CHECKING:
    from collections.abc import Sequence
    from pathlib import Path

    from suntrack.commands.context import Context
    from suntrack.feeds.service import FeedNews
    from suntrack.plan.records import DayPlan
    from suntrack.sky.forecast import Forecast
    from suntrack.store.journal import Entry

NOT_NOTED = (
    "The plan stands, but nothing could be kept or noted, so later plans will not know of it."
    " Make room, or set SUNTRACK_HOME to a folder that can be written."
)


def plan_at_hand(context: Context, on: date) -> DayPlan | None:
    """Return the day's plan as it stands, where it is kept; None where `kept_plan` has to.

    What is new of the forecast is not told with it, so that nothing heavy is loaded.
    """
    entries = context.entries(on)
    name = ""
    if context.config.feed.is_on:
        from suntrack.feeds.heading import FOLDER, kept_name, kept_path

        feed, folder = context.config.feed.use, context.cache / FOLDER
        name = kept_name(kept_path(folder, feed, context.config.site), now=context.now)
    kept = _kept(context, on, entries, forecast=name)
    return None if kept is None else _standing(context, kept, entries)


def kept_plan(
    context: Context, on: date, *, fetch: bool = False, stop: Patience | None = None
) -> DayPlan:
    """Return the day's plan as it was last made, or made now when something has changed.

    With `fetch` the weather service may be asked, when that is due; whatever comes of it,
    there is a plan.  `stop` is the patience of a command that makes several plans.
    """
    entries = context.entries(on)
    news = feed_news(context, fetch=fetch)
    name = _name_of(news.forecast) if news else ""
    kept = _kept(context, on, entries, forecast=name)
    if kept is not None:
        return _standing(context, _with_news(kept, news), entries)
    from suntrack.feeds.planner import make_plan

    say_first_time(context)
    with patience() if stop is None else nullcontext(stop) as enough:
        plan = make_plan(
            context.config,
            on=on,
            now=context.now,
            entries=entries,
            cache_dir=context.cache,
            forecast=news.forecast if news else None,
            own_width=_own_width(context),
            stop=enough,
        )
    # What was cut short is shown, but not kept for the day.
    if not enough.over:
        write_plan(_path(context, on, entries, forecast=name), plan)
    return _standing(context, _with_news(plan, news), entries)


def _kept(context: Context, on: date, entries: Sequence[Entry], *, forecast: str) -> DayPlan | None:
    """Return a day's plan as it was made; None where there is none that still counts."""
    kept = read_plan(_path(context, on, entries, forecast=forecast))
    return None if kept is None or _has_gone_by(kept, entries, now=context.now) else kept


def _path(context: Context, on: date, entries: Sequence[Entry], *, forecast: str) -> Path:
    """Return where a day's plan is kept."""
    return plan_path(
        context.cache,
        on=on,
        fingerprint=context.config.fingerprint,
        entries=entries,
        asked_at=context.now if context.asked_at else None,
        forecast=forecast,
    )


def _standing(context: Context, plan: DayPlan, entries: Sequence[Entry]) -> DayPlan:
    """Return a plan as it stands now: what has spoiled, and what is in the box but should not."""
    found = strays(entries, config=context.config, on=plan.date, now=context.now)
    if plan.date == context.today:
        before = context.entries(plan.date - timedelta(days=1))
        found = (*left_over(before, entries, config=context.config, now=context.now), *found)
    return as_of(plan, at=context.now, dishes=context.config.library, strays=found)


def _own_width(context: Context) -> float:
    """Return how wide the record of days that are over asks a forecast to be dressed.

    It stays the same all day.
    """
    if not context.config.feed.is_on:
        return 1.0
    from suntrack.commands.record import record_of

    return record_of(context)["dishes"].width


def feed_news(context: Context, *, fetch: bool) -> FeedNews | None:
    """Return what the weather service says; None when none is used."""
    if not context.config.feed.is_on:
        return None
    from suntrack.feeds.service import forecast_for

    # A moment that was asked about is not now, and the network only knows now.
    may_ask = fetch and not context.asked_at
    return forecast_for(context.config, now=context.now, cache_dir=context.cache, fetch=may_ask)


def _name_of(forecast: Forecast | None) -> str:
    """Return what tells one forecast from another."""
    from suntrack.feeds.heading import NONE, forecast_name

    return forecast_name(forecast.feed, forecast.fetched_at) if forecast else NONE


def _with_news(plan: DayPlan, news: FeedNews | None) -> DayPlan:
    """Return a plan with what the cook should know of its forecast at this moment."""
    if news is None:
        return plan
    notes = tuple(dict.fromkeys((*news.messages, *plan.sky.notes)))
    return replace(plan, sky=replace(plan.sky, notes=notes))


def _has_gone_by(plan: DayPlan, entries: Sequence[Entry], *, now: datetime) -> bool:
    """Return True for a plan whose steps began to pass without anybody seeing it.

    They were never called for, so nobody has taken them.
    """
    steps = [step for step in plan.steps if step.kind != "prepare"]
    begun = any(plan.made_at < step.at <= now for step in steps)
    return begun and not any(entry.kind == "plan" for entry in entries)


def note_shown(context: Context, plan: DayPlan) -> None:
    """Write a shown plan into the journal, unless it is the last one again or a what-if."""
    if context.asked_at or plan.date != context.today:
        return
    from suntrack.store.journal import Entry
    from suntrack.store.observations import place_of, plan_entry_data

    data = plan_entry_data(plan)
    # The record has to know how wide the skies were that a chance was counted over.
    data["chances"]["width"] = _own_width(context)
    data["config"] = context.config.fingerprint
    data["place"] = place_of(context.config.site, context.config.box)
    shown = [entry.data for entry in context.entries(plan.date) if entry.kind == "plan"]
    if shown and shown[-1] == data:
        return
    entry = Entry(at=context.now, kind="plan", day=plan.date, subject=None, data=data)
    with context.journal() as journal:
        journal.append(entry)


def note_or_say(context: Context, plan: DayPlan) -> None:
    """Note a shown plan; where that cannot be done, say so, for the plan is worth having anyway."""
    try:
        note_shown(context, plan)
    except (JournalError, OSError) as error:
        print(f"suntrack: {NOT_NOTED} {error}", file=sys.stderr)
