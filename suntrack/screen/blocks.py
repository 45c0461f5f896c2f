"""Whole answers as terminal blocks: the day, and the moment.

The answer comes first, then the next thing to do, the steps, the dishes, the curve, the
cautions.  A block is made for a width in columns and never wider; long lines wrap.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from rich.console import Group, RenderableType
from rich.constrain import Constrain
from rich.padding import Padding
from rich.rule import Rule
from rich.table import Table
from rich.text import Text

from suntrack.screen.charset import Charset
from suntrack.screen.chart import bar
from suntrack.screen.compass import compass_rows, legend
from suntrack.screen.curves import box_chart
from suntrack.screen.moment import steps_ahead
from suntrack.screen.style import NO, ROLE_STYLES, YES, ink_for, is_dumb, make_console, row_of
from suntrack.screen.tables import (
    BAR,
    NARROW,
    bulleted,
    dishes_block,
    steps_table,
    turn_choices_table,
)
from suntrack.screen.text import day as words
from suntrack.screen.text.revision import revision_lines

if TYPE_CHECKING:
    from datetime import datetime

    from suntrack.plan.records import DayPlan, Step
    from suntrack.screen.moment import NowView
    from suntrack.units import Units

__all__ = [
    "aim_block", "aim_facts", "answer_block", "cautions_block", "chart_block", "cooking_block",
    "dishes_block", "heading", "ink_for", "is_dumb", "make_console", "next_block", "now_block",
    "steps_table", "today_block", "turn_choices_table",
]  # fmt: skip

MEASURE = 96
"""Wider than this, lines are hard to read.  [columns]"""
TWO_COLUMNS = 120
"""From this width on, the day stands in two columns.  [columns]"""
GUTTER = 4
PROGRESS = 37
"""The longest words about a dish in the box.  [columns]"""
BESIDE = 56
"""From this width on, words have room beside the picture from above.  [columns]"""
PLAIN = Charset()


def today_block(plan: DayPlan, units: Units, width: int, *, ink: Charset = PLAIN) -> RenderableType:
    """Return the day."""
    if width >= TWO_COLUMNS:
        return _two_columns(plan, units, width, ink=ink)
    measure = min(width, MEASURE)
    parts = [
        _top(plan, units, ink=ink),
        *_steps(plan, units, ink=ink),
        *_section("Dishes", dishes_block(plan, units, width=measure, ink=ink), ink),
        *_box(plan, units, measure, ink=ink),
        *_turning(plan, measure, ink=ink),
        *_foot(plan, units, ink=ink),
    ]
    return Constrain(Group(*parts), measure)


def _two_columns(plan: DayPlan, units: Units, width: int, *, ink: Charset) -> RenderableType:
    """Return the day for a wide screen: what to do at the left, why at the right."""
    whole = min(width, 2 * MEASURE)
    half = (whole - GUTTER) // 2
    left = Group(
        *_steps(plan, units, ink=ink),
        *_section("Dishes", dishes_block(plan, units, width=half, ink=ink), ink),
    )
    right = Group(*_box(plan, units, half, ink=ink), *_turning(plan, half, ink=ink))
    table = Table.grid(padding=0)
    table.add_column(width=half)
    table.add_column(width=GUTTER)
    table.add_column(width=half)
    table.add_row(left, "", right)
    top = Constrain(_top(plan, units, ink=ink), MEASURE)
    return Group(top, table, Constrain(Group(*_foot(plan, units, ink=ink)), whole))


def _top(plan: DayPlan, units: Units, *, ink: Charset) -> RenderableType:
    """Return the answer and the next thing to do."""
    ahead = steps_ahead(plan.steps, plan.made_at)
    parts = [answer_block(plan, units, ink=ink)]
    if ahead:
        parts += [Text(""), next_block(ahead[0], plan, units, ink=ink, now=plan.made_at)]
    return Group(*parts)


def answer_block(plan: DayPlan, units: Units, *, ink: Charset) -> RenderableType:
    """Return the place and day, the answer, its reason and the window."""
    place = f"{plan.site_name}, {words.date_words(plan.date)}"
    return Group(
        Text(ink.text(place), "dim"),
        *(Text(ink.text(line), NO) for line in words.take_out_lines(plan, units)),
        Text(ink.text(words.headline(plan)), YES if plan.verdict.cook else NO),
        Text(ink.text(plan.verdict.reason)),
        *(Text(ink.text(line)) for line in words.chance_lines(plan, units)),
        Text(ink.text(words.window_words(plan.window, units))),
        *(Text(ink.text(line), "bold") for line in revision_lines(plan, units)),
    )


def next_block(
    step: Step, plan: DayPlan, units: Units, *, ink: Charset, now: datetime
) -> RenderableType:
    """Return one step set apart: when, what, and what helps to do it."""
    when = words.step_when(step, plan, units)
    head = Text(f"{ink.mark('next')} Next, {when}, {words.countdown_words(step.at, now)}", "bold")
    lines: list[RenderableType] = [Text(ink.text(words.step_words(step, plan, units)))]
    detail = words.step_detail(step, plan)
    if detail:
        lines.append(Text(ink.text(detail), "dim"))
    return Group(head, Padding(Group(*lines), (0, 0, 0, 2)))


def heading(title: str, *, ink: Charset) -> Rule:
    """Return the line that opens a section."""
    line = ink.mark("line")
    return Rule(Text(title, "bold"), align="left", characters=line, style="dim")


def _section(title: str, body: RenderableType, ink: Charset) -> list[RenderableType]:
    return [Text(""), heading(title, ink=ink), body]


def _steps(plan: DayPlan, units: Units, *, ink: Charset) -> list[RenderableType]:
    now = plan.made_at if plan.made_at.date() == plan.date else None
    return _section("Steps", steps_table(plan, units, ink=ink, now=now), ink)


def _box(plan: DayPlan, units: Units, width: int, *, ink: Charset) -> list[RenderableType]:
    chart = chart_block(plan, units, width=width, ink=ink)
    return _section("Box temperature", chart, ink) if plan.box else []


def chart_block(plan: DayPlan, units: Units, *, width: int, ink: Charset) -> RenderableType:
    """Return the curve of the box with its key."""
    rows = box_chart(plan, units=units, width=width, ink=ink)
    fill = "#" if ink.ascii else "█"
    key = Text().append(fill, ROLE_STYLES["warm"]).append(fill, ROLE_STYLES["hot"])
    key.append(" loaded   ", "dim")
    key.append(ink.mark("empty box") * 2, ROLE_STYLES["empty box"])
    key.append(" empty   ", "dim")
    key.append(ink.mark("threshold") * 2, ROLE_STYLES["threshold"])
    key.append(" hot enough", "dim")
    return Group(*(row_of(row) for row in rows), key)


def _turning(plan: DayPlan, width: int, *, ink: Charset) -> list[RenderableType]:
    if not plan.turn_choices:
        return []
    intro = Text("Light kept, against a box turned minute by minute:", "dim")
    table = turn_choices_table(plan, width=width, ink=ink)
    return _section("Ways to turn", Group(intro, table), ink)


def _foot(plan: DayPlan, units: Units, *, ink: Charset) -> list[RenderableType]:
    """Return the cautions and where the sky came from."""
    sky = Text(ink.text("\n".join(words.sky_lines(plan.sky, units))), "dim")
    cautions = cautions_block(plan, units, ink=ink) if plan.cautions else Text("")
    return [*_section("Take care", cautions, ink), Text(""), sky]


def cautions_block(plan: DayPlan, units: Units, *, ink: Charset) -> RenderableType:
    """Return the cautions of the day: gusts and rain with their hours first."""
    lines = [words.guard_words(guard, units) for guard in plan.guards]
    lines += [words.caution_words(name) for name in plan.cautions]
    return Group(*(bulleted(line, ink=ink) for line in lines))


def now_block(
    view: NowView, plan: DayPlan, units: Units, width: int, *, ink: Charset = PLAIN
) -> RenderableType:
    """Return the moment: where to face, how to check it, what comes next."""
    measure = min(width, MEASURE)
    place = Text(ink.text(f"{view.site_name}, {units.time_text(view.at)}"), "dim")
    outs = [Text(ink.text(line), NO) for line in words.take_out_lines(plan, units)]
    aim = aim_block(view, units, width=measure, ink=ink)
    inside = [Text(""), cooking_block(view, width=measure, ink=ink)] if view.cooking else []
    return Constrain(
        Group(place, *outs, aim, *inside, *_coming(view, plan, units, ink=ink)), measure
    )


def aim_block(
    view: NowView, units: Units, *, width: int, ink: Charset, note: bool = True
) -> RenderableType:
    """Return where the box faces and the sun stands, drawn and in words."""
    facts = aim_facts(view, units, ink=ink, note=note)
    picture = Group(*(row_of(row) for row in compass_rows(view, ink=ink)))
    if width < BESIDE:
        return Group(picture, facts)
    table = Table.grid(padding=(0, 3, 0, 0))
    table.add_column(no_wrap=True)
    table.add_column(ratio=1, vertical="middle", overflow="fold")
    table.add_row(picture, facts)
    return table


def aim_facts(view: NowView, units: Units, *, ink: Charset, note: bool = True) -> RenderableType:
    """Return the key of the picture, the shadow rule, the box, and a note on the compass."""
    key = Table.grid(padding=(0, 1, 0, 0))
    key.add_column(width=1)
    key.add_column(ratio=1, overflow="fold")
    for mark, role, meaning in legend(view, units=units):
        key.add_row(Text(ink.mark(mark), ROLE_STYLES[role]), ink.text(meaning))
    lines = [words.shadow_rule(view, units)]
    if view.box_c is not None:
        lines.append(f"By the plan the box is at {units.temperature_text(view.box_c)}.")
    if note:
        lines.append(words.compass_note(view))
    return Group(key, *(Padding(Text(ink.text(line)), (1, 0, 0, 0)) for line in lines))


def cooking_block(view: NowView, *, width: int, ink: Charset) -> RenderableType:
    """Return how far each dish in the box is, by the plan."""
    parts: list[RenderableType] = []
    for dish in view.cooking:
        filled = Text(bar(dish.done, width=BAR, ink=ink), "bright_blue")
        said = Text(ink.text(words.progress_words(dish)))
        name = Text(ink.text(dish.name), "bold")
        if width < NARROW:
            parts += [name, Padding(Group(filled, said), (0, 0, 0, 2))]
            continue
        table = Table.grid(padding=(0, 2, 0, 0), expand=True)
        table.add_column(ratio=1, overflow="fold")
        table.add_column(no_wrap=True, width=BAR)
        table.add_column(no_wrap=True, width=PROGRESS)
        table.add_row(name, filled, said)
        parts.append(table)
    return Group(*parts)


def _coming(view: NowView, plan: DayPlan, units: Units, *, ink: Charset) -> list[RenderableType]:
    """Return the next step and the one after it."""
    if view.next_step is None:
        return [] if view.take_out else [Text(""), Text("No step is left today.")]
    parts = [Text(""), next_block(view.next_step, plan, units, ink=ink, now=view.at)]
    if view.after_that is not None:
        after = view.after_that
        when, what = words.step_when(after, plan, units), words.step_words(after, plan, units)
        parts.append(Padding(Text(ink.text(f"Then, {when}: {what}"), "dim"), (0, 0, 0, 2)))
    return parts
