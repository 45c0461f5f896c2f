"""A plan on disk: read back equal, and never a reason to stop."""

from __future__ import annotations

from datetime import timedelta
from pathlib import Path

import pytest

from suntrack.plan.records import DayPlan
from suntrack.store.journal import Entry
from suntrack.store.plan_file import plan_path, read_plan, write_plan


def test_a_plan_comes_back_equal(tmp_path: Path, plan: DayPlan) -> None:
    write_plan(tmp_path / "deep" / "plan.json", plan)
    assert read_plan(tmp_path / "deep" / "plan.json") == plan
    assert len(list((tmp_path / "deep").iterdir())) == 1


@pytest.mark.parametrize("content", ["", "{}", "[1]", '{"date": 5}', "nonsense"])
def test_a_file_that_does_not_fit_is_not_there(tmp_path: Path, content: str) -> None:
    path = tmp_path / "plan.json"
    path.write_text(content, encoding="utf-8")
    assert read_plan(path) is None
    assert read_plan(tmp_path / "nowhere.json") is None


def test_a_folder_that_cannot_be_written_is_no_reason_to_stop(
    tmp_path: Path, plan: DayPlan
) -> None:
    (tmp_path / "file").touch()
    write_plan(tmp_path / "file" / "plan.json", plan)


def test_a_note_makes_another_plan_and_an_alert_does_not(tmp_path: Path, plan: DayPlan) -> None:
    def name(*entries: Entry) -> str:
        return plan_path(tmp_path, on=plan.date, fingerprint="x", entries=entries).name

    noted = Entry(at=plan.made_at, kind="turned", day=plan.date)
    shown = Entry(at=plan.made_at, kind="plan", day=plan.date)
    later = Entry(at=plan.made_at + timedelta(hours=1), kind="turned", day=plan.date)
    assert name() == name(shown)
    assert len({name(), name(noted), name(later)}) == 3
