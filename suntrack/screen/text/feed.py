"""The services and the kept forecast in words: `suntrack feed`."""

from __future__ import annotations

from datetime import timedelta
from typing import TYPE_CHECKING

from suntrack.screen.charset import Charset
from suntrack.screen.text.day import DAYS, MONTHS
from suntrack.units import MILE_M, span_words

if TYPE_CHECKING:
    from datetime import date, datetime

    from suntrack.feeds.report import FeedReport, ServiceState
    from suntrack.sky.daily import ForecastDay
    from suntrack.sky.forecast import Forecast
    from suntrack.units import Units

OFF = (
    "No weather service is asked: plans are for a clear sky. To turn one on, write"
    ' use = "open-meteo" under [feed] in your config.'
)
CHANCE_NOTE = "Rain: the highest chance of any hour of that day, not of the whole day."
CLOUD_ONLY = "It knows cloud and no sunlight, so what it says of the sun is rough."
PLAIN = Charset()


def feed_lines(report: FeedReport, units: Units, *, ink: Charset = PLAIN) -> tuple[str, ...]:
    """Return the report, a fact to a line; an empty line between its parts."""
    lines = [*_used_lines(report, units), *(f"Note: {said}" for said in report.messages)]
    if report.forecast is not None:
        lines += ["", *_forecast_lines(report.forecast, report, units)]
    lines += ["", "Weather services to choose from:"]
    for service in report.services:
        lines += ["", *_service_lines(service)]
    return tuple(ink.text(line) for line in lines)


def _used_lines(report: FeedReport, units: Units) -> list[str]:
    """Return which service is used, and when it was and will be asked."""
    used = report.in_use
    if used is None:
        return [OFF]
    lines = [f"Forecasts come from {used.terms.title} ({used.terms.name})."]
    if used.asked_at is not None:
        count = f", {used.asked_today:g} of at most {used.terms.most_a_day:g} today"
        lines.append(
            f"Last asked {_ago(report.now - used.asked_at)}{count if used.asked_today else ''}."
        )
    if used.next_at is not None:
        lines.append(f"Asked again at {_when(used.next_at, report, units)} at the earliest.")
    if used.failures:
        times = "once" if used.failures == 1 else f"{used.failures} times in a row"
        lines.append(f"It failed {times}: {used.complaint}")
    return lines


def _when(at: datetime, report: FeedReport, units: Units) -> str:
    """Return a time, with its day when that is not today."""
    time = units.time_text(at)
    return time if at.date() == report.now.date() else f"{time} on {day_words(at.date())}"


def day_words(on: date) -> str:
    """Return a day without its year, such as `Wed 25 November`."""
    return f"{DAYS[on.weekday()][:3]} {on.day} {MONTHS[on.month - 1]}"


def _forecast_lines(forecast: Forecast, report: FeedReport, units: Units) -> list[str]:
    """Return the kept forecast: its age, its place, its days, its notes."""
    lines = [f"The forecast was fetched {_ago(report.now - forecast.fetched_at)}{_made(report)}."]
    if forecast.kind == "cloud only":
        lines.append(CLOUD_ONLY)
    if forecast.members > 1:
        lines.append(f"It has {forecast.members} members, each a way the weather may go.")
    if forecast.cell_distance_m is not None:
        lines.append(f"Its place is {_far(forecast.cell_distance_m, units)} from the box.")
    lines += [f"{day_words(day.on)}: {day_facts(day, units)}." for day in report.days]
    if any(day.rain_chance is not None for day in report.days):
        lines.append(CHANCE_NOTE)
    lines += [f"Note: {note}" for note in forecast.notes]
    lines.append(f"{forecast.attribution}.")
    return lines


def _ago(span: timedelta) -> str:
    return f"{span_words(span)} ago" if span >= timedelta(minutes=1) else "just now"


def _made(report: FeedReport) -> str:
    """Return when the forecast was made, where the service says so."""
    assert report.forecast is not None
    issued = report.forecast.issued_at
    return "" if issued is None else f" and made {_ago(report.now - issued)}"


def _far(metres: float, units: Units) -> str:
    """Return a distance in kilometres, or in miles beside inches."""
    if units.length == "in":
        return f"{metres / MILE_M:.0f} miles"
    return f"{metres / 1000.0:.0f} km"


def day_facts(day: ForecastDay, units: Units) -> str:
    """Return one day in a row of facts; what is not known is left out."""
    facts = []
    if day.clear_share is not None:
        facts.append(f"{100.0 * day.clear_share:.0f} % of a clear day's light")
    if day.warmest_c is not None:
        facts.append(f"up to {units.temperature_text(day.warmest_c)}")
    if day.gust_m_s is not None:
        facts.append(f"gusts {units.wind_text(day.gust_m_s)}")
    if day.rain_chance is not None:
        facts.append(f"rain {100.0 * day.rain_chance:.0f} %")
    if day.covered < 0.99:
        facts.append(f"only {24.0 * day.covered:.0f} hours known")
    return ", ".join(facts) or "nothing known"


def _service_lines(service: ServiceState) -> list[str]:
    """Return one service: what it gives and on what terms."""
    terms = service.terms
    minutes = timedelta(minutes=round(terms.least_interval.total_seconds() / 60.0))
    lines = [
        f'use = "{terms.name}": {terms.title}{", in use" if service.in_use else ""}',
        f"Where: {terms.coverage}.",
        f"Gives: {terms.gives}.",
        f"Lacks: {terms.lacks}.",
        f"Terms: {terms.terms}; {terms.terms_url}",
        f"Asked at most every {span_words(minutes)}.",
        f"To be named: {terms.attribution}.",
    ]
    if terms.needs_contact:
        lines.append("Needs contact: your e-mail address or web page, for the service only.")
    return lines
