"""A notice, the ways it can be handed over, and what a way may answer.

Each way has a file of its own: `notify_terminal`, `notify_desktop` (Linux),
`notify_other_desktops`.  Handing one notice to all ways at once is in `hand_over`.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, Literal, Protocol

if TYPE_CHECKING:
    from suntrack.alerts.alert import Urgency

Answer = Literal["done", "snooze"]
"""What a cook can answer on a notice."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Notice:
    """What the cook sees, as plain text."""

    key: str
    """Of the alert; a way that can do so shows one notice for each key."""
    title: str
    """What is read at a glance."""
    body: str = ""
    """One line more."""
    urgency: Urgency = "normal"
    """How loud it may be."""
    replaces: str | None = None
    """What this way called an earlier notice, whose place this one takes."""


@dataclass(frozen=True, slots=True)
class Accepted:
    """The way took the notice and said so."""

    id: str | None = None
    """What the way calls it."""


@dataclass(frozen=True, slots=True)
class Refused:
    """The way said no; nothing was shown."""

    reason: str
    """Why, in words."""


@dataclass(frozen=True, slots=True)
class Unknown:
    """Nobody can tell whether it was shown."""

    reason: str
    """What is known of it, in words."""
    repeat: bool = True
    """False when the way never gives receipts, so that asking again only repeats."""


Outcome = Accepted | Refused | Unknown


class Notifier(Protocol):
    """One way to the cook."""

    @property
    def name(self) -> str:
        """What the journal calls it."""
        ...  # pragma: no cover

    def send(self, notice: Notice) -> Outcome:
        """Hand a notice over, within a few seconds, and say what came of it."""
        ...  # pragma: no cover


def printable(text: str) -> str:
    """Return text without control characters, which a terminal or a desktop might obey."""
    return "".join(char if char.isprintable() or char == "\n" else " " for char in text)
