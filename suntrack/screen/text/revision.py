"""Words for what a new plan changes, and for what would mend a dish that was left out."""

from __future__ import annotations

from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from suntrack.plan.records import DayPlan, DishPlan, Remedy, Revision, TurnChoice
    from suntrack.units import Units

CAUSES = {
    "reading": "the box was read",
    "note": "of what you noted",
    "config": "the config has changed",
    "forecast": "the forecast is new",
    "no forecast": "there is no fresh forecast any more",
    "time": "time has gone by",
}


def revision_lines(plan: DayPlan, units: Units) -> tuple[str, ...]:
    """Return one line of what is not as it was shown, and why; none for nothing."""
    if not plan.revisions:
        return ()
    parts = "; ".join(_revision(one, units) for one in plan.revisions)
    return (f"Changed since you were told, because {CAUSES[plan.revisions[0].cause]}: {parts}.",)


def _revision(one: Revision, units: Units) -> str:
    """Return one change as a part of a sentence."""
    before = units.time_text(one.before) if one.before else None
    after = units.time_text(one.after) if one.after else None
    if one.kind == "turn":
        return f"a turn at {after}" if after else f"no turn at {before}"
    if after is None:
        return f"{one.dish} does not go in, it was to at {before}"
    if before is None:
        return f"{one.dish} goes in at {after} after all"
    return f"{one.dish} goes in at {after}, not {before}"


def mend_lines(dish: DishPlan, units: Units) -> tuple[str, ...]:
    """Return a sentence for each change that would help."""
    return tuple(_mend(mend, units) for mend in dish.mends)


def _mend(mend: Remedy, units: Units) -> str:
    """Return what would help, as a sentence."""
    if mend.kind == "somebody" and mend.load_at is not None:
        return f"If somebody puts it in by {units.time_text(mend.load_at)}, it comes good in time."
    if mend.kind == "later meal" and mend.ready_at is not None:
        return f"For a later meal it would be ready by {units.time_text(mend.ready_at)}."
    if mend.kind == "half":
        return "Half as much would be ready in time."
    return "Alone in the box it would be ready in time."


def need_words(choice: TurnChoice) -> str:
    """Return what a way of turning does for the meal, short; empty where no dish asks."""
    if choice.chance is not None:
        return f"{round(10.0 * choice.chance)} of 10"
    return "" if choice.weakest_sun is None else f"{round(100.0 * choice.weakest_sun)} %"


def need_title(plan: DayPlan) -> str:
    """Return what `need_words` counts; empty where no dish asks."""
    if any(choice.chance is not None for choice in plan.turn_table):
        return "days all is ready in time"
    if any(choice.weakest_sun is not None for choice in plan.turn_table):
        return "least sun all needs"
    return ""
