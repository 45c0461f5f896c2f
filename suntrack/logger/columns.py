"""A logger's file as rows of cells, and which column is the oven's temperature, in which unit."""

from __future__ import annotations

import csv
import re
from collections import Counter
from dataclasses import dataclass
from typing import TYPE_CHECKING

from suntrack.units import parse_temperature_c

if TYPE_CHECKING:
    from collections.abc import Sequence


UNIT_IN_HEAD = re.compile(
    r"(?:^|[^a-z])(?:deg(?:rees)?\.?\s*|grad\s*)?([cfk])(?:$|[^a-z])"
    r"|(celsius|fahrenheit|kelvin)|([℃℉])|temp(?:erature)?([cf])$",
    re.IGNORECASE,
)
OVEN = re.compile(
    r"oven|box|inside|inner|cooker|ofen|innen|kasten|horno|caja|dentro|interior|\bfour\b|forno"
    r"|caixa|int[ée]rieur",
    re.IGNORECASE,
)
ELSEWHERE = re.compile(
    r"ambient|\bair\b|outside|outdoor|room|shade|umgebung|luft|aussen|außen|ext[ée]rieur|exterior"
    r"|fuera|afuera|ambiente|dew|feels",
    re.IGNORECASE,
)
GAPS = frozenset(
    (
        *("", "-", "--", "---", "nan", "null", "none", "n/a", "na", "err", "error", "fault"),
        *("open", "-127", "-127.0", "-127.00", "-999", "-999.0", "-9999", "-9999.0"),
    )
)
"""Cells of loggers that had nothing to say (common practice, no source)."""
DECIMAL_COMMA = re.compile(r"(-?\d+),(\d+)")


@dataclass(frozen=True, slots=True, kw_only=True)
class OvenColumn:
    """Where the oven's temperature stands."""

    place: int
    """Which column, from 0."""
    unit: str
    """C, F or K; empty where each cell has its own."""

    def is_gap(self, cells: Sequence[str]) -> bool:
        """Return whether a row has nothing to say."""
        return self.place >= len(cells) or cells[self.place].lower() in GAPS

    def read_c(self, cells: Sequence[str]) -> float | None:
        """Return a row's temperature; None for none.  [C]"""
        text = DECIMAL_COMMA.sub(r"\1.\2", cells[self.place])
        try:
            return self._in_c(float(text)) if self.unit else parse_temperature_c(text)
        except ValueError:
            return _with_unit_c(text)

    def _in_c(self, value: float) -> float:
        """Return a number of the column's unit in degrees Celsius."""
        if self.unit == "K":
            return value - 273.15
        return value if self.unit == "C" else (value - 32.0) / 1.8


def unit_of(head: str) -> str:
    """Return C, F or K from the head of a column; empty without."""
    found = UNIT_IN_HEAD.search(head)
    if found is None:
        return ""
    if found[3]:
        return "C" if found[3] == "℃" else "F"
    return next(part for part in (found[1], found[2], found[4]) if part)[0].upper()


def oven_columns(
    head: Sequence[str] | None, first: Sequence[str], *, after: int
) -> tuple[OvenColumn, ...]:
    """Return the columns that may be the oven's: one, when it is clear which.

    Parameters
    ----------
    head : sequence of str or None
        The names of the columns, where there are any.
    first : sequence of str
        The first row of readings.
    after : int
        Column behind that of the time.
    """
    names = {i: (head[i] if head is not None and i < len(head) else "") for i in range(len(first))}
    found = [OvenColumn(place=i, unit=unit_of(name)) for i, name in names.items() if i >= after]
    known = [one for one in found if one.unit or _has_unit(first[one.place])]
    for wanted in (_says_oven, _says_nothing_else):
        fitting = [one for one in known if wanted(names[one.place])]
        if len(fitting) == 1:
            return tuple(fitting)
        known = fitting or known
    return tuple(known)


def _says_oven(name: str) -> bool:
    return OVEN.search(name) is not None


def _says_nothing_else(name: str) -> bool:
    return ELSEWHERE.search(name) is None


def _has_unit(cell: str) -> bool:
    return _with_unit_c(DECIMAL_COMMA.sub(r"\1.\2", cell)) is not None


def _with_unit_c(text: str) -> float | None:
    """Return a temperature that has its unit behind it; None for none.  [C]"""
    try:
        return parse_temperature_c(text)
    except ValueError:
        return None


SEPARATORS = (";", "\t", "|", ",")
"""The comma last, since it may stand in a number."""
LOOKED_AT = 200
"""Lines from which the separator is told (our choice)."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Row:
    """One line that is not blank."""

    line: int
    """Its line in the file, from 1."""
    cells: tuple[str, ...]
    """As they stand there."""


def decoded(content: bytes) -> str:
    """Return a file's text; raise ValueError for what is none.

    UTF-8 and UTF-16 say so themselves or can be told; what is neither is taken for the
    letters of western Windows, in which old loggers write their degree sign.
    """
    if content.startswith((b"\xff\xfe", b"\xfe\xff")):
        return content.decode("utf-16")
    if b"\x00" in content:
        raise ValueError("not a text")
    try:
        return content.decode("utf-8-sig")
    except UnicodeDecodeError:
        return content.decode("cp1252", "replace")


def rows_of(text: str) -> list[Row]:
    """Return the rows of a text, remarks (`#` alone before words) left out."""
    lines = text.splitlines()
    told = [line for line in lines if line.strip() and not _is_remark(line.split())]
    mark = _separator(told[:LOOKED_AT])
    found = (line.split() for line in lines) if mark is None else csv.reader(lines, delimiter=mark)
    rows = (
        Row(line=number, cells=tuple(cell.strip() for cell in cells))
        for number, cells in enumerate(found, start=1)
        if any(cell.strip() for cell in cells)
    )
    return [row for row in rows if not _is_remark(row.cells)]


def _is_remark(cells: Sequence[str]) -> bool:
    return cells[0].startswith("#") and cells[0] != "#"


def _separator(lines: Sequence[str]) -> str | None:
    """Return what separates the cells: what cuts most lines alike; None for blanks."""
    best, most = None, 0
    for mark in SEPARATORS:
        counts = Counter(len(row) for row in csv.reader(lines, delimiter=mark) if len(row) > 1)
        alike = max(counts.values(), default=0)
        if alike > most:
            best, most = mark, alike
    return best
