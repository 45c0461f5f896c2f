"""The first run at a real terminal (a pseudo-terminal), and by options alone."""

from __future__ import annotations

import json
import os
import signal
import subprocess
import sys
import tomllib
from datetime import datetime, time
from pathlib import Path
from typing import Any
from zoneinfo import ZoneInfo

import pytest

from suntrack.commands.setup import first_day
from suntrack.screen.json.files import SETUP_KEYS

pexpect = pytest.importorskip("pexpect", reason="nothing to answer questions with")

ANSWERS = (
    ("Where does the box stand", "Gaborone"),
    ("time zone", ""),
    ("units", "metric"),
    ("above the sea", "1010"),
    ("box inside", "58 x 44 x 27"),
    ("glasses", "2"),
    ("mirror", "44 x 60 cm"),
    ("hides the sun", "70-110: 1.5 fists"),
    ("air", "19-32"),
    ("do you eat", "1 pm"),
)
PROMPT = "[:>] $"


def environment(home: Path) -> dict[str, str]:
    kept = {name: os.environ[name] for name in ("PATH", "NUMBA_CACHE_DIR")}
    return kept | {"SUNTRACK_HOME": str(home), "PYTHONIOENCODING": "utf-8", "TERM": "xterm"}


def listen() -> None:
    """Heed Ctrl-C, which tests that run in the background hand on as ignored."""
    signal.signal(signal.SIGINT, signal.SIG_DFL)


def at_terminal(home: Path, *words: str, columns: int = 100) -> Any:
    return pexpect.spawn(
        sys.executable, ["-m", "suntrack", "setup", *words],
        env=environment(home), cwd=str(home), encoding="utf-8", timeout=120,
        dimensions=(40, columns), preexec_fn=listen,
    )  # fmt: skip


def by_options(home: Path, *words: str) -> subprocess.CompletedProcess[str]:
    return subprocess.run(
        [sys.executable, "-m", "suntrack", "setup", *words],
        env=environment(home), cwd=home, capture_output=True, text=True, check=False,
        stdin=subprocess.DEVNULL,
    )  # fmt: skip


def files(home: Path) -> set[str]:
    return {path.name for path in home.rglob("*") if path.is_file()}


def test_a_cook_answers_and_sees_the_first_plan(tmp_path: Path) -> None:
    terminal = at_terminal(tmp_path)
    for asked, answer in ANSWERS:
        terminal.expect(asked)
        terminal.expect(PROMPT)
        terminal.sendline(answer)
    terminal.expect("Written: ")
    terminal.expect("Gaborone")
    terminal.expect("What next:")
    terminal.expect(pexpect.EOF)
    terminal.close()
    assert terminal.exitstatus == 0
    config = tomllib.loads((tmp_path / "suntrack.toml").read_text(encoding="utf-8"))
    assert config["site"]["time_zone"] == "Africa/Gaborone"
    assert config["box"]["width"] == "58 cm"
    assert config["box"]["mirror"]["length"] == "44 cm"
    assert config["dish"][0]["serve"] == "13:00"
    assert max(point["height"] for point in config["site"]["skyline"]) == "15 deg"


MISTAKES = {
    "Where does the box stand": ("Gaborne", "such as Gaborone"),
    "time zone": ("Botswana", "a time zone such as"),
    "units": ("stones", "metric or inch"),
    "above the sea": ("high", "6000 m"),
    "box inside": ("50 x 40", "three lengths"),
    "glasses": ("3", "1 or 2"),
    "mirror": ("big", "two lengths"),
    "hides the sun": ("a wall in the east", "in fists or"),
    "air": ("32 to 19", "the lower first"),
    "do you eat": ("noon", "1 pm"),
}


def test_a_newcomer_at_a_narrow_terminal_mistaken_at_every_question(tmp_path: Path) -> None:
    """40 columns: each mistake is answered with what is wanted, and asked again."""
    terminal = at_terminal(tmp_path, columns=40)
    said = ""
    for asked, answer in ANSWERS:
        wrong, wanted = MISTAKES[asked]
        for words, seen in ((wrong, wanted), (answer, "\n")):
            terminal.expect(asked.replace(" ", r"\s+"))
            said += terminal.before + terminal.after
            terminal.expect(PROMPT)
            said += terminal.before + terminal.after
            terminal.sendline(words)
            terminal.expect(seen.replace(" ", r"\s+"))
            said += terminal.before + terminal.after
    terminal.expect("Written: ")
    terminal.expect(pexpect.EOF)
    terminal.close()
    assert terminal.exitstatus == 0
    config = tomllib.loads((tmp_path / "suntrack.toml").read_text(encoding="utf-8"))
    assert config["site"]["elevation"] == "1010 m"
    assert config["site"]["air"] == {"low": "19 C", "high": "32 C"}
    assert "Taken as 58 x 44 x 27 cm." in " ".join(said.split())
    # What the terminal broke by itself would be a line of all its columns.
    assert max(len(line) for line in said.replace("\r", "").splitlines()) < 40


def test_an_answer_can_be_edited_with_the_arrow_keys(tmp_path: Path) -> None:
    """Left twice from the end of Gabone, and the two letters that were forgotten."""
    pytest.importorskip("readline", reason="this system has no line to edit")
    terminal = at_terminal(tmp_path)
    terminal.expect("Where does the box stand")
    terminal.expect(PROMPT)
    terminal.sendline("Gabone" + "\x1b[D" * 2 + "ro")
    terminal.expect("time zone")
    terminal.expect("Africa/Gaborone")
    terminal.expect(PROMPT)
    terminal.sendintr()
    terminal.expect(pexpect.EOF)
    terminal.close()
    assert terminal.exitstatus == 130


def test_a_place_by_numbers_is_asked_its_zone(tmp_path: Path) -> None:
    terminal = at_terminal(tmp_path)
    terminal.expect("Where does the box stand")
    terminal.sendline("24.65 S, 25.91 E")
    terminal.expect("time zone")
    terminal.sendintr()
    terminal.expect(pexpect.EOF)
    terminal.close()
    assert terminal.exitstatus == 130


@pytest.mark.parametrize("after", [0, 4, 9])
def test_ctrl_c_leaves_nothing_behind(after: int, tmp_path: Path) -> None:
    terminal = at_terminal(tmp_path)
    for asked, answer in ANSWERS[:after]:
        terminal.expect(asked)
        terminal.expect(PROMPT)
        terminal.sendline(answer)
    terminal.expect(ANSWERS[after][0])
    terminal.sendintr()
    terminal.expect(pexpect.EOF)
    terminal.close()
    assert terminal.exitstatus == 130
    assert "Traceback" not in (terminal.before or "")
    assert files(tmp_path) == set()


def test_an_older_config_stays_unless_the_cook_says_yes(tmp_path: Path) -> None:
    own = tmp_path / "suntrack.toml"
    own.write_text("mine", encoding="utf-8")
    terminal = at_terminal(tmp_path)
    terminal.expect("Write over it")
    terminal.sendline("")
    terminal.expect("Nothing was changed")
    terminal.expect(pexpect.EOF)
    terminal.close()
    assert terminal.exitstatus == 2
    run = by_options(tmp_path, "--place", "Gaborone", "--yes")
    assert run.returncode == 2
    assert "--replace" in run.stderr
    assert own.read_text(encoding="utf-8") == "mine"


def test_options_alone_will_do_and_say_what_they_took(tmp_path: Path) -> None:
    run = by_options(tmp_path, "--place", "gaborone", "--meal", "12:30", "--yes", "--json")
    assert run.returncode == 0, run.stderr
    told = json.loads(run.stdout)
    assert Path(told["path"]) == tmp_path / "suntrack.toml"
    assert any(word.startswith("mirror none") for word in told["usual"])
    assert not any(word.startswith("meal") for word in told["usual"])


def test_a_height_nobody_said_is_off_a_map_and_said_aloud(tmp_path: Path) -> None:
    """Water boils about 3.3 K cooler at 1000 m (ICAO standard air with the vapour curve)."""
    run = by_options(tmp_path, "--place", "Gaborone", "--yes")
    assert run.returncode == 0, run.stderr
    said = " ".join(run.stdout.split())
    assert "a coarse map of the world has it at 1010 m" in said
    assert "97 °C at 1000 m" in said
    assert "--elevation" in said
    text = (tmp_path / "suntrack.toml").read_text(encoding="utf-8")
    assert "off a coarse map: put yours in" in text
    told = json.loads(by_options(tmp_path, "--place", "Gaborone", "--yes", "--replace",
                                 "--elevation", "1010", "--json").stdout)  # fmt: skip
    assert told["doubts"] == []
    assert set(told) == {key.removesuffix("[]") for key in SETUP_KEYS}


@pytest.mark.parametrize(
    ("zone", "doubted"),
    [("Africa/Gaborone", False), ("UTC", False), ("Asia/Karachi", True)],
)
def test_a_zone_far_from_the_sun_is_doubted(zone: str, doubted: bool, tmp_path: Path) -> None:
    run = by_options(tmp_path, "--latitude=-24.65", "--longitude=25.91", "--elevation=1010m",
                     f"--time-zone={zone}", "--yes", "--json")  # fmt: skip
    assert any(zone in line for line in json.loads(run.stdout)["doubts"]) is doubted


def test_a_zone_that_cannot_be_of_the_place_is_a_mistake(tmp_path: Path) -> None:
    run = by_options(tmp_path, "--latitude=-24.65", "--longitude=25.91", "--elevation=1010m",
                     "--time-zone=Asia/Tokyo", "--yes")  # fmt: skip
    assert run.returncode == 2
    assert "7 hours" in run.stderr
    assert files(tmp_path) == set()


def test_a_zone_that_only_the_computer_said_is_told(tmp_path: Path) -> None:
    run = by_options(tmp_path, "--latitude=-24.65", "--longitude=25.91", "--yes", "--json")
    assert any(line.startswith("time zone") for line in json.loads(run.stdout)["usual"])


def test_every_mistake_is_told_at_once(tmp_path: Path) -> None:
    run = by_options(
        tmp_path, "--place", "Gaborne", "--inside", "58 44", "--meal", "25:00", "--yes"
    )
    assert run.returncode == 2
    for where in ("--place", "--inside", "--meal"):
        assert where in run.stderr
    assert "Gaborone" in run.stderr
    assert files(tmp_path) == set()


def test_nobody_to_answer_is_told_so(tmp_path: Path) -> None:
    run = by_options(tmp_path)
    assert run.returncode == 2
    assert "--yes" in run.stderr
    assert files(tmp_path) == set()


def test_inches_and_fahrenheit_can_be_had(tmp_path: Path) -> None:
    run = by_options(tmp_path, "--latitude=36.84", "--longitude=-2.46", "--time-zone",
                     "Europe/Madrid", "--inside", "20 x 18 x 10", "--units", "inch",
                     "--air", "60-85", "--yes", "--json")  # fmt: skip
    assert run.returncode == 0, run.stderr
    config = tomllib.loads((tmp_path / "suntrack.toml").read_text(encoding="utf-8"))
    assert config["box"]["width"] == "20 in"
    assert config["show"]["temperature"] == "F"
    assert config["site"]["air"]["low"] == "16 C"


@pytest.mark.parametrize(
    ("hour", "day"), [(0, "today"), (12, "today"), (13, "tomorrow"), (23, "tomorrow")]
)
def test_the_first_plan_is_of_a_day_with_a_meal_to_come(hour: int, day: str) -> None:
    now = datetime(2026, 11, 25, hour, tzinfo=ZoneInfo("Africa/Gaborone"))
    assert first_day(now, meal=time(13)) == day
