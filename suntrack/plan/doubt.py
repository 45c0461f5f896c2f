"""How else a day may turn out than it is planned: what loads have to stand.

A plan cut to a clear sky and a perfect box is late in any other.  So loads are searched under
several days at once: the sky planned for in the box as built, and others, each in a box that is
weaker than its cook wrote down.  Without a forecast the others are the usual sky's, hour by hour,
because clouds come in the afternoon and not evenly; days on which nobody would start to cook are
left out.

A lid that leaks, an old mirror and dusty glass all come to the same for supper: the box warms as
if by less light.  What it gains over what it loses sets how hot it gets, so a box that loses 30 %
more in 85 % of the light is one in 65 % of it, and errs to the slow side on the way up.  How far
boxes are apart is our choice: published tests of home-built ones stay 10 to 20 K under this model
at a rise of 100 K, which is 0.8 to 0.9 of the light, and unknown seals cost as much again.
"""

from __future__ import annotations

from dataclasses import replace
from datetime import date
from typing import TYPE_CHECKING

import numpy as np

from suntrack.sky.ensemble import day_seed, typical_skies

if TYPE_CHECKING:
    from numpy.typing import NDArray

    from suntrack.plan.inputs import DayInputs
    from suntrack.sky.weather import Weather

DRAWN = 48
"""Usual skies drawn where no forecast tells of others.  [-]"""
DULL = 0.4
"""Of them those with less than this share of the clear light are not cooked under.  [-]"""
BOX_SUNS = (1.0, 0.92, 0.66, 0.84, 0.6, 0.97, 0.72, 0.8)
"""What the box may make of each sky, the one planned for first, then the darkest first.  Weak
boxes do not only meet dark skies, so the order is mixed.  [-]"""


def days_to_stand(
    inputs: DayInputs, *, steps: slice
) -> tuple[DayInputs, list[int], tuple[float, ...]]:
    """Return the days that loads are searched under, each a sky and a share of its light.

    Parameters
    ----------
    inputs : DayInputs
        With one sky, the one planned for, or that one and the many it may turn out to be.
    steps : slice
        The stretch of the day that is planned.

    Returns
    -------
    inputs : DayInputs
        The same with the skies to search under among its weather.
    skies : list of int
        Their rows; the first is the sky planned for.
    suns : tuple of float
        Share of its light that each brings.  [-]
    """
    weather = inputs.weather
    if weather.global_horizontal_w_m2.shape[0] == 1:
        if weather.source == "measured":
            # A day that was measured, or is typical: it is known, and nothing else may come.
            return inputs, [0], (1.0,)
        weather = _usual(inputs, steps=steps)
    light = weather.global_horizontal_w_m2[1:, steps].sum(axis=1)
    if not light.size:
        return inputs, [0] * len(BOX_SUNS), BOX_SUNS
    ordered = np.argsort(light, kind="stable")
    searched = len(BOX_SUNS) - 1
    # The middles of equal shares of the skies, by their light, stand for all.
    places = (np.arange(searched) + 0.5) / searched * light.size
    skies = [0, *(int(1 + ordered[int(place)]) for place in places)]
    return replace(inputs, weather=weather), skies, BOX_SUNS


def _usual(inputs: DayInputs, *, steps: slice) -> Weather:
    """Return the sky planned for, and usual ones in which somebody would cook."""
    clear = inputs.weather
    # By place and not by day: from one day to the next loads move with the sun, not by luck.
    seed = day_seed(inputs.site, date.min)
    drawn = typical_skies(clear=clear, sun=inputs.sun, seed=seed, skies=DRAWN)
    light = drawn.global_horizontal_w_m2[:, steps].sum(axis=1)
    kept = np.flatnonzero(light >= DULL * clear.global_horizontal_w_m2[0, steps].sum())

    def with_clear(ours: NDArray[np.float64], others: NDArray[np.float64]) -> NDArray[np.float64]:
        return np.concatenate([ours[:1], others[kept]])

    return replace(
        clear,
        global_horizontal_w_m2=with_clear(
            clear.global_horizontal_w_m2, drawn.global_horizontal_w_m2
        ),
        beam_normal_w_m2=with_clear(clear.beam_normal_w_m2, drawn.beam_normal_w_m2),
        diffuse_horizontal_w_m2=with_clear(
            clear.diffuse_horizontal_w_m2, drawn.diffuse_horizontal_w_m2
        ),
    )
