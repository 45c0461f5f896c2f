"""The dishes in the box on the dashboard: the way to done and the way to safe, apart."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import TYPE_CHECKING

from rich.console import Group, RenderableType
from rich.padding import Padding
from rich.table import Table
from rich.text import Text

from suntrack.screen.chart import bar
from suntrack.screen.tables import NARROW, SAFE_HEAT
from suntrack.screen.text import day as words

if TYPE_CHECKING:
    from datetime import datetime

    from suntrack.plan.records import DayPlan, DishPlan
    from suntrack.screen.charset import Charset
    from suntrack.screen.moment import DishNow, NowView
    from suntrack.units import Units

WIDE_BAR, NARROW_BAR = 16, 8
"""How wide the bars are.  [columns]"""
ALMOST = 0.99
"""The fullest a bar gets that is not full."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Progress:
    """How far a dish is on one of its two ways, by the plan."""

    share: float | None
    """Of the way, 0 to 1; None where the plan never gets there.  [-]"""
    words: str
    """Done and safe, in words."""


def done_progress(dish: DishNow, planned: DishPlan, units: Units) -> Progress:
    """Return the way to done."""
    if dish.done >= 1.0:
        since = f" since {units.time_text(planned.done_at)}" if planned.done_at else ""
        return Progress(share=1.0, words=f"done{since}")
    when = f", done at {units.time_text(planned.done_at)}" if planned.done_at else ", not today"
    return Progress(share=dish.done, words=f"{math.floor(100.0 * dish.done)} %{when}")


def safe_progress(dish: DishNow, planned: DishPlan, units: Units, *, at: datetime) -> Progress:
    """Return the way to safe heat, as the share of its time that has gone by.

    A dish that the plan does not call safe has no way there, whatever its middle reaches.
    """
    if dish.status in words.NEVER_SAFE:
        return Progress(share=None, words=words.STATUS[dish.status])
    if dish.safe:
        since = f" since {units.time_text(planned.safe_at)}" if planned.safe_at else ""
        return Progress(share=1.0, words=f"reached{since}")
    if planned.safe_at is None or planned.load_at is None or planned.safe_at <= planned.load_at:
        return Progress(share=None, words="not reached by the plan")
    share = (at - planned.load_at) / (planned.safe_at - planned.load_at)
    # The plan's samples are minutes apart: what they do not show yet is not called reached.
    due = "at" if at < planned.safe_at else "was due at"
    said = f"not yet, {due} {units.time_text(planned.safe_at)}"
    return Progress(share=min(max(share, 0.0), ALMOST), words=said)


def cooking_progress(
    view: NowView, plan: DayPlan, units: Units, *, width: int, ink: Charset
) -> RenderableType:
    """Return every dish that is in the box by the plan."""
    planned = {dish.key: dish for dish in plan.dishes}
    parts: list[RenderableType] = []
    for dish in view.cooking:
        middle = f", about {units.temperature_text(dish.core_c)} in the middle"
        name = Text(ink.text(dish.name), "bold").append(ink.text(middle), "not bold")
        ways = (
            ("done", done_progress(dish, planned[dish.key], units)),
            ("safe heat", safe_progress(dish, planned[dish.key], units, at=view.at)),
        )
        parts += [name, Padding(_ways(ways, width=width, ink=ink), (0, 0, 0, 2))]
    return Group(*parts, Text(SAFE_HEAT, "dim"))


def _ways(ways: tuple[tuple[str, Progress], ...], *, width: int, ink: Charset) -> Table:
    """Return the two ways of a dish, one below the other."""
    columns = NARROW_BAR if width < NARROW else WIDE_BAR
    table = Table.grid(padding=(0, 1, 0, 0))
    table.add_column(no_wrap=True, width=9)
    table.add_column(no_wrap=True, width=columns)
    table.add_column(ratio=1, overflow="fold")
    for name, way in ways:
        filled = "-" if way.share is None else bar(way.share, width=columns, ink=ink)
        style = "" if way.share is None else "bright_blue"
        table.add_row(name, Text(filled, style), ink.text(way.words))
    return table
