"""Blocks on real consoles: any width, with and without colour, with and without UTF-8."""

from __future__ import annotations

import io
import re
from collections.abc import Mapping
from dataclasses import replace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from rich.cells import cell_len
from rich.console import RenderableType

from suntrack.plan.records import DayPlan
from suntrack.screen.blocks import ink_for, is_dumb, make_console, now_block, today_block
from suntrack.screen.charset import Charset
from suntrack.screen.moment import NowView
from suntrack.screen.text import day as words
from suntrack.screen.text.measures import in_units
from suntrack.units import Units

METRIC = Units()
US = Units(temperature="F", length="in", mass="lb", clock="12")
COLOUR = re.compile(rb"\x1b\[(?:[0-9;]*;)?(?:3[0-8]|4[0-8]|9[0-7]|10[0-7])(?:;[0-9;]*)?m")
"""SGR parameters that set a colour (ECMA-48 8.3.117, and the common 90-107)."""
WIDTHS = st.integers(40, 200)


class Terminal(io.TextIOWrapper):
    """A terminal that keeps what is written to it."""

    def __init__(self, encoding: str = "utf-8") -> None:
        self.kept = io.BytesIO()
        super().__init__(self.kept, encoding=encoding, write_through=True)

    def isatty(self) -> bool:
        """Return that it is one."""
        return True


def shown(
    block: RenderableType, width: int, *, env: Mapping[str, str] | None = None, to: str = "utf-8"
) -> bytes:
    """Return the bytes a terminal gets."""
    terminal = Terminal(to)
    console = make_console(terminal, env or {"TERM": "xterm-256color"}, width)
    console.print(block)
    return terminal.kept.getvalue()


def text(block: RenderableType, width: int) -> str:
    """Return what a terminal without colours shows."""
    return re.sub(r"\x1b\[[0-9;]*m", "", shown(block, width, env={"NO_COLOR": "1"}).decode())


@settings(deadline=None, max_examples=30)
@given(width=WIDTHS, units=st.sampled_from([METRIC, US]), ascii_only=st.booleans())
def test_no_line_is_wider_than_the_screen(
    plan: DayPlan, view: NowView, width: int, units: Units, ascii_only: bool
) -> None:
    ink = Charset(ascii=ascii_only)
    for block in (
        today_block(plan, units, width, ink=ink),
        now_block(view, plan, units, width, ink=ink),
    ):
        assert max(cell_len(line) for line in text(block, width).splitlines()) <= width


@settings(deadline=None, max_examples=30)
@given(width=WIDTHS, units=st.sampled_from([METRIC, US]))
def test_every_step_and_dish_is_there_at_any_width(plan: DayPlan, width: int, units: Units) -> None:
    said = text(today_block(plan, units, width), width)
    for step in plan.steps:
        assert words.step_when(step, plan, units) in said
    for dish in plan.dishes:
        for what, when in words.dish_facts(dish, units):
            assert what in said
            assert when in said
        assert words.status_words(dish).split()[0] in said
    for choice in plan.turn_choices:
        assert words.light_words(choice) in said


@settings(deadline=None, max_examples=30)
@given(width=WIDTHS)
def test_words_are_never_cut(plan: DayPlan, view: NowView, width: int) -> None:
    """Every word of every sentence stands whole on some line."""
    whole = text(today_block(plan, METRIC, width), width)
    pieces = set(whole.split())
    sentences = [
        words.headline(plan),
        words.window_words(plan.window, METRIC),
        *(words.step_words(step, plan, METRIC) for step in plan.steps),
        *(words.caution_words(name) for name in plan.cautions),
        *(in_units(note, METRIC) for dish in plan.dishes for note in dish.notes),
    ]
    assert {word for sentence in sentences for word in sentence.split()} <= pieces
    now = set(text(now_block(view, plan, METRIC, width), width).split())
    assert set(words.shadow_rule(view).split()) <= now


def test_the_answer_is_the_first_thing_said(plan: DayPlan) -> None:
    lines = text(today_block(plan, METRIC, 80), 80).splitlines()
    order = ["Yes, cook today", "Next, 8:10", "Steps", "Dishes", "Box temperature", "Take care"]
    places = [next(i for i, line in enumerate(lines) if start in line) for start in order]
    assert places == sorted(places)
    assert places[0] == 1


def test_wide_screen_has_steps_and_box_side_by_side(plan: DayPlan) -> None:
    lines = text(today_block(plan, METRIC, 132), 132).splitlines()
    assert any(line.startswith("Steps") and "Box temperature" in line for line in lines)


@pytest.mark.parametrize("width", [40, 80, 132])
def test_no_color_takes_every_colour_away(plan: DayPlan, view: NowView, width: int) -> None:
    """https://no-color.org: set and not empty, whatever the value."""
    for block in (
        today_block(plan, METRIC, width),
        now_block(view, plan, METRIC, width),
    ):
        coloured = shown(block, width, env={"TERM": "xterm-256color"})
        bare = shown(block, width, env={"TERM": "xterm-256color", "NO_COLOR": "1"})
        assert COLOUR.search(coloured), "else this test could not fail"
        assert not COLOUR.search(bare)
        assert COLOUR.search(shown(block, width, env={"TERM": "xterm", "NO_COLOR": ""}))
        strip = re.compile(rb"\x1b\[[0-9;]*m")
        assert strip.sub(b"", coloured) == strip.sub(b"", bare), "colour carries nothing alone"


@pytest.mark.parametrize("encoding", ["ascii", "latin-1", "cp1252"])
def test_without_utf_8_only_ascii_is_written(plan: DayPlan, view: NowView, encoding: str) -> None:
    ink = ink_for(Terminal(encoding))
    assert ink.ascii
    for block in (
        today_block(plan, METRIC, 80, ink=ink),
        now_block(view, plan, METRIC, 80, ink=ink),
    ):
        written = shown(block, 80, to=encoding)
        assert max(written) < 128
        assert b"?" not in written
    assert not ink_for(Terminal()).ascii


def test_only_a_real_terminal_gets_more_than_plain_lines() -> None:
    assert not is_dumb(Terminal(), {"TERM": "xterm"})
    assert is_dumb(Terminal(), {"TERM": "dumb"})
    assert is_dumb(io.StringIO(), {"TERM": "xterm"})


@pytest.mark.parametrize("width", [40, 80, 119])
@pytest.mark.parametrize("name", ["Soup [bold]of[/bold] :bean:", "Kartoffel" * 9, "豆のスープ"])
def test_any_name_is_shown_as_it_is_written(plan: DayPlan, width: int, name: str) -> None:
    """Brackets are no markup, a name without a gap is folded, wide letters keep the width."""
    named = replace(plan, dishes=(replace(plan.dishes[0], name=name), *plan.dishes[1:]))
    said = text(today_block(named, METRIC, width), width)
    column = re.sub(r"\s", "", said)
    assert max(cell_len(line) for line in said.splitlines()) <= width
    assert name.replace(" ", "") in column
    assert f"{name}goesin".replace(" ", "") in column, "in the list of steps too"


def test_dish_that_is_not_safe_says_so_in_words(plan: DayPlan) -> None:
    for width in (40, 80):
        said = " ".join(text(today_block(plan, METRIC, width), width).split())
        assert "not safe in the box today" in said
        assert "Safe heat: the heat its food rule asks for, as planned; not measured." in said
