"""What a thermometer reading says about the rest of the day.

A box that reads cooler than planned has had less light (haze, dust on the glass, a poor
aim) or loses more heat; from one number the two cannot be told apart.  Here the light is
scaled until the simulated box meets the reading, and the rest of the day is planned with
the same scale.  Telling light from loss takes several days and is learning, not planning.
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
TOO_EARLY_K = 15.0
"""A box this close to the air says nothing about the light yet (our choice).  [K]"""


def light_factor(
    inputs: DayInputs,
    *,
    frame: Frame,
    aimed: AimedDay,
    pots: Sequence[PotCharge],
    load_step: NDArray[np.intp],
    pull_step: NDArray[np.intp],
) -> float:
    """Return the factor on the day's light that makes the box meet the last reading.

    `pots` with their load and pull steps are what has been in the box so far.  1 without a
    usable reading.
    """
    grid = frame.grid
    readings = [r for r in inputs.heard.readings if 0 < grid.step(r.at) < grid.steps]
    if not readings:
        return 1.0
    last = readings[-1]
    oven = day_oven(inputs, aimed=aimed, steps=frame.steps, pots=pots, light_factors=FACTORS)
    loads, pulls = (np.tile(steps, (len(FACTORS), 1)) for steps in (load_step, pull_step))
    box_c = oven.run(load_step=loads, pull_step=pulls).oven_c[:, frame.grid.step(last.at)]
    if box_c.max() - oven.start_c < TOO_EARLY_K:
        return 1.0
    return float(np.interp(last.box_c, box_c, FACTORS))
