"""`suntrack box` as a builder runs it: a real process, a home of its own, no network."""

from __future__ import annotations

import json
import os
import subprocess
import sys
from pathlib import Path

import pytest

ROOT = Path(__file__).parents[1]
EXAMPLE = ROOT / "config" / "suntrack.toml"
MORNING = "2026-11-25T10:30+02:00"


@pytest.fixture(scope="module")
def home(tmp_path_factory: pytest.TempPathFactory) -> Path:
    return tmp_path_factory.mktemp("home")


def box(home: Path, *words: str, **env: str) -> subprocess.CompletedProcess[str]:
    """Run the command with nothing of ours in its environment but a home."""
    kept = {name: os.environ[name] for name in ("PATH", "NUMBA_CACHE_DIR")}
    kept |= {"SUNTRACK_HOME": str(home), "SUNTRACK_CONFIG": str(EXAMPLE)}
    return subprocess.run(
        [sys.executable, "-m", "suntrack", "box", *words],
        env=kept | {"PYTHONIOENCODING": "utf-8"} | env,
        cwd=home,
        capture_output=True,
        text=True,
        check=False,
        encoding="utf-8",
    )


def config(home: Path, name: str, **changes: str) -> str:
    """Write the example config with some of its text changed, and return its name."""
    text = EXAMPLE.read_text(encoding="utf-8")
    for old, new in changes.items():
        assert old in text
        text = text.replace(old, new)
    (home / name).write_text(text, encoding="utf-8")
    return name


def test_the_sheet_comes_as_json(home: Path) -> None:
    run = box(home, "--at", MORNING, "--json")
    assert run.returncode == 0, run.stderr
    data = json.loads(run.stdout)
    assert data["date"] == "2026-11-25"
    assert data["box"] == "courtyard box"
    assert data["bare"]["lining_c"] < data["used"]["lining_c"]


def test_words_open_with_the_box_and_that_it_is_simulated(home: Path) -> None:
    run = box(home, "--at", MORNING)
    assert run.returncode == 0
    first, second = run.stdout.splitlines()[:2]
    assert "courtyard box" in first
    assert second.startswith("Our simulation, not a test in the sun.")
    assert "\x1b" not in run.stdout, "no escape codes into a pipe"


def test_another_day_has_another_noon_and_no_now(home: Path) -> None:
    """In June the noon sun of Gaborone stands about 42 high, 90 - 24.65 - 23.4 (closed form)."""
    run = box(home, "--at", MORNING, "--date", "2026-06-21", "--json")
    data = json.loads(run.stdout)
    assert data["sun"]["elevation_deg"] == pytest.approx(90.0 - 24.65 - 23.44, abs=0.1)
    assert data["at"] is None
    assert data["hinge"]["now_deg"] is None


def test_a_terminal_without_unicode_gets_the_same_words(home: Path) -> None:
    run = box(home, "--at", MORNING, "--plain", PYTHONIOENCODING="ascii", NO_COLOR="1")
    assert run.returncode == 0, run.stderr
    assert run.stdout.isascii()
    assert "?" not in run.stdout


def test_a_wrong_key_names_its_line(home: Path) -> None:
    run = box(home, "--config", config(home, "wrong.toml", leak="leek"))
    assert run.returncode == 2
    assert "wrong.toml:" in run.stderr
    assert "Did you mean leak?" in run.stderr
    assert "Traceback" not in run.stderr


def test_a_day_without_a_sun_is_refused(home: Path) -> None:
    """At 78 N the sun does not rise on 21 December (polar night, almanacs)."""
    name = config(home, "north.toml", **{"latitude = -24.65": "latitude = 78.2"})
    run = box(home, "--config", name, "--at", MORNING, "--date", "2026-12-21")
    assert run.returncode == 2
    assert "box: found 2026-12-21" in run.stderr
    assert "Traceback" not in run.stderr


@pytest.mark.parametrize("words", [["--at", "half past ten"], ["--date", "someday"]])
def test_times_that_make_no_sense_are_refused(home: Path, words: list[str]) -> None:
    run = box(home, *words)
    assert run.returncode == 2
    assert words[0] in run.stderr


def test_a_box_in_inches_with_one_pane_and_no_front(home: Path) -> None:
    """The inch box of the examples, stuffed with cellulose, for one who thinks in Fahrenheit."""
    text = EXAMPLE.read_text(encoding="utf-8")
    start, pots = text.index("[box]"), text.index("# --- The cook")
    text = text[:start] + text[pots:]
    text = text.replace('temperature = "C"', 'temperature = "F"').replace(
        'length = "cm"', 'length = "in"'
    )
    dishes = text.index("# --- Today's dishes")
    shows = text.index("# --- How it is shown")
    text = text[:dishes] + text[shows:]
    inches = (ROOT / "config/boxes/inch-box.toml").read_text(encoding="utf-8")
    (home / "loose.toml").write_text(
        inches.replace("mineral wool", "loose cellulose"), encoding="utf-8"
    )
    include = '[include]\nbox = "loose.toml"\n'
    (home / "inch.toml").write_text(text + include, encoding="utf-8")
    run = box(home, "--config", "inch.toml", "--at", MORNING)
    assert run.returncode == 0, run.stderr
    assert "inch box" in run.stdout
    assert "°C" not in run.stdout
    assert "front" not in run.stdout
    # Loose cellulose is outside its range beside a hot lining: 90 C are 194 F (ASTM C739).
    assert "loose cellulose in the wall" in run.stdout
    assert "194 °F" in run.stdout
