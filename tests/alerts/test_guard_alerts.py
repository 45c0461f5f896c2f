"""Calls before gusts and rain: loud, in time, over when the weather is."""

from __future__ import annotations

from collections.abc import Callable
from datetime import datetime

from suntrack.alerts.rules import alerts_for
from suntrack.plan.records import DayPlan, Guarding, Step

At = Callable[[str], datetime]
MakePlan = Callable[..., DayPlan]


def test_gusts_and_rain_are_called_before_they_come(make_plan: MakePlan, at: At) -> None:
    steps = (
        Step(key="gust-1000", kind="gust", at=at("09:45")),
        Step(key="rain-1200", kind="rain", at=at("11:45")),
    )
    guards = (
        Guarding(kind="gust", starts_at=at("10:00"), ends_at=at("12:00"), most=14.0),
        Guarding(kind="rain", starts_at=at("12:00"), ends_at=at("13:00"), most=0.7),
    )
    plan = make_plan(steps=steps, guards=guards)
    found = {a.kind: a for a in alerts_for(plan) if a.kind in ("gust", "rain")}
    assert found["gust"].due_at == at("09:45")
    assert found["gust"].lapses_at == at("12:00")
    assert found["rain"].due_at == at("11:45")
    assert {alert.urgency for alert in found.values()} == {"urgent"}
    assert found["gust"].key == "2026-11-25/gust-1000"


def test_a_step_without_its_stretch_lapses_after_an_hour(make_plan: MakePlan, at: At) -> None:
    plan = make_plan(steps=(Step(key="gust-1000", kind="gust", at=at("09:45")),))
    (alert,) = [a for a in alerts_for(plan) if a.kind == "gust"]
    assert alert.lapses_at == at("10:45")
