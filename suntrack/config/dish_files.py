"""Which files of a folder are dishes of the cook's own."""

from __future__ import annotations

from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from pathlib import Path


def dish_files(folder: Path) -> list[Path]:
    """Return the dish files of a folder by name; none when there is no such folder.

    Editors keep notes of their own beside a file, under names that begin with a dot.
    """
    found = folder.glob("*.toml") if folder.is_dir() else ()
    return sorted(path for path in found if not path.name.startswith("."))
