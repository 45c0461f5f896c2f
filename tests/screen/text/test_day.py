"""The wording, as tables a cook would recognise."""

from __future__ import annotations

import re
from dataclasses import replace
from datetime import date, datetime, timedelta
from types import SimpleNamespace
from typing import Any, cast, get_args
from zoneinfo import ZoneInfo

import pytest
from hypothesis import given
from hypothesis import strategies as st

from suntrack.box.build import SideMirrors
from suntrack.errors import Problem
from suntrack.plan.cautions import cautions_for
from suntrack.plan.records import DayPlan, DishStatus, SkyNote, StepKind, Verdict
from suntrack.screen.blocks import PROGRESS
from suntrack.screen.moment import DishNow
from suntrack.screen.text import day as words
from suntrack.screen.text.cautions import CAUTIONS, caution_words
from suntrack.units import Units, parse_temperature_c

ZONE = ZoneInfo("Africa/Gaborone")
METRIC = Units()
US = Units(temperature="F", length="in", mass="lb", clock="12")


def at(hour: int, minute: int = 0) -> datetime:
    """Return a moment of the planned day."""
    return datetime(2026, 11, 25, hour, minute, tzinfo=ZONE)


def judged(plan: DayPlan, *, cook: bool, chance: float | None, days: int = 0) -> DayPlan:
    """Return the plan with a verdict, for a day so many days after it was made."""
    verdict = Verdict(cook=cook, chance=chance, reason="Because.")
    return replace(plan, verdict=verdict, date=plan.date + timedelta(days=days))


@pytest.mark.parametrize(
    ("cook", "chance", "days", "said"),
    [
        (True, None, 0, "Yes, cook today, if the sky stays clear."),
        (True, 0.82, 0, "Likely a cooking day today: 8 of 10 such days are good."),
        (True, 0.99, 1, "Yes, cook tomorrow: more than 9 of 10 such days are good."),
        (True, None, 2, "Yes, cook on Friday 27 November, if the sky stays clear."),
        (False, None, 0, "No, not today."),
        (True, 0.5, 0, "A toss-up today: 5 of 10 such days are good."),
        (False, 0.24, 0, "Unlikely today: 2 of 10 such days are good."),
        (False, 0.12, 0, "No, not today: 1 of 10 such days is good."),
        (False, 0.01, 2, "No, not on Friday 27 November: fewer than 1 of 10 such days is good."),
        (True, None, -1, "A cooking day on Tuesday 24 November."),
        (True, 0.8, -1, "A cooking day on Tuesday 24 November: 8 of 10 such days are good."),
        (False, None, -1, "Not a cooking day on Tuesday 24 November."),
    ],
)
def test_answer_comes_first_and_says_which_day(
    plan: DayPlan, cook: bool, chance: float | None, days: int, said: str
) -> None:
    assert words.headline(judged(plan, cook=cook, chance=chance, days=days)) == said


def test_verdict_line_has_answer_reason_and_window(plan: DayPlan) -> None:
    line = words.verdict_line(plan, METRIC)
    assert line.startswith("Yes, cook today")
    assert plan.verdict.reason in line
    assert "above 90 °C from 9:05 to 16:20; hottest 131 °C at 12:40" in line


@pytest.mark.parametrize(
    ("day", "said"),
    [
        # Weekdays by the calendar: 1 January 2000 was a Saturday (ISO 8601's own example day).
        (date(2000, 1, 1), "Saturday 1 January 2000"),
        (date(2024, 2, 29), "Thursday 29 February 2024"),
    ],
)
def test_dates_are_written_out(day: date, said: str) -> None:
    assert words.date_words(day) == said


def test_window_that_never_opens_is_said_so(plan: DayPlan) -> None:
    never = replace(plan.window, opens_at=None, closes_at=None, peak_c=71.0)
    assert words.window_words(never, METRIC) == (
        "Empty, the box does not reach 90 °C; at best 71 °C at 12:40."
    )
    open_end = replace(plan.window, closes_at=None)
    assert "from 9:05 on;" in words.window_words(open_end, METRIC)


@given(threshold_c=st.floats(-20.0, 200.0), peak_c=st.floats(-20.0, 200.0))
def test_celsius_and_fahrenheit_say_the_same(
    plan: DayPlan, threshold_c: float, peak_c: float
) -> None:
    """Read back by the parser of units; half a degree is the rounding of a whole degree."""
    window = replace(plan.window, threshold_c=threshold_c, peak_c=peak_c)
    for units, half in ((METRIC, 0.5), (US, 0.5 / 1.8)):
        said = words.window_words(window, units)
        above = said.split("above ")[1].split(" from")[0]
        hottest = said.split("hottest ")[1].split(" at")[0]
        assert abs(parse_temperature_c(above) - threshold_c) <= half + 1e-9
        assert abs(parse_temperature_c(hottest) - peak_c) <= half + 1e-9


@given(minute=st.integers(0, 24 * 60 - 1))
def test_both_clocks_say_the_same_time(plan: DayPlan, minute: int) -> None:
    """Read back by the standard library's own clock formats."""
    step = replace(plan.steps[1], at=at(minute // 60, minute % 60))
    long, short = words.step_when(step, plan, METRIC), words.step_when(step, plan, US)
    as_24 = datetime.strptime(long, "%H:%M")  # noqa: DTZ007 - a time of day only
    as_12 = datetime.strptime(short, "%I:%M %p")  # noqa: DTZ007
    assert as_24 == as_12


STEPS = {
    "prepare-1-lentil-soup": "Lentil soup: Soak the lentils in cold water.",
    "preheat": "Set out the empty box facing east, 113° on a compass; mirror 88° from the glass",
    "load-lentil-soup": "Lentil soup goes in (big black pot)",
    "turn-1": (
        "Turn 25° to the left, to east-north-east, 88° on a compass; mirror 104° from the glass"
    ),
    "load-chicken-stew": (
        "Chicken stew with sweet potatoes: on the kitchen stove today, not in the box"
    ),
    "pull-lentil-soup": "Lentil soup comes out, by 14:40 at the latest",
    "turn-2": "Turn 150° to the left, to west, 298° on a compass; mirror 98° from the glass",
    "cover": "Fold the mirror down and cover the box",
}


GUARDS = {
    "gust-1400": "Tie the mirror: gusts of up to 54 km/h from 14:00",
    "rain-1500": "Keep the cover at hand: rain may come from 15:00 (60 %)",
}


def test_every_step_of_the_day_has_its_line(plan: DayPlan, skied_plan: DayPlan) -> None:
    said = {step.key: words.step_words(step, plan, METRIC) for step in plan.steps}
    assert said == STEPS
    skied = {step.key: words.step_words(step, skied_plan, METRIC) for step in skied_plan.steps}
    assert skied == STEPS | GUARDS
    assert {step.kind for step in skied_plan.steps} == set(get_args(StepKind))


def test_a_box_lit_from_above_is_set_out_any_way_round(plan: DayPlan) -> None:
    turn = replace(plan.turns.turns[0], any_way=True)
    step = replace(plan.steps[1], turn=turn)
    said = words.step_words(step, plan, METRIC)
    assert said == "Set out the empty box, any way round: it takes its light from above"


def test_step_of_another_day_names_the_day(plan: DayPlan) -> None:
    """The 24th of November 2026 is a Tuesday."""
    assert words.step_when(plan.steps[0], plan, METRIC) == "Tue 20:00"
    assert words.step_when(plan.steps[0], plan, US) == "Tue 8:00 pm"


@pytest.mark.parametrize(
    ("made", "said"),
    [
        (date(2026, 11, 18), "Tue 20:00"),
        (date(2026, 11, 17), "24 Nov 20:00"),
        (date(2026, 10, 25), "24 Nov 20:00"),
    ],
)
def test_a_weekday_is_said_only_when_it_can_be_no_other_weeks(
    plan: DayPlan, made: date, said: str
) -> None:
    """The step is on Tuesday 24 November; seven days before it is a Tuesday too."""
    planned = datetime(made.year, made.month, made.day, 9, tzinfo=ZONE)
    assert words.step_when(plan.steps[0], replace(plan, made_at=planned), METRIC) == said


@pytest.mark.parametrize("status", get_args(DishStatus))
def test_only_a_dish_that_comes_good_is_told_to_go_in(plan: DayPlan, status: DishStatus) -> None:
    """A dish that the box will not finish safely is for the kitchen stove."""
    dish = replace(plan.dishes[0], status=status)
    step = next(step for step in plan.steps if step.key == "load-lentil-soup")
    said = words.step_words(step, replace(plan, dishes=(dish,)), METRIC)
    assert ("goes in" in said) == (status in ("ready", "late"))
    assert ("kitchen stove" in said) == (status in ("not done", "not safe", "refused"))


@pytest.mark.parametrize("status", ["not safe", "refused"])
def test_a_dish_that_is_not_safe_shows_no_safe_heat(plan: DayPlan, status: DishStatus) -> None:
    """Even when a record carries a moment for it."""
    dish = replace(plan.dishes[0], status=status)
    facts = dict(words.dish_facts(dish, METRIC))
    assert "safe heat" not in facts
    assert facts["to the stove by"] == "12:15"


def test_done_and_safe_heat_are_two_facts(plan: DayPlan) -> None:
    facts = dict(words.dish_facts(plan.dishes[0], METRIC))
    assert (facts["done"], facts["safe heat"]) == ("12:20", "11:25")
    assert "to the stove by" not in facts, "a dish that comes good needs no way out"


def test_box_is_called_empty_only_when_it_heats_up_so(plan: DayPlan) -> None:
    """Nine in the morning with the first pot at half past; then with the pot at once."""
    preheat = plan.steps[1]
    assert "the empty box" in words.step_words(preheat, plan, METRIC)
    assert "heat up empty" in words.step_detail(preheat, plan)
    late = replace(preheat, at=at(9, 30))
    assert "empty" not in words.step_words(late, plan, METRIC)
    assert "empty" not in words.step_detail(late, plan)


@given(done=st.floats(0.0, 1.0), safe=st.booleans(), status=st.sampled_from(get_args(DishStatus)))
def test_progress_is_never_rounded_up_to_done(done: float, safe: bool, status: DishStatus) -> None:
    """A dish at 99.9 % is not done, and says so; safe heat is a second thing."""
    dish = DishNow(key="x", name="X", core_c=90.0, done=done, safe=safe, status=status)
    said = words.progress_words(dish)
    bad = status in ("not safe", "refused", "spoiled")
    assert ("100 %" in said) == (done >= 1.0)
    assert ("hot by plan; measure it" in said) == (safe and not bad)
    assert ("not yet at safe heat" in said) == (not safe and not bad)
    assert (words.STATUS[status] in said) == bad
    assert len(said) <= PROGRESS


def test_box_without_a_mirror_has_none_to_fold(plan: DayPlan) -> None:
    turns = tuple(replace(turn, mirror_deg=None) for turn in plan.turns.turns)
    bare = replace(plan, turns=replace(plan.turns, turns=turns))
    assert words.cover_words(bare) == "Cover the box"
    step = replace(plan.steps[1], turn=turns[0])
    assert "mirror" not in words.step_words(step, bare, METRIC)


def test_side_mirrors_are_set_once_and_folded_with_the_rest(plan: DayPlan) -> None:
    """Said where the box is set out, and at no turn; at the end all mirrors come down."""
    winged = replace(plan, side_mirrors_deg=126.0)
    said = [words.step_words(step, winged, METRIC) for step in winged.steps]
    (once,) = [line for line in said if "side mirrors" in line]
    assert once.endswith("side mirrors 126° from the glass, left so all day")
    assert once.startswith("Set out")
    assert words.cover_words(winged) == "Fold the mirrors down and cover the box"


@pytest.mark.parametrize(
    ("seconds", "said"),
    [
        (0, "now"), (29, "now"), (60, "in 1 min"), (90, "in 2 min"), (12 * 60, "in 12 min"),
        (3600, "in 1 h"), (4320, "in 1 h 12 min"), (-180, "3 min ago"), (-7200, "2 h ago"),
        (47 * 3600, "in 47 h"), (48 * 3600, "in 2 days"), (61 * 3600, "in 3 days"),
        (25 * 86400 + 8 * 3600, "in 25 days"), (-72 * 3600, "3 days ago"),
    ],
)  # fmt: skip
def test_countdown_is_said_in_minutes_and_far_off_in_days(seconds: int, said: str) -> None:
    assert words.countdown_words(at(12) + timedelta(seconds=seconds), at(12)) == said


@pytest.mark.parametrize("count", [0, 1, 2, 14])
def test_turns_are_counted_after_the_first_aim(plan: DayPlan, count: int) -> None:
    choice = replace(plan.turns, turns=(plan.turns.turns[0],) * (count + 1))
    said = words.turns_count(choice)
    assert said == {0: "no turn", 1: "1 turn"}.get(count, f"{count} turns")


def test_forecast_and_clear_sky_are_told_apart(plan: DayPlan) -> None:
    assert "no forecast" in words.sky_words(plan.sky, METRIC)
    told = words.sky_words(SkyNote(source="the weather office", issued_at=at(5, 30)), METRIC)
    assert told == "Forecast: the weather office, issued 5:30."


WINGS = SideMirrors(length_m=0.3, width_m=0.4, angle_deg=125.0)


def mirrored(fixed_angle_deg: float | None, *, sides: SideMirrors | None = None) -> Any:
    """Return as much of a box as cautions ask for: its mirrors."""
    mirror = SimpleNamespace(fixed_angle_deg=fixed_angle_deg, length_m=0.44, width_m=0.6)
    return cast("Any", SimpleNamespace(mirror=mirror, side_mirrors=sides))


def test_a_mirror_that_stays_put_is_never_to_be_folded(plan: DayPlan) -> None:
    dishes = cast("Any", [SimpleNamespace(safety="poultry")])
    names = cautions_for(
        box=mirrored(100.0), dishes=dishes, warmest_air_c=40.0, strongest_wind_m_s=20.0
    )
    fixed = replace(plan, cautions=names)
    said = [words.step_words(step, fixed, METRIC) for step in fixed.steps]
    assert "Cover the box" in said
    said += map(caution_words, names)
    assert any("stand so that its light misses you" in line for line in said)
    assert not [line for line in said if re.search("[Ff]old|mirror down", line)]


def test_every_caution_a_day_can_carry_has_words() -> None:
    """Burns, glare, glass, fire, wind, food: the usual cautions of the trade."""
    dish = cast("Any", SimpleNamespace(safety="poultry"))
    rain = cast("Any", SimpleNamespace(kind="rain"))
    bare = cast("Any", SimpleNamespace(mirror=None, side_mirrors=None))
    names = [
        name
        for box in (mirrored(None), mirrored(100.0), mirrored(None, sides=WINGS), bare)
        for name in cautions_for(
            box=box,
            dishes=[dish],
            warmest_air_c=40.0,
            strongest_wind_m_s=20.0,
            guards=[rain],
        )
    ]
    assert set(names) == set(CAUTIONS)
    assert caution_words("Mind the step.") == "Mind the step."


@pytest.mark.parametrize(
    ("name", "needs"),
    [
        ("burns", ("gloves", "steam")),
        ("glare", ("Never look at the sun", "mirror")),
        ("side mirrors", ("left and right", "face out of", "wind")),
        ("glass", ("no cold water", "cracked")),
        ("wind", ("tie the mirror", "gusts")),
        ("fire", ("burns",)),
        ("food", ("local food authority", "thermometer", "not measured")),
    ],
)
def test_cautions_say_what_matters(name: str, needs: tuple[str, ...]) -> None:
    assert all(need in CAUTIONS[name] for need in needs)


def test_a_mistake_is_shown_in_four_pieces() -> None:
    problem = Problem(
        where="config/suntrack.toml:12: box.mirror.length",
        found='"3 m"',
        allowed="10 cm to 2 m",
        remedy="Measure the mirror.",
    )
    lines = words.problem_lines(problem)
    assert lines[0] == problem.where
    assert [line.split(":", 1)[1].strip() for line in lines[1:]] == [
        problem.found,
        problem.allowed,
        problem.remedy,
    ]
