"""Where files are: the config that counts, the data folder, the cache folder."""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING

import platformdirs

from suntrack.errors import InputError, Problem

if TYPE_CHECKING:
    from collections.abc import Iterator, Mapping

NAME = "suntrack"
FILE = "suntrack.toml"
HOME = "SUNTRACK_HOME"
"""One folder for data and cache together, instead of the system's own."""
CONFIG = "SUNTRACK_CONFIG"


@dataclass(frozen=True, slots=True, kw_only=True)
class FoundConfig:
    """The config file to use."""

    path: Path
    is_example: bool
    """True when the cook has none of their own and gets the example."""


def find_config(explicit: str | Path | None, *, cwd: Path, env: Mapping[str, str]) -> FoundConfig:
    """Return the config file: the one asked for, else the first there is, else the example.

    Looked for in order: `--config`, the variable SUNTRACK_CONFIG, `suntrack.toml` in the
    current folder, `suntrack.toml` in the user's config folder.
    """
    asked = explicit or env.get(CONFIG)
    if asked:
        return FoundConfig(path=Path(asked), is_example=False)
    for path in (cwd / FILE, platformdirs.user_config_path(NAME) / FILE):
        if path.is_file():
            return FoundConfig(path=path, is_example=False)
    for path in _examples():
        if path.is_file():
            return FoundConfig(path=path, is_example=True)
    raise InputError(
        Problem(
            where="--config",
            found="no config file",
            allowed=f"{FILE} in this folder, or --config PATH",
            remedy="Copy config/suntrack.toml from the project and change it.",
        )
    )


def _examples() -> Iterator[Path]:
    """Yield where the example may be: beside the source, or installed with the package."""
    here = Path(__file__).parent
    yield here.parents[1] / "config" / FILE
    yield here / "example" / FILE


def data_dir(env: Mapping[str, str]) -> Path:
    """Return the folder for what must not be lost, such as the journal."""
    return Path(env[HOME]) if env.get(HOME) else platformdirs.user_data_path(NAME)


def cache_dir(env: Mapping[str, str]) -> Path:
    """Return the folder for what can be computed again."""
    return Path(env[HOME]) / "cache" if env.get(HOME) else platformdirs.user_cache_path(NAME)
