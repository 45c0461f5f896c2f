"""A logger's file as rows of cells: its letters, its separator, its head."""

from __future__ import annotations

import csv
from collections import Counter
from dataclasses import dataclass
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from collections.abc import Sequence

SEPARATORS = (";", "\t", "|", ",")
"""The comma last, since it may stand in a number."""
LOOKED_AT = 200
"""Lines from which the separator is told (our choice)."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Row:
    """One line that is not blank."""

    line: int
    cells: tuple[str, ...]


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
