"""The one way to a forecast: the kept one while it is fresh, a new one when it is due.

Nothing here raises for the network's sake.  Whatever fails, the answer is the last good
forecast, or none, with sentences that say so.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from datetime import datetime, timedelta
from pathlib import Path
from typing import TYPE_CHECKING, Protocol

from suntrack.config.feed_terms import FEEDS, Terms
from suntrack.errors import FeedError
from suntrack.feeds import met_norway, open_meteo, weather_gov
from suntrack.feeds.checks import checked
from suntrack.feeds.heading import FOLDER, kept_path
from suntrack.feeds.kept import Kept, news_of, read_kept, write_kept
from suntrack.feeds.ledger import (
    Ledger,
    ledger_path,
    read_ledger,
    wait_words,
    write_ledger,
)
from suntrack.feeds.request import Ask, Tools, asker
from suntrack.feeds.wire import HURRIED, NetworkWire
from suntrack.store.lock import if_free

if TYPE_CHECKING:
    from collections.abc import Mapping
    from datetime import datetime

    from suntrack.config.feed_terms import FeedName
    from suntrack.config.reader import Config
    from suntrack.feeds.found import Found
    from suntrack.feeds.request import Ask
    from suntrack.sky.forecast import Forecast
    from suntrack.sky.site import Site


SPREAD = timedelta(minutes=5)
"""Added in part to every due time, so that a thousand boxes do not ask in the same second."""
PATIENT = 3
"""Attempts where somebody waits for the forecast and for nothing else."""


@dataclass(frozen=True, slots=True, kw_only=True)
class FeedNews:
    """What is known of the weather to come, and what the cook should know of that."""

    forecast: Forecast | None
    """None for no feed, or nothing usable."""
    messages: tuple[str, ...] = ()
    """What is to be said of it, in words."""


def forecast_for(
    config: Config,
    *,
    now: datetime,
    cache_dir: Path,
    fetch: bool,
    attempts: int = 1,
    tools: Tools | None = None,
) -> FeedNews:
    """Return the forecast for the config's site.

    Parameters
    ----------
    config : Config
        Its `feed` says which service is asked; none is the default.
    now : datetime
        The moment for which it is wanted; with `fetch` that of the clock.  Aware.
    cache_dir : Path
        The user's cache folder.
    fetch : bool
        Whether the network may be asked, which happens only when the kept forecast is due.
    attempts : int
        How often to try; 1 never waits between attempts.
    tools : Tools, optional
        What touches the world.

    Returns
    -------
    news : FeedNews
        The forecast, if there is one no older than 48 hours, and messages for people.
    """
    if not config.feed.is_on:
        return FeedNews(forecast=None)
    folder = cache_dir / FOLDER
    path = kept_path(folder, config.feed.use, config.site)
    complaint = ""
    if fetch:
        tools = tools or _tools(read_kept(path), attempts=attempts, now=now)
        complaint = refresh(config, now=now, folder=folder, attempts=attempts, tools=tools)
    elif not path.exists():
        complaint = "It has not been fetched yet: suntrack feed --fetch."
    forecast, messages = news_of(read_kept(path), complaint, config=config, now=now)
    return FeedNews(forecast=forecast, messages=messages)


def _tools(kept: Kept | None, *, attempts: int, now: datetime) -> Tools:
    """Return what touches the world: in less time when the kept forecast would do."""
    at_hand = kept is not None and kept.forecast.usable(now)
    hurried = HURRIED if attempts == 1 and at_hand else None
    return Tools(wire=NetworkWire(bounds=hurried))


def refresh(config: Config, *, now: datetime, folder: Path, attempts: int, tools: Tools) -> str:
    """Ask the feed if that is due; return a complaint, empty when all is well."""
    try:
        folder.mkdir(parents=True, exist_ok=True)
        with if_free(folder / "asking.lock") as free:
            if not free:
                return "Another suntrack is asking just now."
            return _Round(config, now=now, folder=folder, tools=tools).run(attempts)
    except OSError as error:
        return f"The cache folder cannot be written ({error.strerror or error})."


class _Round:
    """One round of questions to one feed, under the lock."""

    def __init__(self, config: Config, *, now: datetime, folder: Path, tools: Tools) -> None:
        self._config, self._now, self._tools = config, now, tools
        self._terms: Terms = FEEDS[config.feed.use]
        self._site: Site = config.site
        self._kept_path = kept_path(folder, config.feed.use, config.site)
        self._ledger_path = ledger_path(folder, config.feed.use)
        self._ledger: Ledger = read_ledger(self._ledger_path)
        self._kept: Kept | None = read_kept(self._kept_path)

    def run(self, attempts: int) -> str:
        """Ask, check and keep; return a complaint, empty when all is well."""
        if self._kept is not None and _is_fresh(self._kept, now=self._now):
            return ""
        wait = self._ledger.may_ask(now=self._now)
        if wait > timedelta(0):
            why = self._ledger.complaint or "It was asked a moment ago."
            return f"{why} It is left alone for another {wait_words(wait)}."
        try:
            self._keep(self._read(self._ask(attempts)))
        except FeedError as error:
            self._book(self._ledger.failed(error, now=self._now, dice=self._tools.dice()))
            return error.message
        self._book(self._ledger.succeeded())
        return ""

    def _ask(self, attempts: int) -> Ask:
        return asker(
            origin=self._config.feed.base_url or self._terms.origin,
            identification=self._config.feed.identification,
            now=self._now,
            tools=self._tools,
            attempts=attempts,
            spend=self._spend,
        )

    def _spend(self, weight: float) -> None:
        """Write a request into the book before it is made, so that a crash counts too."""
        self._book(self._ledger.spent(weight, terms=self._terms, now=self._now))

    def _book(self, ledger: Ledger) -> None:
        self._ledger = ledger
        write_ledger(self._ledger_path, ledger)

    def _read(self, ask: Ask) -> tuple[Found, Forecast]:
        """Return what the feed answers; a form that nobody thought of is a fault as well."""
        memory = self._kept.memory if self._kept else {}
        try:
            provider = provider_of(self._terms.name)
            return self._checked(provider(site=self._site, ask=ask, memory=memory, now=self._now))
        except (ValueError, LookupError, TypeError, AttributeError, OverflowError) as error:
            raise FeedError(
                f"The answer has a form that suntrack does not know ({type(error).__name__}).",
                kind="broken",
            ) from error

    def _checked(self, found: Found) -> tuple[Found, Forecast]:
        """Return a forecast that may be used; one that has not changed is checked anew."""
        before = self._kept.forecast if self._kept else None
        if found.forecast is not None:
            fresh = found.forecast
        elif before is not None:
            # Its notes were written when it came; only its window can have gone wrong since.
            return found, replace(
                checked(replace(before, fetched_at=self._now), site=self._site, now=self._now),
                notes=before.notes,
            )
        else:
            raise FeedError(
                "The feed says that nothing is new, though nothing is kept here.", kind="broken"
            )
        return found, checked(fresh, site=self._site, now=self._now, before=before)

    def _keep(self, result: tuple[Found, Forecast]) -> None:
        found, forecast = result
        pause = max(self._terms.least_interval, found.fresh_for or timedelta(0))
        due_at = self._now + pause + self._tools.dice() * SPREAD
        self._kept = Kept(forecast=forecast, due_at=due_at, memory=found.memory)
        write_kept(self._kept_path, self._kept)


def _is_fresh(kept: Kept, *, now: datetime) -> bool:
    """Return whether a forecast is not yet due; one from a clock that was ahead is due."""
    return kept.forecast.fetched_at <= now + timedelta(minutes=5) and now < kept.due_at


class Provider(Protocol):
    """Asks one feed for one site."""

    def __call__(self, *, site: Site, ask: Ask, memory: Mapping[str, str], now: datetime) -> Found:
        """Return what the feed answers; raise FeedError when that is of no use."""
        ...  # pragma: no cover


def provider_of(name: FeedName) -> Provider:
    """Return what asks a feed."""
    providers: dict[FeedName, Provider] = {
        "open-meteo": open_meteo.fetch,
        "open-meteo-ensemble": open_meteo.fetch_ensemble,
        "weather-gov": weather_gov.fetch,
        "met-norway": met_norway.fetch,
    }
    return providers[name]
