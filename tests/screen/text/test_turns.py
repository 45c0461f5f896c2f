"""The table of turns, what changed, what would mend: words, widths, keys."""

from __future__ import annotations

from dataclasses import replace
from datetime import datetime, timedelta
from io import StringIO
from pathlib import Path

import pytest
from rich.console import Console

from suntrack.plan.records import DayPlan, Remedy, Revision
from suntrack.screen.charset import Charset
from suntrack.screen.text.revision import mend_lines, revision_lines
from suntrack.screen.text.turns import (
    TURNS_KEYS,
    turns_block,
    turns_json,
    turns_lines,
)
from suntrack.units import Units

ROOT = Path(__file__).parents[3]
METRIC = Units()


@pytest.fixture
def tried(plan: DayPlan) -> DayPlan:
    """Return the plan with a table: once, as the plan does, and the habit."""
    once, few, habit = plan.turn_choices[2], plan.turns, plan.turn_choices[1]
    return replace(
        plan,
        turn_table=(
            replace(once, weakest_sun=0.92),
            replace(few, name="2 turns", weakest_sun=0.61),
            replace(habit, weakest_sun=0.58),
        ),
    )


@pytest.mark.parametrize("width", [40, 63, 64, 100, 200])
def test_no_line_is_wider_than_the_screen(tried: DayPlan, width: int) -> None:
    out = StringIO()
    Console(file=out, width=width, no_color=True).print(
        turns_block(tried, METRIC, width, ink=Charset(ascii=True))
    )
    text = out.getvalue()
    assert max(map(len, text.splitlines())) <= width
    assert text.isascii()
    assert "61 %" in text


def test_the_line_of_the_plan_s_own_choice_says_so(tried: DayPlan) -> None:
    lines = turns_lines(tried, METRIC)
    assert [line for line in lines if "the plan's choice" in line] == [
        "2 turns, the plan's choice: keeps 97 % of the light, needs 61 % of a clear sun, "
        "at 10:40, 13:30."
    ]


def test_with_skies_the_table_counts_days(tried: DayPlan) -> None:
    skied = replace(
        tried,
        turn_table=tuple(replace(c, weakest_sun=None, chance=0.72) for c in tried.turn_table),
    )
    assert any("on 7 of 10 such days" in line for line in turns_lines(skied, METRIC))


def test_every_key_is_listed_with_its_meaning(tried: DayPlan) -> None:
    data = turns_json(tried)
    choice = {key for key in data["choices"][0] if key != "turns"}
    found = {"date", "site", "follow", "choices[].turns[]"} | {f"choices[].{k}" for k in choice}
    assert found == set(TURNS_KEYS)


def test_one_line_says_what_changed_and_why(plan: DayPlan) -> None:
    """No line without a change; one for all changes of a plan."""
    at = plan.made_at + timedelta(hours=3)
    moved = Revision(kind="load", dish="Soup", before=at, after=at + timedelta(hours=1),
                     cause="forecast")  # fmt: skip
    gone = Revision(kind="turn", before=at, after=None, cause="forecast")
    assert revision_lines(plan, METRIC) == ()
    (line,) = revision_lines(replace(plan, revisions=(moved, gone)), METRIC)
    assert line == (
        "Changed since you were told, because the forecast is new: "
        "Soup goes in at 11:05, not 10:05; no turn at 10:05."
    )


@pytest.mark.parametrize(
    ("mend", "said"),
    [
        (Remedy(kind="half"), "Half as much would be ready in time."),
        (Remedy(kind="alone"), "Alone in the box it would be ready in time."),
    ],
)
def test_a_mend_is_a_plain_sentence(plan: DayPlan, mend: Remedy, said: str) -> None:
    dish = replace(plan.dishes[1], mends=(mend,))
    assert mend_lines(dish, METRIC) == (said,)


def test_times_of_mends_follow_the_cook_s_clock(plan: DayPlan) -> None:
    at: datetime = plan.made_at.replace(hour=15, minute=10)
    dish = replace(
        plan.dishes[1],
        mends=(Remedy(kind="somebody", load_at=at), Remedy(kind="later meal", ready_at=at)),
    )
    twelve = replace(METRIC, clock="12")
    assert all("3:10 pm" in line for line in mend_lines(dish, twelve))
