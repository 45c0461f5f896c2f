"""Stretches of time as ISO 8601 writes them: `2026-11-25T06:00:00+00:00/PT3H`."""

from __future__ import annotations

import re
from datetime import UTC, datetime, timedelta

from suntrack.feeds.fault import content
from suntrack.feeds.reading import instant

# The service's own grammar, in which weeks do not occur.
DURATION = re.compile(
    r"P(?:(\d{1,4})Y)?(?:(\d{1,4})M)?(?:(\d{1,4})D)?"
    r"(?:T(?:(\d{1,4})H)?(?:(\d{1,4})M)?(?:(\d{1,5})S)?)?"
)
YEAR, MONTH = timedelta(days=365), timedelta(days=30)
"""A forecast reaches days ahead; what these mean exactly makes no difference to it."""
NOW = "NOW"


def duration(text: str) -> timedelta:
    """Return the length of a duration; raise FeedError when it is none.

    >>> duration("P1DT6H")
    datetime.timedelta(days=1, seconds=21600)
    """
    match = DURATION.fullmatch(text)
    if match is None or text.endswith(("P", "T")):
        raise content(f"{text!r} is no length of time.")
    years, months, days, hours, minutes, seconds = (int(part or 0) for part in match.groups())
    return (
        years * YEAR
        + months * MONTH
        + timedelta(days=days, hours=hours, minutes=minutes, seconds=seconds)
    )


def stretch(text: object, *, now: datetime) -> tuple[datetime, datetime]:
    """Return start and end of a stretch, in UTC: start/duration, start/end or duration/end.

    `NOW` may stand for a start or an end.
    """
    first, slash, second = str(text).partition("/")
    if not slash:
        raise content(f"{str(text)[:60]!r} is no stretch of time.")
    if first.startswith("P"):
        ends = _moment(second, now=now)
        return ends - duration(first), ends
    starts = _moment(first, now=now)
    if second.startswith("P"):
        return starts, starts + duration(second)
    return starts, _moment(second, now=now)


def _moment(text: str, *, now: datetime) -> datetime:
    return now.astimezone(UTC) if text == NOW else instant(text, "A stretch of time")
