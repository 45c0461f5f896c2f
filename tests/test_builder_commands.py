"""Trial, record, season and whatif as a builder runs them: real processes, a home of their own."""

from __future__ import annotations

import json
import os
import subprocess
import sys
from pathlib import Path

import pvlib
import pytest

ROOT = Path(__file__).parents[1]
EXAMPLE = ROOT / "config" / "suntrack.toml"
CAROLINA = Path(pvlib.__file__).parent / "data" / "723170TYA.CSV"
DAY = "2026-11-25T"


@pytest.fixture(scope="module")
def home(tmp_path_factory: pytest.TempPathFactory) -> Path:
    return tmp_path_factory.mktemp("home")


def suntrack(home: Path, *words: str, **env: str) -> subprocess.CompletedProcess[str]:
    kept = {name: os.environ[name] for name in ("PATH", "NUMBA_CACHE_DIR")}
    kept |= {"SUNTRACK_HOME": str(home), "SUNTRACK_CONFIG": str(EXAMPLE)}
    return subprocess.run(
        [sys.executable, "-m", "suntrack", *words],
        env=kept | {"PYTHONIOENCODING": "utf-8"} | env,
        cwd=home,
        capture_output=True,
        text=True,
        check=False,
        encoding="utf-8",
    )


def test_a_water_trial_is_told_noted_and_judged(home: Path) -> None:
    """185 F, the slow cookers' mark (New Mexico State University extension, 2016)."""
    first = suntrack(home, "trial", "water", "--at", f"{DAY}08:30", "--note", "68F", "--json")
    assert first.returncode == 0, first.stderr
    assert json.loads(first.stdout)["result"]["outcome"] == "under way"
    last = suntrack(home, "trial", "water", "--at", f"{DAY}15:30", "--note", "186F", "--plain")
    assert "Passed" in last.stdout
    assert "local food authority" in last.stdout
    again = suntrack(home, "trial", "water", "--at", f"{DAY}15:40", "--json")
    assert [note["read_c"] for note in json.loads(again.stdout)["notes"]] == [20.0, 85.6]
    other = suntrack(home, "trial", "empty", "--at", f"{DAY}15:40", "--json")
    assert json.loads(other.stdout)["notes"] == []


@pytest.mark.parametrize(
    ("words", "told"),
    [
        (("trial", "water", "--note", "hot"), "note"),
        (("trial", "water", "--date", "someday"), "--date"),
        (("season", "--weather", "gone.epw"), "no such file"),
        (("whatif", "mirror.lenght = 50 cm", "leak = lots"), "Did you mean length?"),
        (("learn", "--csv", "gone.csv"), "gone.csv"),
        (("season", "--meal", "lentl-soup"), "Did you mean lentil-soup"),
        (("season", "--meal", "lentil-soup@25:00"), "a time such as 18:00"),
        (("season", "--meal", "lentil soup", "--meal", "Lentil Soup@18:00"), "twice"),
        (("season", "--weather", "cloudy"), "cloudy"),
        (("whatif", "--meal", "xyzzy"), "suntrack dishes"),
    ],
)
def test_mistakes_are_one_message_and_status_2(
    home: Path, words: tuple[str, ...], told: str
) -> None:
    run = suntrack(home, *words)
    assert run.returncode == 2
    assert told in run.stderr
    assert "Traceback" not in run.stderr


def test_an_empty_record_says_what_it_takes(home: Path) -> None:
    run = suntrack(home, "record")
    assert run.returncode == 0, run.stderr
    assert "Nothing to count yet" in " ".join(run.stdout.split())
    kinds = json.loads(suntrack(home, "record", "--json").stdout)["kinds"]
    assert [kind["kind"] for kind in kinds] == ["dishes", "box"]


def test_mistakes_in_several_meals_are_told_together(home: Path) -> None:
    run = suntrack(home, "season", "--meal", "lentl-soup", "--meal", "cabbage@noon")
    assert run.returncode == 2
    assert 'suntrack: --meal "lentl-soup"' in run.stderr
    assert '--meal "cabbage@noon"' in run.stderr


def test_a_year_of_a_file_is_charted_in_plain_ascii(home: Path) -> None:
    words = ("season", "--weather", str(CAROLINA))
    run = suntrack(home, *words, COLUMNS="40", TERM="xterm", PYTHONIOENCODING="ascii")
    assert run.returncode == 0, run.stderr
    assert run.stdout.isascii()
    assert "?" not in run.stdout
    assert "Greensboro" in run.stdout
    assert "Days good for all 3 together" in run.stdout
    assert "\x1b" not in run.stdout


def test_a_year_is_judged_by_the_dish_that_is_named(home: Path) -> None:
    """Its own time, or else the last meal of the config; a dish of it as it stands there."""
    words = ("season", "--weather", str(CAROLINA), "--json")
    asked = ("--meal", "cabbage", "--meal", "chicken pieces in sauce@1:30 pm")
    data = json.loads(suntrack(home, *words, *asked).stdout)
    assert len(data["months"]) == 12
    dishes = data["meals"]["dishes"]
    assert [(dish["key"], dish["serve"]) for dish in dishes] == [
        ("cabbage", "18:00"),
        ("chicken-pieces", "13:30"),
    ]
    assert dishes[1]["days"] < dishes[0]["days"]


def test_changes_are_weighed_and_ranked(home: Path) -> None:
    words = ("top.glasses = 1", "leak = 0.05 W/K")
    run = suntrack(home, "whatif", *words, "--json")
    assert run.returncode == 0, run.stderr
    changes = [row["change"] for row in json.loads(run.stdout)["changes"]]
    assert changes == ["leak = 0.05 W/K", "top.glasses = 1"]
    shown = suntrack(home, "whatif", "--meal", "cabbage").stdout
    told = " ".join(shown.replace("•", " ").split())
    assert "Judged by: Braised cabbage." in told
    assert "seven stations in the USA" in told
    assert "Weakest sun" in told
