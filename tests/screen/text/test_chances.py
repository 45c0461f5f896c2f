"""Chances in words and JSON: never certain, numbers that fit their words, every width."""

from __future__ import annotations

from dataclasses import replace
from io import StringIO

import pytest
from hypothesis import given
from hypothesis import strategies as st
from rich.console import Console

from suntrack.plan.records import DayPlan, SkyNote, Step
from suntrack.screen.blocks import today_block
from suntrack.screen.json.day import plan_json
from suntrack.screen.plain import today_lines
from suntrack.screen.text import day as words
from suntrack.screen.text.chances import chance_words, guard_words, likelihood
from suntrack.units import Units

METRIC = Units()
ORDER = ("no", "unlikely", "toss-up", "likely", "yes")


@given(st.floats(0.0, 1.0))
def test_a_chance_is_never_said_to_be_certain(chance: float) -> None:
    said = chance_words(chance)
    assert said.endswith(" of 10 such days")
    assert said.split()[0] not in ("0", "10")


@given(st.floats(0.0, 1.0), st.floats(0.0, 1.0))
def test_a_better_chance_never_has_a_lesser_word(one: float, other: float) -> None:
    low, high = sorted((one, other))
    assert ORDER.index(likelihood(low)) <= ORDER.index(likelihood(high))


@pytest.mark.parametrize(
    ("chance", "word", "said"),
    [
        (1.0, "yes", "more than 9 of 10 such days"),
        (0.9, "yes", "9 of 10 such days"),
        (0.7, "likely", "7 of 10 such days"),
        (0.65, "likely", "7 of 10 such days"),
        (0.5, "toss-up", "5 of 10 such days"),
        (0.2, "unlikely", "2 of 10 such days"),
        (0.1, "no", "1 of 10 such days"),
        (0.0, "no", "fewer than 1 of 10 such days"),
    ],
)
def test_word_and_number_fit_together(chance: float, word: str, said: str) -> None:
    assert (likelihood(chance), chance_words(chance)) == (word, said)


def test_the_day_says_what_stands_behind_the_chance(skied_plan: DayPlan) -> None:
    said = "\n".join(today_lines(skied_plan, METRIC))
    assert "Likely a cooking day today: 7 of 10 such days are good." in said
    assert "The empty box holds 90 °C for two hours on 9 of 10 such days." in said
    assert "on 8 of 10 such days" in said
    assert "Counted over 100 skies; chance alone moves that by 1 of 10 either way." in said
    assert "put in 60 min earlier what is to come, to wait longer (9 of 10 such days)" in said
    assert "leave out Chicken stew" in said
    assert "cut Lentil soup half as thick" in said
    assert "Lentil soup in big black pot: ready in time on 7 of 10 such days." in said


def test_gusts_and_rain_come_with_what_to_do(skied_plan: DayPlan) -> None:
    gust, rain = (guard_words(guard, METRIC) for guard in skied_plan.guards)
    assert gust.startswith("Gusts of up to 54 km/h from 14:00 to 16:00: tie the mirror.")
    assert rain.startswith("Rain may come from 15:00 to 17:00 (60 %). Cover the box before the")
    assert "hot glass cracks under cold water" in rain


def test_the_steps_for_gusts_and_rain_say_how_to_stay_unhurt(skied_plan: DayPlan) -> None:
    said = {
        step.kind: words.step_detail(step, skied_plan)
        for step in skied_plan.steps
        if step.kind in ("gust", "rain")
    }
    assert all("gloves" in detail for detail in said.values())
    assert "Weigh the box down" in said["gust"]
    assert "hot glass cracks under cold water" in said["rain"]
    assert "kitchen stove" in said["rain"], "covered, nothing cooks as planned"
    assert "no longer hold" in said["gust"]


def test_a_step_whose_guard_is_gone_still_says_what_to_do(plan: DayPlan) -> None:
    step = Step(key="gust-0900", kind="gust", at=plan.made_at)
    assert words.step_words(step, plan, METRIC) == "Tie the mirror"


def test_the_sky_names_its_source_its_doubts_and_whose_data_it_is(skied_plan: DayPlan) -> None:
    assert words.sky_lines(skied_plan.sky, METRIC) == (
        "Forecast: the weather office, fetched 6:40.",
        "It gives no gusts after tomorrow.",
        "Data from the weather office.",
    )


def test_the_usual_sky_is_called_that() -> None:
    said = words.sky_words(SkyNote(source="typical sky", issued_at=None), METRIC)
    assert said.startswith("No forecast could be used.")
    assert "your place may be brighter or duller" in said


def test_a_plan_without_skies_says_nothing_of_chance(plan: DayPlan) -> None:
    assert words.chance_lines(plan, METRIC) == ()
    assert "such days" not in "\n".join(today_lines(plan, METRIC))
    assert plan_json(plan)["chances"] is None


def test_a_day_gone_by_asks_for_no_change(skied_plan: DayPlan) -> None:
    later = replace(skied_plan, made_at=skied_plan.made_at.replace(day=26))
    assert "would help" not in " ".join(words.chance_lines(later, METRIC))


@pytest.mark.parametrize("width", [40, 80, 120, 200])
def test_no_line_is_wider_than_the_screen(skied_plan: DayPlan, width: int) -> None:
    out = StringIO()
    console = Console(file=out, width=width, no_color=True)
    console.print(today_block(skied_plan, METRIC, width))
    lines = out.getvalue().splitlines()
    assert max(map(len, lines)) <= width
    assert "7 of 10 such days" in " ".join(" ".join(lines).split())
