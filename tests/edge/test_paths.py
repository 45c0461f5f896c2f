"""Which config counts, and where data goes."""

from __future__ import annotations

from pathlib import Path

from suntrack.edge.paths import cache_dir, data_dir, find_config


def test_the_one_asked_for_counts_first(tmp_path: Path) -> None:
    (tmp_path / "suntrack.toml").touch()
    env = {"SUNTRACK_CONFIG": "/elsewhere.toml"}
    assert find_config("/mine.toml", cwd=tmp_path, env=env).path == Path("/mine.toml")
    assert find_config(None, cwd=tmp_path, env=env).path == Path("/elsewhere.toml")
    assert find_config(None, cwd=tmp_path, env={}).path == tmp_path / "suntrack.toml"


def test_a_cook_without_a_config_gets_the_example(tmp_path: Path) -> None:
    found = find_config(None, cwd=tmp_path, env={})
    assert found.is_example
    assert found.path.is_file()


def test_one_variable_moves_everything(tmp_path: Path) -> None:
    env = {"SUNTRACK_HOME": str(tmp_path)}
    assert data_dir(env) == tmp_path
    assert cache_dir(env).parent == tmp_path
