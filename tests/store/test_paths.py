"""Which config counts, and where data goes."""

from __future__ import annotations

from pathlib import Path

import platformdirs
import pytest

from suntrack.errors import InputError
from suntrack.store import paths
from suntrack.store.paths import cache_dir, data_dir, find_config

EXAMPLE = Path(__file__).parents[2] / "config" / "suntrack.toml"


@pytest.fixture
def env(tmp_path: Path) -> dict[str, str]:
    """Return an empty home, so that no config of the machine's owner is found."""
    return {"SUNTRACK_HOME": str(tmp_path / "home")}


def test_what_counts_first_comes_first(tmp_path: Path, env: dict[str, str]) -> None:
    """Taking one away at a time shows the next in the order of the documentation."""
    order = [
        tmp_path / "suntrack.toml",
        tmp_path / "config" / "suntrack.toml",
        tmp_path / "home" / "suntrack.toml",
    ]
    for path in order:
        path.parent.mkdir(exist_ok=True)
        path.touch()
    asked = {**env, "SUNTRACK_CONFIG": "/elsewhere.toml"}
    assert find_config("/mine.toml", cwd=tmp_path, env=asked).path == Path("/mine.toml")
    assert find_config(None, cwd=tmp_path, env=asked).path == Path("/elsewhere.toml")
    for path in order:
        found = find_config(None, cwd=tmp_path, env=env)
        assert (found.path, found.is_example) == (path, False)
        path.unlink()
    assert find_config(None, cwd=tmp_path, env=env).is_example


def test_a_file_that_was_asked_for_is_taken_though_it_is_missing(
    tmp_path: Path, env: dict[str, str]
) -> None:
    """Otherwise a slip in the path would quietly plan for another box."""
    (tmp_path / "suntrack.toml").touch()
    found = find_config(tmp_path / "slip.toml", cwd=tmp_path, env=env)
    assert found.path == tmp_path / "slip.toml"


def test_a_folder_of_that_name_is_no_config(tmp_path: Path, env: dict[str, str]) -> None:
    (tmp_path / "suntrack.toml").mkdir()
    assert find_config(None, cwd=tmp_path, env=env).is_example


def test_a_cook_without_a_config_gets_the_example(tmp_path: Path, env: dict[str, str]) -> None:
    found = find_config(None, cwd=tmp_path, env=env)
    assert found.is_example
    assert found.path.is_file()


def test_the_example_of_a_clone_is_known_for_an_example(env: dict[str, str]) -> None:
    found = find_config(None, cwd=EXAMPLE.parents[1], env=env)
    assert found.is_example
    assert found.path.samefile(EXAMPLE)


def test_without_any_config_the_cook_is_told_what_to_do(
    tmp_path: Path, env: dict[str, str], monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(paths, "_examples", lambda: iter([tmp_path / "none.toml"]))
    with pytest.raises(InputError, match=r"Copy config/suntrack\.toml"):
        find_config(None, cwd=tmp_path, env=env)


def test_one_variable_moves_everything(tmp_path: Path) -> None:
    env = {"SUNTRACK_HOME": str(tmp_path)}
    assert data_dir(env) == tmp_path
    assert cache_dir(env).parent == tmp_path


def test_without_it_the_system_decides() -> None:
    """The folders of the operating system, as platformdirs tells them."""
    for env in ({}, {"SUNTRACK_HOME": ""}):
        assert data_dir(env) == platformdirs.user_data_path("suntrack")
        assert cache_dir(env) == platformdirs.user_cache_path("suntrack")


def test_a_tilde_in_a_variable_is_the_home_folder(tmp_path: Path) -> None:
    """As a service manager hands it over: nobody has expanded it."""
    home = Path("~").expanduser()
    env = {"SUNTRACK_HOME": "~/sun", "SUNTRACK_CONFIG": "~/sun/mine.toml"}
    assert data_dir(env) == home / "sun"
    assert find_config(None, cwd=tmp_path, env=env).path == home / "sun" / "mine.toml"


def test_data_stays_where_it_is_when_the_program_changes_folder(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.chdir(tmp_path)
    folder = data_dir({"SUNTRACK_HOME": "here"})
    monkeypatch.chdir("/")
    assert folder == tmp_path / "here"
