"""What a new plan changes: told when it is clear, and only of dishes still to come."""

from __future__ import annotations

from collections.abc import Callable
from datetime import datetime, timedelta

import pytest

from suntrack.alerts.rules import change_alert
from suntrack.plan.records import DayPlan, DishPlan

At = Callable[[str], datetime]
MakePlan = Callable[..., DayPlan]
MakeSoup = Callable[..., DishPlan]


@pytest.mark.parametrize(
    ("minutes", "is_told"), [(-60, False), (0, False), (14, False), (15, True)]
)
def test_clearly_later_is_a_quarter_of_an_hour(
    minutes: int, is_told: bool, make_plan: MakePlan, make_soup: MakeSoup, at: At
) -> None:
    later = make_soup(pull_at=at("13:00") + timedelta(minutes=minutes))
    alert = change_alert(make_plan(), make_plan(dishes=(later,)), reason="slower", now=at("11:00"))
    assert (alert is not None) is is_told
    if alert is not None:
        assert alert.key == "2026-11-25/slower-1100"
        assert [(c.dish, c.pull_at) for c in alert.changes] == [("Lentil soup", at("13:15"))]


@pytest.mark.parametrize("status", ["not done", "not safe"])
def test_a_dish_that_is_given_up_is_told(
    status: str, make_plan: MakePlan, make_soup: MakeSoup, at: At
) -> None:
    lost = make_soup(status=status, pull_at=None, pull_by=None)
    alert = change_alert(make_plan(), make_plan(dishes=(lost,)), reason="cloud", now=at("11:00"))
    assert alert is not None
    assert (alert.kind, alert.changes[0].pull_at) == ("cloud", None)


def test_what_is_out_already_and_another_day_change_nothing(
    make_plan: MakePlan, make_soup: MakeSoup, at: At
) -> None:
    later = make_plan(dishes=(make_soup(pull_at=at("15:00")),))
    assert change_alert(make_plan(), later, reason="slower", now=at("13:30")) is None
    other = make_plan(date=at("12:00").date() + timedelta(days=1))
    assert change_alert(other, later, reason="slower", now=at("11:00")) is None
