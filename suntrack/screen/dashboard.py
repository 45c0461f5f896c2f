"""The screen of `watch`: one frozen view in, one renderable out, for any width and height.

The next step comes first and large.  What does not fit the height is left out whole, the
least urgent first; nothing scrolls and nothing is cut in the middle of a word.
"""

from __future__ import annotations

from dataclasses import dataclass
from datetime import timedelta
from typing import TYPE_CHECKING

from rich.console import Console, ConsoleOptions, Group, RenderableType, RenderResult
from rich.padding import Padding
from rich.segment import Segment
from rich.table import Table
from rich.text import Text

from suntrack.screen import blocks, words
from suntrack.screen.bigtext import big_words
from suntrack.screen.ink import Ink
from suntrack.screen.style import NO, YES

if TYPE_CHECKING:
    from collections.abc import Sequence
    from datetime import datetime

    from suntrack.day.records import DayPlan
    from suntrack.screen.view import NowView
    from suntrack.units import Units

TWO_COLUMNS = 100
"""From this width on, the aim stands beside the list of steps.  [columns]"""
GUTTER = 4
TALL = 26
"""From this height on, the countdown is large.  [rows]"""
FEW = 3
"""How many steps ahead are shown where there is no room for all."""
CALLS = 4
"""How many calls are kept on the screen."""

Section = tuple[RenderableType, ...]
"""One part of the screen, the fullest form first."""
Lines = list[list[Segment]]


@dataclass(frozen=True, slots=True, kw_only=True)
class Call:
    """One notice that has gone out."""

    at: datetime
    title: str
    state: str
    """One word for what became of it, such as sent or acknowledged."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Reading:
    """What the cook has read off the oven thermometer."""

    at: datetime
    box_c: float


@dataclass(frozen=True, slots=True, kw_only=True)
class DashboardView:
    """Everything the screen of `watch` shows."""

    plan: DayPlan
    now: NowView
    calls: tuple[Call, ...] = ()
    """In order of time."""
    readings: tuple[Reading, ...] = ()
    """In order of time."""
    keys: str = ""
    """What the keys do, for the last line; empty without a keyboard."""


class Dashboard:
    """A dashboard view that can be printed, or kept alive by `rich.live.Live`."""

    def __init__(self, view: DashboardView, *, units: Units, ink: Ink | None = None) -> None:
        self.view = view
        self.units = units
        self.ink = ink or Ink()

    def __rich_console__(self, console: Console, options: ConsoleOptions) -> RenderResult:
        """Yield the lines that fit."""
        width, height = options.max_width, options.height or options.max_height
        foot = [Text(self.ink.text(self.view.keys), "dim")] if self.view.keys else []
        foot_lines = _lines(console, options, Group(*foot), width) if foot else []
        head_lines = _lines(console, options, self._head(), width)
        room = max(height - len(head_lines) - len(foot_lines), 1)
        body = self._body(console, options, width, room)
        if foot_lines:
            # The keys keep their place on the last line while the rest comes and goes.
            body += [[Segment(" " * width)]] * (room - len(body))
        for line in [*head_lines, *body, *foot_lines][:height]:
            yield from line
            yield Segment.line()

    def _head(self) -> RenderableType:
        """Return the place, the time and the answer."""
        view, units = self.view.now, self.units
        place = f"{view.site_name}, {units.time_text(view.at)}"
        answer = words.headline(self.view.plan)
        return Group(
            Text(self.ink.text(place), "dim"),
            Text(self.ink.text(answer), YES if view.verdict.cook else NO),
        )

    def _body(self, console: Console, options: ConsoleOptions, width: int, room: int) -> Lines:
        """Return what fits under the head, in one column or in two."""
        if width < TWO_COLUMNS:
            aim, *box = self._left(width)
            steps, *lists = self._right(width)
            parts = [(self._next(room),), aim, steps, *lists[:-1], *box, lists[-1]]
            return fitting([_drawn(console, options, part, width) for part in parts], room)
        half = (width - GUTTER) // 2
        top = _lines(console, options, self._next(room), width)[:room]
        left, right = (
            fitting([_drawn(console, options, part, half) for part in parts], room - len(top))
            for parts in (self._left(half), self._right(half))
        )
        return [*top, *side_by_side(left, right, half)]

    def _left(self, width: int) -> list[Section]:
        """Return the aim and the box; without the drawing where there is no room for it."""
        now, units, ink = self.view.now, self.units, self.ink
        aim = blocks.aim_block(now, units, width=width, ink=ink, note=False)
        short = blocks.aim_facts(now, units, ink=ink, note=False)
        return [(self._titled("Aim", aim), self._titled("Aim", short)), *self._box(width)]

    def _right(self, width: int) -> list[Section]:
        """Return the lists: steps, calls, dishes; only the steps ahead where room is short."""
        plan, units, ink, at = self.view.plan, self.units, self.ink, self.view.now.at
        steps = blocks.steps_table(plan, units, ink=ink, now=at)
        ahead = blocks.steps_table(plan, units, ink=ink, now=at, most=len(plan.steps))
        few = blocks.steps_table(plan, units, ink=ink, now=at, most=FEW)
        dishes = blocks.dishes_block(plan, units, width=width, ink=ink)
        return [
            (
                self._titled("Steps", steps),
                self._titled("Steps ahead", ahead),
                self._titled("Next steps", few),
            ),
            *self._cooking(width),
            *([(self._titled("Calls", self._calls()),)] if self.view.calls else []),
            (self._titled("Dishes", dishes),),
        ]

    def _titled(self, title: str, body: RenderableType) -> RenderableType:
        return Group(Text(""), blocks.heading(title, ink=self.ink), body)

    def _next(self, room: int) -> RenderableType:
        """Return the next step, its countdown large where there is room for it."""
        view, plan, units, ink = self.view.now, self.view.plan, self.units, self.ink
        step = view.next_step
        if step is None:
            return Group(Text(""), Text("No step is left today.", "bold"))
        left = step.at - view.at
        if room < TALL or left < timedelta(seconds=30):
            return Group(Text(""), blocks.next_block(step, plan, units, ink=ink, now=view.at))
        rows = big_words(words.span_words(left), ink=ink)
        detail = words.step_detail(step, plan)
        return Group(
            Text(""),
            Text(f"{ink.mark('next')} Next, {words.step_when(step, plan, units)}, in", "bold"),
            Padding(Group(*(Text(row, "bold", no_wrap=True) for row in rows)), (0, 0, 1, 2)),
            Padding(
                Group(
                    Text(ink.text(words.step_words(step, plan, units)), "bold"),
                    *([Text(ink.text(detail), "dim")] if detail else []),
                ),
                (0, 0, 0, 2),
            ),
        )

    def _box(self, width: int) -> list[Section]:
        """Return the planned and the read temperature, and the curve."""
        if not self.view.plan.box:
            return []
        units = self.units
        lines = [
            f"Read {units.temperature_text(reading.box_c)} at {units.time_text(reading.at)}"
            for reading in self.view.readings[-2:]
        ]
        chart = blocks.chart_block(self.view.plan, units, width=width, ink=self.ink)
        shown = [Text(self.ink.text(line)) for line in lines]
        return [
            (self._titled("Box temperature", Group(*shown, chart)),),
        ]

    def _cooking(self, width: int) -> list[Section]:
        """Return how far the dishes in the box are."""
        if not self.view.now.cooking:
            return []
        inside = blocks.cooking_block(self.view.now, width=width, ink=self.ink)
        return [(self._titled("In the box, by the plan", inside),)]

    def _calls(self) -> RenderableType:
        """Return the newest calls, the newest first."""
        table = Table.grid(padding=(0, 2, 0, 0))
        table.add_column(justify="right", no_wrap=True)
        table.add_column(ratio=1, overflow="fold")
        for call in reversed(self.view.calls[-CALLS:]):
            what = self.ink.text(f"{call.title} ({call.state})")
            table.add_row(self.units.time_text(call.at), what)
        return table


def _lines(console: Console, options: ConsoleOptions, part: RenderableType, width: int) -> Lines:
    """Return a part as lines of one width."""
    return console.render_lines(part, options.update(width=width, height=None), pad=True)


def _drawn(console: Console, options: ConsoleOptions, section: Section, width: int) -> list[Lines]:
    """Return every form of a section as lines."""
    return [_lines(console, options, form, width) for form in section]


def fitting(sections: Sequence[Sequence[Lines]], room: int) -> Lines:
    """Return the lines of the sections that fit a height, the first one always.

    Of each section the fullest form that fits is taken; when none does it is left out
    whole, and a smaller section after it may take its place.
    """
    shown: Lines = []
    for number, forms in enumerate(sections):
        left = room - len(shown)
        chosen = next((lines for lines in forms if len(lines) <= left), None)
        if chosen is None and number == 0:
            chosen = forms[-1]
        shown += chosen or []
    return shown[:room]


def side_by_side(
    left: Sequence[list[Segment]], right: Sequence[list[Segment]], width: int
) -> Lines:
    """Return two columns of lines, each `width` wide, as one."""
    blank = [Segment(" " * width)]
    gutter = Segment(" " * GUTTER)
    return [
        [
            *(left[row] if row < len(left) else blank),
            gutter,
            *(right[row] if row < len(right) else blank),
        ]
        for row in range(max(len(left), len(right)))
    ]
