"""Reading one table of a cook's file: every mistake is kept, none stops the reading.

Values of the wrong kind are answered with a harmless stand-in and a problem; whoever reads
the table throws the result away when there are problems.  Nothing here knows of dishes.
"""

from __future__ import annotations

from dataclasses import dataclass, field
from math import nan
from typing import TYPE_CHECKING, TypeVar

from suntrack.errors import Problem, did_you_mean

if TYPE_CHECKING:
    from collections.abc import Callable, Iterable, Mapping

Choice = TypeVar("Choice", bound=str)
LONGEST_SHOWN = 60


@dataclass(slots=True, kw_only=True)
class Table:
    """A table being read."""

    path: tuple[str, ...]
    """Keys that lead to it, such as `("lentil-soup",)`."""
    place: Callable[[tuple[str, ...]], str]
    """From a path to where that is, such as `dishes.toml:12: lentil-soup.z_c`."""
    data: Mapping[str, object]
    """As it stands in the file."""
    problems: list[Problem] = field(default_factory=list)
    """Every mistake, in the order of the file."""

    def complain(self, key: str, found: str, allowed: str, remedy: str = "Correct it.") -> None:
        """Keep one mistake, of a key or, without one, of the whole table."""
        where = self.place((*self.path, key) if key else self.path)
        self.problems.append(Problem(where=where, found=found, allowed=allowed, remedy=remedy))

    def only(self, known: Iterable[str]) -> None:
        """Complain of every key that is not known, with the near one."""
        names = sorted(known)
        for key in self.data:
            if key not in names:
                self.complain(key, shown(key), ", ".join(names), _near(key, names, "Remove it."))

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

    def choices(self, key: str, allowed: tuple[Choice, ...]) -> tuple[Choice, ...]:
        """Return a list of a few words, each once; empty when it is left out."""
        found = []
        for value in dict.fromkeys(self.texts(key)):
            words = [word for word in allowed if word == value]
            if not words:
                self.complain(key, shown(value), ", ".join(allowed), _near(value, allowed))
            found += words
        return tuple(found)

    def part(self, key: str, known: Iterable[str]) -> Table | None:
        """Return a table inside this one; its problems are this one's too."""
        value = self.data.get(key)
        if not isinstance(value, dict):
            self._wrong(key, "a table in braces")
            return None
        inside = Table(path=(*self.path, key), place=self.place, data=value, problems=self.problems)
        inside.only(known)
        return inside

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
            self.complain(key, shown(self.data[key]), allowed)
        else:
            self.complain(key, "nothing", allowed, "Add the key.")


def shown(value: object) -> str:
    """Return a value as a message shows it, cut to a line."""
    try:
        text = repr(value)
    except ValueError:
        # Python writes no number of more than 4300 digits.
        text = "a number of thousands of digits"
    return text if len(text) <= LONGEST_SHOWN else f"{text[:LONGEST_SHOWN]}..."


def path_text(path: tuple[str, ...]) -> str:
    """Return a path of keys on one line, whatever is in the keys."""
    parts = (part if part.isprintable() else ascii(part)[1:-1] for part in path)
    return ".".join(part[:LONGEST_SHOWN] for part in parts)


def _near(word: str, known: Iterable[str], else_: str = "Correct it.") -> str:
    """Return the hint for a word that is not known."""
    return did_you_mean(word, known, otherwise=else_, alike=0.6)
