"""The moment, taken from a plan made by hand."""

from __future__ import annotations

from dataclasses import replace
from datetime import datetime, timedelta
from zoneinfo import ZoneInfo

import pytest

from suntrack.plan.records import DayPlan
from suntrack.screen.moment import aim_at, box_at, dish_at, now_view, right_of_deg, steps_ahead

ZONE = ZoneInfo("Africa/Gaborone")


def at(hour: int, minute: int = 0, second: int = 0) -> datetime:
    """Return a moment of the planned day."""
    return datetime(2026, 11, 25, hour, minute, second, tzinfo=ZONE)


@pytest.mark.parametrize(
    ("hour", "minute", "face_deg"),
    [(8, 10, None), (8, 11, 96.0), (10, 39, 96.0), (10, 40, 71.0), (14, 0, 281.0), (17, 10, None)],
)
def test_aim_holds_until_the_next_turn_and_ends_with_the_cover(
    plan: DayPlan, hour: int, minute: int, face_deg: float | None
) -> None:
    aim = aim_at(plan, at(hour, minute))
    assert (aim.face_true_deg if aim else None) == face_deg


def test_a_box_that_is_only_now_to_be_set_out_faces_no_way_yet(plan: DayPlan) -> None:
    asked = now_view(plan, at=at(8, 10), sun_elevation_deg=30.0, sun_azimuth_deg=96.0)
    assert asked.next_step is not None and asked.next_step.kind == "preheat"
    assert asked.face_true_deg is None
    assert now_view(
        plan, at=at(8, 11), sun_elevation_deg=30.0, sun_azimuth_deg=96.0
    ).face_true_deg == pytest.approx(96.0)


def test_on_a_day_without_steps_the_box_is_not_said_to_face_a_way(plan: DayPlan) -> None:
    nothing = replace(plan, steps=())
    view = now_view(nothing, at=at(12), sun_elevation_deg=80.0, sun_azimuth_deg=0.0)
    assert view.face_true_deg is None
    assert view.mirror_deg is None


def test_a_step_stays_next_for_its_own_minute(plan: DayPlan) -> None:
    assert steps_ahead(plan.steps, at(10, 40, 59))[0].key == "turn-1"
    assert steps_ahead(plan.steps, at(10, 41))[0].key == "load-chicken-stew"
    assert steps_ahead(plan.steps, at(18)) == ()


def test_box_is_read_on_the_straight_line_between_samples(plan: DayPlan) -> None:
    before, after = plan.box[10], plan.box[11]
    middle = box_at(plan.box, before.at + timedelta(minutes=5))
    assert middle == pytest.approx((before.box_c + after.box_c) / 2.0)
    assert box_at(plan.box, before.at) == pytest.approx(before.box_c)
    assert box_at(plan.box, at(3)) is None


@pytest.mark.parametrize(
    ("bearing_deg", "face_deg", "right_deg"),
    [(10.0, 350.0, 20.0), (350.0, 10.0, -20.0), (90.0, 90.0, 0.0), (181.0, 0.0, -179.0)],
)
def test_right_of_the_face_is_clockwise(
    bearing_deg: float, face_deg: float, right_deg: float
) -> None:
    assert right_of_deg(bearing_deg, face_deg) == pytest.approx(right_deg)


def test_now_view_takes_the_moment_from_the_plan(plan: DayPlan) -> None:
    view = now_view(plan, at=at(10, 12), sun_elevation_deg=63.0, sun_azimuth_deg=83.0)
    assert view.sun_to_face_deg == pytest.approx(-13.0)
    assert view.next_step is not None
    assert view.after_that is not None
    assert (view.next_step.key, view.after_that.key) == ("turn-1", "load-chicken-stew")
    assert view.sunrise_at is None, "today's sunrise is past"


@pytest.mark.parametrize(
    ("hour", "minute", "inside"), [(9, 29, False), (9, 30, True), (12, 59, True), (13, 0, False)]
)
def test_a_dish_is_in_the_box_from_load_to_pull(
    plan: DayPlan, hour: int, minute: int, inside: bool
) -> None:
    assert (dish_at(plan.dishes[0], at(hour, minute)) is not None) == inside


def test_dish_is_read_on_the_straight_line_and_safe_only_once_it_was(plan: DayPlan) -> None:
    """The curve says safe from 11:30 on; halfway to it nothing is safe yet."""
    soup = plan.dishes[0]
    before, after = soup.curve[11], soup.curve[12]
    assert (before.safe, after.safe) == (False, True)
    now = dish_at(soup, before.at + timedelta(minutes=5))
    assert now is not None
    assert now.done == pytest.approx((before.done + after.done) / 2.0)
    assert now.core_c == pytest.approx((before.core_c + after.core_c) / 2.0)
    assert not now.safe
    then = dish_at(soup, after.at + timedelta(minutes=5))
    assert then is not None
    assert then.safe


def test_dish_that_is_not_safe_today_never_shows_safe(plan: DayPlan) -> None:
    bad = replace(plan.dishes[0], status="not safe", pull_at=None)
    now = dish_at(bad, at(12, 30))
    assert now is not None
    assert not now.safe


def test_before_sunrise_the_view_knows_it(plan: DayPlan) -> None:
    view = now_view(plan, at=at(4), sun_elevation_deg=-20.0, sun_azimuth_deg=120.0)
    assert view.sunrise_at == plan.sunrise_at
    later = now_view(
        plan, at=at(20), sun_elevation_deg=-20.0, sun_azimuth_deg=240.0, sunrise_at=at(23)
    )
    assert later.sunrise_at == at(23)
