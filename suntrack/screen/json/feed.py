"""The services and the kept forecast for programs: `feed --json`.

Every key is listed, with its meaning, in `FEED_KEYS`; a test holds them to what is written.
"""

from __future__ import annotations

from datetime import datetime
from typing import TYPE_CHECKING, Any

from suntrack.screen.json.day import rounded, stamp

if TYPE_CHECKING:
    from collections.abc import Mapping

    from suntrack.feeds.report import FeedReport, ServiceState
    from suntrack.sky.daily import ForecastDay

__all__ = ["FEED_KEYS", "feed_json"]

FEED_KEYS: Mapping[str, str] = {
    "at": "the moment of the report",
    "use": "name of the service that is turned on; none for none",
    "messages[]": "what the cook should know of it now, in words",
    "services[].name": "name of a service, as the config spells it",
    "services[].title": "its name for people",
    "services[].in_use": "true for the one that is turned on",
    "services[].kind": "radiation, or cloud only: what it says of the sun rests on that",
    "services[].coverage": "where it forecasts",
    "services[].gives": "what it gives",
    "services[].lacks": "what it does not",
    "services[].terms": "its terms in short",
    "services[].terms_url": "where they are",
    "services[].attribution": "the words to show beside what is made of it",
    "services[].least_interval_s": "time between two requests at least",
    "services[].needs_contact": "true when it wants to know whom to write to",
    "services[].asked_at": "when it was last asked; null for never",
    "services[].asked_today": "weight of today's requests (UTC), as it counts them",
    "services[].most_a_day": "our own ceiling for that",
    "services[].next_at": "not asked before; null for any time",
    "services[].failures": "failures in a row, up to now",
    "services[].complaint": "the last one in words; null after a success",
    "forecast": "the forecast that is used; null for none",
    "forecast.kind": "radiation, or cloud only",
    "forecast.issued_at": "when it was made; null when the service does not say",
    "forecast.fetched_at": "when it was read from the network",
    "forecast.starts_at": "start of its first interval",
    "forecast.ends_at": "end of its last",
    "forecast.members": "how many ways the weather may go it has",
    "forecast.elevation_m": "height of its place above the sea; null for not known",
    "forecast.cell_distance_m": "from the box to its place; null for not known",
    "forecast.attribution": "the words to show beside it",
    "forecast.notes[]": "what is missing or doubtful, in words",
    "forecast.days[].date": "a day at the site, today or later",
    "forecast.days[].covered": "share of it for which the sun is known, 0 to 1",
    "forecast.days[].clear_share": "light over that of a cloudless sky; null for not known",
    "forecast.days[].warmest_c": "warmest hour; null for not known",
    "forecast.days[].gust_m_s": "strongest gust; null for not known",
    "forecast.days[].rain_chance": "highest chance of rain of any interval; null for not known",
}
"""Every key of `feed_json`, as a path; `[]` stands for every item of a list."""


def feed_json(report: FeedReport) -> dict[str, Any]:
    """Return the report for programs."""
    used = report.in_use
    return {
        "at": stamp(report.now),
        "use": used.terms.name if used else "none",
        "messages": list(report.messages),
        "services": [_service(service) for service in report.services],
        "forecast": _forecast(report),
    }


def _service(service: ServiceState) -> dict[str, Any]:
    terms = service.terms
    return {
        "name": terms.name,
        "title": terms.title,
        "in_use": service.in_use,
        "kind": terms.kind,
        "coverage": terms.coverage,
        "gives": terms.gives,
        "lacks": terms.lacks,
        "terms": terms.terms,
        "terms_url": terms.terms_url,
        "attribution": terms.attribution,
        "least_interval_s": terms.least_interval.total_seconds(),
        "needs_contact": terms.needs_contact,
        "asked_at": stamp(service.asked_at),
        "asked_today": rounded(service.asked_today),
        "most_a_day": terms.most_a_day,
        "next_at": stamp(service.next_at),
        "failures": service.failures,
        "complaint": service.complaint or None,
    }


def _forecast(report: FeedReport) -> dict[str, Any] | None:
    forecast = report.forecast
    if forecast is None:
        return None
    return {
        "kind": forecast.kind,
        "issued_at": _local(forecast.issued_at, report),
        "fetched_at": _local(forecast.fetched_at, report),
        "starts_at": _local_s(float(forecast.starts_at_s[0]), report),
        "ends_at": _local_s(float(forecast.ends_at_s[-1]), report),
        "members": forecast.members,
        "elevation_m": rounded(forecast.elevation_m),
        "cell_distance_m": rounded(forecast.cell_distance_m, 0),
        "attribution": forecast.attribution,
        "notes": list(forecast.notes),
        "days": [_day(day) for day in report.days],
    }


def _local(at: datetime | None, report: FeedReport) -> str | None:
    return stamp(at and at.astimezone(report.now.tzinfo))


def _local_s(at_s: float, report: FeedReport) -> str | None:
    return stamp(datetime.fromtimestamp(at_s, report.now.tzinfo))


def _day(day: ForecastDay) -> dict[str, Any]:
    return {
        "date": day.on.isoformat(),
        "covered": rounded(day.covered, 3),
        "clear_share": rounded(day.clear_share, 3),
        "warmest_c": rounded(day.warmest_c),
        "gust_m_s": rounded(day.gust_m_s),
        "rain_chance": rounded(day.rain_chance, 2),
    }
