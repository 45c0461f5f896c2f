"""Reading one table of a cook's file: every mistake is kept, none stops the reading.

Values of the wrong kind are answered with a harmless stand-in and a problem; whoever reads
the table throws the result away when there are problems.  Nothing here knows of dishes.
"""

from __future__ import annotations

import difflib
from dataclasses import dataclass, field
from math import nan
from typing import TYPE_CHECKING, TypeVar

from suntrack.errors import Problem

if TYPE_CHECKING:
    from collections.abc import Iterable, Mapping

Choice = TypeVar("Choice", bound=str)


@dataclass(slots=True, kw_only=True)
class Table:
    """A table being read."""

    where: str
    """File and path of the table, such as `dishes.toml: lentil-soup`."""
    data: Mapping[str, object]
    problems: list[Problem] = field(default_factory=list)

    def complain(self, key: str, found: str, allowed: str, remedy: str = "Correct it.") -> None:
        """Keep one mistake, of a key or, without one, of the whole table."""
        where = f"{self.where}.{key}" if key else self.where
        self.problems.append(Problem(where=where, found=found, allowed=allowed, remedy=remedy))

    def only(self, known: Iterable[str]) -> None:
        """Complain of every key that is not known, with the near one."""
        names = sorted(known)
        for key in self.data:
            if key not in names:
                near = difflib.get_close_matches(key, names, n=1)
                remedy = f"Did you mean {near[0]}?" if near else "Remove it."
                self.complain(key, repr(key), ", ".join(names), remedy)

    def number(self, key: str, *, low: float, high: float, default: float | None = None) -> float:
        """Return a number within bounds."""
        value = self.data.get(key, default)
        allowed = f"a number from {low:g} to {high:g}"
        if isinstance(value, bool) or not isinstance(value, (int, float)):
            value = nan
        if low <= value <= high:
            return float(value)
        self._wrong(key, allowed)
        return low

    def text(self, key: str, *, default: str | None = None) -> str:
        """Return a text that is not empty."""
        value = self.data.get(key, default)
        if isinstance(value, str) and value.strip():
            return value
        self._wrong(key, "text in quotation marks")
        return ""

    def texts(self, key: str) -> tuple[str, ...]:
        """Return a list of texts, empty when it is left out."""
        value = self.data.get(key, [])
        if isinstance(value, list) and all(isinstance(item, str) for item in value):
            return tuple(value)
        self._wrong(key, 'a list of texts, such as ["Keep it closed."]')
        return ()

    def flag(self, key: str, *, default: bool) -> bool:
        """Return true or false."""
        value = self.data.get(key, default)
        if isinstance(value, bool):
            return value
        self._wrong(key, "true or false")
        return default

    def choice(
        self, key: str, allowed: tuple[Choice, ...], *, default: Choice | None = None
    ) -> Choice:
        """Return one of a few words."""
        value = self.data.get(key, default)
        for word in allowed:
            if value == word:
                return word
        self._wrong(key, ", ".join(allowed))
        return allowed[0]

    def _wrong(self, key: str, allowed: str) -> None:
        """Complain of a value that is missing or not what it should be."""
        if key in self.data:
            self.complain(key, repr(self.data[key]), allowed)
        else:
            self.complain(key, "nothing", allowed, "Add the key.")
