"""Whole screens of the dashboard: kept ones compared word for word, and rules they all keep.

The kept screens guard against change that nobody meant; what a screen has to do is tested by
the rules below and in the other tests of the dashboard, never by a copy of our own output.
"""

from __future__ import annotations

import difflib
from dataclasses import replace

import pytest
from dashboard_days import moments, screen_of, times_of
from make_snapshots import FOLDER, WHOLE, names, path_of, shot
from rich.cells import cell_len

from suntrack.screen.text import day as words

KEPT = sorted(names())
IDS = ["-".join(map(str, name)) for name in KEPT]
MOMENTS = [name for name, moment in moments().items() if moment.view and not moment.keys]
ADVICE = (
    "The screen {name} is not what it was. If that was meant, run python tests/make_snapshots.py,"
    " and read the new {path} before it is committed.\n{change}"
)


@pytest.mark.parametrize("name", KEPT, ids=IDS)
def test_a_screen_is_as_it_was_kept(name: tuple[str, int, int]) -> None:
    path = path_of(*name)
    kept, drawn = path.read_text(encoding="utf-8"), shot(*name)
    change = "\n".join(
        difflib.unified_diff(kept.splitlines(), drawn.splitlines(), "kept", "drawn", lineterm="")
    )
    assert kept == drawn, ADVICE.format(name=path.stem, path=path.name, change=change)


def test_every_kept_screen_is_of_a_moment_that_is_drawn() -> None:
    assert {path.name for path in FOLDER.iterdir()} == {path_of(*name).name for name in KEPT}
    assert {name for name, _, _ in KEPT} == set(moments())


@pytest.mark.parametrize("name", MOMENTS)
@pytest.mark.parametrize(("width", "height"), WHOLE)
def test_a_screen_fills_its_terminal_and_no_more(name: str, width: int, height: int) -> None:
    rows = screen_of(moments()[name], width=width, height=height)
    assert len(rows) == height
    assert {cell_len(row) for row in rows} == {width}


@pytest.mark.parametrize("name", MOMENTS)
@pytest.mark.parametrize("width", [40, 80, 120, 200])
def test_each_step_is_there_with_its_time_and_each_dish_with_its_state(
    name: str, width: int
) -> None:
    moment = moments()[name]
    assert moment.view is not None
    plan = moment.view.plan
    rows = screen_of(moment, width=width, height=160)
    said = " ".join(" ".join(rows).split())
    steps = rows[next(i for i, row in enumerate(rows) if "Steps" in row) :]
    for time in times_of(plan.steps, moment.units):
        assert any(time in row for row in steps), time
    for dish in plan.dishes:
        assert dish.name.split()[0] in said
        assert set(words.status_words(dish).split()) <= set(said.split())


@pytest.mark.parametrize("name", MOMENTS)
def test_without_colour_the_characters_are_the_same(
    name: str, monkeypatch: pytest.MonkeyPatch
) -> None:
    """https://no-color.org; a light or a dark terminal is not asked after at all."""
    moment = moments()[name]
    coloured = screen_of(moment, width=80, height=50)
    monkeypatch.setenv("NO_COLOR", "1")
    assert screen_of(moment, width=80, height=50) == coloured


@pytest.mark.parametrize("name", ["cooking-ascii"])
def test_without_utf8_every_character_is_ascii(name: str) -> None:
    assert "".join(screen_of(moments()[name], width=80, height=120)).isascii()


@pytest.mark.parametrize("name", ["evening", "spoiled"])
def test_an_evening_does_not_tell_anybody_to_cook_today(name: str) -> None:
    """The answer was for the morning: after the last step it would send a cook out at night."""
    assert "Yes, cook today" not in " ".join(screen_of(moments()[name], width=80, height=80))


def test_on_a_dull_day_the_reason_and_the_stove_are_in_sight_on_a_small_screen() -> None:
    moment = moments()["nothing-cooks"]
    said = " ".join(" ".join(screen_of(moment, width=80, height=24)).split())
    assert "No, not today" in said
    assert "The box does not get hot enough." in said
    assert "to the stove by 12:15" in said


@pytest.mark.parametrize("width", [40, 80, 120, 200])
def test_food_to_throw_away_comes_first_and_is_not_called_done(width: int) -> None:
    moment = moments()["spoiled"]
    rows = [" ".join(row.split()) for row in screen_of(moment, width=width, height=100)]
    head = " ".join(rows[:8])
    assert "Chicken stew with sweet potatoes: Throw it away." in head
    assert "Follow your local food authority." in head
    assert not any("16:05" in row for row in rows), "when it would have been done"


def test_a_moment_can_be_changed_and_then_differs_from_what_was_kept() -> None:
    """The comparison can fail."""
    moment = moments()["evening"]
    assert moment.view is not None
    other = replace(moment, view=replace(moment.view, plan=replace(moment.view.plan, steps=())))
    assert screen_of(other, width=80, height=80) != screen_of(moment, width=80, height=80)
