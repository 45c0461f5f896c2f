"""Help, completion and wrong words, as a shell gets them."""

from __future__ import annotations

import shlex
import subprocess
import sys

import pytest

from suntrack.cli import COMMANDS, parser
from suntrack.cli_help import EXAMPLES, near


def run(*words: str) -> subprocess.CompletedProcess[str]:
    return subprocess.run(
        [sys.executable, "-m", "suntrack", *words], capture_output=True, text=True, check=False
    )


@pytest.mark.parametrize("name", COMMANDS)
def test_the_help_of_each_command_ends_with_an_example_that_can_be_read(
    name: str, capsys: pytest.CaptureFixture[str]
) -> None:
    with pytest.raises(SystemExit) as left:
        parser().parse_args([name, "--help"])
    assert left.value.code == 0
    said = capsys.readouterr().out.rstrip().splitlines()
    assert said[-2] == "example:"
    words = shlex.split(said[-1].partition(">")[0])
    if name in EXAMPLES:
        assert parser().parse_args(words[1:]).command == name


def test_no_example_is_of_a_command_that_there_is_not() -> None:
    assert set(EXAMPLES) <= set(COMMANDS)


@pytest.mark.parametrize(
    ("wrong", "meant"), [("tody", "today"), ("calender", "calendar"), ("Weeks", "week")]
)
def test_a_wrong_command_names_the_near_one(wrong: str, meant: str) -> None:
    done = run(wrong)
    assert done.returncode == 2
    assert f"did you mean {meant}" in done.stderr
    assert done.stdout == ""


def test_a_word_that_is_near_to_nothing_brings_the_list() -> None:
    done = run("xyzzy")
    assert done.returncode == 2
    for name in COMMANDS:
        assert name in done.stderr


def test_a_wrong_choice_of_an_option_is_answered_too() -> None:
    assert "systemd" in near("--kind", "sytemd", "'systemd', 'launchd'")
    assert run("completion", "bahs").returncode == 2
