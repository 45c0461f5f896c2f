"""Notices that leave the machine: to a phone, to a mailbox, to whatever an address names.

The sending itself is a kept library's, in a process of its own for each notice: it can be
ended when it takes too long, its memory is not the watch's, and what it logs or prints,
addresses with passwords among it, stays there.

It is given the notice only once it says that it is ready.  So a small, busy machine that takes
long to start it loses nothing: what never got ready has certainly sent nothing, and the time
for the sending is not spent on the start.
"""

from __future__ import annotations

import json
import subprocess
import sys
import threading
from typing import TYPE_CHECKING, Any

from suntrack.notify.channel import Accepted, Notice, Outcome, Refused, Unknown, printable

if TYPE_CHECKING:
    from collections.abc import Sequence

START_S = 45.0
"""How long the sending process may take to get ready; nothing has left until then.  [s]"""
LIMIT_S = 7.0
"""How long the sending of one notice may take from then on.  [s]"""
READY = "ready"
"""The line with which the sending process asks for the notice."""
SENDER = (sys.executable, "-m", "suntrack.notify.remote_send")


class FarNotifier:
    """The way to one address."""

    def __init__(
        self,
        name: str,
        address: str,
        *,
        limit_s: float = LIMIT_S,
        start_s: float = START_S,
        sender: Sequence[str] = SENDER,
    ) -> None:
        self._name, self._address = name, address
        self._limit_s, self._start_s, self._sender = limit_s, start_s, tuple(sender)

    def __repr__(self) -> str:
        """Return the name, and nothing of the address."""
        return f"FarNotifier({self._name})"

    @property
    def name(self) -> str:
        """What the config calls it."""
        return self._name

    @property
    def limit_s(self) -> float:
        """How long whoever hands over has to wait for an outcome at the most.  [s]"""
        return self._start_s + self._limit_s

    def send(self, notice: Notice) -> Outcome:
        """Hand the notice to the sending process; its time over, nobody knows how it ended."""
        try:
            sending = subprocess.Popen(  # noqa: S603 - our own module, no shell
                self._sender,
                stdin=subprocess.PIPE,
                stdout=subprocess.PIPE,
                stderr=subprocess.DEVNULL,
                text=True,
                encoding="utf-8",
            )
        except OSError as error:
            return Refused(f"the sending could not be started ({error.strerror})")
        with sending:
            if not self._is_ready(sending):
                return Refused("the sending did not get ready")
            return self._answer(sending, notice)

    def _is_ready(self, sending: subprocess.Popen[str]) -> bool:
        """Wait until the process asks for the notice; one that never does is ended."""
        ending = threading.Timer(self._start_s, sending.kill)
        ending.start()
        try:
            ready = sending.stdout is not None and sending.stdout.readline().strip() == READY
        finally:
            ending.cancel()
        if not ready:
            sending.kill()
        return ready

    def _answer(self, sending: subprocess.Popen[str], notice: Notice) -> Outcome:
        """Give it the notice and return what came of it."""
        # Through the pipe, since every user can read the words of a command line.
        try:
            said, _ = sending.communicate(json.dumps(self._order(notice)), timeout=self._limit_s)
        except subprocess.TimeoutExpired:
            sending.kill()
            return Unknown(f"no answer in {self._limit_s:.0f} s")
        return outcome_in(said) or Unknown("the sending ended without a word")

    def _order(self, notice: Notice) -> dict[str, str]:
        """Return what the sending process has to know."""
        return {
            "address": self._address,
            "title": printable(notice.title).replace("\n", " "),
            "body": printable(notice.body) or printable(notice.title),
            "urgency": notice.urgency,
        }


class MissingWay:
    """A way that cannot be used as it is set up; it says why to every notice."""

    def __init__(self, name: str, reason: str) -> None:
        self.name, self._reason = name, reason

    def send(self, notice: Notice) -> Outcome:  # noqa: ARG002 - the form of a way
        """Refuse, with the reason."""
        return Refused(self._reason)


def outcome_in(text: str) -> Outcome | None:
    """Return the outcome that the sending process printed; None when it printed none."""
    try:
        said: Any = json.loads(text)
        kind, reason = said["outcome"], str(said["reason"])
    except (ValueError, TypeError, KeyError):
        return None
    if kind == "accepted":
        return Accepted()
    return Refused(reason) if kind == "refused" else Unknown(reason)
