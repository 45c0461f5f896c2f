"""Readings of an oven thermometer from any logger's CSV: a time and a temperature a row.

Which column is which is told by the head, where there is one, else by what can be read as
a time and as a temperature.  The unit stands in the head (`oven (F)`, `temp_c`) or behind
each value (`245F`); a temperature without a unit is refused.
"""

from __future__ import annotations

import csv
import re
from datetime import datetime
from pathlib import Path
from typing import TYPE_CHECKING
from zoneinfo import ZoneInfo

from suntrack.day.inputs import HeardReading
from suntrack.edge.note import COLDEST_C, HOTTEST_C
from suntrack.errors import InputError, Problem
from suntrack.units import parse_temperature_c

if TYPE_CHECKING:
    from collections.abc import Sequence

ALLOWED = (
    "rows of a time and a temperature, such as 2026-11-25 10:30, 118 C; or the unit in the head,"
    " such as time, oven (F)"
)
UNIT_IN_HEAD = re.compile(
    r"(?:^|[\s_(\[°])(?:deg\s*)?([CF])(?:$|[\s)\]])|(celsius|fahrenheit)", re.IGNORECASE
)
SHOWN = 5
"""Mistakes that are told; the rest are counted."""


def read_log(path: Path, *, zone: ZoneInfo) -> tuple[HeardReading, ...]:
    """Return the readings of a file in order of time; raise InputError with its mistakes.

    Times without an offset are local times at the site.
    """
    rows = _rows(path)
    head = None if not rows or _time(rows[0][1], zone) else rows[0][1]
    body = rows[1:] if head is not None else rows
    if not body:
        raise _mistake(str(path), "no reading")
    column, unit = _temperature_column(head, body[0][1], zone)
    readings, problems = [], []
    for line, cells in body:
        at = _time(cells, zone)
        box_c = _box_c(cells, column, unit)
        if at is None or box_c is None:
            problems.append((f"{path}:{line}", ", ".join(cells)))
        else:
            readings.append(HeardReading(at=at, box_c=box_c))
    if problems:
        more = len(problems) - SHOWN
        told = [_problem(where, found) for where, found in problems[:SHOWN]]
        if more > 0:
            told.append(_problem(str(path), f"{more} more such rows"))
        raise InputError(*told)
    return tuple(sorted(readings, key=lambda reading: reading.at))


def _rows(path: Path) -> list[tuple[int, list[str]]]:
    """Return the rows that are not blank, with their lines."""
    try:
        text = path.read_text(encoding="utf-8-sig")
    except (OSError, UnicodeDecodeError) as error:
        why = getattr(error, "strerror", None) or "not a text in UTF-8"
        raise _mistake(str(path), why) from None
    marks = {mark: text.count(mark) for mark in ",;\t"}
    mark = max(marks, key=lambda one: marks[one])
    found = csv.reader(text.splitlines(), delimiter=mark)
    return [
        (line, [cell.strip() for cell in row])
        for line, row in enumerate(found, start=1)
        if any(cell.strip() for cell in row)
    ]


def _time(cells: Sequence[str], zone: ZoneInfo) -> datetime | None:
    """Return the time of a row: its first cell, or a date and a time in its first two."""
    for text in (cells[0], " ".join(cells[:2])):
        try:
            at = datetime.fromisoformat(text)
        except ValueError:
            continue
        if len(text) > len("2026-11-25"):
            return at if at.tzinfo else at.replace(tzinfo=zone)
    return None


def _temperature_column(
    head: Sequence[str] | None, first: Sequence[str], zone: ZoneInfo
) -> tuple[int, str]:
    """Return which column has the temperature, and its unit; no unit where each value has it."""
    after = 1 if _time(first[:1], zone) else 2
    if head is None:
        return after, ""
    named = [
        (i, match)
        for i, name in enumerate(head)
        if i >= after and (match := UNIT_IN_HEAD.search(name))
    ]
    if not named:
        return after, ""
    i, match = named[0]
    return i, (match[1] or match[2][0]).upper()


def _box_c(cells: Sequence[str], column: int, unit: str) -> float | None:
    """Return a row's temperature; None when it is none that a box can have.  [C]"""
    if column >= len(cells):
        return None
    try:
        box_c = parse_temperature_c(f"{cells[column]} {unit}".strip())
    except ValueError:
        return None
    return box_c if COLDEST_C <= box_c <= HOTTEST_C else None


def _problem(where: str, found: str) -> Problem:
    return Problem(where=where, found=repr(found), allowed=ALLOWED, remedy="Write every row so.")


def _mistake(where: str, found: str) -> InputError:
    return InputError(
        Problem(where=where, found=found, allowed=ALLOWED, remedy="Give another file with --csv.")
    )
