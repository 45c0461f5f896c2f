"""Plans made by a child process, asked for again and again until they are there."""

from __future__ import annotations

import json
import subprocess
import sys
import tempfile
from typing import IO, TYPE_CHECKING

from suntrack.clock import SystemClock
from suntrack.store.plan_codec import plan_from_cache
from suntrack.watch.plans import StillPlanningError

if TYPE_CHECKING:
    from collections.abc import Sequence
    from datetime import datetime
    from pathlib import Path

    from suntrack.plan.records import DayPlan

LIMIT_S = 180.0
"""A plan that takes longer than this will not come; on two slow cores it is a minute.  [s]"""
LONGEST_COMPLAINT = 300
CLOCK = SystemClock()
"""For the limit on waiting, which is real time."""


class PlannerError(Exception):
    """The child made no plan; the message is for the cook."""


class ChildPlans:
    """A source of plans for `suntrack.watch.plans`, one child at a time."""

    def __init__(self, command: Sequence[str], *, limit_s: float = LIMIT_S) -> None:
        self._command, self._limit_s = tuple(command), limit_s
        self._child: subprocess.Popen[bytes] | None = None
        self._out: IO[bytes] | None = None
        self._complaints: IO[bytes] | None = None
        self._began_s = 0.0

    def __call__(self, now: datetime) -> DayPlan:  # noqa: ARG002 - the child reads the clock
        """Return the plan the child has made; start one if there is none.

        Raises
        ------
        StillPlanningError
            While it is at work.
        PlannerError
            When it made no plan: killed, broken, or past its time.
        """
        if self._child is None:
            self._start()
        child = self._child
        assert child is not None
        status = child.poll()
        if status is None:
            if CLOCK.monotonic() - self._began_s <= self._limit_s:
                raise StillPlanningError
            self.stop()
            raise PlannerError(f"planning took longer than {self._limit_s:.0f} s and was stopped")
        return self._result(status)

    def stop(self) -> None:
        """End the child, if there is one."""
        if self._child is not None:
            self._child.kill()
            self._child.wait()
        self._forget()

    def _start(self) -> None:
        # Files and not pipes: a child that writes much must never wait for us to read.
        self._out = tempfile.TemporaryFile()  # noqa: SIM115 - closed when the child has ended
        self._complaints = tempfile.TemporaryFile()  # noqa: SIM115
        self._began_s = CLOCK.monotonic()
        self._child = subprocess.Popen(  # noqa: S603 - our own module, no shell
            self._command, stdin=subprocess.DEVNULL, stdout=self._out, stderr=self._complaints
        )

    def _result(self, status: int) -> DayPlan:
        """Return what a child that has ended has made."""
        out, complaint = _read(self._out), _read(self._complaints).strip()
        self._forget()
        if status < 0:
            raise PlannerError(f"the planning process was killed (signal {-status})")
        if status > 0:
            raise PlannerError(_said(complaint, status))
        try:
            return plan_from_cache(json.loads(out))
        except (ValueError, TypeError) as error:
            raise PlannerError(f"the planning process printed no plan ({error})") from error

    def _forget(self) -> None:
        for file in (self._out, self._complaints):
            if file is not None:
                file.close()
        self._child = self._out = self._complaints = None


def _said(complaint: str, status: int) -> str:
    """Return what a child said that made no plan: our own message whole, of a crash the end."""
    crashed = complaint.startswith("Traceback")
    said = "".join(complaint.splitlines()[-1:]) if crashed else complaint
    return said[:LONGEST_COMPLAINT] or f"planning ended with status {status}"


def planner_command(config: Path, *, days: int = 0) -> tuple[str, ...]:
    """Return the command that makes the plan of today, or of so many days on."""
    module = ("-m", "suntrack.commands.planning")
    return (sys.executable, *module, "--config", str(config.absolute()), "--days", str(days))


def _read(file: IO[bytes] | None) -> str:
    """Return everything a child has written to a file."""
    if file is None:
        return ""
    file.seek(0)
    return file.read().decode("utf-8", "replace")
