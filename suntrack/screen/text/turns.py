"""Every number of turns with what it keeps: as a terminal block, as plain lines, as JSON."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from rich.console import Group, RenderableType
from rich.constrain import Constrain
from rich.table import Table
from rich.text import Text

from suntrack.screen.blocks import MEASURE
from suntrack.screen.charset import Charset
from suntrack.screen.json.day import choice_json
from suntrack.screen.text import day as words
from suntrack.screen.text.revision import need_title, need_words

if TYPE_CHECKING:
    from collections.abc import Mapping

    from suntrack.plan.records import DayPlan, TurnChoice
    from suntrack.units import Units

PLAIN = Charset()
NARROW = 64
"""Under this width the times of the turns are left out.  [columns]"""
MANY = 5
"""More turns than this are counted and not told one by one."""
TURNS_KEYS: Mapping[str, str] = {
    "date": "the day of the plan, at the site",
    "site": "name of the site",
    "follow": "how many turns the plan follows",
    "choices[].name": "name of a way to turn",
    "choices[].light_kept": "share of the light of a box followed minute by minute that it keeps",
    "choices[].chance": "chance that all promised dishes are done and safe in time; null without "
    "skies or dishes",
    "choices[].weakest_sun": "without a forecast: the weakest sun, as a share of the clear one, "
    "with which they are; null with one, and for none",
    "choices[].turns[]": "its aims, as in `turns` of `today --json`",
}
"""Every key of `turns --json`, as a path."""


def turns_lines(plan: DayPlan, units: Units, *, ink: Charset = PLAIN) -> tuple[str, ...]:
    """Return the ways to turn, a line each."""
    lines = [_title(plan)]
    for choice in plan.turn_table:
        does = _does(choice)
        lines.append(
            f"{_name(choice, plan)}: keeps {words.light_words(choice)} of the light"
            f"{f', {does}' if does else ''}{_at(choice, units)}."
        )
    return tuple(ink.text(line) for line in (*lines, *_notes(plan)))


def turns_block(plan: DayPlan, units: Units, width: int, *, ink: Charset = PLAIN) -> RenderableType:
    """Return the ways to turn for a width in columns; the followed one is marked."""
    table = Table(box=None, pad_edge=False, padding=(0, 2, 0, 0), header_style="dim")
    table.add_column("", width=1)
    table.add_column("way", no_wrap=True)
    table.add_column("light", justify="right", no_wrap=True)
    if need_title(plan):
        table.add_column(need_title(plan), justify="right", overflow="fold")
    if width >= NARROW:
        table.add_column("turns at", overflow="fold")
    for choice in plan.turn_table:
        row = [
            ink.mark("next") if _is_followed(choice, plan) else "",
            ink.text(choice.name),
            words.light_words(choice),
        ]
        row += [need_words(choice)] if need_title(plan) else []
        row += [_times(choice, units)] if width >= NARROW else []
        table.add_row(*row, style="bold" if _is_followed(choice, plan) else None)
    head = Text(ink.text(_title(plan)), "dim")
    notes = [Text(ink.text(note), "dim") for note in _notes(plan)]
    return Constrain(Group(head, Text(""), table, Text(""), *notes), min(width, MEASURE))


def turns_json(plan: DayPlan) -> dict[str, Any]:
    """Return the ways to turn for programs, see `TURNS_KEYS`."""
    return {
        "date": plan.date.isoformat(),
        "site": plan.site_name,
        "follow": len(plan.turns.turns) - 1,
        "choices": [choice_json(choice) for choice in plan.turn_table],
    }


def _title(plan: DayPlan) -> str:
    return f"{plan.site_name}, {words.date_words(plan.date)}: ways to turn the box."


def _is_followed(choice: TurnChoice, plan: DayPlan) -> bool:
    """Return whether this is the way the plan turns."""
    return choice.turns == plan.turns.turns


def _name(choice: TurnChoice, plan: DayPlan) -> str:
    mark = ", the plan's choice" if _is_followed(choice, plan) else ""
    return f"{choice.name[:1].upper()}{choice.name[1:]}{mark}"


def _does(choice: TurnChoice) -> str:
    """Return what a way does for the meal, as a part of a sentence."""
    if choice.chance is not None:
        return f"all is ready in time on {need_words(choice)} such days"
    return f"needs {need_words(choice)} of a clear sun" if choice.weakest_sun is not None else ""


def _at(choice: TurnChoice, units: Units) -> str:
    times = _times(choice, units)
    return f", at {times}" if times else ""


def _times(choice: TurnChoice, units: Units) -> str:
    """Return when the box is turned after the first aim."""
    after = choice.turns[1:]
    if len(after) > MANY:
        return ""
    return ", ".join(units.time_text(turn.at) for turn in after)


def _notes(plan: DayPlan) -> tuple[str, ...]:
    """Return what the numbers mean."""
    notes = ["Light: share of what a box turned minute by minute would take in."]
    if any(choice.weakest_sun is not None for choice in plan.turn_table):
        notes.append(
            "Least sun: with how much of a clear sun all promised dishes are still ready in time."
        )
    if need_title(plan):
        notes.append("The plan takes the fewest turns that give up next to nothing of it.")
    notes.append("For a day away look at aimed once: set it and leave.")
    return tuple(notes)
