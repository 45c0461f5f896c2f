"""On which line of a TOML file a key stands, which the standard parser does not tell.

A scanner, not a parser: the text has already been read by `tomllib`, so it is known to be
good.  It follows headers, keys and strings, and steps over values.
"""

from __future__ import annotations

import re
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from collections.abc import Iterator

Path = tuple[str | int, ...]

PART = r"""[A-Za-z0-9_-]+|"(?:\\.|[^"\\])*"|'[^']*'"""
DOTTED = rf"\s*(?:{PART})(?:\s*\.\s*(?:{PART}))*\s*"
HEADER = re.compile(rf"\s*(\[\[?)({DOTTED})\]\]?\s*(?:#.*)?$")
KEY = re.compile(rf"({DOTTED})=")
TOKEN = re.compile(
    r"'''.*?'''(?:'{1,2}(?!'))?"
    r'|"""(?:\\.|[^\\])*?"""(?:"{1,2}(?!"))?'
    r"""|"(?:\\.|[^"\\\n])*"|'[^'\n]*'|\#[^\n]*|[\[\]{}\n]|[^\[\]{}\n"'#]+""",
    re.DOTALL,
)


def key_lines(text: str) -> dict[Path, int]:
    """Return the line of every header and key, by path; array tables count from 0."""
    lines: dict[Path, int] = {}
    counts: dict[Path, int] = {}
    table: Path = ()
    for number, statement in _statements(text):
        header = HEADER.match(statement)
        if header:
            table = _enter(_parts(header[2]), counts, is_array=header[1] == "[[")
            lines.setdefault(table, number)
            continue
        key = KEY.match(statement)
        if key:
            lines.setdefault((*table, *_parts(key[1])), number)
    return lines


def line_of(lines: dict[Path, int], path: Path) -> int | None:
    """Return the line of a path, or of the nearest thing around it; None for the file."""
    for length in range(len(path), 0, -1):
        if path[:length] in lines:
            return lines[path[:length]]
    # A table that has only sub-tables has no line of its own: the first of them will do.
    inside = [line for other, line in lines.items() if other[: len(path)] == path]
    return min(inside, default=None)


def _statements(text: str) -> Iterator[tuple[int, str]]:
    """Yield (line number, first line of each statement); values may run over many lines."""
    depth, number, start, statement = 0, 1, 1, ""
    for piece in TOKEN.findall(text):
        if piece == "\n" and depth == 0:
            yield start, statement
            start, statement = number + 1, ""
        else:
            is_header = not statement.strip() or statement.strip().startswith("[")
            if not (piece in "[]" and is_header and "=" not in statement):
                depth += {"[": 1, "{": 1, "]": -1, "}": -1}.get(piece, 0)
            statement += piece
        number += piece.count("\n")
    yield start, statement


def _parts(dotted: str) -> tuple[str, ...]:
    """Return the parts of a dotted key, quotes taken off."""
    return tuple(_unquote(part) for part in re.findall(PART, dotted))


def _unquote(part: str) -> str:
    """Return a key without its quotes; escapes other than the usual two stay as written."""
    if part.startswith('"'):
        return part[1:-1].replace('\\"', '"').replace("\\\\", "\\")
    return part[1:-1] if part.startswith("'") else part


def _enter(parts: tuple[str, ...], counts: dict[Path, int], *, is_array: bool) -> Path:
    """Return the path of a header, going into the last entry of every array on the way."""
    path: Path = ()
    for i, part in enumerate(parts):
        path = (*path, part)
        if is_array and i == len(parts) - 1:
            counts[path] = counts.get(path, -1) + 1
        if path in counts:
            path = (*path, counts[path])
    return path
