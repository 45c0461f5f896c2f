"""The commands as a cook runs them: a real process, a home of its own, no network."""

from __future__ import annotations

import json
import os
import re
import subprocess
import sys
from datetime import datetime
from pathlib import Path
from typing import Any

import pytest

ROOT = Path(__file__).parents[1]
EXAMPLE = ROOT / "config" / "suntrack.toml"
DAWN = "2026-11-25T05:00+02:00"
PAST_DAWN = "2025-11-25T05:00+02:00"
"""For notes: nothing can be noted before it has happened."""


@pytest.fixture(scope="module")
def home(tmp_path_factory: pytest.TempPathFactory) -> Path:
    return tmp_path_factory.mktemp("home")


def suntrack(
    home: Path, *words: str, env: dict[str, str] | None = None
) -> subprocess.CompletedProcess[str]:
    """Run a command with nothing of ours in its environment but a home."""
    kept = {name: os.environ[name] for name in ("PATH", "NUMBA_CACHE_DIR")}
    kept |= {"SUNTRACK_HOME": str(home), "SUNTRACK_CONFIG": str(EXAMPLE)}
    return subprocess.run(
        [sys.executable, "-m", "suntrack", *words],
        env=kept | {"PYTHONIOENCODING": "utf-8"} | (env or {}),
        cwd=home,
        capture_output=True,
        text=True,
        check=False,
        encoding="utf-8",
    )


def as_json(home: Path, *words: str) -> Any:
    run = suntrack(home, *words, "--json")
    assert run.returncode == 0, run.stderr
    return json.loads(run.stdout)


def test_today_answers_with_every_promised_key(home: Path) -> None:
    plan = as_json(home, "today", "--at", DAWN)
    assert plan["date"] == "2026-11-25"
    assert set(plan["verdict"]) >= {"cook", "chance", "reason"}
    assert set(plan["window"]) >= {"opens_at", "closes_at", "threshold_c"}
    assert set(plan["turns"][0]) >= {"at", "face_true_deg", "face_compass_deg", "mirror_deg"}
    assert 0.0 < plan["light_kept"] <= 1.0
    assert set(plan["box"][0]) >= {"at", "box_c"}
    assert set(plan["dishes"][0]) >= {
        "name", "load_at", "done_at", "safe_at", "pull_at", "pull_by", "status", "notes",
    }  # fmt: skip
    assert plan["cautions"]
    assert plan["sky"]["source"] == "clear sky"
    assert plan["sky"]["issued_at"] is None


def test_times_are_iso_8601_with_their_offset(home: Path) -> None:
    plan = as_json(home, "today", "--at", DAWN)
    for key in ("opens_at", "closes_at"):
        at = datetime.fromisoformat(plan["window"][key])
        assert at.utcoffset() is not None
        assert plan["window"][key].endswith("+02:00")


def test_week_ranks_seven_days_and_says_that_no_forecast_was_used(home: Path) -> None:
    week = as_json(home, "week", "--at", DAWN)
    assert [day["rank"] for day in week["days"]] == list(range(1, 8))
    assert len({day["date"] for day in week["days"]}) == 7
    run = suntrack(home, "week", "--at", DAWN)
    assert len(run.stdout.splitlines()) == 9
    assert "if the sky is clear" in run.stdout
    assert "no forecast was used" in run.stdout


def test_today_in_words_answers_first(home: Path) -> None:
    run = suntrack(home, "today", "--at", DAWN)
    assert run.returncode == 0
    first, second = run.stdout.splitlines()[:2]
    assert "Gaborone courtyard" in first
    assert second.startswith("Yes, cook today")
    assert "\x1b" not in run.stdout, "no escape codes into a pipe"


def test_now_tells_the_sun_the_aim_and_the_next_step(tmp_path: Path) -> None:
    view = as_json(tmp_path, "now", "--at", "2026-11-25T10:30+02:00")
    assert view["next_step"]["kind"] == "preheat"
    assert view["face_true_deg"] is None, "nobody has set it out"
    assert suntrack(tmp_path, "note", "turned", "--at", "2026-11-25T09:30+02:00").returncode == 0
    view = as_json(tmp_path, "now", "--at", "2026-11-25T10:30+02:00")
    # NREL SPA is checked elsewhere; here only that the right table was read.
    assert view["sun"]["elevation_deg"] == pytest.approx(68.0, abs=1.0)
    assert view["face_true_deg"] is not None
    assert view["next_step"]["kind"] in ("preheat", "load", "turn", "prepare")
    words = suntrack(tmp_path, "now", "--at", "2026-11-25T10:30+02:00").stdout
    assert "shadow" in words


def test_in_the_dark_now_tells_the_next_sunrise(home: Path) -> None:
    words = suntrack(home, "now", "--at", "2026-11-25T22:00+02:00").stdout
    # Over a level horizon at 24.65 S the sun rises near 5:20 late in November (from memory).
    assert re.search(r"rises at 5:[12]\d", words), words


def test_tomorrow_and_any_day_can_be_asked_for(home: Path) -> None:
    assert as_json(home, "today", "--at", DAWN, "--date", "tomorrow")["date"] == "2026-11-26"
    assert as_json(home, "today", "--at", DAWN, "--date", "2026-06-21")["date"] == "2026-06-21"


def test_notes_are_kept_and_the_plan_follows_them(tmp_path: Path) -> None:
    for words, at in (
        (["turned"], "06:35"),
        (["loaded", "lentil", "soup"], "09:30"),
        (["reading", "255F"], "09:20"),
    ):
        run = suntrack(tmp_path, "note", *words, "--at", f"2025-11-25T{at}+02:00")
        assert run.returncode == 0, run.stderr
        assert run.stdout.startswith("Noted")
    plan = as_json(tmp_path, "today", "--at", "2025-11-25T09:40+02:00")
    soup = next(dish for dish in plan["dishes"] if dish["key"] == "lentil-soup")
    assert soup["load_at"] == "2025-11-25T09:30:00+02:00"
    others = [dish["load_at"] for dish in plan["dishes"] if dish["key"] != "lentil-soup"]
    assert all(load > "2025-11-25T09:40" for load in others)


def test_a_skipped_day_calls_nobody(tmp_path: Path) -> None:
    assert suntrack(tmp_path, "note", "skipped", "--at", PAST_DAWN).returncode == 0
    plan = as_json(tmp_path, "today", "--at", PAST_DAWN)
    assert not plan["verdict"]["cook"]
    assert plan["steps"] == []


def test_a_replayed_day_calls_for_every_step_at_its_time(home: Path) -> None:
    """A whole day through the watch: every step of the plan is called, on time, in order."""
    plan = as_json(home, "today", "--at", DAWN, "--date", "2026-11-25")
    run = suntrack(home, "watch", "--replay", "max", "--date", "2026-11-25", "--json")
    assert run.returncode == 0, run.stderr
    calls = [json.loads(line) for line in run.stdout.splitlines()]
    assert [call["at"] for call in calls] == sorted(call["at"] for call in calls)
    told = {(call["at"][:16], line) for call in calls for line in (call["title"] + call["body"],)}
    for step in plan["steps"]:
        at = step["at"][:16]
        # The evening before is not part of the day that is run through.
        assert at < "2026-11-25" or any(when == at for when, _ in told), step
    window = plan["window"]
    texts = " ".join(call["title"] for call in calls)
    assert "hot enough" in texts
    assert any(call["at"][:16] == window["opens_at"][:16] for call in calls)
    for kind, word in (("load", "goes in"), ("pull", "comes out"), ("turn", "Turn")):
        count = sum(step["kind"] == kind for step in plan["steps"])
        told_words = " ".join(call["title"] + " " + call["body"] for call in calls)
        assert told_words.count(word) >= count, kind
    assert "Cover" in texts


@pytest.mark.parametrize(
    ("words", "said"),
    [
        (["today", "--at", "half past ten"], "--at"),
        (["today", "--date", "someday"], "--date"),
        (["note", "burned", "lentil-soup"], "note"),
        (["note", "loaded", "lentl-soup"], "Did you mean lentil-soup?"),
        (["note", "reading", "250"], "such as"),
        (["today", "--config", "nowhere.toml"], "nowhere.toml"),
        (["watch", "--replay", "quickly"], "--replay"),
        (["dishes", "lentils"], "Did you mean"),
        (["dish", "lentil", "stew"], "Did you mean lentil-soup"),
        (["dish", "qqqq"], "suntrack dishes"),
        (["dish", ""], "suntrack dishes"),
    ],
)
def test_bad_input_gets_one_clear_message_and_status_2(
    home: Path, words: list[str], said: str
) -> None:
    run = suntrack(home, *words)
    assert run.returncode == 2
    assert said in run.stderr
    assert "Traceback" not in run.stderr


def test_a_wrong_key_in_the_config_names_its_line(tmp_path: Path) -> None:
    text = EXAMPLE.read_text(encoding="utf-8").replace("[box.mirror]", "[box.miror]")
    (tmp_path / "mine.toml").write_text(text, encoding="utf-8")
    run = suntrack(tmp_path, "today", "--config", "mine.toml")
    assert run.returncode == 2
    assert "mine.toml:" in run.stderr
    assert "Did you mean mirror?" in run.stderr
    assert "Traceback" not in run.stderr


def test_help_is_light_and_has_examples(home: Path) -> None:
    script = (
        "import sys\n"
        "from suntrack.cli import main\n"
        "try:\n    main(['--help'])\nexcept SystemExit:\n    pass\n"
        "heavy = {'numpy', 'pvlib', 'pandas', 'pydantic', 'rich', 'textual'} & set(sys.modules)\n"
        "print('HEAVY', sorted(heavy), file=sys.stderr)\n"
    )
    run = subprocess.run(
        [sys.executable, "-c", script], cwd=home, capture_output=True, text=True, check=True
    )
    assert "HEAVY []" in run.stderr
    assert "suntrack note loaded lentil-soup" in run.stdout


@pytest.mark.parametrize(
    "words",
    [
        ["now", "--at", DAWN],
        ["watch", "--headless", "--replay", "max", "--date", "2026-11-25"],
        ["watch", "--plain", "--replay", "max", "--date", "2026-11-25"],
    ],
)
def test_only_the_dashboard_loads_what_draws_it(home: Path, words: list[str]) -> None:
    script = (
        "import sys\n"
        "from suntrack.cli import main\n"
        f"assert main({words!r}) == 0\n"
        "print('TEXTUAL', 'textual' in sys.modules, file=sys.stderr)\n"
    )
    kept = {name: os.environ[name] for name in ("PATH", "NUMBA_CACHE_DIR")}
    kept |= {"SUNTRACK_HOME": str(home), "SUNTRACK_CONFIG": str(EXAMPLE)}
    run = subprocess.run(
        [sys.executable, "-c", script], cwd=home, env=kept, capture_output=True, text=True,
        check=True,
    )  # fmt: skip
    assert "TEXTUAL False" in run.stderr


def test_a_reader_that_leaves_is_no_error(home: Path) -> None:
    process = subprocess.Popen(
        [sys.executable, "-m", "suntrack", "dishes"],
        stdout=subprocess.PIPE,
        stderr=subprocess.PIPE,
        env={"PATH": os.environ["PATH"], "SUNTRACK_HOME": str(home)},
    )
    assert process.stdout is not None
    assert process.stderr is not None
    process.stdout.close()
    errors = process.stderr.read().decode()
    process.stderr.close()
    assert process.wait() == 0
    assert "Traceback" not in errors


@pytest.mark.parametrize("columns", ["40", "80", "200"])
def test_plain_words_need_no_colour_and_no_unicode(home: Path, columns: str) -> None:
    run = suntrack(
        home, "today", "--at", DAWN, "--plain",
        env={"COLUMNS": columns, "NO_COLOR": "1", "PYTHONIOENCODING": "ascii"},
    )  # fmt: skip
    assert run.returncode == 0, run.stderr
    assert run.stdout.isascii()
    assert "\x1b" not in run.stdout


def test_every_dish_can_be_shown(home: Path) -> None:
    dishes = as_json(home, "dishes")
    assert len(dishes) >= 24
    chicken = as_json(home, "dishes", "chicken-pieces")
    assert "165 °F" in chicken["safe"]["rule"]
    assert chicken == as_json(home, "dish", "Chicken", "pieces", "in", "SAUCE")
    words = suntrack(home, "dishes", "kidney-beans").stdout
    assert "Bad Bug Book" in words


ASCII = {"PYTHONIOENCODING": "ascii"}


def test_a_note_is_answered_where_a_degree_sign_cannot_be_printed(home: Path) -> None:
    run = suntrack(home, "note", "reading", "110C", "--at", PAST_DAWN, env=ASCII)
    assert (run.returncode, run.stderr) == (0, "")
    assert run.stdout.isascii()
    assert "the box reads 110 " in run.stdout


def test_json_is_whole_where_a_degree_sign_cannot_be_printed(home: Path) -> None:
    run = suntrack(home, "dish", "chicken-pieces", "--json", env=ASCII)
    assert (run.returncode, run.stderr) == (0, "")
    assert json.loads(run.stdout) == as_json(home, "dish", "chicken-pieces")


@pytest.mark.parametrize(
    ("words", "told"),
    [
        (("notify", "--report", "someday"), "--report: found 'someday'"),
        (("trial", "water", "--note", "300C"), "suntrack trial water --note 90C"),
        (("trial", "empty", "--note", "900C"), "suntrack trial empty --note 90C"),
        (("trial", "empty", "--note", "90C", "--date", "2027-01-01"), "Leave --date out"),
    ],
)
def test_a_mistake_names_the_option_it_is_in(home: Path, words: tuple[str, ...], told: str) -> None:
    run = suntrack(home, *words)
    assert run.returncode == 2
    assert told in run.stderr
    assert "Traceback" not in run.stderr
