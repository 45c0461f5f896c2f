"""What thermometer readings say about the day so far, and about the rest of it.

A box that reads cooler than planned has had less light (haze, dust on the glass, a poor
aim) or loses more heat; from one number the two cannot be told apart.  Here the light is
scaled until the simulated box meets the reading.  Telling light from loss takes several days
and is learning, not planning.

The day is fitted piece by piece: each reading sets the light since the one before it, and only
the future follows the newest.  So food that stood lukewarm between readings stays food that stood
lukewarm, whatever a later reading shows.  Lost: one scale for the whole day from the last reading,
which let a single hot reading talk two cold hours away.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

from suntrack.plan.dishes.oven import day_oven

if TYPE_CHECKING:
    from collections.abc import Sequence

    from numpy.typing import NDArray

    from suntrack.box.heat.structs import PotCharge
    from suntrack.plan.frame import Frame
    from suntrack.plan.inputs import DayInputs
    from suntrack.plan.turns.aims import AimedDay

FACTORS = tuple(0.1 * i for i in range(2, 12))
"""Light factors tried, 0.2 to 1.1.  Measured clear days stand up to 7 % above the clear-sky
model; a reading that asks for more (a thermometer in the sun, a lid just opened) is not
allowed to promise a hotter day.  [-]"""
SHORTEST_MIN = 20.0
"""Light of so short a time at the least is set by a reading: a box answers slowly.  [min]"""
RECENT_MIN = 60.0
"""The future follows the light of so long (our choice).  [min]"""
TOO_EARLY_K = 15.0
"""A box this close to the air says nothing about the light yet (our choice).  [K]"""


def light_factors(
    inputs: DayInputs,
    *,
    frame: Frame,
    aimed: AimedDay,
    pots: Sequence[PotCharge],
    load_step: NDArray[np.intp],
    pull_step: NDArray[np.intp],
) -> NDArray[np.float64]:
    """Return the factor on the light of each step that makes the box meet its readings.

    `pots` with their load and pull steps are what has been in the box so far.  Shape (steps,); 1
    where no usable reading tells.
    """
    grid, step_min = frame.grid, frame.grid.step_s / 60.0
    factors = np.ones(grid.steps)
    shortest = round(SHORTEST_MIN / step_min)
    told = 0
    for reading in inputs.heard.readings:
        step = grid.step(reading.at)
        if not 0 < step < grid.steps:
            continue
        since = max(0, min(told, step - shortest))
        tries = np.tile(factors, (len(FACTORS), 1))
        tries[:, since:step] = np.array(FACTORS)[:, None]
        oven = day_oven(inputs, aimed=aimed, steps=frame.steps, pots=pots, light_factors=tries)
        loads, pulls = (np.tile(steps, (len(FACTORS), 1)) for steps in (load_step, pull_step))
        box_c = oven.run(load_step=loads, pull_step=pulls).oven_c[:, step]
        if box_c.max() - oven.start_c < TOO_EARLY_K:
            continue
        factors[since:step] = np.interp(reading.box_c, box_c, FACTORS)
        told = step
    if told:
        factors[told:] = factors[max(0, told - round(RECENT_MIN / step_min)) : told].mean()
    return factors
