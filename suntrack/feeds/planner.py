"""From the cook's files and the journal to the day's plan: the edge's one way into `day`."""

from __future__ import annotations

from dataclasses import replace
from datetime import date, datetime, time
from pathlib import Path
from typing import TYPE_CHECKING

from suntrack.config.compass import site_declination
from suntrack.feeds.skies import day_sky
from suntrack.plan.inputs import DayInputs
from suntrack.plan.make import plan_day
from suntrack.store.observations import day_so_far, news_since, place_of
from suntrack.store.sun_table import AHEAD_DAYS, sun_data

if TYPE_CHECKING:
    from collections.abc import Callable, Sequence

    from suntrack.config.reader import Config
    from suntrack.plan.records import DayPlan
    from suntrack.sky.forecast import Forecast
    from suntrack.store.journal import Entry


def day_inputs(
    config: Config,
    *,
    on: date,
    now: datetime,
    entries: Sequence[Entry] = (),
    cache_dir: Path,
    forecast: Forecast | None = None,
    own_width: float = 1.0,
) -> DayInputs:
    """Return everything a plan for a day is made from, as known at a moment."""
    data = sun_data(config.site, on=on, cache_dir=cache_dir, ahead_days=AHEAD_DAYS)
    sky = day_sky(config, data, on=on, now=now, forecast=forecast, own_width=own_width)
    place = place_of(config.site, config.box)
    so_far = day_so_far(entries, config.wishes_on(on), now=now, place=place)
    earlier, news = so_far.earlier, news_since(entries, config=config.fingerprint, sky=sky.note)
    if earlier is not None and earlier.cause == "time" and news is not None:
        earlier = replace(earlier, cause=news)
    return DayInputs(
        date=on,
        made_at=now.astimezone(config.site.zone),
        site=config.site,
        box=config.box,
        pots=config.pots,
        dishes=config.library,
        wishes=so_far.wishes,
        free=config.free_on(on),
        weather=sky.weather,
        sun=data.sun,
        threshold_c=config.threshold_c,
        declination_deg=site_declination(config, on=on).deg,
        heard=so_far.heard,
        earlier=earlier,
        sky=sky.note,
        forecast=sky.forecast,
    )


def make_plan(
    config: Config,
    *,
    on: date,
    now: datetime,
    entries: Sequence[Entry] = (),
    cache_dir: Path,
    forecast: Forecast | None = None,
    own_width: float = 1.0,
    stop: Callable[[], bool] = lambda: False,
) -> DayPlan:
    """Return the plan of a day, as of a moment; without a forecast for the clear sky.

    Once `stop` returns True the best found so far is taken.
    """
    inputs = day_inputs(
        config,
        on=on,
        now=now,
        entries=entries,
        cache_dir=cache_dir,
        forecast=forecast,
        own_width=own_width,
    )
    return plan_day(inputs, stop=stop)


def day_starts_at(config: Config, on: date) -> datetime:
    """Return local midnight, when nothing of the day has happened yet."""
    return datetime.combine(on, time(0, 0), tzinfo=config.site.zone)
