"""The config as it was read last, kept beside the plans: checking the file takes its time.

It counts only while every file it came from says the same to the byte, the cook's folders of
dishes hold the same files, and the project's own source is the same; else the file is read
anew.  What is read back can become records of the config and nothing else, whatever
somebody has put into the file.

The config is pickled, read back by an allow-list of our records, and counts only while every
byte of its files and the project's own source are the same; so `now` answers in a tenth of a
second.  Lost: JSON by the records' type hints (the hints alone take longer than the reading), a
process that stays in memory (the watch is one; nobody should need it to ask).
"""

from __future__ import annotations

import contextlib
import io
import os
import pickle
import sys
from dataclasses import is_dataclass
from hashlib import sha256
from pathlib import Path
from typing import TYPE_CHECKING, Any
from zoneinfo import ZoneInfo

from suntrack.config.dish_files import dish_files
from suntrack.config.record import Config, fingerprint_of

if TYPE_CHECKING:
    from collections.abc import Iterator

SOURCE = Path(__file__).parents[1]
READING = (
    "", "sky", "box", "box/light", "box/heat", "food", "plan", "alerts", "config",
    "config/first_run", "store", "feeds",
)  # fmt: skip
"""Folders of the source that a config is read by, or is made of."""
RECORDS = frozenset({
    "suntrack.config.record", "suntrack.config.ways", "suntrack.config.feed_settings",
    "suntrack.alerts.quiet", "suntrack.units", "suntrack.sky.site", "suntrack.sky.skyline",
    "suntrack.box.build", "suntrack.food.dish",
})  # fmt: skip
"""Modules whose records a config is made of."""
VALUES = frozenset({
    ("datetime", "time"), ("zoneinfo", "ZoneInfo"), ("builtins", "frozenset"),
    ("pathlib", type(SOURCE).__name__),
})  # fmt: skip
"""What else stands in them."""


def read_config(path: Path, *, dishes_dir: Path, cache: Path) -> Config:
    """Return the config of a file, as kept or read anew; raise InputError for its mistakes.

    Parameters
    ----------
    path : Path
        The file.
    dishes_dir : Path
        Where the cook's own dishes are looked for, besides the folder that the file names.
    cache : Path
        The folder for what can be computed again; one that cannot be written is no reason
        to stop.
    """
    file = cache / f"config-{sha256(repr((str(path), str(dishes_dir))).encode()).hexdigest()[:16]}"
    stamp = _stamp()
    kept = _kept(file, stamp)
    if kept is not None and _still_so(kept):
        return kept
    # The reading loads the checking library and the dishes: most of what `now` would take.
    from suntrack.config.reader import load_config

    config = load_config(path, dishes_dir=dishes_dir)
    _keep(file, stamp, config)
    return config


def _stamp() -> str:
    """Return what changes whenever the project's source does, or Python."""
    stats = ((entry.path, entry.stat()) for entry in _sources())
    found = [(path, stat.st_mtime_ns, stat.st_size) for path, stat in stats]
    return sha256(repr((sys.version, sorted(found))).encode()).hexdigest()


def _sources() -> Iterator[os.DirEntry[str]]:
    """Yield the files of the project by which a config is read."""
    for folder in READING:
        with os.scandir(SOURCE / folder) as found:
            yield from (entry for entry in found if entry.name.endswith((".py", ".toml")))


class _Writer(pickle.Pickler):
    """Writes a time zone by its name; as it comes it would ask for any attribute at all."""

    def reducer_override(self, value: Any, /) -> Any:
        """Return how a value is made again."""
        return (ZoneInfo, (value.key,)) if isinstance(value, ZoneInfo) else NotImplemented


class _Records(pickle.Unpickler):
    """Reads back records of the config, and refuses everything else."""

    def find_class(self, module: str, name: str, /) -> Any:
        """Return a record's class; raise UnpicklingError for any other name."""
        if (module, name) in VALUES:
            return super().find_class(module, name)
        if module in RECORDS and "." not in name:
            found = super().find_class(module, name)
            if is_dataclass(found) and found.__module__ == module:
                return found
        raise pickle.UnpicklingError(f"{module}.{name} is no record of a config")


def _kept(file: Path, stamp: str) -> Config | None:
    """Return what is kept; None when there is nothing that fits this source."""
    try:
        head, _, body = file.read_bytes().partition(b"\n")
        if head.decode() != stamp:
            return None
        found = _Records(io.BytesIO(body)).load()
    # Damaged bytes may raise nearly anything; whatever it is, the file is read anew.
    except Exception:
        return None
    return found if isinstance(found, Config) else None


def _still_so(kept: Config) -> bool:
    """Return whether the files that a config came from still say what they said."""
    listed = (path for folder in kept.folders for path in dish_files(folder))
    own = tuple(dict.fromkeys(listed))
    if own != kept.files[len(kept.files) - len(own) :]:
        return False
    try:
        return fingerprint_of([path.read_bytes() for path in kept.files]) == kept.fingerprint
    except OSError:
        return False


def _keep(file: Path, stamp: str, config: Config) -> None:
    """Write a config, whole or not at all, for its owner's eyes only: it may hold addresses."""
    part = file.with_name(f"{file.name}.{os.getpid()}.part")
    with contextlib.suppress(OSError, pickle.PicklingError, TypeError):
        file.parent.mkdir(parents=True, exist_ok=True)
        body = io.BytesIO()
        _Writer(body, protocol=5).dump(config)
        with os.fdopen(os.open(part, os.O_WRONLY | os.O_CREAT | os.O_TRUNC, 0o600), "wb") as opened:
            opened.write(stamp.encode() + b"\n" + body.getvalue())
        part.replace(file)
