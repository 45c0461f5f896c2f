"""The lists of a day as terminal blocks: steps, dishes, ways to turn.

Wide screens get columns; below `NARROW` columns the same facts are stacked, none is lost.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from rich.console import Group, RenderableType
from rich.padding import Padding
from rich.table import Table
from rich.text import Text

from suntrack.screen.chart import bar
from suntrack.screen.moment import steps_ahead
from suntrack.screen.style import STATUS_STYLES
from suntrack.screen.text import day as words
from suntrack.screen.text.measures import in_units
from suntrack.screen.text.revision import mend_lines

if TYPE_CHECKING:
    from datetime import datetime

    from suntrack.plan.records import DayPlan, DishPlan, TurnChoice
    from suntrack.screen.charset import Charset
    from suntrack.units import Units

NARROW = 60
HEADS = ("in", "done", "safe heat", "out")
"""The facts of a dish that get columns, where there is room for columns."""
MORE = ("meal", "out by", "to the stove by")
"""The facts that follow in words."""
SAFE_HEAT = "Safe heat: the heat its food rule asks for, as planned; not measured."
BAR = 12
"""How wide the bars of the turn choices are.  [columns]"""


def steps_table(
    plan: DayPlan,
    units: Units,
    *,
    ink: Charset,
    now: datetime | None = None,
    most: int | None = None,
) -> RenderableType:
    """Return the day's steps by time, the next one marked when a moment is given.

    With `most`, only that many of the steps still ahead.
    """
    if not plan.steps:
        return Text("Nothing to do.")
    ahead = steps_ahead(plan.steps, now) if now else plan.steps
    table = Table.grid(padding=(0, 2, 0, 0))
    table.add_column(width=1)
    table.add_column(justify="right", no_wrap=True)
    table.add_column(ratio=1, overflow="fold")
    for step in plan.steps if most is None else ahead[:most]:
        is_next = now is not None and bool(ahead) and step is ahead[0]
        passed = now is not None and step not in ahead
        mark = ink.mark("next" if is_next else "passed") if is_next or passed else ""
        table.add_row(
            mark,
            words.step_when(step, plan, units),
            ink.text(words.step_words(step, plan, units)),
            style="bold" if is_next else "dim" if passed else None,
        )
    return table


def dishes_block(plan: DayPlan, units: Units, *, width: int, ink: Charset) -> RenderableType:
    """Return the dishes: when each is done, when it is at safe heat, and how it stands."""
    if not plan.dishes:
        return Text("No dish is planned.")
    facts = {dish: dict(words.dish_facts(dish, units)) for dish in plan.dishes}
    if width < NARROW:
        stacks = (_dish_stack(dish, facts[dish], units, ink=ink) for dish in plan.dishes)
        return Group(*stacks, Text(SAFE_HEAT, "dim"))
    times = [facts[dish].get(head, "-") for dish in plan.dishes for head in HEADS]
    widest = max(len(text) for text in (*times, *HEADS))
    rows = (_dish_rows(dish, facts[dish], units, column=widest, ink=ink) for dish in plan.dishes)
    heads = _dish_row(Text(""), {head: head for head in HEADS}, column=widest)
    return Group(heads, *rows, Text(SAFE_HEAT, "dim"))


def _status(dish: DishPlan, ink: Charset) -> Text:
    """Return the mark and the words of a dish's status."""
    mark = ink.mark(dish.status)
    return Text(f"{mark} {words.status_words(dish)}", STATUS_STYLES[dish.status])


def _dish_rows(
    dish: DishPlan, facts: dict[str, str], units: Units, *, column: int, ink: Charset
) -> RenderableType:
    """Return one dish: its times in columns, then what has no column."""
    more = [ink.text(dish.pot)] if dish.pot else []
    more += [f"{what} {facts[what]}" for what in MORE if what in facts]
    return Group(
        _dish_row(Text(ink.text(dish.name), "bold"), facts, column=column),
        Padding(
            Group(_status(dish, ink), Text(", ".join(more)), *_notes(dish, units, ink=ink)),
            (0, 0, 0, 2),
        ),
    )


def _dish_row(name: Text, facts: dict[str, str], *, column: int) -> Table:
    """Return one line of columns; every dish's are as wide as the next one's."""
    table = Table.grid(padding=(0, 2, 0, 0), expand=True)
    table.add_column(ratio=1, overflow="fold")
    for _ in HEADS:
        table.add_column(justify="right", no_wrap=True, width=column)
    table.add_row(name, *(facts.get(head, "-") for head in HEADS))
    return table


def _dish_stack(
    dish: DishPlan, facts: dict[str, str], units: Units, *, ink: Charset
) -> RenderableType:
    """Return one dish as lines."""
    pot = f" ({dish.pot})" if dish.pot else ""
    name = Text(ink.text(dish.name), "bold").append(ink.text(pot), "not bold")
    times = Table.grid(padding=(0, 2, 0, 0))
    times.add_column()
    times.add_column(justify="right", no_wrap=True)
    for what, when in facts.items():
        times.add_row(what, when)
    body = Group(_status(dish, ink), times, *_notes(dish, units, ink=ink))
    return Group(name, Padding(body, (0, 0, 0, 2)))


def _notes(dish: DishPlan, units: Units, *, ink: Charset) -> list[RenderableType]:
    """Return what else to know of a dish."""
    notes = [in_units(note, units) for note in dish.notes]
    return [bulleted(line, ink=ink) for line in (*notes, *mend_lines(dish, units))]


def bulleted(sentence: str, *, ink: Charset) -> RenderableType:
    """Return a sentence with a mark before it and its lines hanging after the mark."""
    table = Table.grid(padding=(0, 1, 0, 0))
    table.add_column(width=1)
    table.add_column(ratio=1, overflow="fold")
    table.add_row(ink.mark("bullet"), ink.text(sentence))
    return table


def turn_choices_table(plan: DayPlan, *, width: int, ink: Charset) -> RenderableType:
    """Return the ways to turn, each with the light it keeps; the followed one is marked."""
    table = Table.grid(padding=(0, 2, 0, 0))
    table.add_column(width=1)
    table.add_column(overflow="fold")
    table.add_column(no_wrap=True)
    table.add_column(justify="right", no_wrap=True)
    for choice in plan.turn_choices:
        followed = choice.name == plan.turns.name
        table.add_row(
            ink.mark("next") if followed else "",
            ink.text(choice.name),
            words.turns_count(choice),
            words.light_words(choice),
            *_bar(choice, width=width, ink=ink),
            style="bold" if followed else None,
        )
    return table


def _bar(choice: TurnChoice, *, width: int, ink: Charset) -> list[Text]:
    """Return the bar of a choice, where there is room for it."""
    if width < NARROW:
        return []
    return [Text(bar(choice.light_kept, width=BAR, ink=ink), "bright_blue")]
