"""The feeds there are: what each gives, on what terms, and how often it may be asked.

Read in each service's published terms and documentation between 2023 and 2026; look them up
again before anything else than a household uses them.
"""

from __future__ import annotations

from dataclasses import dataclass
from datetime import timedelta
from typing import TYPE_CHECKING, Literal

if TYPE_CHECKING:
    from collections.abc import Mapping

    from suntrack.sky.forecast import ForecastClass

FeedName = Literal["open-meteo", "open-meteo-ensemble", "weather-gov", "met-norway"]


@dataclass(frozen=True, slots=True, kw_only=True)
class Terms:
    """One feed, before it is asked anything."""

    name: FeedName
    """As the config spells it."""
    title: str
    """What stands above it."""
    origin: str
    """Scheme and host; nothing else is ever asked."""
    kind: ForecastClass
    """What kind of forecast it is."""
    coverage: str
    """Where it is to be had."""
    gives: str
    """What it tells."""
    lacks: str
    """What it leaves out."""
    terms: str
    """What it asks of those who use it."""
    terms_url: str
    """Where that is written."""
    attribution: str
    """The words to show beside what is made of the feed."""
    least_interval: timedelta
    """Never asked again sooner after an answer."""
    most_a_day: float
    """Our own ceiling for the weight of a day's requests, far under the feed's."""
    needs_contact: bool
    """True when the service asks for a way to reach whoever runs the program."""


_OPEN_METEO = {
    "terms": "free without a key for non-commercial use, under 10 000 requests a day; CC BY 4.0",
    "terms_url": "https://open-meteo.com/en/terms",
    "attribution": "Weather data by Open-Meteo.com, CC BY 4.0",
}
_FEEDS = (
    Terms(
        name="open-meteo",
        title="Open-Meteo forecast",
        origin="https://api.open-meteo.com",
        kind="radiation",
        coverage="the world",
        gives="sunlight (global, beam, diffuse), cloud, air, wind, gusts, chance of rain; hourly",
        lacks="how sure it is",
        least_interval=timedelta(hours=1),
        most_a_day=100.0,
        needs_contact=False,
        **_OPEN_METEO,
    ),
    Terms(
        name="open-meteo-ensemble",
        title="Open-Meteo ensemble (GEFS)",
        origin="https://ensemble-api.open-meteo.com",
        kind="radiation",
        coverage="the world",
        gives="31 members: sunlight (global), cloud, air, wind, gusts, rain; three-hourly",
        lacks="beam and diffuse light, which are split from the global",
        least_interval=timedelta(hours=3),
        most_a_day=400.0,
        needs_contact=False,
        **_OPEN_METEO,
    ),
    Terms(
        name="weather-gov",
        title="US National Weather Service",
        origin="https://api.weather.gov",
        kind="cloud only",
        coverage="the United States and its territories",
        gives="cloud, air, wind, gusts, chance of rain; hourly",
        lacks="sunlight; some offices leave out more",
        terms="free for any purpose, identification asked for; no endorsement",
        terms_url="https://www.weather.gov/documentation/services-web-api",
        attribution="Data from the US National Weather Service",
        least_interval=timedelta(hours=1),
        most_a_day=150.0,
        needs_contact=True,
    ),
    Terms(
        name="met-norway",
        title="MET Norway",
        origin="https://api.met.no",
        kind="cloud only",
        coverage="the world; finest in the Nordic countries",
        gives="cloud by height, air, wind; hourly for two and a half days, then six-hourly",
        lacks="sunlight; gusts and chance of rain outside the Nordic countries",
        terms="free with identification; never asked before its answer expires; CC BY 4.0",
        terms_url="https://api.met.no/doc/TermsOfService",
        attribution="Data from MET Norway, CC BY 4.0",
        least_interval=timedelta(minutes=30),
        most_a_day=100.0,
        needs_contact=True,
    ),
)
FEEDS: Mapping[str, Terms] = {feed.name: feed for feed in _FEEDS}


def terms_table() -> str:
    """Return the feeds as a table in Markdown, for DEVELOPERS.md."""
    heads = ("feed", "where", "gives", "lacks", "at most every", "terms", "attribution")
    lines = [f"| {' | '.join(heads)} |", "| --- " * len(heads) + "|"]
    for feed in FEEDS.values():
        minutes = round(feed.least_interval.total_seconds() / 60.0)
        cells = (
            f"`{feed.name}`, {feed.title}",
            feed.coverage,
            feed.gives,
            feed.lacks,
            f"{minutes} min",
            f"[{feed.terms}]({feed.terms_url})",
            feed.attribution,
        )
        lines.append(f"| {' | '.join(cells)} |")
    return "\n".join(lines)
