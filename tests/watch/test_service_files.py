"""The service files, read back by the programs they are for, or by a reader of their format."""

from __future__ import annotations

import os
import plistlib
import shutil
import subprocess
from pathlib import Path, PurePosixPath

import pytest
from hypothesis import given
from hypothesis import strategies as st

from suntrack.errors import InputError
from suntrack.watch.service_files import launchd_job, systemd_unit

HOME = PurePosixPath("/home/cook")
PRINTABLE = st.text(st.characters(exclude_categories=["C", "Z"]) | st.just(" "), min_size=1)
NASTY = ["/opt/with space/python", '/a"b', "/a\\b", "/a'b", "/100%/x", "/$HOME/x", "/a;b", "/é#"]


def unquoted(line: str) -> list[str]:
    """Return the words of a unit's line by systemd.syntax(7): quotes, C escapes, %% for %."""
    words, word, inside, escaped = [], "", False, False
    for sign in line:
        if escaped:
            word, escaped = word + sign, False
        elif sign == "\\":
            escaped = True
        elif sign == '"':
            inside = not inside
        elif sign == " " and not inside:
            words.append(word)
            word = ""
        else:
            word += sign
    return [each.replace("%%", "%") for each in [*words, word]]


def value(text: str, key: str) -> str:
    return next(line for line in text.splitlines() if line.startswith(f"{key}=")).split("=", 1)[1]


@given(words=st.lists(PRINTABLE, min_size=1, max_size=4))
def test_every_word_of_the_command_comes_back(words: list[str]) -> None:
    unit = systemd_unit(words, environment={"SUNTRACK_HOME": words[0]}, home=HOME)
    command = unquoted(value(unit.text, "ExecStart").removeprefix(":"))
    assert command[-len(words) :] == words
    assert command[: -len(words)] in ([], ["/usr/bin/env"])
    assert unquoted(value(unit.text, "Environment")) == [f"SUNTRACK_HOME={words[0]}"]
    job = plistlib.loads(launchd_job(words, environment={}, home=HOME).text.encode())
    assert job["ProgramArguments"] == words


def test_a_dollar_sign_is_not_taken_for_a_variable() -> None:
    """systemd.service(5): with `:` in front, no variables are put in."""
    unit = systemd_unit(["/x/$HOME/python"], environment={}, home=HOME)
    assert value(unit.text, "ExecStart").startswith(':"')


@pytest.mark.parametrize("bad", ["/a\nExecStartPre=/bin/evil", "/a\x00b", "/a\tb"])
def test_a_path_that_would_break_out_of_its_line_is_refused(bad: str) -> None:
    for write in (systemd_unit, launchd_job):
        with pytest.raises(InputError, match="service"):
            write(["/usr/bin/python3", bad], environment={}, home=HOME)


@pytest.mark.skipif(shutil.which("systemd-analyze") is None, reason="no systemd on this machine")
def test_systemd_itself_finds_nothing_wrong(tmp_path: Path) -> None:
    for number, name in enumerate(NASTY):
        folder = tmp_path / name.lstrip("/")
        folder.mkdir(parents=True)
        program = folder / "python"
        program.symlink_to("/bin/true")
        unit = systemd_unit(
            [str(program), *NASTY], environment={"SUNTRACK_HOME": str(folder)}, home=HOME
        )
        path = tmp_path / f"suntrack{number}.service"
        path.write_text(unit.text, encoding="utf-8")
        run = subprocess.run(
            ["systemd-analyze", "--user", "verify", str(path)],
            capture_output=True,
            text=True,
            check=False,
            env={**os.environ, "XDG_RUNTIME_DIR": str(tmp_path)},
        )
        said = [line for line in run.stderr.splitlines() if path.name in line]
        assert (run.returncode, said) == (0, []), name


def test_a_config_mistake_and_a_second_watch_are_not_tried_again() -> None:
    """Exit 2 and EX_TEMPFAIL 75 of the watch; anything else starts it once more."""
    unit = systemd_unit(["/usr/bin/python3"], environment={}, home=HOME)
    assert value(unit.text, "RestartPreventExitStatus").split() == ["2", "75"]
    assert value(unit.text, "Restart") == "on-failure"
