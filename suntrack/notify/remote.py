"""Notices that leave the machine: to a phone, to a mailbox, to whatever an address names.

The sending itself is a kept library's, in a process of its own for each notice: it can be
ended when it takes too long, its memory is not the watch's, and what it logs or prints,
addresses with passwords among it, stays there.
"""

from __future__ import annotations

import json
import subprocess
import sys
from typing import TYPE_CHECKING, Any

from suntrack.notify.channel import Accepted, Notice, Outcome, Refused, Unknown, printable

if TYPE_CHECKING:
    from collections.abc import Sequence

LIMIT_S = 7.0
"""How long one notice may take in all, the start of the process included.  [s]"""
SENDER = (sys.executable, "-m", "suntrack.notify.remote_send")


class FarNotifier:
    """The way to one address."""

    def __init__(
        self,
        name: str,
        address: str,
        *,
        limit_s: float = LIMIT_S,
        sender: Sequence[str] = SENDER,
    ) -> None:
        self._name, self._address = name, address
        self._limit_s, self._sender = limit_s, tuple(sender)

    def __repr__(self) -> str:
        """Return the name, and nothing of the address."""
        return f"FarNotifier({self._name})"

    @property
    def name(self) -> str:
        """What the config calls it."""
        return self._name

    def send(self, notice: Notice) -> Outcome:
        """Hand the notice to the sending process; its time over, nobody knows how it ended."""
        try:
            # Through the pipe, since every user can read the words of a command line.
            run = subprocess.run(  # noqa: S603 - our own module, no shell
                self._sender,
                input=json.dumps(self._order(notice)),
                capture_output=True,
                text=True,
                encoding="utf-8",
                timeout=self._limit_s,
                check=False,
            )
        except subprocess.TimeoutExpired:
            return Unknown(f"no answer in {self._limit_s:.0f} s")
        except OSError as error:
            return Refused(f"the sending could not be started ({error.strerror})")
        return outcome_in(run.stdout) or Unknown("the sending ended without a word")

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
