"""Food that must not stay in the box: what a cook is told of it on every screen."""

from __future__ import annotations

from typing import TYPE_CHECKING

from suntrack.food.past_saving import THROW_AWAY
from suntrack.screen.text.measures import in_units
from suntrack.screen.text.notices import GLOVES

if TYPE_CHECKING:
    from suntrack.plan.records import DayPlan, TakeOut
    from suntrack.units import Units

IF_WARM = (
    "If it has stood warm for more than two hours, or one above 32 °C (90 °F), throw it away and "
    "do not taste it. Follow your local food authority."
)
"""USDA FSIS, the two-hour rule (consumer advice, from memory)."""
UNKNOWN = (
    "It is none of today's dishes: the plan does not count it, and no safety clock of it is "
    "watched. Give it a [[dish]] table in the config, or take it out."
)
NEVER_IN = (
    "Nothing says that {name} went in today. If it did, note that too, with its time: "
    "suntrack note loaded {dish} --at 10:30."
)
NOT_TODAY = "{name} is none of today's dishes; the plan does not count it."


def never_in_words(dish: str, name: str) -> str:
    """Return what to say when a dish came out that never went in."""
    return NEVER_IN.format(dish=dish, name=name)


def not_today_words(name: str) -> str:
    """Return what to say of a dish that came out and that the day does not have."""
    return NOT_TODAY.format(name=name)


def take_out_lines(plan: DayPlan, units: Units) -> tuple[str, ...]:
    """Return a line for each dish that has to come out of the box or be known."""
    return tuple(take_out_words(one, units) for one in plan.take_out)


def take_out_words(one: TakeOut, units: Units) -> str:
    """Return what is to be done with one dish, and why."""
    since = f"in the box since {units.time_text(one.loaded_at)}, by your note"
    if one.kind == "spoiled":
        said = f"{one.name}: {THROW_AWAY}"
    elif one.kind == "refused":
        said = f"{one.name}, {since}: take it out now. {GLOVES} {one.reason} {IF_WARM}"
    else:
        said = f"{one.name}, {since}. {UNKNOWN}"
    return in_units(said, units)
