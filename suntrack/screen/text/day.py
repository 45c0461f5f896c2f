"""The wording: every sentence a cook reads about a day, a step, a dish or a mistake.

Directions, cautions and notices are worded in `aiming`, `care` and `calls`, and can be
asked for here, so that no other room writes a sentence of its own.
"""

from __future__ import annotations

import math
from datetime import timedelta
from typing import TYPE_CHECKING

from suntrack.plan.cautions import FIXED_GLARE
from suntrack.screen.text.cautions import caution_words
from suntrack.screen.text.chances import (
    GUSTY_CARE,
    RAINY_CARE,
    chance_headline,
    chance_lines,
    chance_words,
    good_days_words,
    guard_step_words,
    guard_words,
    on_such_days,
)
from suntrack.screen.text.directions import (
    ANY_WAY,
    bearing_words,
    compass_note,
    face_words,
    mirror_words,
    shadow_rule,
    side_mirror_words,
    sun_words,
    turn_hint,
    turn_words,
)
from suntrack.screen.text.measures import in_units
from suntrack.screen.text.notices import GLOVES, alert_words, late_words
from suntrack.screen.text.take_out import take_out_lines, take_out_words
from suntrack.units import span_words

if TYPE_CHECKING:
    from collections.abc import Mapping
    from datetime import date, datetime

    from suntrack.errors import Problem
    from suntrack.plan.records import (
        DayPlan,
        DishPlan,
        DishStatus,
        SkyNote,
        Step,
        Turn,
        TurnChoice,
        Window,
    )
    from suntrack.screen.moment import DishNow
    from suntrack.units import Units

__all__ = [
    "alert_words", "bearing_words", "caution_words", "chance_lines", "chance_words",
    "compass_note", "countdown_words", "date_words", "day_words", "dish_facts", "face_words",
    "guard_words", "headline", "late_words", "light_words", "problem_lines", "progress_words",
    "shadow_rule", "sky_lines", "sky_words", "span_words", "status_words", "step_detail",
    "step_when", "step_words", "sun_words", "take_out_lines", "take_out_words", "turn_hint",
    "turn_words", "turns_count", "verdict_line", "window_words",
]  # fmt: skip

DAYS = ("Monday", "Tuesday", "Wednesday", "Thursday", "Friday", "Saturday", "Sunday")
MONTHS = (
    "January", "February", "March", "April", "May", "June",
    "July", "August", "September", "October", "November", "December",
)  # fmt: skip
STATUS: Mapping[DishStatus, str] = {
    "ready": "ready in time",
    "late": "later than wanted",
    "not done": "will not get done",
    "not safe": "not safe in the box today",
    "refused": "not for this box",
    "spoiled": "not safe: throw it away",
}
EMPTY_FOR = timedelta(minutes=15)
"""A shorter time than this before the first dish is not called heating up (our choice)."""
WEEKDAY_DAYS = 6
"""Further off than this a weekday alone could be another week's.  [days]"""
IN_DAYS = timedelta(days=2)
"""From here on a countdown is said in days (our choice)."""
GOES_IN: tuple[DishStatus, ...] = ("ready", "late")
"""How a dish has to stand for the cook to be told to put it in."""
NEVER_SAFE: tuple[DishStatus, ...] = ("not safe", "refused", "spoiled")
"""A dish that stands so has no safe heat, whatever its middle reaches."""
SAFE_BY_PLAN = "hot by plan; measure it"
"""Nobody measured it: in a hazier day or a weaker box the middle is colder than the plan has it."""
EMPTY_SKY = "clear sky"
"""The source of a plan that no forecast stands behind."""
USUAL_SKY = "typical sky"
"""The source of a plan for which there should have been a forecast."""


def date_words(on: date) -> str:
    """Return a date, such as `Wednesday 25 November 2026`."""
    return f"{_day_and_month(on)} {on.year}"


def _day_and_month(on: date) -> str:
    return f"{DAYS[on.weekday()]} {on.day} {MONTHS[on.month - 1]}"


def day_words(plan: DayPlan) -> str:
    """Return which day a plan is for, seen from when it was made."""
    away = (plan.date - plan.made_at.date()).days
    return {0: "today", 1: "tomorrow"}.get(away, f"on {_day_and_month(plan.date)}")


def headline(plan: DayPlan) -> str:
    """Return the answer: is it a cooking day, and how sure is that."""
    verdict = plan.verdict
    sure = "" if verdict.chance is None else f": {good_days_words(verdict.chance)}"
    if plan.date < plan.made_at.date():
        start = "A cooking day" if verdict.cook else "Not a cooking day"
        return f"{start} {day_words(plan)}{sure}."
    if verdict.chance is not None:
        return chance_headline(verdict.chance, day=day_words(plan))
    if not verdict.cook:
        return f"No, not {day_words(plan)}."
    return f"Yes, cook {day_words(plan)}, if the sky stays clear."


def verdict_line(plan: DayPlan, units: Units) -> str:
    """Return the answer, its reason and the window, for where there is one line only."""
    return f"{headline(plan)} {plan.verdict.reason} {window_words(plan.window, units)}"


def window_words(window: Window, units: Units) -> str:
    """Return when the empty box is hot enough, and how hot it gets."""
    enough = units.temperature_text(window.threshold_c)
    peak = f"{units.temperature_text(window.peak_c)} at {units.time_text(window.peak_at)}"
    if window.opens_at is None:
        return f"Empty, the box does not reach {enough}; at best {peak}."
    until = f" to {units.time_text(window.closes_at)}" if window.closes_at else " on"
    opens = units.time_text(window.opens_at)
    return f"Empty, the box is above {enough} from {opens}{until}; hottest {peak}."


def sky_words(sky: SkyNote, units: Units) -> str:
    """Return where the sky of the plan came from."""
    if sky.source == EMPTY_SKY:
        return "Planned for a clear sky and ordinary air; no forecast was used."
    if sky.source == USUAL_SKY:
        return (
            "No forecast could be used. The plan is reckoned with the usual sky as it was measured"
            " at seven stations in the USA, and ordinary air; your place may be brighter or duller."
        )
    made = f", issued {units.time_text(sky.issued_at)}" if sky.issued_at else ""
    if not made and sky.fetched_at:
        made = f", fetched {units.time_text(sky.fetched_at)}"
    return f"Forecast: {sky.source}{made}."


def sky_lines(sky: SkyNote, units: Units) -> tuple[str, ...]:
    """Return where the sky came from, what is doubtful about it, and whose data it is."""
    whose = (f"{sky.attribution.rstrip('.')}.",) if sky.attribution else ()
    return (sky_words(sky, units), *sky.notes, *whose)


def step_when(step: Step, plan: DayPlan, units: Units) -> str:
    """Return when a step is due; the day too when it is another one, by its date when far off."""
    time, on = units.time_text(step.at), step.at.date()
    if on == plan.date:
        return time
    if abs((on - plan.made_at.date()).days) > WEEKDAY_DAYS:
        return f"{on.day} {MONTHS[on.month - 1][:3]} {time}"
    return f"{DAYS[on.weekday()][:3]} {time}"


def step_words(step: Step, plan: DayPlan, units: Units) -> str:
    """Return one step in one line."""
    match step.kind:
        case "preheat":
            empty = "empty " if heats_empty(step, plan) else ""
            return f"Set out the {empty}box{_facing(step.turn)}{_sides(plan)}"
        case "turn":
            return turn_words(step.turn) + _aim(step.turn) if step.turn else "Turn the box"
        case "cover":
            return cover_words(plan)
        case "prepare":
            return f"{_name(step, plan)}: {in_units(step.detail, units)}"
        case "load":
            return _load_words(step, plan)
        case "pull":
            return f"{_name(step, plan)} comes out{_by(step, plan, units)}"
        case "gust" | "rain":
            return guard_step_words(step, plan, units)


def step_detail(step: Step, plan: DayPlan) -> str:
    """Return what helps to do a step, beyond its own line; often nothing."""
    match step.kind:
        case "turn" if step.turn is not None:
            return turn_hint(step.turn)
        case "load" | "pull":
            return GLOVES
        case "preheat":
            heats = ", let it heat up empty" if heats_empty(step, plan) else ""
            return f"Wipe the glass, shut the lid well{heats}."
        case "gust":
            return GUSTY_CARE
        case "rain":
            return RAINY_CARE
        case "cover":
            return f"The plan for {_day_and_month(plan.date)} ends here."
    return ""


def heats_empty(step: Step, plan: DayPlan) -> bool:
    """Return whether the box stands in the sun for a while before the first dish goes in."""
    loads = [other.at for other in plan.steps if other.kind == "load"]
    return not loads or min(loads) - step.at >= EMPTY_FOR


def cover_words(plan: DayPlan) -> str:
    """Return the last step of the day."""
    folds = FIXED_GLARE not in plan.cautions
    if folds and plan.side_mirrors_deg is not None:
        return "Fold the mirrors down and cover the box"
    if folds and any(turn.mirror_deg is not None for turn in plan.turns.turns):
        return "Fold the mirror down and cover the box"
    return "Cover the box"


def _facing(turn: Turn | None) -> str:
    if turn is not None and turn.any_way:
        return f", {ANY_WAY}"
    return f" facing {_toward(turn)}" if turn else ""


def _sides(plan: DayPlan) -> str:
    sides = side_mirror_words(plan.side_mirrors_deg)
    return f"; {sides}" if sides else ""


def _aim(turn: Turn) -> str:
    return f", to {_toward(turn)}"


def _toward(turn: Turn) -> str:
    """Return where a turn points the box, and the mirror with it."""
    mirror = mirror_words(turn.mirror_deg)
    return face_words(turn.face_true_deg, turn.face_compass_deg) + (f"; {mirror}" if mirror else "")


def _dish_of(step: Step, plan: DayPlan) -> DishPlan | None:
    """Return the dish of a step; of two of the same key, the one with this very moment."""
    same = [dish for dish in plan.dishes if dish.key == step.dish]
    exact = [dish for dish in same if step.at in (dish.load_at, dish.pull_at)]
    return next(iter(exact or same), None)


def _name(step: Step, plan: DayPlan) -> str:
    dish = _dish_of(step, plan)
    return dish.name if dish else step.dish or "The dish"


def _pot(step: Step, plan: DayPlan) -> str:
    dish = _dish_of(step, plan)
    return f" ({dish.pot})" if dish and dish.pot else ""


def _load_words(step: Step, plan: DayPlan) -> str:
    """Return that a dish goes in; never of one that the box will not finish safely today.

    A step already past is left as it happened: the dish may be in the box by now.
    """
    dish = _dish_of(step, plan)
    if dish is not None and dish.status == "spoiled":
        return f"{dish.name}: {STATUS[dish.status]}"
    if dish is not None and dish.status not in GOES_IN and step.at >= plan.made_at:
        return f"{dish.name}: on the kitchen stove today, not in the box"
    return f"{_name(step, plan)} goes in{_pot(step, plan)}"


def _by(step: Step, plan: DayPlan, units: Units) -> str:
    dish = _dish_of(step, plan)
    if dish is None or dish.pull_by is None or dish.pull_by <= step.at:
        return ""
    return f", by {units.time_text(dish.pull_by)} at the latest"


def status_words(dish: DishPlan) -> str:
    """Return how a dish stands today, and on how many such days it comes good."""
    return STATUS[dish.status] + on_such_days(dish)


def dish_facts(dish: DishPlan, units: Units) -> tuple[tuple[str, str], ...]:
    """Return the times of one dish as (what, when); done and safe heat are two things.

    A dish that is not safe in the box has no safe heat, whatever its core reaches, and
    one that the cook is not told to put in has no time for it.  What has to be thrown away
    is not called done.
    """
    safe_at = dish.safe_at if dish.status not in NEVER_SAFE else None
    facts = [
        ("in", dish.load_at if dish.status in GOES_IN else None),
        ("done", dish.done_at if dish.status != "spoiled" else None),
        ("safe heat", safe_at),
        ("out", dish.pull_at),
        ("out by", dish.pull_by),
        ("meal", dish.serve_at),
    ]
    if dish.status != "ready":
        facts.append(("to the stove by", dish.stove_by))
    return tuple((what, units.time_text(at)) for what, at in facts if at is not None)


def progress_words(dish: DishNow) -> str:
    """Return how far a dish in the box is, by the plan: done and safe heat apart."""
    heat = SAFE_BY_PLAN if dish.safe else "not yet at safe heat"
    if dish.status in NEVER_SAFE:
        heat = STATUS[dish.status]
    return f"{math.floor(100.0 * dish.done)} % done, {heat}"


def turns_count(choice: TurnChoice) -> str:
    """Return how often the box is turned after it is set out."""
    count = max(len(choice.turns) - 1, 0)
    return {0: "no turn", 1: "1 turn"}.get(count, f"{count} turns")


def light_words(choice: TurnChoice) -> str:
    """Return the share of the light kept, such as `97 %`."""
    return f"{round(100.0 * choice.light_kept)} %"


def countdown_words(due_at: datetime, now: datetime) -> str:
    """Return how far off a moment is: `in 12 min`, `now`, `3 min ago`, `in 25 days`."""
    left = due_at - now
    if abs(left) < timedelta(seconds=30):
        return "now"
    span = span_words(left)
    if abs(left) >= IN_DAYS:
        # By the calendar, as people count, whatever the hour.
        span = f"{abs((due_at.date() - now.astimezone(due_at.tzinfo).date()).days)} days"
    return f"in {span}" if left > timedelta(0) else f"{span} ago"


def problem_lines(problem: Problem) -> tuple[str, ...]:
    """Return a mistake in its four pieces, one to a line."""
    return (
        problem.where,
        f"  found:   {problem.found}",
        f"  allowed: {problem.allowed}",
        f"  to do:   {problem.remedy}",
    )
