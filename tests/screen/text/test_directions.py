"""Directions in words, against plain vector arithmetic and the compass card."""

from __future__ import annotations

import math
from dataclasses import replace
from datetime import UTC, datetime

import pytest
from hypothesis import given
from hypothesis import strategies as st

from suntrack.plan.records import DayPlan, Turn
from suntrack.screen.moment import NowView, now_view, right_of_deg
from suntrack.screen.text.directions import (
    OVERHEAD_DEG,
    STRAIGHT_DEG,
    bearing_words,
    compass_note,
    degrees,
    face_words,
    fists,
    shadow_rule,
    sun_words,
    turn_hint,
    turn_words,
)
from suntrack.units import Units


def looking(view: NowView, *, sun_deg: float, face_deg: float, high_deg: float = 40.0) -> NowView:
    """Return a view with the sun and the box where the test wants them."""
    return replace(
        view,
        sun_elevation_deg=high_deg,
        sun_azimuth_deg=sun_deg,
        face_true_deg=face_deg,
        face_compass_deg=face_deg,
        sun_to_face_deg=right_of_deg(sun_deg, face_deg),
    )


def vector(bearing_deg: float) -> tuple[float, float]:
    """Return a bearing as (east, north)."""
    angle = math.radians(bearing_deg)
    return math.sin(angle), math.cos(angle)


def turn_by(by_deg: float) -> Turn:
    """Return a turn of some degrees."""
    return Turn(
        at=datetime(2026, 11, 25, 9, tzinfo=UTC),
        face_true_deg=90.0,
        face_compass_deg=107.0,
        mirror_deg=None,
        turn_by_deg=by_deg,
    )


@pytest.mark.parametrize(
    ("bearing_deg", "words"),
    [
        (0.0, "north"), (359.0, "north"), (360.0, "north"), (45.0, "north-east"),
        (90.0, "east"), (112.5, "east-south-east"), (180.0, "south"),
        (247.5, "west-south-west"), (270.0, "west"), (337.5, "north-north-west"),
    ],
)  # fmt: skip
def test_bearings_have_the_names_of_the_compass_card(bearing_deg: float, words: str) -> None:
    """The sixteen points, 22.5 degrees apart (common practice, no source)."""
    assert bearing_words(bearing_deg) == words


@pytest.mark.parametrize(
    ("sun_deg", "face_deg", "expected"),
    [
        # South of the tropics the sun stands in the north and goes from right to left.
        (30.0, 0.0, "30° to the left of straight back"),
        (330.0, 0.0, "30° to the right of straight back"),
        # North of the tropics it stands in the south and goes from left to right.
        (150.0, 180.0, "30° to the right of straight back"),
        (210.0, 180.0, "30° to the left of straight back"),
        # Across north, where bearings start again.
        (5.0, 350.0, "15° to the left of straight back"),
        (90.0, 91.0, "straight back, in line with the sides of the box"),
    ],
)
def test_shadow_falls_to_the_side_away_from_the_sun(
    view: NowView, sun_deg: float, face_deg: float, expected: str
) -> None:
    assert expected in shadow_rule(looking(view, sun_deg=sun_deg, face_deg=face_deg))


@given(face_deg=st.floats(0.0, 360.0), aside_deg=st.floats(-88.0, 88.0))
def test_side_of_the_shadow_agrees_with_vectors(
    view: NowView, face_deg: float, aside_deg: float
) -> None:
    """The shadow points from the sun; its part along the box's right hand says the side."""
    sun_deg = (face_deg + aside_deg) % 360.0
    east, north = vector(sun_deg)
    shadow = (-east, -north)
    right = vector(face_deg + 90.0)
    to_the_right = shadow[0] * right[0] + shadow[1] * right[1]
    rule = shadow_rule(looking(view, sun_deg=sun_deg, face_deg=face_deg))
    if abs(aside_deg) > STRAIGHT_DEG + 0.01:
        assert (f"to the {'right' if to_the_right > 0 else 'left'} of straight back") in rule
    if abs(aside_deg) < STRAIGHT_DEG - 0.01:
        assert "straight back, in line" in rule


def test_overhead_sun_is_answered_with_a_bearing(view: NowView) -> None:
    rule = shadow_rule(looking(view, sun_deg=10.0, face_deg=45.0, high_deg=85.0))
    assert "too short" in rule
    assert "north-east, 45° on a compass" in rule
    assert "shadow should fall" not in rule


def test_overhead_means_a_shadow_under_a_fifth_of_the_stick() -> None:
    """A stick's shadow is its height over the tangent of the sun's elevation (closed form)."""
    assert 1.0 / math.tan(math.radians(OVERHEAD_DEG)) < 0.2
    assert 1.0 / math.tan(math.radians(OVERHEAD_DEG - 5.0)) > 0.2


def test_sun_behind_the_box_is_said(view: NowView) -> None:
    rule = shadow_rule(looking(view, sun_deg=200.0, face_deg=10.0))
    assert "behind the box" in rule
    assert "Face the box" not in rule, "a turn may be due"


def test_sun_down_says_when_it_rises(view: NowView) -> None:
    down = looking(view, sun_deg=110.0, face_deg=90.0, high_deg=-3.0)
    rises = replace(down, sunrise_at=datetime(2026, 11, 26, 5, 15, tzinfo=UTC))
    assert shadow_rule(rises, Units()) == "The sun is down; it rises at 5:15."
    assert shadow_rule(rises, Units(clock="12")) == "The sun is down; it rises at 5:15 am."
    assert shadow_rule(replace(down, sunrise_at=None)) == "The sun is down."
    assert sun_words(replace(down, sunrise_at=None)) == "The sun is down."


def test_box_put_away_has_nothing_to_aim(view: NowView) -> None:
    away = replace(view, face_true_deg=None, face_compass_deg=None, sun_to_face_deg=None)
    assert shadow_rule(away) == "By the plan the box is not out now. If it is, cover it."


def test_box_not_out_yet_says_when_it_will_be(plan: DayPlan) -> None:
    early = now_view(plan, at=plan.made_at, sun_elevation_deg=24.0, sun_azimuth_deg=104.0)
    rule = shadow_rule(early)
    assert rule == "The box is not set out yet; its first aim is for 8:10."


def test_nobody_is_told_to_look_at_the_sun(view: NowView) -> None:
    for high_deg in (-5.0, 20.0, 85.0):
        said = shadow_rule(looking(view, sun_deg=20.0, face_deg=0.0, high_deg=high_deg))
        assert "look" not in said.lower()


@pytest.mark.parametrize(
    ("angle_deg", "words"),
    [
        (4.0, "half a fist"),
        (10.0, "one fist"),
        (-10.0, "one fist"),
        (14.0, "one and a half fists"),
        (20.0, "two fists"),
        (91.0, "nine fists"),
        (150.0, "15 fists"),
    ],
)
def test_a_fist_is_ten_degrees(angle_deg: float, words: str) -> None:
    """A fist at arm's length is about 10 degrees (common practice, no source)."""
    assert fists(angle_deg) == words


@pytest.mark.parametrize(
    ("by_deg", "words"),
    [
        (20.0, "Turn 20° to the right"),
        (-25.4, "Turn 25° to the left"),
        (0.0, "Leave the box as it stands"),
        (-0.3, "Leave the box as it stands"),
    ],
)
def test_turns_are_to_the_right_when_clockwise(by_deg: float, words: str) -> None:
    assert turn_words(turn_by(by_deg)) == words


def test_hardly_a_turn_gets_no_hint() -> None:
    assert turn_hint(turn_by(1.0)) == ""
    assert turn_hint(turn_by(-20.0)).startswith("Two fists")


def test_bearing_of_360_is_written_as_0() -> None:
    assert degrees(359.7) == "0°"
    assert face_words(2.0, 359.8) == "north, 0° on a compass"


@pytest.mark.parametrize(
    ("off_deg", "said"),
    [(-17.2, "17° west of true north"), (7.5, "8° east of true north"), (0.2, "to true north")],
)
def test_compass_note_says_which_way_it_is_off(view: NowView, off_deg: float, said: str) -> None:
    assert said in compass_note(replace(view, declination_deg=off_deg))


def test_old_magnetic_model_is_owned_up_to(view: NowView) -> None:
    assert "past its years" not in compass_note(view)
    assert "past its years" in compass_note(replace(view, declination_in_date=False))


def test_a_box_lit_from_above_is_not_aimed_by_any_shadow(view: NowView) -> None:
    lit = replace(looking(view, sun_deg=60.0, face_deg=0.0), any_way=True)
    assert shadow_rule(lit) == "The box may stand any way round: it takes its light from above."
