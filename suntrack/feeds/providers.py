"""Which module speaks to which feed."""

from __future__ import annotations

from typing import TYPE_CHECKING, Protocol

from suntrack.feeds import met_norway, open_meteo, weather_gov

if TYPE_CHECKING:
    from collections.abc import Mapping
    from datetime import datetime

    from suntrack.config.feed_terms import FeedName
    from suntrack.feeds.ask import Ask
    from suntrack.feeds.found import Found
    from suntrack.sky.site import Site


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
