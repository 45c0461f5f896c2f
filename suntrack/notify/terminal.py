"""Notices on a terminal: lines of plain text, and the bell."""

from __future__ import annotations

from typing import TYPE_CHECKING, TextIO

from suntrack.notify.channel import Accepted, Notice, Outcome, Refused, printable

if TYPE_CHECKING:
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
