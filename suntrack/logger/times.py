"""Times as loggers write them: ISO 8601, day or month first, seconds since 1970."""

from __future__ import annotations

import re
from dataclasses import dataclass
from datetime import UTC, datetime, timedelta, timezone
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from collections.abc import Iterable, Sequence
    from zoneinfo import ZoneInfo

TIMES = (
    "a time such as 2026-11-25 10:30, 2026-11-25T10:30+02:00, 25.11.2026 10:30 or seconds since"
    " 1970"
)
WRITTEN = re.compile(
    r"(\d{1,4})([./-])(\d{1,2})\2(\d{1,4}),?[\sT]+(\d{1,2})[:.](\d\d)(?:[:.](\d\d)(?:[.,]\d+)?)?"
    r"\s*([AaPp])?\.?(?:[Mm]\.?)?\s*(Z|UTC|GMT|[+-]\d\d:?\d\d)?"
)
OFFSET = re.compile(r"\b(?:GMT|UTC)\s*([+-]\d{1,2})?(?::?(\d\d))?", re.IGNORECASE)
EPOCH = re.compile(r"\d{9,10}(?:\.\d+)?|\d{12,13}")
YEARS = (1990, 2100)
FURTHEST_H = 14
"""No clock is further from UTC than Kiritimati's (IANA time zone database).  [h]"""


@dataclass(frozen=True, slots=True, kw_only=True)
class TimeForm:
    """How a file writes its times."""

    first: int
    """Column of the time, or of the date."""
    cells: int
    """1, or 2 for a date and a time of day."""
    day_first: bool
    """True for 25/11, False for 11/25."""
    zone: ZoneInfo | timezone
    """For times that have no offset of their own."""

    def text(self, cells: Sequence[str]) -> str:
        """Return the words of a row's time."""
        return " ".join(cells[self.first : self.first + self.cells])

    def read(self, cells: Sequence[str]) -> datetime | None:
        """Return a row's time; None for none, and for years that no logger has seen."""
        at = _read(self.text(cells), day_first=self.day_first, zone=self.zone)
        return at if at is not None and YEARS[0] <= at.year <= YEARS[1] else None


def place_of_time(cells: Sequence[str]) -> tuple[int, int] | None:
    """Return the column that a row's time starts in and how many it takes; None without."""
    for first in range(min(len(cells), 3)):
        for count in (1, 2):
            text = " ".join(cells[first : first + count])
            if WRITTEN.fullmatch(text) or EPOCH.fullmatch(text) or _iso(text) is not None:
                return first, count
    return None


def offset_in(head: str) -> timezone | None:
    """Return the offset that a head such as `Date Time, GMT+02:00` names; None without.

    Raises
    ------
    ValueError
        For an offset that no clock has.
    """
    found = OFFSET.search(head)
    if found is None:
        return None
    hours, minutes = int(found[1] or 0), int(found[2] or 0)
    if abs(hours) > FURTHEST_H or minutes > 59:
        raise ValueError(f"{found[0]!r}, which is no offset of a clock")
    behind = (found[1] or "").startswith("-")
    return timezone(timedelta(hours=hours, minutes=-minutes if behind else minutes))


def is_day_first(texts: Iterable[str]) -> bool | None:
    """Return whether dates such as 5/11/2026 start with the day; None when it cannot be told.

    One number over 12 in the column tells.  With dots the day is first (common practice, no
    source).  A column that starts with the year answers True, which nothing depends on.
    """
    slashed = False
    for text in texts:
        found = WRITTEN.fullmatch(text)
        if found is None:
            continue
        if len(found[1]) == 4:
            break
        if found[2] == "." or int(found[1]) > 12:
            return True
        if int(found[3]) > 12:
            return False
        slashed = True
    return None if slashed else True


def missing_hour(at: datetime) -> bool:
    """Return whether a local time was left out when the clocks went forward."""
    again = at.astimezone(UTC).astimezone(at.tzinfo)
    return again.replace(tzinfo=None) != at.replace(tzinfo=None)


def in_order(at: datetime, before: datetime | None) -> datetime:
    """Return a time, the second of its name when the clocks went back since the row before."""
    if before is None or (at >= before and not before.fold):
        return at
    later = at.replace(fold=1)
    return later if later.utcoffset() != at.utcoffset() else at


def _read(text: str, *, day_first: bool, zone: ZoneInfo | timezone) -> datetime | None:
    if EPOCH.fullmatch(text):
        whole = float(text)
        return datetime.fromtimestamp(whole / 1000.0 if whole >= 1e11 else whole, tz=zone)
    found = WRITTEN.fullmatch(text)
    if found is None:
        at = _iso(text)
        return None if at is None else (at if at.tzinfo else at.replace(tzinfo=zone))
    one, _, two, three, hour, minute, second, half, offset = found.groups()
    year, month, day = _ordered(one, two, three, day_first=day_first)
    try:
        return datetime(
            year, month, day, _hour(int(hour), half), int(minute), int(second or 0),
            tzinfo=zone if offset is None else _zone(offset),
        )  # fmt: skip
    except ValueError:
        return None


def _ordered(one: str, two: str, three: str, *, day_first: bool) -> tuple[int, int, int]:
    """Return year, month and day."""
    if len(one) == 4:
        return int(one), int(two), int(three)
    year = int(three) + (2000 if len(three) <= 2 else 0)
    return (year, int(two), int(one)) if day_first else (year, int(one), int(two))


def _hour(hour: int, half: str | None) -> int:
    """Return an hour of 24."""
    return hour if half is None else hour % 12 + (12 if half in "Pp" else 0)


def _zone(offset: str) -> timezone:
    if offset in ("Z", "UTC", "GMT"):
        return UTC
    sign = -1 if offset[0] == "-" else 1
    return timezone(sign * timedelta(hours=int(offset[1:3]), minutes=int(offset[-2:])))


def _iso(text: str) -> datetime | None:
    """Return what the standard library reads as a date and a time of day; None for none."""
    if len(text) <= len("2026-11-25") or text.isdigit():
        return None
    try:
        return datetime.fromisoformat(text)
    except ValueError:
        return None
