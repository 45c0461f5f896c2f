"""From a plan to alerts: each step once, in time, and food never forgotten."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from datetime import datetime, timedelta

import pytest

from suntrack.alerts.alert import Alert
from suntrack.alerts.rules import alerts_for
from suntrack.plan.records import DayPlan, DishPlan

At = Callable[[str], datetime]
MakePlan = Callable[..., DayPlan]
MakeSoup = Callable[..., DishPlan]


def by_name(plan: DayPlan) -> dict[str, Alert]:
    """Return the alerts of a plan by the part of the key after the day."""
    return {alert.key.partition("/")[2]: alert for alert in alerts_for(plan)}


def test_the_day_told_in_order(make_plan: MakePlan, at: At) -> None:
    told = [(a.due_at.strftime("%H:%M"), a.kind, a.dish) for a in alerts_for(make_plan())]
    assert told == [
        ("20:00", "evening before", "Lentil soup"),
        ("07:30", "preheat", None),
        ("08:40", "window opens", None),
        ("09:00", "load", "Lentil soup"),
        ("10:00", "turn", None),
        ("11:30", "turn", None),
        ("12:00", "done", "Lentil soup"),
        ("13:00", "pull", "Lentil soup"),
        ("13:10", "cover", None),
        ("14:20", "pull by", "Lentil soup"),
        ("16:30", "window closes", None),
    ]


def test_keys_name_the_day_and_the_occasion_not_the_time(make_plan: MakePlan) -> None:
    """A plan that moves a step keeps its key, so that it is not told twice."""
    plan = make_plan()
    later = replace(
        plan, steps=tuple(replace(s, at=s.at + timedelta(minutes=1)) for s in plan.steps)
    )
    assert {a.key for a in alerts_for(plan)} == {a.key for a in alerts_for(later)}
    assert all(a.key.startswith("2026-11-25/") for a in alerts_for(plan))


def test_taking_food_out_is_urgent_and_stays_so_for_hours(make_plan: MakePlan, at: At) -> None:
    alerts = by_name(make_plan())
    for name in ("pull-lentil-soup", "pull-by-lentil-soup"):
        assert alerts[name].urgency == "urgent"
        assert alerts[name].lapses_at >= at("14:30") + timedelta(hours=12)
    assert alerts["turn-1"].urgency == "normal"
    assert alerts["window-opens"].urgency == "low"


def test_a_turn_is_worth_telling_until_the_next_one(make_plan: MakePlan, at: At) -> None:
    alerts = by_name(make_plan())
    assert alerts["preheat"].lapses_at == at("10:00")
    assert alerts["turn-1"].lapses_at == at("11:30")
    assert alerts["turn-2"].lapses_at == at("18:45")


def test_no_last_call_right_after_the_first(
    make_plan: MakePlan, make_soup: MakeSoup, at: At
) -> None:
    plan = make_plan(dishes=(make_soup(pull_by=at("13:12")),))
    assert "pull-by-lentil-soup" not in by_name(plan)


@pytest.mark.parametrize("status", ["not done", "not safe"])
def test_a_dish_the_sun_will_not_finish_goes_to_the_stove_in_time(
    status: str, make_plan: MakePlan, make_soup: MakeSoup, at: At
) -> None:
    """And never after the moment at which the stove can no longer save it."""
    dish = make_soup(status=status, pull_at=None, pull_by=None, done_at=None, safe_at=None)
    alerts = by_name(make_plan(dishes=(dish,), steps=()))
    assert alerts["stove-lentil-soup"].due_at == at("12:00")
    assert alerts["stove-lentil-soup"].lapses_at == at("12:15")
    assert alerts["stove-lentil-soup"].urgency == "urgent"
    assert "pull-lentil-soup" not in alerts


def test_a_dish_that_never_goes_in_is_only_a_matter_of_the_meal(
    make_plan: MakePlan, make_soup: MakeSoup, at: At
) -> None:
    dish = make_soup(status="refused", load_at=None, pull_at=None, pull_by=None)
    stove = by_name(make_plan(dishes=(dish,), steps=()))["stove-lentil-soup"]
    assert stove.urgency == "normal"
    assert stove.lapses_at == at("13:00")


@pytest.mark.parametrize("status", ["ready", "late"])
def test_a_dish_that_gets_done_is_not_sent_to_the_stove(
    status: str, make_plan: MakePlan, make_soup: MakeSoup
) -> None:
    assert "stove-lentil-soup" not in by_name(make_plan(dishes=(make_soup(status=status),)))


def test_done_is_told_only_with_its_safe_heat_and_only_if_the_dish_can_wait(
    make_plan: MakePlan, make_soup: MakeSoup, at: At
) -> None:
    """Done at 12:00 and safe at 12:20: not told before 12:20, since a cook would eat it."""
    late_safe = by_name(make_plan(dishes=(make_soup(safe_at=at("12:20")),)))
    assert late_safe["done-lentil-soup"].due_at == at("12:20")
    assert late_safe["done-lentil-soup"].urgency == "low"
    for changes in (
        {"safe_at": None},
        {"done_at": None},
        {"done_at": at("12:50")},
        {"status": "not safe"},
    ):
        assert "done-lentil-soup" not in by_name(make_plan(dishes=(make_soup(**changes),)))


def test_a_safety_clock_is_told_before_it_runs_out_and_when_it_has(
    make_plan: MakePlan, make_soup: MakeSoup, at: At
) -> None:
    dish = make_soup(status="not safe", pull_at=None, pull_by=None, red_at=at("12:50"))
    alerts = by_name(make_plan(dishes=(dish,), steps=()))
    near, over = alerts["danger-near-lentil-soup"], alerts["danger-lentil-soup"]
    assert (near.due_at, near.lapses_at, near.urgency) == (at("12:20"), at("12:50"), "normal")
    assert (over.due_at, over.urgency) == (at("12:50"), "urgent")
    good = by_name(make_plan(dishes=(make_soup(red_at=at("17:00")),)))
    assert not [name for name in good if name.startswith("danger")]


def test_a_dish_in_the_box_is_called_for_even_when_the_plan_has_no_steps(
    make_plan: MakePlan,
) -> None:
    """On a skipped day the plan gives no steps; what is in the box has to come out."""
    assert "pull-lentil-soup" in by_name(make_plan(steps=()))


def test_what_is_prepared_on_the_day_is_not_for_the_evening_before(
    make_plan: MakePlan, at: At
) -> None:
    plan = make_plan()
    steps = (replace(plan.steps[0], at=at("08:30")),)
    (alert,) = (a for a in alerts_for(replace(plan, steps=steps)) if a.step is steps[0])
    assert alert.kind == "prepare"
    assert alert.lapses_at == at("09:00")


def test_the_same_dish_twice_gets_two_keys(
    make_plan: MakePlan, make_soup: MakeSoup, at: At
) -> None:
    evening = make_soup(load_at=at("13:30"), pull_at=at("17:00"), pull_by=at("18:00"))
    alerts = alerts_for(make_plan(dishes=(make_soup(), evening)))
    assert len({alert.key for alert in alerts}) == len(alerts)
    pulls = [alert for alert in alerts if alert.kind == "pull"]
    assert [pull.due_at for pull in pulls] == [at("13:00"), at("17:00")]
    assert [pull.noted_from for pull in pulls] == [at("09:00"), at("13:30")]


def test_a_day_without_a_window_says_nothing_of_it(make_plan: MakePlan) -> None:
    plan = make_plan()
    cold = replace(plan.window, opens_at=None, closes_at=None)
    assert not [a for a in alerts_for(replace(plan, window=cold)) if "window" in a.kind]


def test_an_alert_nobody_could_tell_in_time_is_refused(at: At) -> None:
    with pytest.raises(ValueError, match="turn-1"):
        Alert(key="2026-11-25/turn-1", kind="turn", due_at=at("10:00"), lapses_at=at("10:00"))
