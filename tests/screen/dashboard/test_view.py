"""The dashboard at any width: nothing wider than it, nothing left out."""

from __future__ import annotations

import io
from dataclasses import replace
from datetime import datetime, timedelta
from zoneinfo import ZoneInfo

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from rich.cells import cell_len
from rich.console import Console, Group

from suntrack.plan.records import DayPlan
from suntrack.screen.charset import Charset
from suntrack.screen.dashboard.view import TALL, Call, Dashboard, DashboardView, Reading
from suntrack.screen.moment import NowView
from suntrack.screen.text import day as words
from suntrack.units import Units

ZONE = ZoneInfo("Africa/Gaborone")
UNITS = Units()
PARTS = ("Aim", "Steps", "Calls", "In the box", "Dishes", "Box temperature")


def at(hour: int, minute: int = 0) -> datetime:
    """Return a moment of the planned day."""
    return datetime(2026, 11, 25, hour, minute, tzinfo=ZONE)


def watched(plan: DayPlan, view: NowView) -> DashboardView:
    """Return a view with something in every part."""
    return DashboardView(
        plan=plan,
        now=view,
        calls=(
            Call(at=at(8, 10), title="Set out the empty box", state="acknowledged"),
            Call(at=at(9, 30), title="Lentil soup goes in", state="sent", waits=True),
        ),
        readings=(Reading(at=at(9, 50), box_c=84.0),),
    )


def screen(
    view: DashboardView, width: int, height: int, *, ink: Charset | None = None
) -> list[str]:
    """Return all lines of the dashboard, as many as there are."""
    out = io.StringIO()
    console = Console(file=out, width=width, force_terminal=False)
    drawn = Dashboard(view, units=UNITS, ink=ink)
    console.print(Group(drawn.top(height=height), drawn.body(width=width)))
    return out.getvalue().splitlines()


@settings(max_examples=30)
@given(width=st.integers(40, 200), height=st.integers(1, 60), ascii_only=st.booleans())
def test_screen_keeps_to_its_width_and_leaves_nothing_out(
    plan: DayPlan, view: NowView, width: int, height: int, ascii_only: bool
) -> None:
    lines = screen(watched(plan, view), width, height, ink=Charset(ascii=ascii_only))
    assert max(cell_len(line) for line in lines) <= width
    said = "\n".join(lines)
    assert [part for part in PARTS if part not in said] == []
    assert said.isascii() or not ascii_only


@settings(max_examples=30)
@given(width=st.integers(40, 200), height=st.integers(1, 60))
def test_next_step_comes_first_and_in_full(
    plan: DayPlan, view: NowView, width: int, height: int
) -> None:
    lines = screen(watched(plan, view), width, height)
    said = " ".join(" ".join(lines[:18]).split())
    assert "Next, 10:40" in said
    assert view.next_step is not None
    what = words.step_words(view.next_step, plan, UNITS)
    assert set(what.split()) <= set(said.split())


def test_tall_screen_counts_down_in_large_figures(plan: DayPlan, view: NowView) -> None:
    assert any("▀▀█ █▀█" in line for line in screen(watched(plan, view), 80, TALL))
    low = screen(watched(plan, view), 80, TALL - 1)
    assert not any("▀" in line for line in low)
    assert any("in 28 min" in line for line in low)


def test_newest_call_is_on_top_and_its_state_in_words(plan: DayPlan, view: NowView) -> None:
    said = "\n".join(screen(watched(plan, view), 160, 60))
    assert said.index("Lentil soup goes in (sent)") < said.index("box (acknowledged)")


def test_the_call_that_waits_stands_under_the_next_step(plan: DayPlan, view: NowView) -> None:
    lines = screen(watched(plan, view), 80, 24)
    waits = "Waits for your answer (d done, s later): Lentil soup goes in"
    assert waits in [line.strip() for line in lines[:8]]


def test_two_calls_that_wait_are_counted_and_none_says_nothing(
    plan: DayPlan, view: NowView
) -> None:
    seen = watched(plan, view)
    both = replace(seen, calls=tuple(replace(call, waits=True) for call in seen.calls))
    assert any("goes in and 1 more" in line for line in screen(both, 80, 24))
    none = replace(seen, calls=tuple(replace(call, waits=False) for call in seen.calls))
    assert not any("Waits" in line for line in screen(none, 80, 24))


def test_without_keys_none_is_named(plan: DayPlan, view: NowView) -> None:
    said = "\n".join(screen(replace(watched(plan, view), has_keys=False), 80, 24))
    assert "Waits for your answer: Lentil soup goes in" in said
    assert "d done" not in said


def test_day_that_is_over_says_so(plan: DayPlan, view: NowView) -> None:
    over = replace(view, next_step=None, after_that=None)
    assert any("No step is left today." in line for line in screen(watched(plan, over), 60, 30))


def test_due_step_is_said_to_be_now(plan: DayPlan, view: NowView) -> None:
    assert view.next_step is not None
    due = replace(view, at=view.next_step.at + timedelta(seconds=10))
    assert any("Next, 10:40, now" in line for line in screen(watched(plan, due), 80, 50))


@pytest.mark.parametrize("width", [40, 80, 120])
def test_where_the_box_faces_and_how_far_to_turn_is_said_in_words(
    plan: DayPlan, view: NowView, width: int
) -> None:
    said = set(" ".join(screen(watched(plan, view), width, 40)).replace(",", " ").split())
    for part in ("the box faces east", "the sun is 13° to the left", "turn 25° to the left"):
        assert set(part.split()) <= said, part


def test_a_drawing_is_kept_for_seconds_and_never_past_something_new(
    plan: DayPlan, view: NowView
) -> None:
    seen = watched(plan, view)

    def stamp(shown: DashboardView) -> tuple[object, ...]:
        return Dashboard(shown, units=UNITS).stamp()

    later = replace(seen, now=replace(view, at=view.at + timedelta(seconds=9)))
    assert stamp(later) == stamp(seen), "10:12:00 and 10:12:09"
    for new in (
        replace(seen, now=replace(view, at=view.at + timedelta(seconds=10))),
        replace(seen, readings=()),
        replace(seen, calls=seen.calls[:1]),
        replace(seen, calls=tuple(replace(call, state="sent") for call in seen.calls)),
        replace(seen, plan=replace(plan, steps=())),
    ):
        assert stamp(new) != stamp(seen)
