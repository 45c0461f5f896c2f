"""One planned day by hand, for every test of what is shown.

The numbers are made up and need not agree with any simulation; the sun is where it would
be in Gaborone late in November, passing nearly overhead on the north side.
"""

from __future__ import annotations

import math
from dataclasses import replace
from datetime import date, datetime, timedelta
from zoneinfo import ZoneInfo

from suntrack.plan.records import (
    BoxSample,
    Chances,
    Change,
    DayPlan,
    DishPlan,
    DishSample,
    Guarding,
    Remedy,
    Revision,
    SkyNote,
    Step,
    Turn,
    TurnChoice,
    Verdict,
    Window,
)

ZONE = ZoneInfo("Africa/Gaborone")
DAY = date(2026, 11, 25)


def at(hour: int, minute: int = 0, *, day: int = 25) -> datetime:
    """Return a moment in Gaborone."""
    return datetime(2026, 11, day, hour, minute, tzinfo=ZONE)


def turn(hour: int, minute: int, face_deg: float, by_deg: float, mirror_deg: float) -> Turn:
    """Return a turn; a compass points 17 degrees west of true north there."""
    return Turn(
        at=at(hour, minute),
        face_true_deg=face_deg,
        face_compass_deg=(face_deg + 17.0) % 360.0,
        mirror_deg=mirror_deg,
        turn_by_deg=by_deg,
    )


def made_plan() -> DayPlan:
    """Return the day."""
    turns = (
        turn(8, 10, 96.0, 0.0, 88.0),
        turn(10, 40, 71.0, -25.0, 104.0),
        turn(13, 30, 281.0, -150.0, 98.0),
    )
    soup = DishPlan(
        key="lentil-soup",
        name="Lentil soup",
        pot="big black pot",
        serve_at=at(13),
        load_at=at(9, 30),
        done_at=at(12, 20),
        safe_at=at(11, 25),
        pull_at=at(13),
        pull_by=at(14, 40),
        stove_by=at(12, 15),
        status="ready",
        notes=("Once hot, keep it at 60 °C (140 °F) or more until it is eaten.",),
        curve=tuple(
            DishSample(
                at=at(9, 30) + timedelta(minutes=10 * i),
                core_c=20.0 + 78.0 * (1.0 - math.exp(-i / 8.0)),
                done=min(i / 17.0, 1.0),
                safe=i >= 12,
            )
            for i in range(22)
        ),
    )
    chicken = replace(
        soup,
        key="chicken-stew",
        name="Chicken stew with sweet potatoes",
        pot="enamel pot",
        serve_at=at(18, 30),
        load_at=at(10, 50),
        done_at=at(16, 5),
        safe_at=None,
        pull_at=None,
        pull_by=None,
        stove_by=at(14, 50),
        status="not safe",
        notes=(
            "Poultry is safe at 73.9 °C (165 °F) in the middle of every piece.",
            "Cook it on the kitchen stove today.",
        ),
        curve=(),
    )
    steps = (
        Step(
            key="prepare-1-lentil-soup",
            kind="prepare",
            at=at(20, day=24),
            dish="lentil-soup",
            detail="Soak the lentils in cold water.",
        ),
        Step(key="preheat", kind="preheat", at=turns[0].at, turn=turns[0]),
        Step(key="load-lentil-soup", kind="load", at=at(9, 30), dish="lentil-soup"),
        Step(key="turn-1", kind="turn", at=turns[1].at, turn=turns[1]),
        Step(key="load-chicken-stew", kind="load", at=at(10, 50), dish="chicken-stew"),
        Step(key="pull-lentil-soup", kind="pull", at=at(13), dish="lentil-soup"),
        Step(key="turn-2", kind="turn", at=turns[2].at, turn=turns[2]),
        Step(key="cover", kind="cover", at=at(17, 10)),
    )
    follow = TurnChoice(name="fewest turns", turns=turns, light_kept=0.972)
    habit = TurnChoice(name="every half hour", turns=turns * 5, light_kept=0.994)
    once = TurnChoice(name="aimed once", turns=turns[:1], light_kept=0.618)
    return DayPlan(
        date=DAY,
        site_name="Gaborone",
        made_at=at(7, 5),
        sunrise_at=at(5, 15),
        sunset_at=at(18, 44),
        solar_noon_at=at(12, 4),
        declination_deg=-17.0,
        verdict=Verdict(cook=True, chance=None, reason="1 of 2 dishes is done and safe in time."),
        window=Window(
            opens_at=at(9, 5),
            closes_at=at(16, 20),
            threshold_c=90.0,
            peak_c=131.4,
            peak_at=at(12, 40),
        ),
        turns=follow,
        turn_choices=(follow, habit, once),
        box=tuple(
            BoxSample(
                at=at(6) + timedelta(minutes=10 * i),
                box_c=22.0 + 92.0 * math.sin(math.pi * i / 75.0) ** 0.8,
                empty_c=22.0 + 109.4 * math.sin(math.pi * i / 75.0) ** 0.6,
            )
            for i in range(76)
        ),
        dishes=(soup, chicken),
        steps=steps,
        cautions=("burns", "glare", "glass", "children", "fire", "wind", "food", "hot day"),
        sky=SkyNote(source="clear sky", issued_at=None),
    )


def skied(plan: DayPlan) -> DayPlan:
    """Return the day with a forecast behind it."""
    soup, chicken = plan.dishes
    return replace(
        plan,
        verdict=Verdict(
            cook=True, chance=0.72, reason="Good means: the dish is done and safe in time."
        ),
        dishes=(
            replace(soup, chance=0.72),
            replace(chicken, mends=(Remedy(kind="later meal", ready_at=at(19, 40)),)),
        ),
        revisions=(Revision(kind="turn", before=at(10, 20), after=at(10, 40), cause="forecast"),),
        box=tuple(
            replace(s, low_c=0.7 * s.box_c, middle_c=0.95 * s.box_c, high_c=1.03 * s.box_c)
            for s in plan.box
        ),
        chances=Chances(
            skies=100,
            holds=0.91,
            good=0.72,
            sampling_error=0.05,
            changes=(
                Change(kind="earlier", by_min=60, chance=0.93),
                Change(kind="without", dish="Chicken stew with sweet potatoes", chance=0.85),
                Change(kind="smaller", dish="Lentil soup", chance=0.84),
            ),
        ),
        steps=tuple(
            sorted(
                (
                    *plan.steps,
                    Step(key="gust-1400", kind="gust", at=at(13, 45)),
                    Step(key="rain-1500", kind="rain", at=at(14, 45)),
                ),
                key=lambda step: step.at,
            )
        ),
        guards=(
            Guarding(kind="gust", starts_at=at(14), ends_at=at(16), most=15.0),
            Guarding(kind="rain", starts_at=at(15), ends_at=at(17), most=0.6),
        ),
        sky=SkyNote(
            source="the weather office",
            issued_at=None,
            fetched_at=at(6, 40),
            attribution="Data from the weather office",
            notes=("It gives no gusts after tomorrow.",),
        ),
    )
