"""A sound for a notice: a player of the cook's own choice, such as one for WAV files."""

from __future__ import annotations

import subprocess
from typing import TYPE_CHECKING

from suntrack.notify.channel import Accepted, Notice, Outcome, Refused, Unknown

if TYPE_CHECKING:
    from collections.abc import Sequence

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
