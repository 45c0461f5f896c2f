"""Turns and dishes settled together: limits and promises on the example day."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from datetime import datetime, timedelta

import pytest

from suntrack.plan.dishes.outcome import NOBODY_AT_MEAL, POT_NEEDED
from suntrack.plan.frame import frame_day
from suntrack.plan.inputs import DayInputs, Observations, ObservedAim, PreviousPlan
from suntrack.plan.records import DayPlan, FreeHours, Wish
from suntrack.plan.turns.settle import settle
from suntrack.sky.ensemble import typical_skies
from suntrack.store.observations import plan_entry_data

At = Callable[[str], datetime]
Replan = Callable[..., DayPlan]


def told(plan: DayPlan, **changes: object) -> PreviousPlan:
    """Return what a plan asked for, as the journal would have it."""
    aims = tuple(
        ObservedAim(at=turn.at, face_true_deg=turn.face_true_deg, mirror_deg=turn.mirror_deg)
        for turn in plan.turns.turns
    )
    loads = {dish.key: dish.load_at for dish in plan.dishes if dish.load_at is not None}
    return replace(PreviousPlan(aims=aims, loads=loads, made_at=plan.made_at), **changes)  # type: ignore[arg-type]


def test_more_turns_never_keep_less_light_nor_need_more_sun(plan: DayPlan) -> None:
    light = [choice.light_kept for choice in plan.turn_table[:-1]]
    assert light == sorted(light)
    suns = [c.weakest_sun for c in plan.turn_table if c.weakest_sun is not None]
    assert suns == sorted(suns, reverse=True)


def test_the_plan_takes_the_fewest_turns_that_the_meal_allows(plan: DayPlan) -> None:
    """By its own table: every smaller number asks for at least five points of sun more."""
    least = min(c.weakest_sun for c in plan.turn_table if c.weakest_sun is not None)
    own = len(plan.turns.turns)
    for choice in plan.turn_table[:-1]:
        if len(choice.turns) < own:
            assert choice.weakest_sun is None or choice.weakest_sun > least + 0.05


def test_an_easy_dish_asks_for_fewer_turns_than_a_hard_day(
    replan: Replan, at: At, plan: DayPlan
) -> None:
    easy = replan(wishes=(Wish(dish="lentil-soup", serve_at=at("15:00"), mass_kg=0.8),))
    assert easy.dishes[0].status == "ready"
    assert len(easy.turns.turns) <= len(plan.turns.turns)


def test_a_turn_shares_a_walk_with_a_load_or_a_pull(plan: DayPlan) -> None:
    walks = {dish.load_at for dish in plan.dishes} | {dish.pull_at for dish in plan.dishes}
    assert walks & {turn.at for turn in plan.turns.turns[1:]}


def test_a_mirror_set_once_a_day_keeps_its_angle(inputs: DayInputs, replan: Replan) -> None:
    mirror = inputs.box.mirror
    assert mirror is not None
    once = replan(box=replace(inputs.box, mirror=replace(mirror, once_a_day=True)))
    assert len({turn.mirror_deg for turn in once.turns.turns}) == 1
    free = {len(c.turns): c.light_kept for c in replan().turn_table}
    for choice in once.turn_table[:-1]:
        assert choice.light_kept <= free.get(len(choice.turns), 1.0) + 0.005


def test_what_was_told_stands_when_nothing_is_new(replan: Replan, plan: DayPlan) -> None:
    again = replan(earlier=told(plan))
    assert [turn.at for turn in again.turns.turns] == [turn.at for turn in plan.turns.turns]
    assert [dish.load_at for dish in again.dishes] == [dish.load_at for dish in plan.dishes]
    assert again.revisions == ()


def test_what_was_told_badly_is_changed_and_the_change_is_named(
    replan: Replan, plan: DayPlan
) -> None:
    """The squash was told for late in the morning, too late for its meal."""
    squash = next(dish for dish in plan.dishes if dish.key == "winter-squash")
    late = squash.serve_at - timedelta(minutes=40)
    again = replan(earlier=told(plan, loads={"winter-squash": late}))
    found = next(one for one in again.revisions if one.dish == squash.name)
    assert (found.kind, found.before, found.cause) == ("load", late, "time")
    assert found.after is not None
    assert found.after < late


def test_a_shown_plan_is_read_back_from_the_journal(plan: DayPlan) -> None:
    data = plan_entry_data(plan)
    assert [aim["at"] for aim in data["aims"]] == [t.at.isoformat() for t in plan.turns.turns]
    assert data["sky"] == [plan.sky.source, None, None]


def test_a_hopeless_dish_is_told_what_would_save_it(replan: Replan, at: At) -> None:
    """There to aim the box at dawn and again late: too late for six, unless somebody helps."""
    dawn = FreeHours(starts_at=at("6:30"), ends_at=at("6:40"))
    evening = FreeHours(starts_at=at("17:10"), ends_at=at("20:00"))
    wish = Wish(dish="chicken-pieces", serve_at=at("18:00"))
    (dish,) = replan(wishes=(wish,), free=(dawn, evening)).dishes
    assert dish.load_at is None
    somebody = next(mend for mend in dish.mends if mend.kind == "somebody")
    assert somebody.load_at is not None
    early = FreeHours(
        starts_at=somebody.load_at - timedelta(minutes=21),
        ends_at=somebody.load_at + timedelta(minutes=1),
    )
    (saved,) = replan(wishes=(wish,), free=(dawn, early, evening)).dishes
    assert saved.status == "ready"


def test_a_pot_serves_lunch_and_supper(inputs: DayInputs, replan: Replan, at: At) -> None:
    """One pot, two meals five hours apart: emptied, washed, filled again."""
    only = tuple(pot for pot in inputs.pots if pot.name == "wide pot")
    plan = replan(
        pots=only,
        wishes=(
            Wish(dish="lentil-soup", serve_at=at("12:00"), mass_kg=1.0),
            Wish(dish="white-rice", serve_at=at("17:00")),
        ),
    )
    lunch, supper = plan.dishes
    assert (lunch.status, supper.status) == ("ready", "ready")
    assert lunch.pot == supper.pot == "wide pot"
    assert lunch.pull_at is not None
    assert supper.load_at is not None
    assert supper.load_at >= lunch.pull_at + timedelta(minutes=10)


def test_a_plan_that_is_stopped_is_still_a_plan(inputs: DayInputs) -> None:
    frame = frame_day(inputs)
    settled = settle(inputs, frame=frame, last_use=frame.last, stop=lambda: True)
    assert len(settled.cooked.plans) == len(inputs.wishes)
    assert settled.aimed.choice.turns


@pytest.mark.parametrize("hours", [("6:30", "9:00"), ("16:00", "20:00")])
def test_turns_fall_only_where_the_cook_is_there(
    replan: Replan, at: At, hours: tuple[str, str]
) -> None:
    there = (FreeHours(starts_at=at(hours[0]), ends_at=at(hours[1])),)
    plan = replan(free=there)
    for turn in plan.turns.turns[1:]:
        assert there[0].starts_at <= turn.at < there[0].ends_at


def test_a_mend_is_never_in_the_past(replan: Replan, at: At) -> None:
    evening = FreeHours(starts_at=at("6:30"), ends_at=at("20:00"))
    plan = replan(
        made_at=at("16:00"),
        wishes=(Wish(dish="chickpeas", serve_at=at("17:30")),),
        free=(evening,),
    )
    for mend in plan.dishes[0].mends:
        assert mend.load_at is None or mend.load_at >= at("16:00")


def test_told_turns_stand_through_the_day(
    inputs: DayInputs, replan: Replan, plan: DayPlan, at: At
) -> None:
    """The plan is shown at dawn and made again as the day goes by; nobody notes anything."""
    for clock in ("9:00", "10:20", "12:15"):
        now = at(clock)
        done = tuple(aim for aim in told(plan).aims if aim.at <= now)
        inside = {d.key: d.load_at for d in plan.dishes if d.load_at and d.load_at <= now}
        again = replan(
            made_at=now,
            earlier=told(plan),
            heard=Observations(aims=done),
            wishes=tuple(
                replace(wish, loaded_at=inside.get(wish.dish), loaded_as_planned=True)
                for wish in inputs.wishes
            ),
        )
        assert [turn.at for turn in again.turns.turns] == [turn.at for turn in plan.turns.turns]
        assert not [one for one in again.revisions if one.kind == "turn"]


def test_the_chance_of_the_followed_turns_is_that_of_the_plan(
    inputs: DayInputs, replan: Replan
) -> None:
    weather = typical_skies(clear=inputs.weather, sun=inputs.sun, seed=5, skies=40)
    plan = replan(weather=weather)
    assert plan.chances is not None
    assert plan.turns.chance == plan.turn_choices[0].chance == plan.chances.good
    (followed,) = [c for c in plan.turn_table[:-1] if c.turns == plan.turns.turns]
    assert followed.chance == plan.chances.good


@pytest.mark.parametrize("sun", [1.0, 0.75])
def test_no_dish_is_told_to_wait_in_the_box_once_it_falls_below_60(
    inputs: DayInputs, replan: Replan, sun: float
) -> None:
    """Cooked food is kept at 60 C (140 F, USDA consumer advice, found copy).

    Lunch leaves the box at one, and no longer warms it for supper.
    """
    sky = inputs.weather
    lights = {
        name: sun * getattr(sky, name)
        for name in ("global_horizontal_w_m2", "beam_normal_w_m2", "diffuse_horizontal_w_m2")
    }
    for dish in replan(weather=replace(sky, **lights)).dishes:
        if dish.status != "ready" or dish.done_at is None or dish.safe_at is None:
            continue
        assert dish.pull_at is not None
        assert dish.pull_by is not None
        ready = max(dish.done_at, dish.safe_at)
        waiting = [s for s in dish.curve if ready <= s.at < min(dish.pull_at, dish.pull_by)]
        assert all(sample.core_c >= 59.5 for sample in waiting)
        assert dish.pull_at <= dish.pull_by


def test_a_meal_before_the_sun_is_left_to_the_stove(replan: Replan, at: At) -> None:
    (dish,) = replan(wishes=(Wish(dish="chicken-pieces", serve_at=at("6:31")),)).dishes
    assert dish.load_at is None
    assert dish.status == "not done"
    assert any("too late" in note for note in dish.notes)


def test_a_pot_has_to_be_empty_for_its_next_dish(inputs: DayInputs, replan: Replan, at: At) -> None:
    only = tuple(pot for pot in inputs.pots if pot.name == "wide pot")
    wishes = (
        Wish(dish="lentil-soup", serve_at=at("12:00"), mass_kg=1.0),
        Wish(dish="white-rice", serve_at=at("17:00")),
    )
    lunch, supper = replan(pots=only, wishes=wishes).dishes
    assert lunch.pull_by is not None
    assert supper.load_at is not None
    assert lunch.pull_by <= supper.load_at - timedelta(minutes=14)
    assert POT_NEEDED in lunch.notes


def test_a_meal_when_nobody_is_there_says_so(replan: Replan, at: At) -> None:
    away = (
        FreeHours(starts_at=at("6:00"), ends_at=at("9:00")),
        FreeHours(starts_at=at("16:00"), ends_at=at("20:00")),
    )
    (dish,) = replan(
        wishes=(Wish(dish="lentil-soup", serve_at=at("13:00"), mass_kg=1.0),), free=away
    ).dishes
    assert dish.status == "ready"
    assert NOBODY_AT_MEAL in dish.notes


def test_what_cannot_wait_comes_out_while_somebody_is_there(replan: Replan, at: At) -> None:
    """Supper at half past nine in the dark: out before the cook leaves, and kept hot."""
    there = (FreeHours(starts_at=at("6:30"), ends_at=at("18:30")),)
    (dish,) = replan(
        wishes=(Wish(dish="root-stew", serve_at=at("21:30"), mass_kg=1.0),), free=there
    ).dishes
    if dish.load_at is not None:
        assert dish.pull_at is not None
        assert dish.pull_at < there[0].ends_at or dish.pull_at == dish.serve_at


def test_the_habit_with_a_mirror_set_once_beats_one_turn(inputs: DayInputs, replan: Replan) -> None:
    mirror = inputs.box.mirror
    assert mirror is not None
    once = replan(box=replace(inputs.box, mirror=replace(mirror, once_a_day=True)))
    habit, single = once.turn_choices[1], once.turn_table[1]
    assert habit.light_kept >= single.light_kept - 0.02
