"""Notices at this machine without a desktop: lines on a terminal, the bell, a sound file."""

from __future__ import annotations

import subprocess
from typing import TYPE_CHECKING, TextIO

from suntrack.notify.channel import Accepted, Notice, Outcome, Refused, Unknown, printable

if TYPE_CHECKING:
    from collections.abc import Sequence

    from suntrack.alerts.alert import Urgency


BELLS: dict[Urgency, int] = {"low": 0, "normal": 1, "urgent": 3}


class TerminalNotifier:
    """Writes notices to a stream; what was flushed counts as taken."""

    name = "terminal"

    def __init__(self, stream: TextIO, *, bell: bool = True) -> None:
        self._stream = stream
        self._bell = bell

    def send(self, notice: Notice) -> Outcome:
        """Ring and write."""
        lines = [notice.title, *notice.body.splitlines()]
        text = "\n    ".join(printable(line) for line in lines if line)
        bells = "\a" * BELLS[notice.urgency] if self._bell else ""
        try:
            self._stream.write(f"{bells}{self._encodable(text)}\n")
            self._stream.flush()
        except (OSError, ValueError) as error:  # ValueError: the stream was closed
            return Refused(f"the terminal is gone: {error}")
        return Accepted()

    def _encodable(self, text: str) -> str:
        """Return text that the stream can write, `?` for what it cannot."""
        encoding = getattr(self._stream, "encoding", None) or "utf-8"
        return text.encode(encoding, "replace").decode(encoding)


LIMIT_S = 5.0
"""How long a sound may play; what is longer is cut.  [s]"""


class SoundNotifier:
    """Runs a player once for each notice that is not only for information."""

    name = "sound"

    def __init__(self, command: Sequence[str], *, limit_s: float = LIMIT_S) -> None:
        self._command, self._limit_s = tuple(command), limit_s

    def send(self, notice: Notice) -> Outcome:
        """Play; words of the notice never reach the player."""
        if notice.urgency == "low":
            return Accepted()
        try:
            run = subprocess.run(  # noqa: S603 - the cook's own command, no shell
                self._command,
                stdin=subprocess.DEVNULL,
                stdout=subprocess.DEVNULL,
                stderr=subprocess.DEVNULL,
                timeout=self._limit_s,
                check=False,
            )
        except subprocess.TimeoutExpired:
            # It was playing until then, as far as anybody can tell.
            return Unknown(f"the player ran longer than {self._limit_s:.0f} s", repeat=False)
        except OSError as error:
            return Refused(f"the player {self._command[0]} cannot be run ({error.strerror})")
        if run.returncode != 0:
            return Refused(f"the player {self._command[0]} ended with status {run.returncode}")
        return Accepted()
