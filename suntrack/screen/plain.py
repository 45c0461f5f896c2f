"""The same answers as plain lines: for screen readers, logs and terminals without commands.

One fact to a line, in the order of the screen; no boxes, no columns, no cursor moves.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from suntrack.screen.charset import Charset
from suntrack.screen.moment import steps_ahead
from suntrack.screen.text import day as words
from suntrack.screen.text.measures import in_units
from suntrack.screen.text.revision import mend_lines, revision_lines

if TYPE_CHECKING:
    from datetime import datetime

    from suntrack.plan.records import DayPlan, DishPlan, Step
    from suntrack.screen.moment import NowView
    from suntrack.units import Units

PLAIN = Charset()


def today_lines(plan: DayPlan, units: Units, *, ink: Charset = PLAIN) -> tuple[str, ...]:
    """Return the day, a fact to a line."""
    ahead = steps_ahead(plan.steps, plan.made_at)
    lines = [
        f"{plan.site_name}, {words.date_words(plan.date)}.",
        *words.take_out_lines(plan, units),
        words.headline(plan),
        plan.verdict.reason,
        *words.chance_lines(plan, units),
        *revision_lines(plan, units),
        words.window_words(plan.window, units),
        *(_next_lines(ahead[0], plan, units, now=plan.made_at) if ahead else ()),
        "Steps:" if plan.steps else "No steps.",
        *(_step_line(step, plan, units) for step in plan.steps),
    ]
    for dish in plan.dishes:
        lines += _dish_lines(dish, units)
    lines += [
        f"Turning, {choice.name}: {words.turns_count(choice)}, "
        f"keeps {words.light_words(choice)} of the light."
        for choice in plan.turn_choices
    ]
    lines += [f"Take care: {words.caution_words(name)}" for name in plan.cautions]
    lines += [f"Take care: {words.guard_words(guard, units)}" for guard in plan.guards]
    lines += words.sky_lines(plan.sky, units)
    return tuple(ink.text(line) for line in lines)


def now_lines(
    view: NowView, plan: DayPlan, units: Units, *, ink: Charset = PLAIN
) -> tuple[str, ...]:
    """Return the moment, a fact to a line."""
    lines = [
        f"{view.site_name}, {units.time_text(view.at)}.",
        *words.take_out_lines(plan, units),
        words.sun_words(view, units),
    ]
    if view.face_true_deg is not None and view.face_compass_deg is not None:
        facing = words.face_words(view.face_true_deg, view.face_compass_deg)
        lines.append(f"By the plan and your notes the box faces {facing}.")
    lines.append(words.shadow_rule(view, units))
    if view.box_c is not None:
        lines.append(f"By the plan the box is at {units.temperature_text(view.box_c)}.")
    lines += [f"{dish.name}, by the plan: {words.progress_words(dish)}." for dish in view.cooking]
    if view.next_step is None:
        lines += [] if view.take_out else ["No step is left today."]
    else:
        lines += _next_lines(view.next_step, plan, units, now=view.at)
    if view.after_that is not None:
        lines.append(f"Then, {_step_line(view.after_that, plan, units)}")
    lines.append(words.compass_note(view))
    # The sun's line and the shadow's line are the same while the sun is down.
    return tuple(ink.text(line) for line in dict.fromkeys(lines))


def _next_lines(step: Step, plan: DayPlan, units: Units, *, now: datetime) -> list[str]:
    """Return the next step, and what helps to do it."""
    away = words.countdown_words(step.at, now)
    detail = words.step_detail(step, plan)
    return [f"Next, {away}, {_step_line(step, plan, units)}", *([detail] if detail else [])]


def _step_line(step: Step, plan: DayPlan, units: Units) -> str:
    """Return one step with its time."""
    line = f"{words.step_when(step, plan, units)}: {words.step_words(step, plan, units)}"
    return line if line.endswith(".") else f"{line}."


def _dish_lines(dish: DishPlan, units: Units) -> list[str]:
    """Return one dish: how it stands, its times, its notes."""
    times = ", ".join(f"{what} {when}" for what, when in words.dish_facts(dish, units))
    pot = f" in {dish.pot}" if dish.pot else ""
    return [
        f"{dish.name}{pot}: {words.status_words(dish)}.",
        f"{dish.name}, times: {times}.",
        *(f"{dish.name}, note: {in_units(note, units)}" for note in dish.notes),
        *(f"{dish.name}, note: {line}" for line in mend_lines(dish, units)),
    ]


def event_line(at: datetime, title: str, body: str, units: Units, *, ink: Charset = PLAIN) -> str:
    """Return one notice as one line, for `watch --plain`."""
    return ink.text(f"{units.time_text(at)}: {title}. {body}".rstrip())
