"""The whole road on real input: the example site, box and dishes on a clear day."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from datetime import UTC, datetime, timedelta

import pytest

from suntrack.food.safety import RULES
from suntrack.plan.inputs import DayInputs, Observations, ObservedAim, ObservedReading
from suntrack.plan.make import plan_day
from suntrack.plan.records import DayPlan, DishPlan, FreeHours, Wish

At = Callable[[str], datetime]
Replan = Callable[..., DayPlan]


def dish(plan: DayPlan, key: str) -> DishPlan:
    return next(found for found in plan.dishes if found.key == key)


def test_a_clear_summer_day_is_a_cooking_day(plan: DayPlan) -> None:
    assert plan.verdict.cook
    assert plan.verdict.chance is None, "no forecast stands behind it"
    assert plan.sky.source == "clear sky"
    assert [found.status for found in plan.dishes] == ["ready"] * 3


def test_the_box_gets_as_hot_as_such_boxes_do(plan: DayPlan) -> None:
    """Common practice, no source: empty about 150 C, loaded about 120 C, in full sun."""
    assert 130.0 < plan.window.peak_c < 165.0
    loaded = [sample.box_c for sample in plan.box if sample.box_c < sample.empty_c - 3.0]
    assert 80.0 < sorted(loaded)[len(loaded) // 2] < 135.0


def test_the_window_opens_after_sunrise_and_closes_before_dark(plan: DayPlan) -> None:
    window = plan.window
    assert plan.sunrise_at is not None
    assert plan.sunset_at is not None
    assert window.opens_at is not None
    assert window.closes_at is not None
    assert plan.sunrise_at < window.opens_at < plan.solar_noon_at < window.closes_at
    assert window.closes_at < plan.sunset_at + timedelta(hours=1)


def test_a_full_pot_keeps_the_box_cooler(plan: DayPlan) -> None:
    """A limit: food takes heat, so with nothing ever hotter than it would be empty."""
    assert all(sample.box_c <= sample.empty_c + 0.5 for sample in plan.box)


def test_every_dish_is_safe_and_done_before_it_is_pulled(plan: DayPlan) -> None:
    for found in plan.dishes:
        times = [found.load_at, found.done_at, found.safe_at, found.pull_at, found.pull_by]
        load, done, safe, pull, by = times
        assert load and done and safe and pull and by
        assert load < done <= pull
        assert load < safe <= pull <= by
        assert pull == found.serve_at


def test_chicken_is_called_safe_only_at_the_official_temperature(plan: DayPlan) -> None:
    """FoodSafety.gov chart (found copy): poultry 165 F, 73.9 C."""
    chicken = dish(plan, "chicken-pieces")
    assert RULES["poultry"].minimum_c == pytest.approx((165 - 32) / 1.8, abs=0.05)
    for sample in chicken.curve:
        assert not (sample.safe and sample.at < chicken.safe_at) if chicken.safe_at else True
    before = [s.core_c for s in chicken.curve if chicken.safe_at and s.at < chicken.safe_at]
    after = [s.core_c for s in chicken.curve if chicken.safe_at and s.at >= chicken.safe_at]
    assert max(before) < 73.9 + 1e-6
    assert after[0] > 73.0


def test_wet_food_never_passes_the_local_boiling_point(plan: DayPlan) -> None:
    """At 1010 m water boils about 1 C per 300 m lower (common rule): 96.6 C."""
    soup = dish(plan, "lentil-soup")
    assert max(sample.core_c for sample in soup.curve) < 97.0


def test_steps_are_in_order_and_fall_when_the_cook_is_there(
    plan: DayPlan, inputs: DayInputs
) -> None:
    assert [step.at for step in plan.steps] == sorted(step.at for step in plan.steps)
    assert len({step.key for step in plan.steps}) == len(plan.steps)
    hours = inputs.free[0]
    for step in plan.steps:
        if step.kind in ("turn", "load", "preheat"):
            assert hours.starts_at <= step.at < hours.ends_at, step.key


def test_few_turns_keep_nearly_what_the_habit_keeps(plan: DayPlan) -> None:
    """The habit of turning every half hour (common practice) and the fewest turns beside it."""
    by_name = {choice.name: choice for choice in plan.turn_choices}
    habit, few = by_name["every half hour"], by_name["fewest turns"]
    assert 0.98 < habit.light_kept <= 1.0
    assert few.light_kept >= 0.94 * habit.light_kept
    assert len(few.turns) <= len(habit.turns) / 2
    assert by_name["aimed once"].light_kept < few.light_kept


def test_the_box_faces_the_sun_in_the_southern_summer(plan: DayPlan) -> None:
    """South of the tropic the morning aim is east and the afternoon aim is west."""
    first, last = plan.turns.turns[0], plan.turns.turns[-1]
    assert 60.0 < first.face_true_deg < 130.0
    assert 230.0 < last.face_true_deg < 300.0
    for turn in plan.turns.turns:
        off = (turn.face_compass_deg + plan.declination_deg - turn.face_true_deg) % 360.0
        assert min(off, 360.0 - off) < 1e-6


def test_beans_without_the_confirmed_boil_are_refused(replan: Replan, at: At) -> None:
    """FDA Bad Bug Book (found copy): soak, throw the water away, boil 30 minutes."""
    wish = Wish(dish="kidney-beans", serve_at=at("18:00"))
    refused = replan(wishes=(wish,)).dishes[0]
    assert refused.status == "refused"
    assert refused.load_at is None
    assert any("boil" in note for note in refused.notes)
    allowed = replan(wishes=(replace(wish, confirmed=True),)).dishes[0]
    assert allowed.status == "ready"


@pytest.mark.parametrize("key", ["whole-chicken", "pot-roast", "meat-loaf", "canning"])
def test_what_official_advice_excludes_is_never_planned(replan: Replan, at: At, key: str) -> None:
    """FSIS: no oven below 325 F for meat; NCHFP: no canning in ovens (found copies)."""
    found = replan(wishes=(Wish(dish=key, serve_at=at("18:00")),)).dishes[0]
    assert found.status == "refused"
    assert found.safe_at is None


def test_a_meal_too_early_for_the_sun_goes_to_the_stove(replan: Replan, at: At) -> None:
    plan = replan(wishes=(Wish(dish="chickpeas", serve_at=at("8:00")),))
    assert plan.dishes[0].status in ("late", "not done")
    assert not plan.verdict.cook
    assert plan.dishes[0].stove_by is not None
    assert plan.dishes[0].stove_by <= at("8:00")


def test_nothing_is_planned_in_the_past(replan: Replan, at: At) -> None:
    """At eleven, with nothing noted, every step of the day lies ahead.

    What should have been done the evening before is still told: it may have been.
    """
    plan = replan(made_at=at("11:00"))
    assert all(step.at >= at("11:00") for step in plan.steps if step.at > at("0:00"))
    assert plan.turns.turns[0].at >= at("11:00")


def test_after_dark_the_whole_day_is_shown(replan: Replan, plan: DayPlan, at: At) -> None:
    late = replan(made_at=at("22:00"))
    assert [step.at for step in late.steps] == [step.at for step in plan.steps]


def test_the_plan_follows_what_was_really_loaded(replan: Replan, inputs: DayInputs, at: At) -> None:
    wishes = tuple(
        replace(wish, loaded_at=at("9:00")) if wish.dish == "lentil-soup" else wish
        for wish in inputs.wishes
    )
    aims = (ObservedAim(at=at("6:30"), face_true_deg=102.0, mirror_deg=75.0),)
    plan = replan(wishes=wishes, made_at=at("9:30"), heard=Observations(aims=aims))
    soup = dish(plan, "lentil-soup")
    assert soup.load_at == at("9:00")
    others = [found.load_at for found in plan.dishes if found.key != "lentil-soup"]
    assert all(load is not None and load >= at("9:30") for load in others)


def test_turns_go_on_from_the_aim_the_box_really_has(replan: Replan, at: At) -> None:
    aims = (ObservedAim(at=at("7:00"), face_true_deg=60.0, mirror_deg=80.0),)
    plan = replan(made_at=at("9:00"), heard=Observations(aims=aims))
    first, second = plan.turns.turns[:2]
    assert (first.at, first.face_true_deg) == (at("7:00"), 60.0)
    assert second.at >= at("9:00")


def test_a_cooler_reading_makes_a_cooler_rest_of_the_day(replan: Replan, at: At) -> None:
    aims = (ObservedAim(at=at("6:30"), face_true_deg=102.0, mirror_deg=75.0),)
    expected = replan(made_at=at("9:00"), heard=Observations(aims=aims), wishes=())
    predicted = next(s.empty_c for s in expected.box if s.at >= at("9:00"))
    cooler = ObservedReading(at=at("9:00"), box_c=predicted - 20.0)
    told = replan(made_at=at("9:00"), heard=Observations(aims=aims, readings=(cooler,)), wishes=())
    met = next(s.empty_c for s in told.box if s.at >= at("9:00"))
    assert met == pytest.approx(predicted - 20.0, abs=3.0)
    assert told.window.peak_c < expected.window.peak_c - 10.0


def test_a_skipped_day_has_no_steps(replan: Replan) -> None:
    plan = replan(heard=Observations(skipped=True))
    assert not plan.verdict.cook
    assert plan.steps == ()


def test_a_cook_away_at_noon_turns_and_loads_around_it(replan: Replan, at: At) -> None:
    free = (
        FreeHours(starts_at=at("6:30"), ends_at=at("9:00")),
        FreeHours(starts_at=at("16:00"), ends_at=at("20:30")),
    )
    wish = Wish(dish="root-stew", serve_at=at("18:00"))
    plan = replan(free=free, wishes=(wish,))
    for step in plan.steps:
        if step.kind in ("turn", "load", "preheat"):
            assert any(stretch.starts_at <= step.at < stretch.ends_at for stretch in free), step.key


def test_planning_is_deterministic(inputs: DayInputs, plan: DayPlan) -> None:
    assert plan_day(inputs) == plan


def test_a_hot_day_is_warned_of(replan: Replan, inputs: DayInputs) -> None:
    """USDA FSIS (found copy): above 90 F, 32.2 C, the two hours become one."""
    hot = replace(inputs.weather, air_c=inputs.weather.air_c + 8.0)
    assert "hot day" in replan(weather=hot).cautions


def test_a_dish_in_before_the_first_aim_keeps_its_clocks(
    replan: Replan, inputs: DayInputs, at: At
) -> None:
    """Chicken that stood in a covered box since five is not made safe by aiming it at nine."""
    wishes = tuple(
        replace(wish, loaded_at=at("5:00")) if wish.dish == "chicken-pieces" else wish
        for wish in inputs.wishes
    )
    aims = (ObservedAim(at=at("9:00"), face_true_deg=90.0, mirror_deg=95.0),)
    chicken = dish(
        replan(wishes=wishes, made_at=at("9:10"), heard=Observations(aims=aims)), "chicken-pieces"
    )
    assert chicken.load_at == at("5:00")
    assert chicken.status == "not safe"
    assert chicken.safe_at is None


def test_what_is_taken_out_early_cooks_no_further(
    replan: Replan, inputs: DayInputs, at: At
) -> None:
    wishes = tuple(
        replace(wish, loaded_at=at("9:00"), pulled_at=at("9:30").astimezone(UTC))
        if wish.dish == "lentil-soup"
        else wish
        for wish in inputs.wishes
    )
    aims = (ObservedAim(at=at("6:30"), face_true_deg=102.0, mirror_deg=75.0),)
    plan = replan(wishes=wishes, made_at=at("9:40"), heard=Observations(aims=aims))
    soup = dish(plan, "lentil-soup")
    assert soup.status in ("not done", "not safe")
    assert soup.pull_at == at("9:30")
    assert soup.pull_at.utcoffset() == at("9:30").utcoffset(), "in the site's time"
    assert max(sample.at for sample in soup.curve) <= at("9:30")
    assert all(step.dish != "lentil-soup" for step in plan.steps)


def test_nothing_is_pulled_before_it_is_ready(replan: Replan, at: At) -> None:
    """A meal a few minutes before a dish is ready does not pull it raw."""
    ready = replan(wishes=(Wish(dish="fish-fillets", serve_at=at("12:00")),)).dishes[0]
    assert ready.done_at is not None
    assert ready.safe_at is not None
    for minutes in range(-4, 5):
        serve_at = max(ready.done_at, ready.safe_at) + timedelta(minutes=minutes)
        wish = Wish(dish="fish-fillets", serve_at=serve_at, loaded_at=ready.load_at)
        found = replan(wishes=(wish,)).dishes[0]
        assert found.pull_at is not None
        assert found.done_at is not None
        assert found.safe_at is not None
        assert found.pull_at >= max(found.done_at, found.safe_at)


def test_a_cook_who_is_never_there_in_daylight_loads_nothing(replan: Replan, at: At) -> None:
    free = (FreeHours(starts_at=at("20:00"), ends_at=at("23:00")),)
    plan = replan(free=free)
    assert not plan.verdict.cook
    assert all(found.load_at is None for found in plan.dishes)
    assert plan.steps == ()


def test_no_turn_comes_after_the_box_is_covered(replan: Replan, at: At) -> None:
    plan = replan(wishes=(Wish(dish="root-stew", serve_at=at("12:30")),))
    cover = next(step.at for step in plan.steps if step.kind == "cover")
    assert all(step.at < cover for step in plan.steps if step.kind == "turn")


def test_skipping_still_calls_for_what_is_in_the_box(
    replan: Replan, inputs: DayInputs, at: At
) -> None:
    wishes = tuple(
        replace(wish, loaded_at=at("10:40")) if wish.dish == "lentil-soup" else wish
        for wish in inputs.wishes
    )
    plan = replan(wishes=wishes, made_at=at("12:00"), heard=Observations(skipped=True))
    assert [step.key for step in plan.steps] == ["pull-lentil-soup"]


def test_nothing_is_planned_that_nobody_can_take_out(replan: Replan, at: At) -> None:
    """Rice that keeps for an hour and a half is not left to a cook who is away all day."""
    free = (
        FreeHours(starts_at=at("6:30"), ends_at=at("9:00")),
        FreeHours(starts_at=at("16:00"), ends_at=at("20:30")),
    )
    found = replan(free=free, wishes=(Wish(dish="white-rice", serve_at=at("16:00")),)).dishes[0]
    assert found.load_at is None
    assert any("nobody is there" in note for note in found.notes)
