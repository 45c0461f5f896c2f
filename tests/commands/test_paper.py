"""`sheet` and `calendar` as a cook runs them: files that are whole, and nobody else's."""

from __future__ import annotations

import json
import os
import subprocess
import sys
from pathlib import Path

import icalendar
import pytest

from suntrack.screen.json.files import CALENDAR_KEYS, SHEET_KEYS

EXAMPLE = Path(__file__).parents[2] / "config" / "suntrack.toml"
PNG = b"\x89PNG\r\n\x1a\n"
"""The signature (PNG, third edition, section 5.2)."""
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
    assert set(told) == {key.removesuffix("[]") for key in SHEET_KEYS}
    assert told["charts"] == ["box", "sun", "light"]
    path = tmp_path / "suntrack-2026-11-25.html"
    assert Path(told["path"]) == path
    html = path.read_text(encoding="utf-8")
    assert html.count("<svg ") == 3, "the box, the sun and the light"
    assert "Lentil soup goes in" in html
    assert suntrack(home, "sheet", *DAWN, cwd=tmp_path).returncode == 0
    assert [entry.name for entry in tmp_path.iterdir()] == [path.name]


@pytest.mark.parametrize(
    ("words", "name", "begins"),
    [
        (("--chart", "box"), "suntrack-2026-11-25-box.png", PNG),
        (("--chart", "all"), "suntrack-2026-11-25-all.png", PNG),
        (("--out", "day.PNG"), "day.PNG", PNG),
        (("--out", "day.svg"), "day.svg", b"<svg "),
        (("--chart", "sun", "--out", "sun.svg"), "sun.svg", b"<svg "),
        (("--out", "day.htm"), "day.htm", b"<!doctype html>"),
    ],
)
def test_the_ending_of_the_name_says_what_is_written(
    words: tuple[str, ...], name: str, begins: bytes, home: Path, tmp_path: Path
) -> None:
    for _ in range(2):
        done = suntrack(home, "sheet", *DAWN, *words, cwd=tmp_path)
        assert done.returncode == 0, done.stderr
        assert name in done.stdout
    assert [path.name for path in tmp_path.iterdir()] == [name], "a newer one takes its place"
    assert (tmp_path / name).read_bytes().startswith(begins)


def test_a_chart_on_the_screen_is_svg(home: Path, tmp_path: Path) -> None:
    done = suntrack(home, "sheet", *DAWN, "--chart", "light", "--out", "-", cwd=tmp_path)
    assert done.stdout.startswith("<svg ")
    assert "Light taken in" in done.stdout
    assert "Box temperature" not in done.stdout


@pytest.mark.parametrize(
    "words", [("--out", "day.pdf"), ("--chart", "box", "--out", "box.html"), ("--out", "a.jpg")]
)
def test_a_name_that_ends_otherwise_is_one_message(
    words: tuple[str, ...], home: Path, tmp_path: Path
) -> None:
    done = suntrack(home, "sheet", *DAWN, *words, cwd=tmp_path)
    assert done.returncode == 2
    assert "--out" in done.stderr
    assert ".png" in done.stderr
    assert list(tmp_path.iterdir()) == []


@pytest.mark.parametrize("name", ["photo.png", "drawing.svg"])
def test_a_picture_of_somebody_else_stays(name: str, home: Path, tmp_path: Path) -> None:
    own = PNG + b"of the children" if name.endswith("png") else b"<svg xmlns='a'>mine</svg>"
    (tmp_path / name).write_bytes(own)
    done = suntrack(home, "sheet", *DAWN, "--out", name, cwd=tmp_path)
    assert done.returncode == 2
    assert (tmp_path / name).read_bytes() == own


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
