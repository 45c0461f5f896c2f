"""Gusts and rain in the day's steps: in time, while the box is out, the same in every plan."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from datetime import UTC, datetime, timedelta

import numpy as np
import pytest

from suntrack.box.build import SideMirrors
from suntrack.plan.frame import frame_day
from suntrack.plan.inputs import DayInputs, Observations
from suntrack.plan.records import DayPlan, Guarding
from suntrack.plan.wind_rain import day_guards, with_guards
from suntrack.sky.forecast import Forecast

At = Callable[[str], datetime]


@pytest.fixture
def windy(inputs: DayInputs) -> DayInputs:
    """Return the example day with gusts from 14 to 16 and rain from 15 to 17 o'clock."""
    starts_s = inputs.weather.at_s[0] + 3600.0 * np.arange(24, dtype=np.float64)
    hour = np.arange(24)
    forecast = Forecast(
        feed="made up",
        kind="radiation",
        starts_at_s=starts_s,
        ends_at_s=starts_s + 3600.0,
        fetched_at=datetime(2026, 11, 25, tzinfo=UTC),
        gust_m_s=np.where((hour >= 14) & (hour < 16), 14.0, 3.0)[None],
        rain_chance=np.where((hour >= 15) & (hour < 17), 0.8, 0.1)[None],
    )
    return replace(inputs, forecast=forecast)


def test_gusts_and_rain_of_the_day_are_found(windy: DayInputs, at: At) -> None:
    found = day_guards(windy, frame_day(windy))
    assert [(g.kind, g.starts_at, g.ends_at) for g in found] == [
        ("gust", at("14:00"), at("16:00")),
        ("rain", at("15:00"), at("17:00")),
    ]


def test_a_later_plan_knows_the_same_stretch_again_until_it_is_over(
    windy: DayInputs, at: At
) -> None:
    """A start that moved with the clock would be a new alert with every new plan."""
    early = day_guards(windy, frame_day(windy))
    inside = replace(windy, made_at=at("15:20"))
    assert day_guards(inside, frame_day(inside)) == early
    after = replace(windy, made_at=at("16:10"))
    assert [guard.kind for guard in day_guards(after, frame_day(after))] == ["rain"]


def test_gusts_that_one_mirror_stands_are_too_much_for_three(windy: DayInputs, at: At) -> None:
    """9 m/s is under force 6; side mirrors as large as the one at the back make it 6.2."""
    assert windy.forecast is not None
    forecast = windy.forecast
    assert forecast.gust_m_s is not None
    mild = replace(windy, forecast=replace(forecast, gust_m_s=np.minimum(forecast.gust_m_s, 9.0)))
    assert [guard.kind for guard in day_guards(mild, frame_day(mild))] == ["rain"]
    wings = SideMirrors(length_m=0.6, width_m=0.44, angle_deg=118.0)
    winged = replace(mild, box=replace(mild.box, side_mirrors=wings))
    found = day_guards(winged, frame_day(winged))
    assert (found[0].kind, found[0].starts_at) == ("gust", at("14:00"))


def test_no_forecast_and_a_skipped_day_have_none(inputs: DayInputs, windy: DayInputs) -> None:
    assert day_guards(inputs, frame_day(inputs)) == ()
    skipped = replace(windy, heard=Observations(skipped=True))
    assert day_guards(skipped, frame_day(skipped)) == ()


def test_the_steps_come_a_quarter_of_an_hour_before_and_in_order(
    windy: DayInputs, plan: DayPlan, at: At
) -> None:
    steps = with_guards(plan.steps, day_guards(windy, frame_day(windy)))
    assert [step.at for step in steps] == sorted(step.at for step in steps)
    assert {(s.key, s.at) for s in steps if s.kind in ("gust", "rain")} == {
        ("gust-1400", at("13:45")),
        ("rain-1500", at("14:45")),
    }


def test_only_a_box_that_stands_outside_is_guarded(plan: DayPlan, at: At) -> None:
    def guard(starts: str, ends: str) -> Guarding:
        return Guarding(kind="gust", starts_at=at(starts), ends_at=at(ends), most=14.0)

    night = guard("02:00", "04:00")
    evening = guard("22:00", "23:00")
    assert with_guards(plan.steps, [night, evening]) == plan.steps
    assert with_guards((), [guard("12:00", "13:00")]) == ()
    dawn = guard("05:00", "09:00")
    (step,) = [s for s in with_guards(plan.steps, [dawn]) if s.kind == "gust"]
    assert step.at == min(s.at for s in plan.steps if s.kind != "prepare")
    assert step.at - dawn.starts_at < timedelta(hours=4)
