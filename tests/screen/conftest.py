"""The planned day of `planned_day`, for every test of the screen."""

from __future__ import annotations

import pytest
from planned_day import at, made_plan, skied

from suntrack.plan.records import DayPlan
from suntrack.screen.moment import NowView, now_view

__all__ = ["at"]


@pytest.fixture(scope="session")
def plan() -> DayPlan:
    """Return the day."""
    return made_plan()


@pytest.fixture(scope="session")
def skied_plan(plan: DayPlan) -> DayPlan:
    """Return the day with a forecast behind it."""
    return skied(plan)


@pytest.fixture(scope="session")
def view(plan: DayPlan) -> NowView:
    """Return the moment before the first turn: the sun is 13 degrees left of the box."""
    return now_view(plan, at=at(10, 12), sun_elevation_deg=63.0, sun_azimuth_deg=83.0)
