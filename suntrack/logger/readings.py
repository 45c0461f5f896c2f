"""Readings of an oven thermometer from any logger's file: a time and a temperature a row.

Which column is which is told by the head, where there is one, else by what can be read as
a time and as a temperature.  The unit stands in the head (`oven (F)`, `temp_c`) or behind
each value (`245F`); a temperature without a unit is refused, and so are dates that may be
read in two ways.  More than one reading a minute becomes their mean.
"""

from __future__ import annotations

import csv
from dataclasses import dataclass
from itertools import groupby
from pathlib import Path
from typing import TYPE_CHECKING
from zoneinfo import ZoneInfo

from suntrack.errors import InputError, Problem
from suntrack.logger.columns import OvenColumn, Row, decoded, oven_columns, rows_of
from suntrack.logger.times import (
    TIMES,
    TimeForm,
    in_order,
    is_day_first,
    missing_hour,
    offset_in,
    place_of_time,
)
from suntrack.plan.inputs import ObservedReading
from suntrack.store.note import COLDEST_C, HOTTEST_C

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence
    from datetime import datetime, timezone

ALLOWED = (
    "rows of a time and a temperature, such as 2026-11-25 10:30, 118 C; or the unit in the head,"
    " such as time, oven (F)"
)
DEGREES = (
    f"a temperature from {COLDEST_C:.0f} to {HOTTEST_C:.0f} C that an oven thermometer can show"
)
SHOWN = 5
"""Mistakes that are told; the rest are counted."""
APART_K = 20.0
"""Readings of one moment that lie further apart are not of one thermometer (our choice).  [K]"""


@dataclass(frozen=True, slots=True, kw_only=True)
class _Table:
    """A file, its columns understood."""

    path: Path
    """The file."""
    body: list[Row]
    """Its rows below the head."""
    form: TimeForm
    """How its times are written."""
    oven: OvenColumn
    """Where its temperatures are."""


def read_log(path: Path, *, zone: ZoneInfo) -> tuple[ObservedReading, ...]:
    """Return the readings of a file in order of time; raise InputError with its mistakes.

    Times without an offset are local times at the site, or as the head of their column says.
    Rows without a temperature are gaps and left out.
    """
    table = _table(path, zone=zone)
    readings, problems = [], []
    before: datetime | None = None
    for row in table.body:
        if table.oven.is_gap(row.cells):
            continue
        found = _reading(table, row, before)
        if isinstance(found, Problem):
            problems.append(found)
        else:
            readings.append(found)
            before = found.at
    if problems:
        raise InputError(*_told(path, problems))
    if not readings:
        raise _mistake(path, "no reading, only gaps")
    # The hour that comes twice in autumn sorts by its instant alone.
    readings.sort(key=lambda reading: reading.at.timestamp())
    return tuple(_by_minute(path, readings))


def _table(path: Path, *, zone: ZoneInfo) -> _Table:
    """Return a file with its columns; raise InputError where they cannot be told."""
    rows = _rows(path)
    place = next((i for i, row in enumerate(rows) if place_of_time(row.cells)), None)
    if place is None:
        raise _mistake(path, "no reading", TIMES if rows else ALLOWED)
    first, count = place_of_time(rows[place].cells) or (0, 1)
    # A row whose time is wrong is no head: numbers do not stand in one.
    heads = [row for row in rows[:place] if not any(map(_is_number, row.cells))]
    head = heads[-1].cells if heads and len(heads[-1].cells) > 1 else None
    body = [row for row in rows if not heads or row.line > heads[-1].line]
    title = " ".join(head[first : first + count]) if head else ""
    form = TimeForm(
        first=first,
        cells=count,
        day_first=_day_first(path, body, first, count),
        zone=_offset(path, title) or zone,
    )
    return _Table(path=path, body=body, form=form, oven=_oven(path, head, body, first + count))


def _offset(path: Path, title: str) -> timezone | None:
    """Return the offset that a head names; raise InputError for one that no clock has."""
    try:
        return offset_in(title)
    except ValueError as error:
        raise InputError(
            Problem(
                where=str(path),
                found=str(error),
                allowed="an offset from UTC such as GMT+02:00, at most 14 hours",
                remedy="Correct the head, or leave the offset out for the clock at the site.",
            )
        ) from None


def _rows(path: Path) -> list[Row]:
    try:
        return rows_of(decoded(path.read_bytes()))
    except (OSError, ValueError, csv.Error) as error:
        raise _mistake(path, getattr(error, "strerror", None) or str(error)) from None


def _day_first(path: Path, body: Sequence[Row], first: int, count: int) -> bool:
    """Return whether its dates start with the day; raise InputError when that is open."""
    texts = (" ".join(row.cells[first : first + count]) for row in body)
    answer = is_day_first(texts)
    if answer is None:
        text = " ".join(body[0].cells[first : first + count])
        raise InputError(
            Problem(
                where=f"{path}:{body[0].line}",
                found=f"{text!r}, which may be day/month or month/day",
                allowed="dates that can be read in one way, such as 2026-11-05 or 5.11.2026",
                remedy="Write the dates so.",
            )
        )
    return answer


def _oven(path: Path, head: Sequence[str] | None, body: Sequence[Row], after: int) -> OvenColumn:
    """Return the oven's column; raise InputError for none, and for several."""
    row = next((one for one in body if len(one.cells) > after), body[0])
    found = oven_columns(head, row.cells, after=after)
    if len(found) == 1:
        return found[0]
    if not found:
        raise InputError(
            Problem(
                where=f"{path}:{row.line}",
                found=f"{', '.join(row.cells)!r}, no unit",
                allowed=ALLOWED,
                remedy="Write C or F in the head or behind each temperature.",
            )
        )
    names = [head[one.place] if head else f"column {one.place + 1}" for one in found]
    raise InputError(
        Problem(
            where=str(path),
            found=f"{len(found)} temperatures a row: {', '.join(names)}",
            allowed="one that is the oven's",
            remedy="Call it oven in the head, or leave the others out.",
        )
    )


def _reading(table: _Table, row: Row, before: datetime | None) -> ObservedReading | Problem:
    """Return a row's reading, or what is wrong with it."""
    where, at = f"{table.path}:{row.line}", table.form.read(row.cells)
    if at is None:
        return Problem(
            where=where,
            found=repr(table.form.text(row.cells)),
            allowed=TIMES,
            remedy="Write every time so.",
        )
    is_new_hour = before is None or at.hour != before.hour or at.date() != before.date()
    if is_new_hour and missing_hour(at):
        return Problem(
            where=where,
            found=f"{table.form.text(row.cells)!r}, when the clocks went forward",
            allowed="times that the clock at the site showed, or with their offset",
            remedy="Does the logger keep winter time? Then write +01:00 or so behind each time.",
        )
    box_c = table.oven.read_c(row.cells)
    if box_c is None or not COLDEST_C <= box_c <= HOTTEST_C:
        return Problem(
            where=where,
            found=repr(row.cells[table.oven.place]),
            allowed=DEGREES,
            remedy="Correct it, or leave its cell empty.",
        )
    return ObservedReading(at=in_order(at, before), box_c=box_c)


def _by_minute(path: Path, readings: Sequence[ObservedReading]) -> Iterator[ObservedReading]:
    """Yield one reading a minute, the mean of those in it; raise InputError for two boxes."""
    for _, several in groupby(readings, key=lambda one: int(one.at.timestamp() // 60.0)):
        group = list(several)
        for _, same in groupby(group, key=lambda one: one.at.timestamp()):
            _refuse_two(path, list(same))
        yield ObservedReading(
            at=group[len(group) // 2].at, box_c=sum(one.box_c for one in group) / len(group)
        )


def _refuse_two(path: Path, same: Sequence[ObservedReading]) -> None:
    low, high = min(one.box_c for one in same), max(one.box_c for one in same)
    if high - low > APART_K:
        raise InputError(
            Problem(
                where=str(path),
                found=f"{low:.0f} C and {high:.0f} C at {same[0].at.isoformat(sep=' ')}",
                allowed="one thermometer",
                remedy="Give a file for each thermometer.",
            )
        )


def _is_number(cell: str) -> bool:
    try:
        float(cell.replace(",", "."))
    except ValueError:
        return False
    return True


def _told(path: Path, problems: Sequence[Problem]) -> list[Problem]:
    """Return the first mistakes, and how many more there are."""
    more = len(problems) - SHOWN
    if more <= 0:
        return list(problems)
    rest = Problem(
        where=str(path), found=f"{more} more such rows", allowed=ALLOWED, remedy="See above."
    )
    return [*problems[:SHOWN], rest]


def _mistake(path: Path, found: str, allowed: str = ALLOWED) -> InputError:
    remedy = "Give another file with --csv."
    return InputError(Problem(where=str(path), found=found, allowed=allowed, remedy=remedy))
