"""The day's gusts and rain, from the moment the box stands outside."""

from __future__ import annotations

from datetime import datetime
from typing import TYPE_CHECKING

from suntrack.day.records import Guarding
from suntrack.sky.guards import guards_of

if TYPE_CHECKING:
    from suntrack.day.frame import Frame
    from suntrack.day.inputs import DayInputs


def day_guards(inputs: DayInputs, frame: Frame) -> tuple[Guarding, ...]:
    """Return the stretches with gusts or rain that the planned stretch still has before it."""
    if inputs.forecast is None or inputs.heard.skipped:
        return ()
    grid = frame.grid
    starts_s, ends_s = grid.starts_s, grid.starts_s + grid.steps * grid.step_s
    now_s = inputs.made_at.timestamp()
    if starts_s < now_s < ends_s:
        starts_s = now_s
    return tuple(
        Guarding(
            kind=guard.kind,
            starts_at=datetime.fromtimestamp(guard.starts_at_s, tz=inputs.site.zone),
            ends_at=datetime.fromtimestamp(guard.ends_at_s, tz=inputs.site.zone),
            most=guard.most,
        )
        for guard in guards_of(inputs.forecast, starts_s=starts_s, ends_s=ends_s)
    )
