"""Passwords and keys in the addresses of far ways: from the environment or a private file.

An address in the config says `${NAME}` where a secret belongs.  What it stands for is
never printed: not in a message, not in a log, not in a traceback.
"""

from __future__ import annotations

import os
import re
import stat
from collections.abc import Callable, Mapping
from pathlib import Path
from urllib.parse import quote

from suntrack.errors import InputError, Problem

PLACE = re.compile(r"\$\{([A-Za-z_][A-Za-z0-9_]*)\}")
LINE = re.compile(r"\s*(?:export\s+)?([A-Za-z_][A-Za-z0-9_]*)\s*=\s*(.*?)\s*")
HIDDEN = "***"
SHORTEST = 4
"""Shorter texts than this are not looked for in a log: they stand in many harmless words."""
OTHERS_MAY = stat.S_IRWXG | stat.S_IRWXO


class Secrets:
    """The secrets at hand, and the ones that have been used so far."""

    def __init__(self, env: Mapping[str, str], path: Path | None = None) -> None:
        self._env, self._path = env, path
        self._used: set[str] = set()

    def __repr__(self) -> str:
        """Return where they come from, and none of them."""
        return f"Secrets({self._path})"

    def fill(self, address: str, *, where: str) -> str:
        """Return an address with its secrets put in, escaped as a URL needs it.

        Raises
        ------
        InputError
            When a secret is missing, or its file may be read by others; each named.
        """
        names = dict.fromkeys(PLACE.findall(address))
        known = {**self._file(), **self._env} if names else {}
        missing = [name for name in names if not known.get(name)]
        if missing:
            raise InputError(*(self._missing(name, where) for name in missing))
        whole = PLACE.fullmatch(address)
        escape: Callable[[str], str] = str if whole else lambda text: quote(text, safe="")
        filled = PLACE.sub(lambda place: escape(known[place[1]]), address)
        self._used |= {filled, *(known[name] for name in names)}
        self._used |= {escape(known[name]) for name in names}
        return filled

    def hide(self, text: str) -> str:
        """Return a text without any secret that has been used."""
        for secret in sorted(self._used, key=len, reverse=True):
            if len(secret) >= SHORTEST:
                text = text.replace(secret, HIDDEN)
        return text

    def _missing(self, name: str, where: str) -> Problem:
        place = f" or in {self._path}" if self._path else ""
        return Problem(
            where=where,
            found=f"no secret named {name}",
            allowed=f"a value for it in the environment{place}",
            remedy=f"Set {name}, or put a line {name}=... into the file that notify.secrets names.",
        )

    def _file(self) -> dict[str, str]:
        """Return the secrets of the file; raise InputError when others may read it."""
        if self._path is None:
            return {}
        try:
            mode = self._path.stat().st_mode
            text = self._path.read_text(encoding="utf-8")
        except (OSError, ValueError) as error:
            raise InputError(self._unreadable(error)) from None
        if os.name == "posix" and mode & OTHERS_MAY:
            raise InputError(self._open_to_others(mode))
        found = (LINE.fullmatch(line) for line in text.splitlines() if not line.startswith("#"))
        return {line[1]: _unquoted(line[2]) for line in found if line}

    def _unreadable(self, error: Exception) -> Problem:
        return Problem(
            where="notify.secrets",
            found=f"{self._path}: {getattr(error, 'strerror', None) or 'not UTF-8 text'}",
            allowed="a file with lines NAME=value, for you alone to read",
            remedy="Make the file, or take the line notify.secrets out.",
        )

    def _open_to_others(self, mode: int) -> Problem:
        return Problem(
            where="notify.secrets",
            found=f"{self._path}, which others may read (mode {stat.S_IMODE(mode):04o})",
            allowed="a file for you alone to read (mode 0600)",
            remedy=f"Run: chmod 600 {self._path}",
        )


def _unquoted(value: str) -> str:
    """Return a value without the quotation marks around it."""
    is_quoted = len(value) >= 2 and value[0] == value[-1] and value[0] in "\"'"
    return value[1:-1] if is_quoted else value
