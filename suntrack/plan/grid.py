"""The day's steps and the instants they stand for, both ways."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime
from typing import TYPE_CHECKING
from zoneinfo import ZoneInfo

import numpy as np

if TYPE_CHECKING:
    from collections.abc import Iterable

    from numpy.typing import NDArray

    from suntrack.plan.records import FreeHours


@dataclass(frozen=True, slots=True, kw_only=True)
class Grid:
    """Equal steps through a stretch of time.

    Step i covers [starts_s + i step_s, starts_s + (i + 1) step_s).
    """

    starts_s: float
    """Seconds since 1970 UTC.  [s]"""
    step_s: float
    """Length of a step.  [s]"""
    steps: int
    """How many there are."""
    zone: ZoneInfo
    """Whose clock local times are told by."""

    def at(self, step: float) -> datetime:
        """Return the instant at the start of a step, to the nearest minute, in local time."""
        seconds = self.starts_s + step * self.step_s
        return datetime.fromtimestamp(round(seconds / 60.0) * 60.0, tz=self.zone)

    def step(self, at: datetime) -> int:
        """Return the step that covers an instant, kept within the grid (`steps` is its end)."""
        step = int(np.floor((at.timestamp() - self.starts_s) / self.step_s))
        return min(max(step, 0), self.steps)

    def step_after(self, at: datetime) -> int:
        """Return the first step that starts at or after an instant, kept within the grid."""
        step = int(np.ceil((at.timestamp() - self.starts_s) / self.step_s - 1e-9))
        return min(max(step, 0), self.steps)

    def at_s(self) -> NDArray[np.float64]:
        """Return the starts of all steps.  [s]"""
        return self.starts_s + self.step_s * np.arange(self.steps, dtype=np.float64)

    def part(self, first: int, last: int) -> Grid:
        """Return the grid of steps [first, last)."""
        starts_s = self.starts_s + first * self.step_s
        return Grid(starts_s=starts_s, step_s=self.step_s, steps=last - first, zone=self.zone)

    def coarser(self, times: int) -> Grid:
        """Return the grid whose steps are `times` as long; a last partial step is dropped."""
        steps = self.steps // times
        step_s = self.step_s * times
        return Grid(starts_s=self.starts_s, step_s=step_s, steps=steps, zone=self.zone)

    def within(self, stretches: Iterable[FreeHours]) -> NDArray[np.bool_]:
        """Return True for steps that start within a stretch; all True when there is none."""
        at_s = self.at_s()
        mask = np.zeros(self.steps, bool)
        empty = True
        for stretch in stretches:
            empty = False
            mask |= (at_s >= stretch.starts_at.timestamp()) & (at_s < stretch.ends_at.timestamp())
        return np.ones(self.steps, bool) if empty else mask
