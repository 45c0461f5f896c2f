"""Several days ranked: as a terminal block, as plain lines, for programs."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from rich.console import Group, RenderableType
from rich.constrain import Constrain
from rich.padding import Padding
from rich.table import Table
from rich.text import Text

from suntrack.plan.week import hot_h, ready_count
from suntrack.screen.blocks import MEASURE
from suntrack.screen.charset import Charset
from suntrack.screen.json.numbers import rounded, stamp
from suntrack.screen.style import NO, YES
from suntrack.screen.text import day as words
from suntrack.screen.text.chances import chance_words, likelihood

if TYPE_CHECKING:
    from collections.abc import Mapping, Sequence

    from suntrack.plan.records import DayPlan
    from suntrack.units import Units

PLAIN = Charset()
NARROW = 64
"""Under this width a day's reason stands below its date.  [columns]"""
WEEK_KEYS: Mapping[str, str] = {
    "site": "name of the site",
    "days[].rank": "1 for the best day",
    "days[].date": "the day, at the site",
    "days[].cook": "true when it is a cooking day",
    "days[].chance": "as `verdict.chance` of `today --json`",
    "days[].reason": "why, in one line",
    "days[].ready": "how many dishes are ready in time",
    "days[].dishes": "how many are wanted",
    "days[].hot_h": "how long the empty box is hot enough",
    "days[].opens_at": "when it gets above the threshold; null for never",
    "days[].closes_at": "when it falls below it again; null for not in the planned stretch",
    "days[].peak_c": "hottest the empty box gets",
    "days[].sky": "where the sky of the day came from",
}
"""Every key of `week --json`, as a path."""


def week_lines(plans: Sequence[DayPlan], units: Units, *, ink: Charset = PLAIN) -> tuple[str, ...]:
    """Return the days, a line each, the best first."""
    lines = [title(plans)]
    lines += [
        f"{rank}. {words.date_words(plan.date)}: {answer(plan)}. {reason(plan, units)}"
        for rank, plan in enumerate(plans, start=1)
    ]
    return tuple(ink.text(line) for line in (*lines, *sky_notes(plans, units)))


def week_block(
    plans: Sequence[DayPlan], units: Units, width: int, *, ink: Charset = PLAIN
) -> RenderableType:
    """Return the days for a width in columns, the best first."""
    head = Text(ink.text(title(plans)), "dim")
    days = [_day(rank, plan, units, width, ink=ink) for rank, plan in enumerate(plans, start=1)]
    notes = [Text(ink.text(note), "dim") for note in sky_notes(plans, units)]
    return Constrain(Group(head, Text(""), *days, Text(""), *notes), min(width, MEASURE))


def _day(rank: int, plan: DayPlan, units: Units, width: int, *, ink: Charset) -> RenderableType:
    """Return one day: its date and answer, and why."""
    said = Text(ink.text(answer(plan)), YES if plan.verdict.cook else NO)
    day = Text(ink.text(f"{rank} {short_date(plan)}"), "bold")
    why = Text(ink.text(reason(plan, units)))
    if width < NARROW:
        return Group(Text.assemble(day, "  ", said), Padding(why, (0, 0, 0, 2)))
    table = Table.grid(padding=(0, 2, 0, 0))
    table.add_column(no_wrap=True, width=12)
    table.add_column(ratio=1, overflow="fold")
    table.add_row(day, Group(said, why))
    return table


def week_json(plans: Sequence[DayPlan], units: Units) -> dict[str, Any]:
    """Return the days for programs, the best first."""
    return {
        "site": plans[0].site_name if plans else None,
        "days": [
            {
                "rank": rank,
                "date": plan.date.isoformat(),
                "cook": plan.verdict.cook,
                "chance": rounded(plan.verdict.chance, 2),
                "reason": reason(plan, units),
                "ready": ready_count(plan),
                "dishes": len(plan.dishes),
                "hot_h": rounded(hot_h(plan)),
                "opens_at": stamp(plan.window.opens_at),
                "closes_at": stamp(plan.window.closes_at),
                "peak_c": rounded(plan.window.peak_c),
                "sky": plan.sky.source,
            }
            for rank, plan in enumerate(plans, start=1)
        ],
    }


def title(plans: Sequence[DayPlan]) -> str:
    """Return what is shown."""
    first = min(plans, key=lambda plan: plan.date)
    return f"{first.site_name}: {len(plans)} days from {words.date_words(first.date)}, best first"


def short_date(plan: DayPlan) -> str:
    """Return a day in little room, such as `Wed 25 Nov`."""
    day, number, month, _ = words.date_words(plan.date).split()
    return f"{day[:3]} {number} {month[:3]}"


def answer(plan: DayPlan) -> str:
    """Return the day's answer in a word or two."""
    if plan.verdict.chance is not None:
        return f"{likelihood(plan.verdict.chance)}, {chance_words(plan.verdict.chance)}"
    if plan.verdict.cook and plan.sky.source == words.EMPTY_SKY:
        return "yes, if the sky is clear"
    return "yes" if plan.verdict.cook else "no"


def reason(plan: DayPlan, units: Units) -> str:
    """Return why, in one line: the dishes, the hot hours, gusts and rain."""
    parts = [_dishes(plan), _hot(plan, units)]
    expected = {guard.kind for guard in plan.guards}
    parts += ["gusts"] if "gust" in expected else []
    parts += ["rain may come"] if "rain" in expected else []
    said = "; ".join(part for part in parts if part)
    return f"{said[:1].upper()}{said[1:]}."


def _dishes(plan: DayPlan) -> str:
    if not plan.dishes:
        return ""
    return f"{ready_count(plan)} of {len(plan.dishes)} dishes in time"


def _hot(plan: DayPlan, units: Units) -> str:
    """Return when the empty box is hot enough, or how hot it gets."""
    opens_at, closes_at = plan.window.opens_at, plan.window.closes_at
    if opens_at is None:
        return f"the box gets to {units.temperature_text(plan.window.peak_c)} only"
    until = f" to {units.time_text(closes_at)}" if closes_at else " on"
    return f"hot enough from {units.time_text(opens_at)}{until}"


def sky_notes(plans: Sequence[DayPlan], units: Units) -> tuple[str, ...]:
    """Return where the skies came from, each said once, with the days it is for."""
    notes: dict[str, list[DayPlan]] = {}
    for plan in sorted(plans, key=lambda plan: plan.date):
        for line in words.sky_lines(plan.sky, units):
            notes.setdefault(line, []).append(plan)
    return tuple(_for_days(line, days, plans) for line, days in notes.items())


def _for_days(line: str, days: Sequence[DayPlan], plans: Sequence[DayPlan]) -> str:
    """Return a sentence, and the days it is for when they are not all."""
    if len(days) == len(plans):
        return line
    first, last = short_date(days[0]), short_date(days[-1])
    return f"{first if first == last else f'{first} to {last}'}: {line}"
