"""Food that must not stay in the box: what a cook is told of it on every screen."""

from __future__ import annotations

from typing import TYPE_CHECKING

from suntrack.food.past_saving import NEVER_EAT, THROW_AWAY
from suntrack.screen.text.measures import in_units
from suntrack.screen.text.notices import GLOVES

if TYPE_CHECKING:
    from suntrack.plan.records import DayPlan, DishPlan, TakeOut
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
LEFT_OVER = (
    "If it is still in the box, throw it away. {never} Once it is out, note it: suntrack note "
    "pulled {dish}."
)
NOT_SAFE_YET = (
    "By the plan it was not safe yet when it came out. Cook it on the kitchen stove now, without "
    "a break, until a food thermometer in the middle shows what its rule asks for; never keep it "
    "half cooked. If that cannot be done at once, throw it away. Follow your local food authority."
)
"""USDA FSIS on partial cooking (consumer advice, from memory)."""
UNFINISHED = (
    "It came out before it was done and safe. If it is not on the kitchen stove yet, put it there "
    "now and finish it without a break, to what its rule asks for, by a food thermometer in the "
    "middle. If it stood warm for two hours, throw it away. Follow your local food authority."
)
NOT_DONE_YET = "By the plan it is safe but not done: give it the rest on the kitchen stove now."
OUT_IN_TIME = (
    "By the plan it is done and safe; a food thermometer in the middle decides. Eat it now, or "
    "keep it at 60 °C (140 °F) or more until it is eaten."
)
NOT_TODAY = "{name} is none of today's dishes; the plan does not count it."


def never_in_words(dish: str, name: str) -> str:
    """Return what to say when a dish came out that never went in."""
    return NEVER_IN.format(dish=dish, name=name)


def not_today_words(name: str) -> str:
    """Return what to say of a dish that came out and that the day does not have."""
    return NOT_TODAY.format(name=name)


def came_out_words(dish: DishPlan, units: Units) -> str:
    """Return what a dish is, by the plan, at the moment it came out of the box."""
    out_at = dish.pull_at
    assert out_at is not None
    if dish.status == "spoiled":
        said = THROW_AWAY
    elif dish.safe_at is None or dish.safe_at > out_at:
        said = NOT_SAFE_YET
    elif dish.done_at is None or dish.done_at > out_at:
        said = NOT_DONE_YET
    else:
        said = OUT_IN_TIME
    return in_units(f"{dish.name}: {said}", units)


def take_out_lines(plan: DayPlan, units: Units) -> tuple[str, ...]:
    """Return a line for each dish that has to come out of the box or be known."""
    return tuple(take_out_words(one, units) for one in plan.take_out)


def take_out_words(one: TakeOut, units: Units) -> str:
    """Return what is to be done with one dish, and why."""
    since = f"in the box since {units.time_text(one.loaded_at)}, by your note"
    if one.kind == "spoiled":
        said = f"{one.name}: {THROW_AWAY}"
    elif one.kind == "left over":
        left = LEFT_OVER.format(never=NEVER_EAT, dish=one.dish)
        said = f"{one.name}, in the box since yesterday, by your note. {left}"
    elif one.kind == "unfinished":
        said = f"{one.name}: {UNFINISHED}"
    elif one.kind == "refused":
        said = f"{one.name}, {since}: take it out now. {GLOVES} {one.reason} {IF_WARM}"
    else:
        said = f"{one.name}, {since}. {UNKNOWN}"
    return in_units(said, units)
