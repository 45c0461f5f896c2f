"""The day's gusts and rain: when they come, and when to be ready for them."""

from __future__ import annotations

from datetime import datetime, timedelta
from typing import TYPE_CHECKING

from suntrack.box.wind import wind_share
from suntrack.plan.records import Guarding, Step
from suntrack.sky.wind_rain import GUSTY_M_S, guards_of

if TYPE_CHECKING:
    from collections.abc import Sequence

    from suntrack.plan.frame import Frame
    from suntrack.plan.inputs import DayInputs

BEFORE = timedelta(minutes=15)
"""How long before gusts or rain the mirror is closed or the box covered (our choice)."""


def day_guards(inputs: DayInputs, frame: Frame) -> tuple[Guarding, ...]:
    """Return the stretches with gusts or rain that the planned stretch still has before it.

    They begin when the forecast says, not when the plan is made, so that a new plan knows
    the same stretch again.
    """
    if inputs.forecast is None or inputs.heard.skipped:
        return ()
    grid = frame.grid
    ends_s = grid.starts_s + grid.steps * grid.step_s
    now_s = inputs.made_at.timestamp()
    over_s = max(grid.starts_s, now_s) if now_s < ends_s else grid.starts_s
    found = guards_of(
        inputs.forecast,
        starts_s=frame.day.starts_s,
        ends_s=ends_s,
        gusty_m_s=GUSTY_M_S * wind_share(inputs.box),
    )
    return tuple(
        Guarding(
            kind=guard.kind,
            starts_at=datetime.fromtimestamp(guard.starts_at_s, tz=inputs.site.zone),
            ends_at=datetime.fromtimestamp(guard.ends_at_s, tz=inputs.site.zone),
            most=guard.most,
        )
        for guard in found
        if guard.ends_at_s > over_s
    )


def with_guards(steps: Sequence[Step], guards: Sequence[Guarding]) -> tuple[Step, ...]:
    """Return a day's steps with what gusts and rain ask for, while the box stands outside."""
    outside = [step.at for step in steps if step.kind != "prepare"]
    if not outside:
        return tuple(steps)
    covers = [step.at for step in steps if step.kind == "cover"]
    out_at, in_at = min(outside), max(covers or outside)
    found = [
        Step(
            key=f"{guard.kind}-{guard.starts_at:%H%M}",
            kind=guard.kind,
            at=max(guard.starts_at - BEFORE, out_at),
        )
        for guard in guards
        if guard.ends_at > out_at and guard.starts_at - BEFORE < in_at
    ]
    return tuple(sorted([*steps, *found], key=lambda step: step.at))
