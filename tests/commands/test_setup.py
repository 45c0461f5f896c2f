"""The first run at a real terminal (a pseudo-terminal), and by options alone."""

from __future__ import annotations

import json
import os
import signal
import subprocess
import sys
import tomllib
from pathlib import Path
from typing import Any

import pytest

pexpect = pytest.importorskip("pexpect", reason="nothing to answer questions with")

ANSWERS = (
    ("Where does the box stand", "Gaborone"),
    ("above the sea", "1010 m"),
    ("time zone", ""),
    ("units", "metric"),
    ("box inside", "58 x 44 x 27 cm"),
    ("glasses", "2"),
    ("mirror", "44 x 60 cm"),
    ("hides the sun", "70-110: 1.5 fists"),
    ("air", "19 C to 32 C"),
    ("do you eat", "13:00"),
)


def environment(home: Path) -> dict[str, str]:
    kept = {name: os.environ[name] for name in ("PATH", "NUMBA_CACHE_DIR")}
    return kept | {"SUNTRACK_HOME": str(home), "PYTHONIOENCODING": "utf-8", "TERM": "xterm"}


def listen() -> None:
    """Heed Ctrl-C, which tests that run in the background hand on as ignored."""
    signal.signal(signal.SIGINT, signal.SIG_DFL)


def at_terminal(home: Path, *words: str) -> Any:
    return pexpect.spawn(
        sys.executable, ["-m", "suntrack", "setup", *words],
        env=environment(home), cwd=str(home), encoding="utf-8", timeout=120, dimensions=(40, 100),
        preexec_fn=listen,
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
        terminal.expect(": $")
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


def test_an_answer_that_is_none_is_asked_for_again(tmp_path: Path) -> None:
    terminal = at_terminal(tmp_path)
    terminal.expect("Where does the box stand")
    terminal.sendline("Gaborne")
    terminal.expect("such as Gaborone")
    terminal.expect("Where does the box stand")
    terminal.sendline("-24.65, 25.91")
    terminal.expect("above the sea")
    terminal.sendline("high")
    terminal.expect("6000 m")
    terminal.sendintr()
    terminal.expect(pexpect.EOF)
    terminal.close()
    assert terminal.exitstatus == 130


@pytest.mark.parametrize("after", [0, 4, 9])
def test_ctrl_c_leaves_nothing_behind(after: int, tmp_path: Path) -> None:
    terminal = at_terminal(tmp_path)
    for asked, answer in ANSWERS[:after]:
        terminal.expect(asked)
        terminal.expect(": $")
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
                     "Europe/Madrid", "--inside", "20 x 18 x 10 in", "--units", "inch",
                     "--air", "60 F to 85 F", "--yes", "--json")  # fmt: skip
    assert run.returncode == 0, run.stderr
    config = tomllib.loads((tmp_path / "suntrack.toml").read_text(encoding="utf-8"))
    assert config["box"]["width"] == "20 in"
    assert config["show"]["temperature"] == "F"
    assert config["site"]["air"]["low"] == "16 C"
