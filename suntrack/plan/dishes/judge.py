"""What a simulated core temperature means for a dish: done, safe, and kept from when to when."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from suntrack.food.doneness import done_share
from suntrack.food.official import CLOCK_HIGH_C
from suntrack.food.safety import amber_steps, red_steps, safe_steps
from suntrack.plan.dishes.load_search import Outcome

if TYPE_CHECKING:
    from numpy.typing import NDArray

    from suntrack.food.dish import Dish


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Judge:
    """One dish with the air around it, ready to judge many simulated days at once."""

    dish: Dish
    """What is judged."""
    step_s: float
    """Length of a step.  [s]"""
    air_c: NDArray[np.float64]
    """Air outdoors at each step, shape (steps + 1,).  [C]"""
    pull_step: int | None = None
    """Step at which the cook really took it out; None while it is to come."""
    settling_delta_k: NDArray[np.float64] | None = None
    """How far its core is from an even start at each step after it went in, (steps + 1,); None
    for an even start.  [K]"""

    probes: tuple[tuple[int, float], ...] = ()
    """What a food thermometer in the middle showed, by step.  [C]"""

    def inside(
        self, core_c: NDArray[np.float64], load_step: NDArray[np.intp]
    ) -> NDArray[np.float64]:
        """Return simulated cores, (days, steps + 1), as the food has them while in the box."""
        core_c = settled(core_c, load_step, settling_delta_k=self.settling_delta_k)
        core_c = probed(core_c, load_step, probes=self.probes)
        return in_box(core_c, load_step, pull_step=self.pull_step)

    def done(self, core_c: NDArray[np.float64]) -> NDArray[np.float64]:
        """Return the share of the way to done, (..., steps + 1), for cores in the box."""
        return done_share(core_c, step_s=self.step_s, doneness=self.dish.doneness)

    def __call__(self, core_c: NDArray[np.float64], load_step: NDArray[np.intp]) -> Outcome:
        """Return the outcome of days, cores (days, steps + 1), loads (days,)."""
        inside_c = self.inside(core_c, load_step)
        done = first_true(self.done(inside_c) >= 1.0)
        safe = safe_steps(inside_c, step_s=self.step_s, dish=self.dish, air_c=self.air_c)
        red = red_steps(inside_c, step_s=self.step_s, dish=self.dish, air_c=self.air_c)
        safe_step = np.where(safe < 0, np.inf, safe)
        red_step = np.where(red < 0, np.inf, red)
        ready = np.maximum(done, safe_step)
        # A clock that runs out before the dish is ready ends it, even once it was safe: it
        # has cooled.  What is never done is judged by when it was safe.
        by = np.where(np.isfinite(ready), ready, safe_step)
        amber = amber_steps(inside_c, step_s=self.step_s, dish=self.dish, air_c=self.air_c)
        return Outcome(
            ready_step=ready, safe=np.isfinite(safe_step) & (red_step > by), slow=amber >= 0
        )


def settled(
    core_c: NDArray[np.float64],
    load_step: NDArray[np.intp],
    *,
    settling_delta_k: NDArray[np.float64] | None,
) -> NDArray[np.float64]:
    """Return cores of food that went in with cold pieces under hot liquid.

    The simulation starts both at their mean; `settling_delta_k` is what that misses, from the
    load on.
    """
    if settling_delta_k is None:
        return core_c
    since = np.arange(core_c.shape[-1]) - load_step[:, None]
    return core_c + np.where(since >= 0, settling_delta_k[np.maximum(since, 0)], 0.0)


def probed(
    core_c: NDArray[np.float64],
    load_step: NDArray[np.intp],
    *,
    probes: tuple[tuple[int, float], ...],
) -> NDArray[np.float64]:
    """Return cores drawn through what a food thermometer showed: it outranks every reckoning.

    It counts from the reading on.  Before it nobody measured, so the unfavourable end is taken:
    where it shows hotter, a clock that ran out is not turned back; where it shows cooler, the food
    was never hotter than that in between, and warm enough for the clocks to run.
    """
    steps = np.arange(core_c.shape[-1])
    known = [(step, shown_c) for step, shown_c in probes if step < steps.size]
    if not known:
        return core_c
    drawn = core_c.copy()
    for day, row in enumerate(core_c):
        before, missed_k = int(load_step[day]), 0.0
        for step, shown_c in known:
            if step <= before:
                continue
            between = slice(before, step)
            drawn[day, between] = row[between] + missed_k
            missed_k = shown_c - float(row[step])
            if missed_k < 0.0:
                warm_c = max(shown_c, CLOCK_HIGH_C.value - 1.0)
                drawn[day, between] = np.minimum(drawn[day, between], warm_c)
            before = step
        drawn[day, before:] = row[before:] + missed_k
    return drawn


def in_box(
    core_c: NDArray[np.float64], load_step: NDArray[np.intp], *, pull_step: int | None = None
) -> NDArray[np.float64]:
    """Return cores with everything before loading and after pulling set to 0 C.

    At 0 C nothing counts.  Food that waits in the kitchen neither cooks nor runs a clock
    that belongs to the box; how it has to wait (cold) is an advance step of the dish.  What
    the cook has taken out cooks no further here.
    """
    step = np.arange(core_c.shape[-1])
    inside = step >= load_step[:, None]
    if pull_step is not None:
        inside &= step <= pull_step
    return np.where(inside, core_c, 0.0)


def first_true(condition: NDArray[np.bool_]) -> NDArray[np.float64]:
    """Return the first true step along the last axis; inf where there is none."""
    return np.where(condition.any(axis=-1), condition.argmax(axis=-1), np.inf)
