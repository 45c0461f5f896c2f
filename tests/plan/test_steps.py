"""Steps: the evening before included, in order, and none for a dish that stays out."""

from __future__ import annotations

from dataclasses import replace
from datetime import date, datetime, timedelta
from zoneinfo import ZoneInfo

from suntrack.food.dishes import builtin_dishes
from suntrack.plan.records import DishPlan, Turn, TurnChoice, Window
from suntrack.plan.steps import day_steps

ZONE = ZoneInfo("Africa/Gaborone")
ON = date(2026, 11, 25)
DAWN = datetime(2026, 11, 25, 7, 0, tzinfo=ZONE)


def turn(hours: float) -> Turn:
    return Turn(
        at=DAWN + timedelta(hours=hours),
        face_true_deg=90.0,
        face_compass_deg=108.0,
        mirror_deg=90.0,
        turn_by_deg=0.0,
    )


TURNS = TurnChoice(name="fewest turns", turns=(turn(0.0), turn(3.0)), light_kept=0.95)
WINDOW = Window(
    opens_at=DAWN,
    closes_at=DAWN + timedelta(hours=10),
    threshold_c=100.0,
    peak_c=140.0,
    peak_at=DAWN,
)
PEAS = DishPlan(
    key="chickpeas",
    name="Chickpeas",
    pot="pot",
    serve_at=DAWN + timedelta(hours=6),
    load_at=DAWN + timedelta(hours=1),
    done_at=DAWN + timedelta(hours=5),
    safe_at=DAWN + timedelta(hours=2),
    pull_at=DAWN + timedelta(hours=6),
    pull_by=DAWN + timedelta(hours=8),
    stove_by=None,
    status="ready",
    notes=(),
)


def steps_of(*plans: DishPlan) -> list[tuple[str, datetime]]:
    steps = day_steps(
        on=ON, zone=ZONE, turns=TURNS, plans=plans, dishes=builtin_dishes(), window=WINDOW
    )
    return [(step.key, step.at) for step in steps]


def test_soaking_comes_the_evening_before() -> None:
    first_key, first_at = steps_of(PEAS)[0]
    assert first_key.startswith("prepare")
    assert first_at.date() == ON - timedelta(days=1)
    assert first_at.hour >= 18


def test_a_day_runs_from_setting_out_to_covering() -> None:
    keys = [key for key, _ in steps_of(PEAS)]
    wanted = ["preheat", "load-chickpeas", "turn-1000", "pull-chickpeas", "cover"]
    assert [key for key in keys if key in wanted] == wanted


def test_a_dish_that_stays_out_has_no_steps() -> None:
    out = replace(PEAS, load_at=None, pull_at=None, status="not done")
    assert [key for key, _ in steps_of(out)] == ["preheat", "turn-1000", "cover"]


def test_without_dishes_the_box_is_covered_when_it_cools() -> None:
    assert steps_of()[-1] == ("cover", WINDOW.closes_at)
