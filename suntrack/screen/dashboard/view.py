"""The screen of `watch`: one frozen view in, renderables out, for any width.

The next step comes first and large, and stays; below it is the rest, which scrolls where
there are too few rows.  Keys and scrolling are in `app`; nothing here knows of them.
"""

from __future__ import annotations

from dataclasses import dataclass
from datetime import timedelta
from typing import TYPE_CHECKING

from rich.console import Group, RenderableType
from rich.padding import Padding
from rich.table import Table
from rich.text import Text

from suntrack.screen import blocks
from suntrack.screen.charset import Charset
from suntrack.screen.dashboard.bigtext import big_words
from suntrack.screen.dashboard.chart import Reading, expected_at, has_band, watched_chart
from suntrack.screen.dashboard.dishes import cooking_progress
from suntrack.screen.style import NO, ROLE_STYLES, YES, row_of
from suntrack.screen.text import day as words
from suntrack.screen.text.dashboard import reading_words, waiting_words

if TYPE_CHECKING:
    from datetime import datetime

    from suntrack.plan.records import DayPlan
    from suntrack.screen.moment import NowView
    from suntrack.units import Units

__all__ = ["Call", "Dashboard", "DashboardView", "Reading"]

TWO_COLUMNS = 100
"""From this width on, the aim stands beside the list of steps.  [columns]"""
GUTTER = 4
TALL = 32
"""From this height on, the countdown is large.  [rows]"""
CALLS = 4
"""How many calls are kept on the screen."""
STILL_S = 10.0
"""For so long a drawing stays true to the minute; the machine may rest meanwhile.  [s]"""
READINGS = 2
"""How many readings are told in words."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Call:
    """One notice that has gone out."""

    at: datetime
    """The moment."""
    title: str
    """What stands above it."""
    state: str
    """One word for what became of it, such as sent or acknowledged."""
    waits: bool = False
    """True while the cook has not answered it."""


@dataclass(frozen=True, slots=True, kw_only=True)
class DashboardView:
    """Everything the screen of `watch` shows."""

    plan: DayPlan
    """The plan that holds."""
    now: NowView
    """The moment."""
    calls: tuple[Call, ...] = ()
    """In order of time."""
    readings: tuple[Reading, ...] = ()
    """In order of time."""
    has_keys: bool = True
    """True when the cook can answer with a key."""


class Dashboard:
    """A dashboard view as two renderables: what always stays, and the rest."""

    def __init__(self, view: DashboardView, *, units: Units, ink: Charset | None = None) -> None:
        self.view = view
        self.units = units
        self.ink = ink or Charset()

    def stamp(self) -> tuple[object, ...]:
        """Return what tells one drawing from another; equal for the same text, or nearly so."""
        view = self.view
        calls = tuple((call.title, call.state, call.waits) for call in view.calls)
        return (view.plan, int(view.now.at.timestamp() // STILL_S), calls, view.readings)

    def top(self, *, height: int) -> RenderableType:
        """Return the place, the answer, the next step and the call that waits."""
        return Group(*self._head(), *self._next(height), *self._waiting(height))

    def body(self, *, width: int) -> RenderableType:
        """Return everything else, in one column or in two."""
        if width < TWO_COLUMNS:
            # With nothing left to do, what becomes of the dishes is what matters.
            dishes = self._dishes(width)
            first, last = ((), dishes) if self._has_more() else (dishes, ())
            return Group(
                *first, *self._aim(width), *self._calls(), *self._cooking(width),
                *self._box(width), *self._steps(), *last,
            )  # fmt: skip
        half = (width - GUTTER) // 2
        table = Table.grid(padding=0)
        for column in (half, GUTTER, half):
            table.add_column(width=column)
        left = Group(*self._aim(half), *self._cooking(half), *self._box(half))
        right = Group(*self._steps(), *self._calls(), *self._dishes(half))
        table.add_row(left, "", right)
        return table

    def _head(self) -> tuple[RenderableType, ...]:
        """Return the place, the time and the answer."""
        view, units = self.view.now, self.units
        place = f"{view.site_name}, {units.time_text(view.at)}"
        return (
            Text(self.ink.text(place), "dim"),
            *(
                Text(self.ink.text(line), NO)
                for line in words.take_out_lines(self.view.plan, units)
            ),
            *self._answer(),
        )

    def _answer(self) -> tuple[RenderableType, ...]:
        """Return the answer: why it is no, and nothing any more of a day that has been cooked."""
        plan, verdict = self.view.plan, self.view.now.verdict
        answer = self.ink.text(words.headline(plan))
        if not verdict.cook:
            return Text(answer, NO), Text(self.ink.text(verdict.reason))
        return (Text(answer, YES),) if self._has_more() else ()

    def _has_more(self) -> bool:
        """Return whether a step is left."""
        return self.view.now.next_step is not None

    def _next(self, height: int) -> tuple[RenderableType, ...]:
        """Return the next step, its countdown large where there is room for it."""
        view, plan, units, ink = self.view.now, self.view.plan, self.units, self.ink
        step = view.next_step
        if step is None:
            left = (
                "No step is left today."
                if plan.steps
                else "There is nothing to do at the box today."
            )
            return () if view.take_out else (Text(""), Text(left, "bold"))
        time_left = step.at - view.at
        if height < TALL or time_left < timedelta(seconds=30):
            return (Text(""), blocks.next_block(step, plan, units, ink=ink, now=view.at))
        rows = big_words(words.span_words(time_left), ink=ink)
        detail = words.step_detail(step, plan)
        said = [Text(ink.text(words.step_words(step, plan, units)), "bold")]
        said += [Text(ink.text(detail), "dim")] if detail else []
        return (
            Text(""),
            Text(f"{ink.mark('next')} Next, {words.step_when(step, plan, units)}, in", "bold"),
            Padding(Group(*(Text(row, "bold", no_wrap=True) for row in rows)), (0, 0, 1, 2)),
            Padding(Group(*said), (0, 0, 0, 2)),
        )

    def _waiting(self, height: int) -> tuple[RenderableType, ...]:
        """Return the newest call that waits for an answer; nothing when none does."""
        waiting = [call for call in self.view.calls if call.waits]
        if not waiting:
            return ()
        said = waiting_words(waiting[-1].title, more=len(waiting) - 1, has_keys=self.view.has_keys)
        gap = (Text(""),) if height >= TALL else ()
        return (*gap, Text(self.ink.text(said), "bold reverse"))

    def _titled(self, title: str, *body: RenderableType) -> tuple[RenderableType, ...]:
        return (Text(""), blocks.heading(title, ink=self.ink), *body)

    def _aim(self, width: int) -> tuple[RenderableType, ...]:
        """Return the sun and the box from above, and how far to turn; nothing once it is over."""
        now, units, ink = self.view.now, self.units, self.ink
        if now.face_true_deg is None and not self._has_more():
            return ()
        return self._titled("Aim", blocks.aim_block(now, units, width=width, ink=ink, note=False))

    def _steps(self) -> tuple[RenderableType, ...]:
        """Return the steps of the day, the next one marked."""
        plan, at = self.view.plan, self.view.now.at
        return self._titled("Steps", blocks.steps_table(plan, self.units, ink=self.ink, now=at))

    def _dishes(self, width: int) -> tuple[RenderableType, ...]:
        """Return the times of the dishes."""
        block = blocks.dishes_block(self.view.plan, self.units, width=width, ink=self.ink)
        return self._titled("Dishes", block)

    def _box(self, width: int) -> tuple[RenderableType, ...]:
        """Return the readings beside what was expected, and the curve."""
        view, plan, ink = self.view, self.view.plan, self.ink
        if not plan.box:
            return ()
        said = [
            Text(ink.text(reading_words(r, expected_at(plan.box, r.at), self.units)))
            for r in view.readings[-READINGS:]
        ]
        rows = watched_chart(
            plan, view.readings, now=view.now.at, units=self.units, width=width, ink=ink
        )
        drawn = (row_of(row) for row in rows)
        return self._titled("Box temperature", *said, *drawn, self._chart_key())

    def _chart_key(self) -> Text:
        """Return what the marks of the chart mean."""
        fill = "#" if self.ink.ascii else "█"
        key = Text().append(fill, ROLE_STYLES["warm"]).append(fill, ROLE_STYLES["hot"])
        if has_band(self.view.plan.box):
            key.append(" at least, ", "dim")
            key.append(self.ink.mark("band") * 2, ROLE_STYLES["band"])
            key.append(" at most, on 8 of 10 such days   ", "dim")
        else:
            key.append(" by the plan   ", "dim")
        if self.view.readings:
            key.append(self.ink.mark("reading"), ROLE_STYLES["reading"])
            key.append(" read   ", "dim")
        key.append(self.ink.mark("threshold") * 2, ROLE_STYLES["threshold"])
        return key.append(" hot enough", "dim")

    def _cooking(self, width: int) -> tuple[RenderableType, ...]:
        """Return how far the dishes in the box are, to done and to safe."""
        view, plan = self.view.now, self.view.plan
        if not view.cooking:
            return ()
        block = cooking_progress(view, plan, self.units, width=width, ink=self.ink)
        return self._titled("In the box, by the plan", block)

    def _calls(self) -> tuple[RenderableType, ...]:
        """Return the newest calls, the newest first; nothing before the first."""
        if not self.view.calls:
            return ()
        table = Table.grid(padding=(0, 2, 0, 0))
        table.add_column(justify="right", no_wrap=True)
        table.add_column(ratio=1, overflow="fold")
        for call in reversed(self.view.calls[-CALLS:]):
            what = self.ink.text(f"{call.title} ({call.state})")
            table.add_row(self.units.time_text(call.at), what)
        return self._titled("Calls", table)
