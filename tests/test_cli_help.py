"""Help, completion and wrong words, as a shell gets them."""

from __future__ import annotations

import json
import re
import shlex
import shutil
import subprocess
import sys
from pathlib import Path

import pytest

from suntrack.cli import COMMANDS, parser
from suntrack.cli_help import EXAMPLES, near
from suntrack.screen.files_json import COMPLETION_KEYS


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


SHELLS = {"bash": ["-n"], "zsh": ["-n"], "fish": ["--no-execute"]}


@pytest.mark.parametrize("shell", SHELLS)
def test_a_shell_can_read_its_completion(shell: str, tmp_path: Path) -> None:
    done = run("completion", shell)
    assert done.returncode == 0, done.stderr
    assert "calendar" in done.stdout
    program = shutil.which(shell)
    if program is None:
        pytest.skip(f"no {shell} on this machine")
    script = tmp_path / "complete"
    script.write_text(done.stdout, encoding="utf-8")
    check = subprocess.run([program, *SHELLS[shell], str(script)], capture_output=True, check=False)
    assert check.returncode == 0, check.stderr


def test_completion_for_programs_has_the_same_lines() -> None:
    told = json.loads(run("completion", "fish", "--json").stdout)
    assert set(told) == set(COMPLETION_KEYS)
    assert told["script"].strip() == run("completion", "fish").stdout.strip()


def completed(tmp_path: Path, *words: str) -> set[str]:
    """Return what bash offers for the last of some words."""
    script = tmp_path / "complete.bash"
    script.write_text(run("completion", "bash").stdout, encoding="utf-8")
    asked = f"""
        source {shlex.quote(str(script))}
        COMP_WORDS=({shlex.join(words)}); COMP_CWORD={len(words) - 1}
        COMP_LINE={shlex.quote(" ".join(words))}; COMP_POINT=${{#COMP_LINE}}
        $(complete -p suntrack | sed -E 's/.*-F ([^ ]+).*/\\1/') suntrack
        printf '%s\\n' "${{COMPREPLY[@]}}"
    """
    done = subprocess.run(["bash", "-c", asked], capture_output=True, text=True, check=False)
    return set(re.findall(r"\S+", done.stdout))


@pytest.mark.skipif(shutil.which("bash") is None, reason="no bash on this machine")
def test_bash_offers_commands_options_and_choices(tmp_path: Path) -> None:
    assert completed(tmp_path, "suntrack", "ca") == {"calendar"}
    assert "--before" in completed(tmp_path, "suntrack", "calendar", "--b")
    assert completed(tmp_path, "suntrack", "completion", "z") == {"zsh"}
