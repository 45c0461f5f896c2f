"""The dashboard at any size."""

from __future__ import annotations

import io
from dataclasses import replace
from datetime import datetime, timedelta
from zoneinfo import ZoneInfo

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from rich.cells import cell_len
from rich.console import Console
from rich.live import Live
from rich.segment import Segment

from suntrack.day.records import DayPlan
from suntrack.screen import words
from suntrack.screen.dashboard import Call, Dashboard, DashboardView, Reading, fitting
from suntrack.screen.ink import Ink
from suntrack.screen.view import NowView
from suntrack.units import Units

ZONE = ZoneInfo("Africa/Gaborone")
UNITS = Units()


def at(hour: int, minute: int = 0) -> datetime:
    """Return a moment of the planned day."""
    return datetime(2026, 11, 25, hour, minute, tzinfo=ZONE)


def watched(plan: DayPlan, view: NowView) -> DashboardView:
    """Return a view with something in every part."""
    return DashboardView(
        plan=plan,
        now=view,
        calls=(
            Call(at=at(8, 10), title="Set out the empty box", state="sent"),
            Call(at=at(9, 30), title="Lentil soup goes in", state="acknowledged"),
        ),
        readings=(Reading(at=at(9, 50), box_c=84.0),),
        keys="q leave",
    )


def screen(view: DashboardView, width: int, height: int, *, ink: Ink | None = None) -> list[str]:
    """Return the lines of the screen."""
    out = io.StringIO()
    console = Console(file=out, width=width, height=height, force_terminal=False)
    options = console.options.update(width=width, height=height)
    # Not render_lines, which would cut what is too high itself.
    drawn = console.render(Dashboard(view, units=UNITS, ink=ink), options)
    return "".join(segment.text for segment in drawn).splitlines()


@settings(deadline=None, max_examples=30)
@given(width=st.integers(40, 200), height=st.integers(1, 60), ascii_only=st.booleans())
def test_screen_keeps_to_its_size(
    plan: DayPlan, view: NowView, width: int, height: int, ascii_only: bool
) -> None:
    lines = screen(watched(plan, view), width, height, ink=Ink(ascii=ascii_only))
    assert len(lines) <= height
    assert max(cell_len(line) for line in lines) <= width


@settings(deadline=None, max_examples=30)
@given(width=st.integers(40, 200), height=st.integers(14, 60))
def test_next_step_is_always_there_in_full(
    plan: DayPlan, view: NowView, width: int, height: int
) -> None:
    lines = screen(watched(plan, view), width, height)
    said = " ".join(" ".join(lines[:20]).split())
    assert "Next, 10:40" in said
    assert view.next_step is not None
    what = words.step_words(view.next_step, plan, UNITS)
    assert set(what.split()) <= set(said.split())
    assert lines[-1].strip() == "q leave"


def test_tall_screen_counts_down_in_large_figures(plan: DayPlan, view: NowView) -> None:
    assert any("▀▀█ █▀█" in line for line in screen(watched(plan, view), 80, 50))
    assert not any("▀" in line for line in screen(watched(plan, view), 80, 20))
    assert any("in 28 min" in line for line in screen(watched(plan, view), 80, 20))


def test_large_wide_screen_shows_everything(plan: DayPlan, view: NowView) -> None:
    said = "\n".join(screen(watched(plan, view), 160, 60))
    for part in ("Aim", "Steps", "Calls", "Dishes", "Box temperature", "Read 84 °C at 9:50"):
        assert part in said
    assert "Lentil soup goes in (acknowledged)" in said


def test_newest_call_is_on_top(plan: DayPlan, view: NowView) -> None:
    said = "\n".join(screen(watched(plan, view), 160, 60))
    assert said.index("(acknowledged)") < said.index("(sent)")


def test_day_that_is_over_says_so(plan: DayPlan, view: NowView) -> None:
    over = replace(view, next_step=None, after_that=None)
    assert any("No step is left today." in line for line in screen(watched(plan, over), 60, 30))


def test_due_step_is_said_to_be_now(plan: DayPlan, view: NowView) -> None:
    assert view.next_step is not None
    due = replace(view, at=view.next_step.at + timedelta(seconds=10))
    assert any("Next, 10:40, now" in line for line in screen(watched(plan, due), 80, 50))


def lines_of(*heights: int) -> tuple[list[list[Segment]], ...]:
    """Return forms of one section with so many lines each."""
    return tuple([[Segment(str(height))]] * height for height in heights)


@pytest.mark.parametrize(
    ("room", "shown"),
    [(20, "5 8 3"), (15, "5 8"), (12, "5 4 3"), (9, "5 4"), (8, "5 3"), (4, "5")],
)
def test_fullest_form_that_fits_is_taken(room: int, shown: str) -> None:
    """A section of 5 lines; one of 8, or 4 in short; one of 3."""
    fitted = fitting([lines_of(5), lines_of(8, 4), lines_of(3)], room)
    assert " ".join(dict.fromkeys(line[0].text for line in fitted)) == shown
    assert len(fitted) <= room


def test_screen_stays_alive_under_live(plan: DayPlan, view: NowView) -> None:
    """As `watch` uses it: rich's Live on the alternate screen, redrawn by hand."""
    out = io.StringIO()
    console = Console(
        file=out, width=80, height=24, force_terminal=True, _environ={"TERM": "xterm"}
    )
    first = Dashboard(watched(plan, view), units=UNITS)
    with Live(first, console=console, screen=True, auto_refresh=False) as live:
        later = replace(view, at=at(10, 30))
        live.update(Dashboard(watched(plan, later), units=UNITS), refresh=True)
    assert "in 28 min" in out.getvalue()
    assert "in 10 min" in out.getvalue()
