"""Where files are: the config that counts, the data folder, the cache folder."""

from __future__ import annotations

import hashlib
from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING

import platformdirs

from suntrack.errors import InputError, Problem

if TYPE_CHECKING:
    from collections.abc import Iterator, Mapping
    from datetime import date

    from suntrack.sky.site import Site

NAME = "suntrack"
FILE = "suntrack.toml"
SUN_LAYOUT = 2
STEP_S = 120.0
"""Length of the plan's step: short against a pot's hours, long enough to be quick.  [s]"""
HOME = "SUNTRACK_HOME"
"""One folder for config, data and cache together, instead of the system's own."""
CONFIG = "SUNTRACK_CONFIG"


@dataclass(frozen=True, slots=True, kw_only=True)
class FoundConfig:
    """The config file to use."""

    path: Path
    """Where it is."""
    is_example: bool
    """True when the cook has none of their own and gets the example."""


def find_config(explicit: str | Path | None, *, cwd: Path, env: Mapping[str, str]) -> FoundConfig:
    """Return the config file: the one asked for, else the first there is, else the example.

    Looked for in order: `--config`, the variable SUNTRACK_CONFIG, `suntrack.toml` in the
    current folder, `config/suntrack.toml` there, `suntrack.toml` in the user's config folder.
    """
    asked = explicit or env.get(CONFIG)
    if asked:
        # A service manager passes a variable on as it is, without reading the tilde.
        return FoundConfig(path=Path(asked).expanduser(), is_example=False)
    for path in (cwd / FILE, cwd / "config" / FILE, _user_config(env) / FILE):
        if path.is_file() and not _is_example(path):
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


def _is_example(path: Path) -> bool:
    """Return whether a file is the example itself, as it is in a clone of the project."""
    return any(example.is_file() and path.samefile(example) for example in _examples())


def _home(env: Mapping[str, str]) -> Path | None:
    """Return the one folder that was asked for; None for the system's own."""
    return Path(env[HOME]).expanduser().absolute() if env.get(HOME) else None


def _user_config(env: Mapping[str, str]) -> Path:
    return _home(env) or platformdirs.user_config_path(NAME)


def dishes_dir(env: Mapping[str, str]) -> Path:
    """Return the folder in which the cook's own dishes are looked for."""
    return _user_config(env) / "dishes"


def data_dir(env: Mapping[str, str]) -> Path:
    """Return the folder for what must not be lost, such as the journal."""
    return _home(env) or platformdirs.user_data_path(NAME)


def cache_dir(env: Mapping[str, str]) -> Path:
    """Return the folder for what can be computed again."""
    home = _home(env)
    return home / "cache" if home else platformdirs.user_cache_path(NAME)


def sun_file(site: Site, *, on: date, cache_dir: Path) -> Path:
    """Return the archive of a day; its name depends on all that the day's sun depends on."""
    digest = hashlib.sha256(repr((SUN_LAYOUT, STEP_S, site)).encode()).hexdigest()[:16]
    return cache_dir / f"sun-{on.isoformat()}-{digest}.npz"
