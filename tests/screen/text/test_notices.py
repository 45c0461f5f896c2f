"""The words of notices."""

from __future__ import annotations

from dataclasses import replace
from datetime import datetime, timedelta
from typing import get_args
from zoneinfo import ZoneInfo

import pytest

from suntrack.alerts.alert import Alert, Change, Kind
from suntrack.alerts.rules import alerts_for
from suntrack.plan.records import DayPlan
from suntrack.screen.text.day import alert_words
from suntrack.units import Units

ZONE = ZoneInfo("Africa/Gaborone")
METRIC, US = Units(), Units(clock="12")
DUE = datetime(2026, 11, 25, 11, 42, tzinfo=ZONE)


def alert(kind: Kind) -> Alert:
    """Return an alert of a kind, about a soup."""
    return Alert(
        key="2026-11-25/it",
        kind=kind,
        due_at=DUE,
        lapses_at=DUE + timedelta(hours=1),
        dish="Lentil soup",
    )


@pytest.mark.parametrize("kind", get_args(Kind))
def test_every_kind_has_a_title_of_its_own(kind: Kind) -> None:
    title, _ = alert_words(alert(kind), units=METRIC, zone=ZONE, now=DUE)
    others = {
        alert_words(alert(other), units=METRIC, zone=ZONE, now=DUE)[0]
        for other in get_args(Kind)
        if other != kind
    }
    assert title not in others
    assert 0 < len(title) <= 60


@pytest.mark.parametrize("kind", ["load", "pull", "pull by", "stove", "prepare", "evening before"])
def test_dish_is_named_in_the_title(kind: Kind) -> None:
    assert "Lentil soup" in alert_words(alert(kind), units=METRIC, zone=ZONE, now=DUE)[0]


@pytest.mark.parametrize("kind", ["load", "pull", "pull by", "stove", "danger near"])
def test_hot_pots_come_with_a_caution(kind: Kind) -> None:
    assert "gloves" in alert_words(alert(kind), units=METRIC, zone=ZONE, now=DUE)[1]


@pytest.mark.parametrize(
    ("late_s", "units", "said"),
    [
        (-30, METRIC, ""),
        (60, METRIC, ""),
        (180, METRIC, "(due 11:42, 3 min ago)"),
        (180, US, "(due 11:42 am, 3 min ago)"),
        (3 * 3600, METRIC, "(due 11:42, 3 h ago)"),
    ],
)
def test_a_late_notice_says_since_when(late_s: int, units: Units, said: str) -> None:
    _, body = alert_words(
        alert("pull"), units=units, zone=ZONE, now=DUE + timedelta(seconds=late_s)
    )
    assert ("(due" in body) == bool(said)
    assert body.endswith(said)


def test_notices_of_a_day_say_what_its_steps_say(plan: DayPlan) -> None:
    said = {a.key: alert_words(a, units=METRIC, zone=ZONE, now=a.due_at) for a in alerts_for(plan)}
    turn = said["2026-11-25/turn-1"]
    assert turn[0] == "Turn 25° to the left"
    assert turn[1] == "Face east-north-east, 88° on a compass; mirror 104° from the glass."
    soak = said["2026-11-25/prepare-1-lentil-soup"]
    assert soak == ("For tomorrow: Lentil soup", "Soak the lentils in cold water.")


def test_detail_is_said_once() -> None:
    told = replace(alert("pull"), detail="It waits well.")
    assert alert_words(told, units=METRIC, zone=ZONE, now=DUE)[1].count("It waits well.") == 1


def test_times_are_said_in_the_zone_of_the_site() -> None:
    """Gaborone is two hours ahead of UTC all year (IANA time zone database)."""
    in_utc = replace(alert("pull"), due_at=DUE.astimezone(ZoneInfo("UTC")))
    _, body = alert_words(in_utc, units=METRIC, zone=ZONE, now=DUE + timedelta(minutes=5))
    assert "(due 11:42," in body


def test_food_past_its_safety_clock_is_never_offered_to_the_cook() -> None:
    """Two hours in the danger zone are over: USDA FSIS says throw it out, and never taste it.

    (Consumer advice, from memory.)
    """
    body = alert_words(alert("danger"), units=METRIC, zone=ZONE, now=DUE)[1]
    assert "throw it away" in body
    assert "Do not taste it" in body
    assert "food authority" in body


@pytest.mark.parametrize(("units", "time"), [(METRIC, "12:42"), (US, "12:42 pm")])
def test_a_dish_that_is_done_says_how_long_it_can_stay(units: Units, time: str) -> None:
    body = alert_words(alert("done"), units=units, zone=ZONE, now=DUE)[1]
    assert f"until {time}." in body
    assert "thermometer" in body


def test_a_changed_plan_names_each_dish_with_its_new_time() -> None:
    changed = replace(
        alert("cloud"),
        changes=(
            Change(dish="Beans {0} %s", pull_at=DUE + timedelta(hours=2)),
            Change(dish="Bread", pull_at=None),
        ),
    )
    title, body = alert_words(changed, units=METRIC, zone=ZONE, now=DUE)
    assert "cloud" in title
    assert body == (
        "Beans {0} %s comes out at 13:42 now. "
        "Bread: the box will not finish it; plan it for the kitchen stove."
    )
