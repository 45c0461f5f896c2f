"""The config's text: reading the file and what it includes, and where each key stands."""

from __future__ import annotations

import tomllib
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any

from suntrack.edge.toml_lines import key_lines, line_of
from suntrack.errors import Problem

INCLUDES = {"site": ("site",), "box": ("box", "pot"), "day": ("dish", "cook")}
"""What each included file may bring: tables by name."""


@dataclass(slots=True, kw_only=True)
class Source:
    """One file that was read."""

    path: Path
    data: dict[str, Any]
    lines: dict[tuple[str | int, ...], int]


@dataclass(slots=True, kw_only=True)
class ConfigText:
    """Everything read, put together, and the mistakes on the way."""

    data: dict[str, Any] = field(default_factory=dict)
    problems: list[Problem] = field(default_factory=list)
    sources: dict[str, Source] = field(default_factory=dict)
    """By top-level key: the file that it came from."""
    main: Path
    texts: list[bytes] = field(default_factory=list)

    def where(self, path: tuple[str | int, ...]) -> str:
        """Return file, line and key path, such as `my.toml:12: box.mirror.length`."""
        shown = ".".join(str(part + 1) if isinstance(part, int) else part for part in path)
        source = self.sources.get(str(path[0])) if path else None
        if source is None:
            return f"{self.main}: {shown}" if shown else str(self.main)
        line = line_of(source.lines, path)
        at = f"{source.path}:{line}" if line else str(source.path)
        return f"{at}: {shown}"


def read_config_text(path: Path) -> ConfigText:
    """Return the file and its includes as one table; mistakes are collected, not raised."""
    text = ConfigText(main=path)
    main = _read(path, text, remedy="Check the path, or leave --config out.")
    if main is None:
        return text
    _merge(text, main, allowed=None)
    include = main.data.get("include", {})
    for name, keys in INCLUDES.items():
        value = include.get(name) if isinstance(include, dict) else None
        if isinstance(value, str):
            source = _read(path.parent / value, text, remedy=f"See include.{name} in {path}.")
            if source is not None:
                _merge(text, source, allowed=keys)
    return text


def _merge(text: ConfigText, source: Source, *, allowed: tuple[str, ...] | None) -> None:
    """Put a file's tables in; the main file's own tables win over included ones."""
    for key, value in source.data.items():
        if allowed is not None and key not in allowed:
            text.problems.append(
                Problem(
                    where=f"{source.path}:{line_of(source.lines, (key,)) or 1}: {key}",
                    found=repr(key),
                    allowed=" and ".join(allowed),
                    remedy="Move it to the main config file.",
                )
            )
        elif key not in text.data:
            text.data[key] = value
            text.sources[key] = source


def _read(path: Path, text: ConfigText, *, remedy: str) -> Source | None:
    """Read one file; None and a problem when it cannot be read."""

    def fail(where: str, found: str, allowed: str, remedy: str) -> None:
        text.problems.append(Problem(where=where, found=found, allowed=allowed, remedy=remedy))

    try:
        raw = path.read_bytes()
        text.texts.append(raw)
        content = raw.decode("utf-8")
        data = tomllib.loads(content)
    except OSError as error:
        fail(str(path), error.strerror or "no file", "a config file", remedy)
    except UnicodeDecodeError:
        fail(str(path), "bytes that are not UTF-8", "UTF-8 text", "Save the file as UTF-8.")
    except tomllib.TOMLDecodeError as error:
        fail(str(path), str(error), "TOML", "Mend that line; the example shows the form.")
    except RecursionError:
        fail(str(path), "brackets nested too deep", "TOML", "Use the form of the example.")
    else:
        return Source(path=path, data=data, lines=key_lines(content.replace("\r\n", "\n")))
    return None
