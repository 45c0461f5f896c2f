"""An alert: one thing to tell the cook, and from when to when it is worth telling.

What has become of it (sent, acknowledged, lapsed) is not here; that is its story, which
`suntrack.alerts.history` folds from the journal.
"""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date, datetime
from typing import TYPE_CHECKING, Literal

if TYPE_CHECKING:
    from suntrack.plan.records import Step

Kind = Literal[
    "evening before",
    "prepare",
    "preheat",
    "load",
    "turn",
    "window opens",
    "window closes",
    "pull",
    "pull by",
    "cover",
    "stove",
    "done",
    "danger near",
    "danger",
    "slower",
    "cloud",
    "gust",
    "rain",
]
Urgency = Literal["low", "normal", "urgent"]


@dataclass(frozen=True, slots=True, kw_only=True)
class Change:
    """What a new plan says of a dish that an older one saw otherwise."""

    dish: str
    """Its name, as the cook knows it."""
    pull_at: datetime | None
    """When it comes out now; None when the box does not finish it any more."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Alert:
    """One thing to tell the cook."""

    key: str
    """The day and the occasion, such as 2026-11-25/turn-2; stays when the plan moves it."""
    kind: Kind
    """What the cook is called for."""
    due_at: datetime
    """When it is worth telling from."""
    lapses_at: datetime
    """From here on it is no longer worth telling."""
    urgency: Urgency = "normal"
    """How loud it may be; food is urgent."""
    step: Step | None = None
    """The plan's step behind it; None for the window and for the last calls of a dish."""
    dish: str | None = None
    """Name of the dish, as the cook knows it."""
    subject: str | None = None
    """Key of the dish, as the journal writes it."""
    detail: str = ""
    """Words of the step, where it has some; empty for most."""
    in_box: bool = False
    """True when its dish was in the box, noted or by the plan, when the plan was made."""
    changes: tuple[Change, ...] = ()
    """The dishes that a new plan sees otherwise; empty for all but such an alert."""
    noted_from: datetime | None = None
    """A note of the cook made from here on says that it has been done; None for never."""

    def __post_init__(self) -> None:
        """Refuse an alert that nobody could tell in time."""
        if self.due_at.tzinfo is None or self.lapses_at <= self.due_at:
            raise ValueError(f"{self.key}: due {self.due_at}, lapses {self.lapses_at}")

    @property
    def day(self) -> date:
        """The day of the plan it belongs to."""
        return day_of(self.key)


def day_of(key: str) -> date:
    """Return the day that an alert's key begins with."""
    return date.fromisoformat(key.partition("/")[0])
