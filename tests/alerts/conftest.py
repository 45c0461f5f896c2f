"""A day made by hand: one soup that gets done, seen from Gaborone on 25 November 2026."""

from __future__ import annotations

from collections.abc import Callable
from datetime import date, datetime, timedelta
from typing import Any
from zoneinfo import ZoneInfo

import pytest

from suntrack.plan.records import (
    DayPlan,
    DishPlan,
    SkyNote,
    Step,
    TurnChoice,
    Verdict,
    Window,
)

ZONE = ZoneInfo("Africa/Gaborone")
DAY = date(2026, 11, 25)


def clock_time(text: str, *, on: date = DAY) -> datetime:
    """Return a local time of the day, such as 13:00."""
    return datetime.combine(on, datetime.strptime(text, "%H:%M").time(), tzinfo=ZONE)  # noqa: DTZ007


@pytest.fixture
def at() -> Callable[[str], datetime]:
    """Return local times of the hand-made day from text."""
    return clock_time


def soup(**changes: Any) -> DishPlan:
    """Return a dish that goes in at 9, is ready for 13:00 and may wait until 14:30."""
    pieces: dict[str, Any] = {
        "key": "lentil-soup",
        "name": "Lentil soup",
        "pot": "small pot",
        "serve_at": clock_time("13:00"),
        "load_at": clock_time("09:00"),
        "done_at": clock_time("12:00"),
        "safe_at": clock_time("11:00"),
        "pull_at": clock_time("13:00"),
        "pull_by": clock_time("14:30"),
        "stove_by": clock_time("12:15"),
        "status": "ready",
        "notes": (),
    }
    return DishPlan(**{**pieces, **changes})


STEPS = (
    Step(
        key="prepare-1-lentil-soup",
        kind="prepare",
        at=clock_time("20:00", on=DAY - timedelta(days=1)),
        dish="lentil-soup",
        detail="Put the lentils in water.",
    ),
    Step(key="preheat", kind="preheat", at=clock_time("07:30")),
    Step(key="load-lentil-soup", kind="load", at=clock_time("09:00"), dish="lentil-soup"),
    Step(key="turn-1", kind="turn", at=clock_time("10:00")),
    Step(key="turn-2", kind="turn", at=clock_time("11:30")),
    Step(key="pull-lentil-soup", kind="pull", at=clock_time("13:00"), dish="lentil-soup"),
    Step(key="cover", kind="cover", at=clock_time("13:10")),
)


def day_plan(**changes: Any) -> DayPlan:
    """Return the hand-made day, with some of it changed."""
    follow = TurnChoice(name="fewest turns", turns=(), light_kept=0.97)
    pieces: dict[str, Any] = {
        "date": DAY,
        "site_name": "Gaborone",
        "made_at": clock_time("06:00"),
        "sunrise_at": clock_time("05:20"),
        "sunset_at": clock_time("18:45"),
        "solar_noon_at": clock_time("12:03"),
        "declination_deg": -18.0,
        "verdict": Verdict(cook=True, chance=None, reason="clear"),
        "window": Window(
            opens_at=clock_time("08:40"),
            closes_at=clock_time("16:30"),
            threshold_c=100.0,
            peak_c=140.0,
            peak_at=clock_time("12:30"),
        ),
        "turns": follow,
        "turn_choices": (follow,),
        "box": (),
        "dishes": (soup(),),
        "steps": STEPS,
        "cautions": (),
        "sky": SkyNote(source="clear sky", issued_at=None),
    }
    return DayPlan(**{**pieces, **changes})


@pytest.fixture
def make_plan() -> Callable[..., DayPlan]:
    """Return a maker of the hand-made day."""
    return day_plan


@pytest.fixture
def make_soup() -> Callable[..., DishPlan]:
    """Return a maker of the hand-made dish."""
    return soup
