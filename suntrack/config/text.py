"""The config's text: reading the file and what it includes, and where each key stands."""

from __future__ import annotations

import re
import tomllib
from dataclasses import dataclass, field
from pathlib import Path
from typing import TYPE_CHECKING, Any

from suntrack.config.toml_lines import key_lines, line_of
from suntrack.errors import Problem

if TYPE_CHECKING:
    from collections.abc import Iterable

INCLUDES = {"site": ("site",), "box": ("box", "pot"), "day": ("dish", "cook")}
"""What each included file may bring: tables by name."""
LARGEST_BYTES = 1_000_000
"""Far more than any config; keeps a wrong path from filling the memory."""
TOML_REMEDY = (
    "Mend that line: texts and quantities stand in quotation marks, as in "
    'width = "55 cm"; config/suntrack.toml shows the form.'
)


@dataclass(frozen=True, slots=True, kw_only=True)
class Complaint:
    """A problem whose place is a path of keys, not yet a line of a file."""

    path: tuple[str | int, ...]
    """Which key."""
    found: str
    """What stands there."""
    allowed: str
    """What may stand there."""
    remedy: str
    """What to do about it."""


@dataclass(slots=True, kw_only=True)
class Source:
    """One file that was read."""

    path: Path
    """The file."""
    data: dict[str, Any]
    """What is in it."""
    lines: dict[tuple[str | int, ...], int]
    """Its sentences, in order."""


@dataclass(slots=True, kw_only=True)
class ConfigText:
    """Everything read, put together, and the mistakes on the way."""

    data: dict[str, Any] = field(default_factory=dict)
    """All files as one."""
    problems: list[Problem] = field(default_factory=list)
    """Every mistake, in the order of the file."""
    sources: dict[str, Source] = field(default_factory=dict)
    """By top-level key: the file that it came from."""
    main: Path
    """The file that was asked for."""
    texts: dict[Path, bytes] = field(default_factory=dict)
    """Every byte that was read, by file, in the order of reading."""
    unread: set[str] = field(default_factory=set)
    """Top-level keys that an include was to bring, had it been readable."""

    def report(self, complaints: Iterable[Complaint]) -> list[Problem]:
        """Return complaints as problems, each once, in the order of the files."""
        ordered = sorted(dict.fromkeys(complaints), key=lambda c: self._rank(c.path))
        return [
            Problem(
                where=self._where(complaint.path),
                found=complaint.found,
                allowed=complaint.allowed,
                remedy=complaint.remedy,
            )
            for complaint in ordered
        ]

    def _rank(self, path: tuple[str | int, ...]) -> tuple[bool, str, int]:
        """Return what sorts by place: the main file first, then by line."""
        file, line = self._place(path)
        return file != self.main, str(file), line or 0

    def _where(self, path: tuple[str | int, ...]) -> str:
        """Return file, line and key path, such as `my.toml:12: box.mirror.length`."""
        shown = ".".join(str(part + 1) if isinstance(part, int) else part for part in path)
        file, line = self._place(path)
        return f"{file}:{line}: {shown}" if line else f"{file}: {shown}"

    def _place(self, path: tuple[str | int, ...]) -> tuple[Path, int | None]:
        """Return the file and the line of a key path; no line when the file lacks it."""
        source = self.sources.get(str(path[0])) if path else None
        return (source.path, line_of(source.lines, path)) if source else (self.main, None)


def read_config_text(path: Path) -> ConfigText:
    """Return the file and its includes as one table; mistakes are collected, not raised."""
    text = ConfigText(main=path)
    main = read_source(path, text, remedy="Check the path, or leave --config out.")
    if main is None:
        return text
    text.data, text.sources = dict(main.data), dict.fromkeys(main.data, main)
    include = main.data.get("include", {})
    for name, keys in INCLUDES.items():
        value = include.get(name) if isinstance(include, dict) else None
        if isinstance(value, str):
            _include(text, name, value, keys)
    return text


def _include(text: ConfigText, name: str, value: str, keys: tuple[str, ...]) -> None:
    """Put an included file's tables in; the main file's own tables win over them."""
    here = ("include", name)
    path = text.main.parent / Path(value).expanduser()
    source = read_source(path, text, remedy=f"See include.{name} in {text.main}.")
    if source is None:
        text.unread.update(key for key in keys if key not in text.data)
        return
    brought = {key for key in keys if key in source.data and key not in text.data}
    if not brought:
        text.problems += text.report([_brings_nothing(here, value, keys)])
    for key in source.data:
        if key in brought:
            text.data[key] = source.data[key]
            text.sources[key] = source
        elif key not in keys:
            text.problems.append(_foreign(source, key, keys))


def _brings_nothing(here: tuple[str, ...], value: str, keys: tuple[str, ...]) -> Complaint:
    tables = " or ".join(f"[{key}]" for key in keys)
    return Complaint(
        path=here,
        found=f'"{value}", of which nothing is used',
        allowed=f"a file with {tables}, where the main file has none",
        remedy=f"Take {tables} out of the main file, or remove this line.",
    )


def _foreign(source: Source, key: str, keys: tuple[str, ...]) -> Problem:
    return Problem(
        where=f"{source.path}:{line_of(source.lines, (key,)) or 1}: {key}",
        found=f'"{key}"',
        allowed=" and ".join(keys),
        remedy="Move it to the main config file.",
    )


def read_source(path: Path, text: ConfigText, *, remedy: str) -> Source | None:
    """Read one file; None and a problem when it cannot be read."""
    try:
        raw = _bytes(path)
    except (OSError, ValueError) as error:
        # A path with a NUL in it is a ValueError, not an OSError.
        found = getattr(error, "strerror", None) or str(error)
        text.problems.append(
            Problem(where=str(path), found=found, allowed="a config file", remedy=remedy)
        )
        return None
    text.texts[path] = raw
    try:
        # Some editors put a mark before the text to say that it is UTF-8.
        content = raw.decode("utf-8-sig").replace("\r\n", "\n")
        return Source(path=path, data=tomllib.loads(content), lines=key_lines(content))
    except (ValueError, RecursionError) as error:
        text.problems.append(_unreadable(path, raw, error))
    return None


def _bytes(path: Path) -> bytes:
    with path.open("rb") as file:
        raw = file.read(LARGEST_BYTES + 1)
    if len(raw) > LARGEST_BYTES:
        raise ValueError("a file of more than 1 MB")
    return raw


def _unreadable(path: Path, raw: bytes, error: Exception) -> Problem:
    """Return the problem of a text that is no TOML."""
    where, found, allowed, remedy = str(path), str(error), "TOML", TOML_REMEDY
    if isinstance(error, UnicodeDecodeError):
        found, allowed = "bytes that are not UTF-8", "UTF-8 text"
        remedy = "Save the file as UTF-8."
    elif isinstance(error, RecursionError):
        found, remedy = "brackets nested too deep", "Use the form of the example."
    elif isinstance(error, tomllib.TOMLDecodeError):
        number, found = _toml_mistake(str(error), raw.decode("utf-8-sig"))
        where = f"{path}:{number}"
    return Problem(where=where, found=found, allowed=allowed, remedy=remedy)


def _toml_mistake(message: str, content: str) -> tuple[int, str]:
    """Return the line of a syntax mistake, and what is wrong with it, quoting the line."""
    match = re.fullmatch(r"(.*) \(at line (\d+), column \d+\)", message, re.DOTALL)
    lines = content.splitlines() or [""]
    number = int(match[2]) if match else len(lines)
    quoted = lines[number - 1].strip() if number <= len(lines) else ""
    shown = hide_address("".join(sign if sign.isprintable() else "?" for sign in quoted))
    return number, f"{match[1] if match else message}: {shown}"[:160]


def hide_address(text: str) -> str:
    """Return a text without what stands behind a `://`, which may be a password."""
    return re.sub(r"://.*", "://...", text)
