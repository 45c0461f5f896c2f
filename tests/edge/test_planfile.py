"""A plan on disk: read back equal, and never a reason to stop."""

from __future__ import annotations

from datetime import date, datetime, timedelta
from pathlib import Path
from zoneinfo import ZoneInfo

import pytest

from suntrack.day.records import (
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
from suntrack.edge.journal import Entry
from suntrack.edge.planfile import plan_path, read_plan, write_plan

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


def test_a_plan_comes_back_equal(tmp_path: Path) -> None:
    write_plan(tmp_path / "deep" / "plan.json", PLAN)
    assert read_plan(tmp_path / "deep" / "plan.json", zone=ZONE) == PLAN
    assert len(list((tmp_path / "deep").iterdir())) == 1


@pytest.mark.parametrize("content", ["", "{}", "[1]", '{"date": 5}', "nonsense"])
def test_a_file_that_does_not_fit_is_not_there(tmp_path: Path, content: str) -> None:
    path = tmp_path / "plan.json"
    path.write_text(content, encoding="utf-8")
    assert read_plan(path, zone=ZONE) is None
    assert read_plan(tmp_path / "nowhere.json", zone=ZONE) is None


def test_a_folder_that_cannot_be_written_is_no_reason_to_stop(tmp_path: Path) -> None:
    (tmp_path / "file").touch()
    write_plan(tmp_path / "file" / "plan.json", PLAN)


def test_a_note_makes_another_plan_and_an_alert_does_not(tmp_path: Path) -> None:
    def name(*entries: Entry) -> str:
        return plan_path(tmp_path, on=PLAN.date, fingerprint="x", entries=entries).name

    noted = Entry(at=AT, kind="turned", day=PLAN.date)
    shown = Entry(at=AT, kind="plan", day=PLAN.date)
    later = Entry(at=AT + timedelta(hours=1), kind="turned", day=PLAN.date)
    assert name() == name(shown)
    assert len({name(), name(noted), name(later)}) == 3
