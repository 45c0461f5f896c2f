"""The few words the watch itself adds to an alert's: again, missed, too late, asleep.

What an alert says, and how late it is, is in `suntrack.screen.text.day`; the watch is given
it as a function.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Iterable
from datetime import datetime, timedelta
from typing import TYPE_CHECKING

from suntrack.food.past_saving import NEVER_EAT
from suntrack.units import span_words

if TYPE_CHECKING:
    from suntrack.alerts.alert import Alert, Kind

TimeText = Callable[[datetime], str]
"""From an instant to a time of day as this cook reads it."""

UNTRUSTED = "The clock is not trusted: nothing is told until it is set, or ten minutes have passed."
DISK_FULL = "The disk is full: the journal writes its last lines. Make room soon."
MISSED_WORDS: dict[Kind, tuple[str, str]] = {
    "evening before": ("thing to prepare", "things to prepare"),
    "prepare": ("thing to prepare", "things to prepare"),
    "preheat": ("turn", "turns"),
    "turn": ("turn", "turns"),
    "load": ("dish to put in", "dishes to put in"),
    "pull": ("dish to take out", "dishes to take out"),
    "pull by": ("dish to take out", "dishes to take out"),
    "cover": ("covering of the box", "coverings of the box"),
    "stove": ("dish to move to the stove", "dishes to move to the stove"),
    "done": ("word that a dish is done", "words that a dish is done"),
    "danger near": ("warning of a safety clock", "warnings of a safety clock"),
    "danger": ("end of a safety clock", "ends of a safety clock"),
    "slower": ("change of plan", "changes of plan"),
    "cloud": ("change of plan", "changes of plan"),
    "gust": ("warning of gusts", "warnings of gusts"),
    "rain": ("warning of rain", "warnings of rain"),
    "window opens": ("opening of the window", "openings of the window"),
    "window closes": ("closing of the window", "closings of the window"),
}
TOO_LATE_FOR_STOVE = (
    "It is past the time at which the kitchen stove could still save it. Food that stood "
    "warm too long can make you ill even when it is cooked on: when in doubt, throw it out, "
    "and follow your local food authority."
)
THROW_AWAY = f"If it is still in the box, throw it away. {NEVER_EAT}"
LONG_IN_BOX = (
    "You were not called in time. Take it out with dry oven gloves; if it has cooled in the "
    "box, follow your local food authority before anyone eats it."
)


def missed_words(alerts: Iterable[Alert]) -> str:
    """Return one line for everything that was never told: `Missed: 3 turns.`"""
    counts = Counter(MISSED_WORDS[alert.kind] for alert in alerts)
    parts = [f"{n} {one if n == 1 else many}" for (one, many), n in counts.items()]
    return f"Missed: {', '.join(parts)}." if parts else ""


def asleep_words(from_at: datetime, to_at: datetime, *, time_text: TimeText) -> str:
    """Return the line for a stretch in which the computer slept, or its clock was set."""
    return f"Asleep from {time_text(from_at)} to {time_text(to_at)}."


def clock_words(step_s: float) -> str:
    """Return the line for a clock that was set back."""
    return (
        f"The clock was set back by {span_words(timedelta(seconds=step_s))}. "
        "Nothing is told twice; what comes next goes by the new time."
    )


def way_words(way: str, reason: str, *, backup: str | None = None) -> str:
    """Return the line for a way that did not take its last notice."""
    instead = f" What it does not take goes by {backup}." if backup else ""
    return f"You are not called by {way}: {reason}.{instead}"


def doubt_words(titles: Iterable[str]) -> str:
    """Return the line for alerts of which nobody knows whether they were told."""
    said = ", ".join(titles)
    return f"You may have been told, or not: {said}." if said else ""


def undelivered_words(titles: Iterable[str]) -> str:
    """Return the line for alerts that no way took."""
    said = ", ".join(titles)
    return f"NOT DELIVERED: {said}." if said else ""


def too_late_words(alert: Alert, title: str, *, time_text: TimeText) -> str:
    """Return what to say when food could not be called for in time at all."""
    advice = {"stove": TOO_LATE_FOR_STOVE, "danger": THROW_AWAY}.get(alert.kind, LONG_IN_BOX)
    return f"{title} (was due {time_text(alert.due_at)}). {advice}"
