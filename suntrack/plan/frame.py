"""The stretch of the day that is planned: from the first aim to after the last meal."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import timedelta
from typing import TYPE_CHECKING

import numpy as np

from suntrack.plan.grid import Grid
from suntrack.sky.sun import SunEvents, position_at, sun_events

if TYPE_CHECKING:
    from suntrack.plan.inputs import DayInputs

WORTH_AIMING_DEG = 5.0
"""Sun height below which a box takes in next to nothing (our choice).  [deg]"""
AFTER = timedelta(minutes=40)
"""How far past the last meal or sunset the day is followed."""
LEAST = timedelta(minutes=30)
"""A day with less left than this is shown whole."""
SHORTEST = timedelta(hours=2)
"""Least length of the stretch, so that there is always a day to show."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Frame:
    """The planned stretch within the local day."""

    day: Grid
    """Local midnight to midnight."""
    first: int
    """Step of `day` at which the stretch begins."""
    aimed: int
    """Step of `day` at which the box is first aimed; before it, it takes in no light."""
    last: int
    """Step of `day` at which the stretch ends."""
    events: SunEvents
    """Sunrise, sunset, noon."""
    from_now: bool
    """True when the stretch starts at the moment of planning instead of in the morning."""

    @property
    def grid(self) -> Grid:
        """The grid of the stretch."""
        return self.day.part(self.first, self.last)

    @property
    def lead(self) -> int:
        """How many steps of the stretch lie before the first aim."""
        return self.aimed - self.first

    @property
    def steps(self) -> slice:
        """The stretch as a slice of the day's arrays."""
        return slice(self.first, self.last)


def frame_day(inputs: DayInputs) -> Frame:
    """Return the stretch to plan.

    It starts in the morning, when the sun has cleared the skyline and the cook is there;
    but at the moment of planning, when that is later and nothing was noted or shown
    before, because steps in the past cannot be taken.  After sunset, or before sunrise,
    the whole day is shown.
    """
    weather = inputs.weather
    day = Grid(
        starts_s=float(weather.at_s[0]),
        step_s=weather.step_s,
        steps=weather.at_s.size,
        zone=inputs.site.zone,
    )
    events = sun_events(inputs.sun, skyline=inputs.site.skyline)
    shortest = int(SHORTEST.total_seconds() / day.step_s)
    morning = _morning(inputs, day)
    now = day.step_after(inputs.made_at)
    late = now > day.steps - int(LEAST.total_seconds() / day.step_s)
    loaded = _loaded(inputs, day)
    unknown = not inputs.heard.aims and not loaded
    from_now = unknown and now > morning and not late and _sun_is_up(inputs)
    first = now if from_now else morning
    if inputs.heard.aims:
        first = day.step(inputs.heard.aims[0].at)
    elif loaded:
        # Nobody said when the box was aimed; who loads it has set it out by then.
        first = min(morning, *loaded)
    if not from_now:
        first = min(first, day.steps - shortest)
    aimed = _on_the_tens(first, day, down=not from_now)
    first = min([aimed, *(_on_the_tens(step, day, down=True) for step in loaded)])
    last = min(max(aimed + shortest, _end(inputs, day, events)), day.steps)
    return Frame(day=day, first=first, aimed=aimed, last=last, events=events, from_now=from_now)


def _loaded(inputs: DayInputs, day: Grid) -> list[int]:
    """Return the steps at which dishes already went in: their clocks began there."""
    return [day.step(w.loaded_at) for w in inputs.wishes if w.loaded_at is not None]


def _on_the_tens(step: int, day: Grid, *, down: bool) -> int:
    """Return the nearest step on a ten-minute mark, so that steps fall on times cooks like."""
    every = max(1, round(600.0 / day.step_s))
    return step - step % every if down else step + -step % every


def _morning(inputs: DayInputs, day: Grid) -> int:
    """Return the first step with the cook there and the sun over the skyline."""
    height_deg = inputs.site.skyline.height_at(inputs.sun.azimuth_deg)
    up = inputs.sun.elevation_deg > np.maximum(height_deg, WORTH_AIMING_DEG)
    good = np.flatnonzero(up & day.within(inputs.free))
    return int(good[0]) if good.size else int(np.argmax(inputs.sun.elevation_deg))


def _sun_is_up(inputs: DayInputs) -> bool:
    """Return True while the sun is over the level horizon at the moment of planning."""
    at_s = inputs.made_at.timestamp()
    if not inputs.sun.at_s[0] <= at_s <= inputs.sun.at_s[-1]:
        return False
    elevation_deg, _ = position_at(inputs.sun, at_s)
    return float(elevation_deg) > 0.0


def _end(inputs: DayInputs, day: Grid, events: SunEvents) -> int:
    """Return the step a little after the last meal and after sunset."""
    ends = [wish.serve_at.timestamp() for wish in inputs.wishes]
    if events.sets_at_s is not None:
        ends.append(events.sets_at_s)
    elif inputs.sun.elevation_deg[-1] > 0.0 or not ends:
        return day.steps
    after_s = max(ends) + AFTER.total_seconds()
    return min(int(np.ceil((after_s - day.starts_s) / day.step_s)), day.steps)
