"""The words of a notice: a short title to be read at a glance, and a line below it."""

from __future__ import annotations

from datetime import timedelta
from typing import TYPE_CHECKING

from suntrack.food.past_saving import NEVER_EAT
from suntrack.screen.text.chances import GUSTY_CARE, RAINY_CARE
from suntrack.screen.text.directions import ANY_WAY, face_words, mirror_words, turn_words
from suntrack.screen.text.measures import in_units

if TYPE_CHECKING:
    from collections.abc import Mapping
    from datetime import datetime
    from zoneinfo import ZoneInfo

    from suntrack.alerts.alert import Alert, Change, Kind
    from suntrack.units import Units

NO_PLAN_YET = "The plan for today is being made."
GLOVES = "Dry oven gloves; open the lid away from your face."
TITLES: Mapping[Kind, str] = {
    "evening before": "For tomorrow: {dish}",
    "prepare": "Get ready: {dish}",
    "preheat": "Set out the empty box",
    "load": "{dish} goes in",
    "turn": "Turn the box",
    "window opens": "The box is hot enough",
    "window closes": "The box is cooling down",
    "pull": "{dish} comes out",
    "pull by": "{dish} has to come out now",
    "stove": "{dish}: to the kitchen stove",
    "cover": "Cover the box",
    "done": "{dish} is done, by the plan",
    "danger near": "{dish}: its safety clock runs out soon",
    "danger": "{dish} stood warm too long",
    "slower": "The box is slower than planned",
    "cloud": "The forecast has more cloud",
    "gust": "Gusts are coming: tie the mirror",
    "rain": "Rain may come: keep the cover at hand",
}
BODIES: Mapping[Kind, str] = {
    "load": GLOVES,
    "window opens": "By the plan it can take a dish from now on.",
    "window closes": "By the plan it does not cook much from now on.",
    "pull": GLOVES,
    "pull by": f"It has waited as long as it should. {GLOVES}",
    "stove": f"In the box it will not be ready; the stove still saves it. {GLOVES}",
    "cover": "If it has a mirror that folds, fold it down first.",
    "gust": f"They are forecast until {{until}}. {GUSTY_CARE}",
    "rain": f"It is forecast until {{until}}. {RAINY_CARE}",
    "done": "It can stay in until {until}. Check the middle with a food thermometer.",
    "danger near": (
        "It does not get hot enough in the box. By {until} it has to boil on the kitchen stove; "
        f"after that it cannot be saved. {GLOVES}"
    ),
    "danger": f"If it is still in the box, throw it away. {NEVER_EAT}",
}
LATE = timedelta(seconds=60)
"""A notice this late says so."""


def alert_words(
    alert: Alert, *, units: Units, zone: ZoneInfo | None = None, now: datetime
) -> tuple[str, str]:
    """Return the title and the body of a notice."""
    title, body = _title(alert), _body(alert, units=units, zone=zone)
    parts = [in_units(part, units) for part in (body, alert.detail) if part]
    late = late_words(alert.due_at, units=units, zone=zone, now=now)
    return title, " ".join([*dict.fromkeys(parts), *([late] if late else [])])


def late_words(due_at: datetime, *, units: Units, zone: ZoneInfo | None, now: datetime) -> str:
    """Return since when a step is due, such as `(due 11:42, 3 min ago)`; nothing when it is not."""
    if now - due_at <= LATE:
        return ""
    minutes = round((now - due_at).total_seconds() / 60.0)
    ago = f"{minutes} min ago" if minutes < 120 else f"{minutes // 60} h ago"
    return f"(due {units.time_text(due_at, zone)}, {ago})"


def _title(alert: Alert) -> str:
    """Return the thing to do."""
    turn = alert.step.turn if alert.step else None
    if alert.kind == "turn" and turn is not None:
        return turn_words(turn)
    return TITLES[alert.kind].format(dish=alert.dish or "The dish")


def _body(alert: Alert, *, units: Units, zone: ZoneInfo | None) -> str:
    """Return the line below the title."""
    if alert.kind in ("preheat", "turn"):
        return _aim(alert)
    if alert.kind in ("evening before", "prepare"):
        return alert.step.detail if alert.step else ""
    if alert.changes:
        return " ".join(change_words(change, units=units, zone=zone) for change in alert.changes)
    return BODIES.get(alert.kind, "").format(until=units.time_text(alert.lapses_at, zone))


def change_words(change: Change, *, units: Units, zone: ZoneInfo | None) -> str:
    """Return what a new plan says of a dish that an older one saw otherwise."""
    if change.pull_at is None:
        return f"{change.dish}: the box will not finish it; plan it for the kitchen stove."
    return f"{change.dish} comes out at {units.time_text(change.pull_at, zone)} now."


def _aim(alert: Alert) -> str:
    """Return where to face the box."""
    turn = alert.step.turn if alert.step else None
    if turn is None:
        return ""
    if turn.any_way:
        return f"{ANY_WAY.capitalize()}."
    mirror = mirror_words(turn.mirror_deg)
    where = face_words(turn.face_true_deg, turn.face_compass_deg)
    return f"Face {where}{'; ' if mirror else ''}{mirror}."
