"""The day's steps as an iCalendar file (RFC 5545), so that a phone's calendar can call.

UID            day, step and place: the same step is the same event in every file
SEQUENCE       grows with the moment of planning, so that a later file replaces
DTSTAMP, LAST-MODIFIED
               the moment of planning (section 3.8.7.2: without a METHOD, the last change)
DTSTART        in UTC: no zone has to be described, and summer time is no question
STATUS         CANCELLED for a step that an older file had and the plan has no more; its title
               says so too, because some calendars show such events like any other
METHOD         none, and so no ORGANIZER: nobody is invited, the file is a snapshot (section
               3.7.2), and 3.8.4.3 forbids an organizer then, whom RFC 5546 would ask for

Instants in UTC, `SEQUENCE` from the moment of planning, and steps that an older file of the
same name had are cancelled.  A turn's UID has its time in it, as its key has: a turn that moves
is one event cancelled and another new.  Lost: zones by name, which have to be described in the
file.
"""

from __future__ import annotations

import hashlib
from dataclasses import dataclass
from datetime import UTC, date, datetime, time, timedelta
from pathlib import Path
from typing import TYPE_CHECKING

from icalendar import Alarm, Calendar, Event

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

MADE_BY = "-//suntrack//day plan//EN"
LASTS = timedelta(minutes=5)
"""How long a step stands in the calendar (our choice)."""
CANCELLED = "Cancelled: "
EARLIEST = timedelta(days=400)
"""No day is planned longer ahead than this."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Appointment:
    """One step for a calendar."""

    key: str
    """Key of the step."""
    at: datetime
    """The moment."""
    title: str
    """What stands above it."""
    text: str
    """What else to know; may be empty."""


def calendar_text(
    steps: Sequence[Appointment],
    *,
    on: date,
    place: str,
    made_at: datetime,
    before: timedelta,
    older: str = "",
) -> str:
    """Return a day as an iCalendar file, lines folded and ended as the standard says.

    Parameters
    ----------
    steps : sequence of Appointment
    on : date
        Day of the plan, at the site.
    place : str
        Name of the site.
    made_at : datetime
        When the plan was made, aware.
    before : timedelta
        How long before each step the alarm goes off.
    older : str
        The file that was written last for this day; what it had and the plan has no more is
        cancelled.  Empty for none.

    Returns
    -------
    str
    """
    calendar = Calendar()
    calendar.add("prodid", MADE_BY)
    calendar.add("version", "2.0")
    calendar.add("calscale", "GREGORIAN")
    numbers = _sequence(on, made_at), made_at.astimezone(UTC)
    kept = [
        _event(step, uid_of(key, on=on, place=place), numbers, before)
        for step, key in zip(steps, _distinct([step.key for step in steps]), strict=True)
    ]
    known = {str(event["uid"]) for event in kept}
    gone = (event for event in events_of(older) if str(event.get("uid", "")) not in known)
    for event in (*kept, *(_cancelled(event, numbers) for event in gone)):
        calendar.add_component(event)
    written: bytes = calendar.to_ical()
    return written.decode("utf-8")


def _distinct(keys: Sequence[str]) -> list[str]:
    """Return keys of which none comes twice: a dish cooked for two meals has the same ones."""
    return [
        key if key not in keys[:i] else f"{key}-{keys[:i].count(key) + 1}"
        for i, key in enumerate(keys)
    ]


def uid_of(key: str, *, on: date, place: str) -> str:
    """Return what tells a step from every other, in every file."""
    where = hashlib.sha256(place.encode()).hexdigest()[:8]
    return f"{on.isoformat()}-{key}-{where}@suntrack.invalid"


def events_of(text: str) -> Iterator[Event]:
    """Yield the events of a file; none when it cannot be read."""
    if not text:
        return
    try:
        parts = Calendar.from_ical(text).walk("VEVENT")
    except (ValueError, KeyError, IndexError):
        return
    yield from (part for part in parts if isinstance(part, Event))


def _sequence(on: date, made_at: datetime) -> int:
    """Return the minutes since long before the day: later plans have greater numbers."""
    start = datetime.combine(on, time(0, 0), tzinfo=UTC) - EARLIEST
    return max(int((made_at - start) / timedelta(minutes=1)), 0)


def _event(step: Appointment, uid: str, numbers: tuple[int, datetime], before: timedelta) -> Event:
    event = Event()
    event.add("uid", uid)
    event.add("dtstart", step.at.astimezone(UTC))
    event.add("dtend", step.at.astimezone(UTC) + LASTS)
    event.add("summary", step.title)
    if step.text:
        event.add("description", step.text)
    event.add("status", "CONFIRMED")
    # The cook is not away while a pot goes in.
    event.add("transp", "TRANSPARENT")
    _number(event, numbers)
    alarm = Alarm()
    alarm.add("action", "DISPLAY")
    alarm.add("description", step.title)
    alarm.add("trigger", -before)
    event.add_component(alarm)
    return event


def _cancelled(event: Event, numbers: tuple[int, datetime]) -> Event:
    """Return an event of an older file as one that is no more; it calls nobody."""
    event.subcomponents.clear()
    title = str(event.get("summary", "")).removeprefix(CANCELLED)
    for name in ("status", "summary", "sequence", "dtstamp", "last-modified"):
        event.pop(name, None)
    event.add("status", "CANCELLED")
    event.add("summary", f"{CANCELLED}{title}")
    _number(event, numbers)
    return event


def _number(event: Event, numbers: tuple[int, datetime]) -> None:
    sequence, made_at = numbers
    event.add("sequence", sequence)
    event.add("dtstamp", made_at)
    event.add("last-modified", made_at)


def older_text(path: Path) -> str:
    """Return the file that stands at a path; empty for none."""
    try:
        return path.read_text(encoding="utf-8", errors="replace")
    except OSError:
        return ""
