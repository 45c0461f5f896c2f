"""A small plan by hand, for every test that keeps one."""

from __future__ import annotations

from datetime import date, datetime
from zoneinfo import ZoneInfo

import pytest

from suntrack.plan.records import (
    BoxSample,
    DayPlan,
    DishPlan,
    DishSample,
    SkyNote,
    Step,
    Turn,
    TurnChoice,
    Verdict,
    Window,
)

ZONE = ZoneInfo("Africa/Gaborone")
AT = datetime(2026, 11, 25, 6, 30, tzinfo=ZONE)
TURN = Turn(
    at=AT, face_true_deg=100.125, face_compass_deg=117.5, mirror_deg=None, turn_by_deg=-3.25
)
CHOICE = TurnChoice(name="fewest turns", turns=(TURN,), light_kept=0.123456789)
PLAN = DayPlan(
    date=date(2026, 11, 25),
    site_name="courtyard",
    made_at=AT,
    sunrise_at=AT,
    sunset_at=None,
    solar_noon_at=AT,
    declination_deg=-17.6,
    verdict=Verdict(cook=True, chance=None, reason="yes"),
    window=Window(opens_at=AT, closes_at=None, threshold_c=100.0, peak_c=140.0, peak_at=AT),
    turns=CHOICE,
    turn_choices=(CHOICE,),
    box=(BoxSample(at=AT, box_c=1.0 / 3.0, empty_c=2.0),),
    dishes=(
        DishPlan(
            key="soup",
            name="Soup",
            pot=None,
            serve_at=AT,
            load_at=AT,
            done_at=None,
            safe_at=None,
            pull_at=None,
            pull_by=None,
            stove_by=None,
            status="late",
            notes=("a", "b"),
            curve=(DishSample(at=AT, core_c=20.0, done=0.0, safe=False),),
        ),
    ),
    steps=(Step(key="preheat", kind="preheat", at=AT, turn=TURN),),
    cautions=("burns",),
    sky=SkyNote(source="clear sky", issued_at=None),
)


@pytest.fixture(scope="session")
def plan() -> DayPlan:
    return PLAN
