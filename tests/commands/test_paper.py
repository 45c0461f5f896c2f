"""`sheet` and `calendar` as a cook runs them: files that are whole, and nobody else's."""

from __future__ import annotations

import json
import os
import subprocess
import sys
from pathlib import Path

import icalendar
import pytest

from suntrack.screen.files_json import CALENDAR_KEYS, SHEET_KEYS, files_schema

EXAMPLE = Path(__file__).parents[2] / "config" / "suntrack.toml"
DAWN = ("--at", "2026-11-25T05:00+02:00")


@pytest.fixture(scope="module")
def home(tmp_path_factory: pytest.TempPathFactory) -> Path:
    return tmp_path_factory.mktemp("home")


def suntrack(home: Path, *words: str, cwd: Path) -> subprocess.CompletedProcess[str]:
    kept = {name: os.environ[name] for name in ("PATH", "NUMBA_CACHE_DIR")}
    kept |= {"SUNTRACK_HOME": str(home), "SUNTRACK_CONFIG": str(EXAMPLE)}
    return subprocess.run(
        [sys.executable, "-m", "suntrack", *words],
        env=kept | {"PYTHONIOENCODING": "utf-8"}, cwd=cwd,
        capture_output=True, text=True, check=False, encoding="utf-8",
    )  # fmt: skip


def test_the_sheet_is_written_and_written_again(home: Path, tmp_path: Path) -> None:
    first = suntrack(home, "sheet", *DAWN, "--json", cwd=tmp_path)
    assert first.returncode == 0, first.stderr
    told = json.loads(first.stdout)
    assert set(told) == set(SHEET_KEYS)
    path = tmp_path / "suntrack-2026-11-25.html"
    assert Path(told["path"]) == path
    html = path.read_text(encoding="utf-8")
    assert html.count("<svg ") == 3, "the box, the sun and the light"
    assert "Lentil soup goes in" in html
    assert suntrack(home, "sheet", *DAWN, cwd=tmp_path).returncode == 0
    assert [entry.name for entry in tmp_path.iterdir()] == [path.name]


def test_the_curve_alone(home: Path, tmp_path: Path) -> None:
    done = suntrack(home, "sheet", *DAWN, "--svg", "--out", "-", cwd=tmp_path)
    assert done.stdout.startswith("<svg ")


@pytest.mark.parametrize("command", ["sheet", "calendar"])
def test_a_file_of_somebody_else_stays(command: str, home: Path, tmp_path: Path) -> None:
    own = tmp_path / "letter.html"
    own.write_text("Dear aunt", encoding="utf-8")
    done = suntrack(home, command, *DAWN, "--out", "letter.html", cwd=tmp_path)
    assert done.returncode == 2
    assert "--out" in done.stderr
    assert own.read_text(encoding="utf-8") == "Dear aunt"


@pytest.mark.parametrize("command", ["sheet", "calendar"])
def test_a_folder_that_is_not_there_is_one_message(
    command: str, home: Path, tmp_path: Path
) -> None:
    done = suntrack(home, command, *DAWN, "--out", "no/such/file", cwd=tmp_path)
    assert done.returncode == 2
    assert "Traceback" not in done.stderr
    assert list(tmp_path.iterdir()) == []


def test_the_calendar_has_every_step_of_the_plan(home: Path, tmp_path: Path) -> None:
    plan = json.loads(suntrack(home, "today", *DAWN, "--json", cwd=tmp_path).stdout)
    done = suntrack(home, "calendar", *DAWN, "--before", "10min", cwd=tmp_path)
    assert done.returncode == 0, done.stderr
    text = (tmp_path / "suntrack-2026-11-25.ics").read_bytes()
    events = icalendar.Calendar.from_ical(text).walk("VEVENT")
    assert len(events) == len(plan["steps"])
    assert text.count(b"TRIGGER:-PT10M") == len(events)
    assert b"food thermometer" in text.replace(b"\r\n ", b""), "with what comes out"


@pytest.mark.parametrize("before", ["soon", "-5min", "3 days", "25 h"])
def test_a_span_that_is_none_is_one_message(before: str, home: Path, tmp_path: Path) -> None:
    done = suntrack(home, "calendar", f"--before={before}", cwd=tmp_path)
    assert done.returncode == 2
    assert "--before" in done.stderr


def test_what_json_prints_is_what_is_told(home: Path, tmp_path: Path) -> None:
    told = json.loads(suntrack(home, "calendar", *DAWN, "--json", cwd=tmp_path).stdout)
    assert set(told) == set(CALENDAR_KEYS)
    developers = (EXAMPLE.parents[1] / "DEVELOPERS.md").read_text(encoding="utf-8")
    assert files_schema() in developers, "copy it from files_json.files_schema()"
