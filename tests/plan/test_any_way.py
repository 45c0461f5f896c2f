"""A box that is lit from above only: aiming brings nothing, and nobody is sent to turn it."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from datetime import datetime

import pytest

from suntrack.box.build import SideMirrors
from suntrack.plan.inputs import DayInputs, Observations, ObservedAim
from suntrack.plan.make import plan_day
from suntrack.plan.records import DayPlan

At = Callable[[str], datetime]


@pytest.fixture(scope="module")
def flat(inputs: DayInputs) -> DayInputs:
    """Return the example day with the mirror off, a wall for a front, and nothing in the box."""
    return replace(inputs, box=replace(inputs.box, mirror=None, front=None), wishes=())


@pytest.fixture(scope="module")
def flat_plan(flat: DayInputs) -> DayPlan:
    return plan_day(flat)


def test_it_is_set_out_once_and_never_turned(flat_plan: DayPlan) -> None:
    (only,) = flat_plan.turns.turns
    assert only.any_way
    assert flat_plan.turns.light_kept == pytest.approx(1.0, abs=0.02)
    assert [step.kind for step in flat_plan.steps if step.turn is not None] == ["preheat"]


def test_it_faces_where_the_sun_stands_at_noon(flat_plan: DayPlan) -> None:
    """At 24.65 S the noon sun of late November, 20.7 S (almanac, memory), stands in the north."""
    assert flat_plan.turns.turns[0].face_true_deg == 0.0


def test_it_keeps_the_way_that_the_cook_set_it_out(flat: DayInputs, at: At) -> None:
    aim = ObservedAim(at=at("8:00"), face_true_deg=77.0, mirror_deg=None)
    plan = plan_day(replace(flat, made_at=at("9:00"), heard=Observations(aims=(aim,))))
    assert [turn.face_true_deg for turn in plan.turns.turns] == [77.0]


@pytest.mark.parametrize("change", [{"mirror": None}, {"front": None}, {}])
def test_a_mirror_or_a_front_of_glass_wants_aiming(
    inputs: DayInputs, change: dict[str, None]
) -> None:
    box = replace(inputs.box, **change)  # type: ignore[arg-type]
    plan = plan_day(replace(inputs, box=box, wishes=()))
    assert not any(turn.any_way for turn in plan.turns.turns)


def test_a_box_that_leans_wants_aiming(flat: DayInputs) -> None:
    plan = plan_day(replace(flat, box=replace(flat.box, tilt_deg=25.0)))
    assert not any(turn.any_way for turn in plan.turns.turns)


def test_side_mirrors_alone_want_aiming(flat: DayInputs) -> None:
    """They throw most in when the sun stands between them, and the plan tells their angle."""
    wings = SideMirrors(length_m=0.5, width_m=0.42, angle_deg=115.0)
    plan = plan_day(replace(flat, box=replace(flat.box, side_mirrors=wings)))
    assert not any(turn.any_way for turn in plan.turns.turns)
    assert plan.side_mirrors_deg == 115.0
    assert all(turn.mirror_deg is None for turn in plan.turns.turns)
    bare = plan_day(flat)
    assert bare.side_mirrors_deg is None
    assert plan.window.peak_c > bare.window.peak_c
