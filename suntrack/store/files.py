"""Files that a cook asks for: written whole or not at all, and never over somebody else's."""

from __future__ import annotations

import contextlib
import os
from typing import TYPE_CHECKING

from suntrack.errors import InputError, Problem

if TYPE_CHECKING:
    from pathlib import Path


def write_whole(path: Path, content: str | bytes, *, ours: str, option: str) -> None:
    """Write a file, in place of one only if that one is of our making.

    Parameters
    ----------
    path : Path
    content : str or bytes
        What to write; a text with its own line ends.
    ours : str
        What stands in every file of this kind that we made.
    option : str
        The option that names another file, for the message.

    Raises
    ------
    InputError
        If there is a file of somebody else's, or none can be written there.
    """
    _refuse_strange(path, ours=ours, option=option)
    part = path.with_name(f"{path.name}.{os.getpid()}.part")
    try:
        part.write_bytes(content if isinstance(content, bytes) else content.encode("utf-8"))
        part.replace(path)
    except OSError as error:
        with contextlib.suppress(OSError):
            part.unlink(missing_ok=True)
        raise InputError(
            Problem(
                where=option,
                found=f"{str(path)!r}: {error.strerror or error}",
                allowed="a file in a folder that exists and that you may write to",
                remedy="Name another file.",
            )
        ) from error
    finally:
        with contextlib.suppress(OSError):
            part.unlink(missing_ok=True)


def _refuse_strange(path: Path, *, ours: str, option: str) -> None:
    """Raise InputError where a file stands that was not made by us."""
    try:
        text = path.read_text(encoding="utf-8", errors="replace")
    except (FileNotFoundError, NotADirectoryError):
        return
    except OSError:
        text = ""
    if ours not in text:
        raise InputError(
            Problem(
                where=option,
                found=f"{str(path)!r}, which suntrack did not write",
                allowed="a new file, or an older one of suntrack's own",
                remedy=f"Name another file with {option}, or move that one away.",
            )
        )
