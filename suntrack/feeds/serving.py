"""Which kept forecast may be used at a moment, and what the cook is told of it."""

from __future__ import annotations

from datetime import datetime, timedelta
from typing import TYPE_CHECKING

from suntrack.config.feed_terms import FEEDS
from suntrack.sky.freshness import is_from_later
from suntrack.sky.localday import covered, day_bounds_s
from suntrack.units import FOOT_M, MILE_M, span_words

if TYPE_CHECKING:
    from suntrack.config.reader import Config
    from suntrack.feeds.kept import Kept
    from suntrack.sky.forecast import Forecast

OLD = timedelta(hours=12)
"""From here on the age of a forecast is told even when nothing failed (our choice)."""
WHOLE = 0.995
"""Share of the rest of a day that counts as all of it, for a last half hour at midnight."""
FAR_M, STEEP_M = 30_000.0, 300.0
"""Distance and height between box and grid cell that are told to the cook (our choice)."""


def news_of(
    kept: Kept | None, complaint: str, *, config: Config, now: datetime
) -> tuple[Forecast | None, tuple[str, ...]]:
    """Return the forecast to use and the messages that go with it."""
    title = FEEDS[config.feed.use].title
    complaints = [f"{title}: {complaint}"] if complaint else []
    if kept is None:
        none = "No forecast is used."
        return None, (*complaints, none)
    forecast = kept.forecast
    fetched = span_words(now - forecast.fetched_at)
    if not forecast.usable(now):
        old = f"The last forecast was fetched {fetched} ago, too long to be used."
        return None, (*complaints, old)
    if is_from_later(forecast.fetched_at, now=now):
        return None, (*complaints, "The last forecast is from after this moment; it is not used.")
    ages = []
    if complaint or forecast.age(now) > OLD:
        ages = [f"The forecast used is {span_words(forecast.age(now))} old."]
    rest = (*_partial(forecast, config=config, now=now), *_elsewhere(forecast, config=config))
    return forecast, (*complaints, *ages, *rest)


def _partial(forecast: Forecast, *, config: Config, now: datetime) -> list[str]:
    """Return a message when the rest of the local day is not all covered."""
    zone = config.site.zone
    _, ends_s = day_bounds_s(now.astimezone(zone).date(), zone)
    left_s = ends_s - now.timestamp()
    if left_s <= 0.0:
        return []
    share = covered(forecast, starts_s=now.timestamp(), ends_s=ends_s)
    if share >= WHOLE:
        return []
    left = timedelta(seconds=left_s)
    known = timedelta(seconds=share * left_s)
    return [f"Of the {span_words(left)} left of today the forecast knows {span_words(known)}."]


def _elsewhere(forecast: Forecast, *, config: Config) -> list[str]:
    """Return messages when the grid cell lies far from the box, or much higher or lower."""
    inches = config.units.length == "in"
    messages = []
    if forecast.cell_distance_m is not None and forecast.cell_distance_m > FAR_M:
        away = forecast.cell_distance_m / (MILE_M if inches else 1000.0)
        unit = "miles" if inches else "km"
        messages.append(f"The forecast is for a place {away:.0f} {unit} from the box.")
    higher_m = (
        0.0 if forecast.elevation_m is None else forecast.elevation_m - config.site.elevation_m
    )
    if abs(higher_m) > STEEP_M:
        way = "higher" if higher_m > 0.0 else "lower"
        high = abs(higher_m) / (FOOT_M if inches else 1.0)
        unit = "ft" if inches else "m"
        messages.append(f"The forecast is for a place {high:.0f} {unit} {way} than the box.")
    return messages
