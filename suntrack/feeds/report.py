"""What the cook may want to know of the services and of the forecast that is kept."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime, timedelta
from pathlib import Path
from typing import TYPE_CHECKING

from suntrack.config.feed_terms import FEEDS, Terms
from suntrack.feeds.heading import FOLDER, kept_path
from suntrack.feeds.kept import read_kept
from suntrack.feeds.ledger import ledger_path, read_ledger
from suntrack.feeds.service import FeedNews

if TYPE_CHECKING:
    from suntrack.config.reader import Config
    from suntrack.sky.daily import ForecastDay
    from suntrack.sky.forecast import Forecast


@dataclass(frozen=True, slots=True, kw_only=True)
class ServiceState:
    """One service and its book."""

    terms: Terms
    """What it gives, for whom and how often."""
    in_use: bool
    """True for the one the config names."""
    asked_at: datetime | None
    """When it was last asked; None for never."""
    asked_today: float
    """Weight of today's requests (UTC), as the service counts them."""
    failures: int
    """In a row, up to now."""
    complaint: str
    """The last failure in words; empty after a success."""
    next_at: datetime | None
    """Not asked before; None when it may be asked now, or is not in use."""


@dataclass(frozen=True, slots=True, kw_only=True)
class FeedReport:
    """Everything `suntrack feed` shows."""

    now: datetime
    """In the site's time zone, as every other moment here."""
    services: tuple[ServiceState, ...]
    """Every service that can be read."""
    forecast: Forecast | None
    """The one that is used now."""
    days: tuple[ForecastDay, ...]
    """Those of the forecast from today on."""
    messages: tuple[str, ...]
    """What is to be said of them, in words."""

    @property
    def in_use(self) -> ServiceState | None:
        """The service that is turned on; None for none."""
        return next((service for service in self.services if service.in_use), None)


def feed_report(config: Config, news: FeedNews, *, now: datetime, cache_dir: Path) -> FeedReport:
    """Return the report at a moment, from the books and the kept forecast on disk."""
    days: tuple[ForecastDay, ...] = ()
    if news.forecast is not None:
        from suntrack.sky.daily import forecast_days

        days = forecast_days(news.forecast, site=config.site)
    today = now.astimezone(config.site.zone).date()
    folder = cache_dir / FOLDER
    return FeedReport(
        now=now.astimezone(config.site.zone),
        services=tuple(_state(terms, config, now=now, folder=folder) for terms in FEEDS.values()),
        forecast=news.forecast,
        days=tuple(day for day in days if day.on >= today),
        messages=news.messages,
    )


def _state(terms: Terms, config: Config, *, now: datetime, folder: Path) -> ServiceState:
    book = read_ledger(ledger_path(folder, terms.name))
    in_use = config.feed.use == terms.name
    zone = config.site.zone
    return ServiceState(
        terms=terms,
        in_use=in_use,
        asked_at=book.asked_at and book.asked_at.astimezone(zone),
        asked_today=book.weight_on(now),
        failures=book.failures,
        complaint=book.complaint,
        next_at=_next_at(terms, config, now=now, folder=folder) if in_use else None,
    )


def _next_at(terms: Terms, config: Config, *, now: datetime, folder: Path) -> datetime | None:
    """Return when a service may be asked again; None for now."""
    kept = read_kept(kept_path(folder, terms.name, config.site))
    wait = read_ledger(ledger_path(folder, terms.name)).may_ask(now=now)
    waits = [wait] + ([kept.due_at - now] if kept else [])
    longest = max(waits)
    return (now + longest).astimezone(config.site.zone) if longest > timedelta(0) else None
