"""Keeping the compiled simulator: told once, renewed with its sources, never in the way."""

from __future__ import annotations

import os
import subprocess
import sys
from typing import TYPE_CHECKING

import pytest

from suntrack.store import compiled
from suntrack.store.compiled import FOLDER, keep_compiled

if TYPE_CHECKING:
    from pathlib import Path


def test_folder_follows_every_source(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    sources = tmp_path / "box"
    sources.mkdir()
    (sources / "film.py").write_text("a = 1\n")
    monkeypatch.setattr(compiled, "SOURCES", sources)
    names = []
    for text in ("a = 1\n", "a = 22\n"):
        (sources / "film.py").write_text(text)
        env: dict[str, str] = {}
        assert not keep_compiled(tmp_path, env=env)
        names.append(env[FOLDER])
    assert names[0] != names[1]


def test_older_folders_go_and_the_new_one_counts(tmp_path: Path) -> None:
    old = tmp_path / "compiled" / "0badcafe"
    old.mkdir(parents=True)
    env: dict[str, str] = {}
    assert not keep_compiled(tmp_path, env=env)
    assert not old.exists()
    kept = tmp_path / "compiled" / env[FOLDER].rsplit(os.sep, maxsplit=1)[-1] / "box_1"
    kept.mkdir(parents=True)
    (kept / "march.nbi").touch()
    assert keep_compiled(tmp_path, env=env)
    assert kept.exists()


def test_a_folder_the_cook_chose_is_left_alone(tmp_path: Path) -> None:
    theirs = tmp_path / "compiled" / "theirs"
    theirs.mkdir(parents=True)
    env = {FOLDER: str(tmp_path / "elsewhere")}
    keep_compiled(tmp_path, env=env)
    assert env == {FOLDER: str(tmp_path / "elsewhere")}
    assert theirs.exists()


@pytest.mark.skipif(os.name != "posix", reason="permissions of folders are POSIX here")
def test_a_closed_folder_does_not_stop_the_simulator(tmp_path: Path) -> None:
    """Run as a program of its own: numba reads the variable once."""
    closed = tmp_path / "file"
    closed.touch()
    script = "from suntrack.box.compiled import run_days\nprint(callable(run_days()))\n"
    run = subprocess.run(
        [sys.executable, "-c", script],
        env={**os.environ, FOLDER: str(closed / "below")},
        capture_output=True,
        text=True,
        check=False,
    )
    assert run.stdout.strip() == "True", run.stderr
