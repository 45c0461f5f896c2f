"""On which line of a TOML file a key stands, which the standard parser does not tell.

A walker, not a parser: the text has already been read by `tomllib`, so it is known to be
good.  It follows headers and keys, goes into arrays and inline tables, and steps over
every other value without reading it.
"""

from __future__ import annotations

import re
import tomllib

Path = tuple[str | int, ...]

TOKEN = re.compile(
    r'''"""(?:\\.|[^\\])*?"""(?:"{1,2}(?!"))?'''
    r"""|'{3}.*?'{3}(?:'{1,2}(?!'))?"""
    r"""|"(?:\\.|[^"\\\n])*"|'[^'\n]*'"""
    r"""|\#[^\n]*|\n|[\[\]{}=,.]|[^\s\[\]{}=,.\#"']+""",
    re.DOTALL,
)
"""A string, a comment, the end of a line, a mark, or a bare word; blanks fall between."""


def key_lines(text: str) -> dict[Path, int]:
    """Return the line of every header, key and array entry, by path; entries count from 0."""
    walker = _Walker(text)
    walker.document()
    return walker.lines


def line_of(lines: dict[Path, int], path: Path) -> int | None:
    """Return the line of a path, or of the nearest thing around it; None for the file."""
    for length in range(len(path), 0, -1):
        around = path[:length]
        # A table that has only sub-tables has no line of its own: the first of them will do.
        inside = [line for other, line in lines.items() if other[:length] == around]
        if inside:
            return lines.get(around, min(inside))
    return None


class _Walker:
    """One walk through the tokens of a file, noting lines on the way."""

    def __init__(self, text: str) -> None:
        self.lines: dict[Path, int] = {}
        self._tokens: list[tuple[str, int]] = []
        self._at = 0
        self._entries: dict[Path, int] = {}
        number, end = 1, 0
        for match in TOKEN.finditer(text):
            number += text.count("\n", end, match.start())
            self._tokens.append((match[0], number))
            number, end = number + match[0].count("\n"), match.end()

    def document(self) -> None:
        """Walk the whole file: headers, and the keys under each."""
        table: Path = ()
        while self._skip_blank():
            if self._here() == "[":
                table = self._header()
            else:
                self._pair(table)

    def _here(self) -> str:
        """Return the token here, or nothing at the end."""
        return self._tokens[self._at][0] if self._at < len(self._tokens) else ""

    def _skip_blank(self) -> bool:
        """Step over line ends and comments; False at the end of the file."""
        while self._here().startswith(("\n", "#")):
            self._at += 1
        return self._here() != ""

    def _header(self) -> Path:
        """Note a header and return the path of its table, inside the last entry of arrays."""
        number = self._tokens[self._at][1]
        marks = self._run_of("[")
        parts = self._dotted()
        self._run_of("]")
        path: Path = ()
        for i, part in enumerate(parts, start=1):
            path = (*path, part)
            if marks == 2 and i == len(parts):
                self._entries[path] = self._entries.get(path, -1) + 1
            if path in self._entries:
                path = (*path, self._entries[path])
        self.lines.setdefault(path, number)
        return path

    def _run_of(self, mark: str) -> int:
        """Step over a mark that stands once or twice and return how often."""
        start = self._at
        while self._here() == mark:
            self._at += 1
        return self._at - start

    def _dotted(self) -> Path:
        """Step over a key and return its parts."""
        parts = [_key(self._here())]
        self._at += 1
        while self._here() == ".":
            parts.append(_key(self._tokens[self._at + 1][0]))
            self._at += 2
        return tuple(parts)

    def _pair(self, table: Path) -> None:
        """Note a key, and step over the equals sign and the value."""
        number = self._tokens[self._at][1]
        path = (*table, *self._dotted())
        self.lines.setdefault(path, number)
        self._at += 1
        self._value(path)

    def _value(self, path: Path) -> None:
        """Step over a value, noting what stands inside."""
        if self._here() in ("[", "{"):
            self._inside(path, is_array=self._here() == "[")
            return
        while self._here() and not self._here().startswith(("\n", "#", ",", "]", "}")):
            self._at += 1

    def _inside(self, path: Path, *, is_array: bool) -> None:
        """Step over an array or an inline table, noting each entry or key."""
        count = 0
        self._at += 1
        while self._skip_blank() and self._here() not in ("]", "}"):
            if self._here() == ",":
                self._at += 1
            elif is_array:
                self.lines[(*path, count)] = self._tokens[self._at][1]
                self._value((*path, count))
                count += 1
            else:
                self._pair(path)
        self._at += 1


def _key(token: str) -> str:
    """Return a part of a key without its quotes, read by the standard parser."""
    return token if token[0] not in "\"'" else next(iter(tomllib.loads(f"{token} = 0")))
