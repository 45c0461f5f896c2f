"""Safety: whether a core got hot enough, in time, and stayed hot.

The test is always the consumer minimum temperature of the chart, reached before a clock
runs out; nothing here makes a dish safe on an integral of our own.  Safety is kept apart
from doneness (`suntrack.food.doneness`) all the way: a dish can be one without the other.
The limits are in `suntrack.food.official`, the refusals in `suntrack.food.refused`.

Safety is a threshold reached in time, from official consumer advice.  Lost: crediting lethality
integrals, which the sources do not allow outside whole beef.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from suntrack.food.clocks import hours_while, is_warming
from suntrack.food.kinds import is_meat, rule_of
from suntrack.food.official import (
    AMBER_H,
    CLOCK_LOW_C,
    CLOCK_WARM_C,
    LEFT_OUT_H,
    RED_H,
    RED_WARM_H,
    RULES,
)
from suntrack.food.refused import refusal

if TYPE_CHECKING:
    from numpy.typing import ArrayLike, NDArray

    from suntrack.food.dish import Dish

__all__ = [
    "RULES", "SafetyVerdict", "amber_steps", "judge", "red_steps", "refusal",
    "safe_steps",
]  # fmt: skip

SLOW = "It warms slowly: over two hours below 57 °C (135 °F). Check it with a thermometer."
TOO_SLOW = "It stays too long in the danger zone before it is safe."
TOO_COOL = "Once safe it falls below 60 °C (140 °F) for too long; eat it before, or keep it hot."
NEVER_TOMORROW = (
    "Once it has begun to cook, finish it without a break; never keep half-cooked food for another "
    "day. Source: USDA FSIS on partial cooking (found copy)."
)


@dataclass(frozen=True, slots=True, kw_only=True)
class SafetyVerdict:
    """What one core history means for safety; steps count from the start of the history."""

    safe_step: int | None
    """First at which it is safe; None for never, and for a dish that is refused."""
    amber_step: int | None
    """First at which it has been warming for long enough to look after it."""
    red_step: int | None
    """First at which a clock has run out: warming up, reheating, or left below hot."""
    refused: str | None
    """Why it is not planned; None when it is."""
    reasons: tuple[str, ...]
    """What the cook should know, in whole sentences."""


def safe_steps(
    core_c: ArrayLike, *, step_s: float, dish: Dish, air_c: ArrayLike = 20.0
) -> NDArray[np.intp]:
    """Return the first step at which the minimum temperature has been held long enough.

    Parameters
    ----------
    core_c : array_like, shape (..., steps + 1)
        Core at the start and after each step; 0 while not in the box, nan where it is not
        known, which is not hot.  [C]
    step_s : float
        Length of a step.  [s]
    dish : Dish
        Only its rule is looked at: its own and that of all it contains.  [-]
    air_c : array_like, optional
        Air outdoors.  Not used; taken so that every question is asked alike.  [C]

    Returns
    -------
    steps : ndarray of int, shape (...)
        -1 for never.  [-]
    """
    del air_c
    rule = rule_of(dish)
    hot = np.asarray(core_c, np.float64) >= rule.minimum_c
    count = np.arange(hot.shape[-1])
    # The last step that was not hot, carried forward: since when the core has been hot.
    last_cold = np.maximum.accumulate(np.where(hot, -1, count), axis=-1)
    long_enough = hot & ((count - last_cold - 1) * step_s >= rule.rest_s)
    return _first(long_enough)


def red_steps(
    core_c: ArrayLike, *, step_s: float, dish: Dish, air_c: ArrayLike
) -> NDArray[np.intp]:
    """Return the first step at which a safety clock has run out.

    Parameters
    ----------
    core_c, step_s, dish
        As for `safe_steps`.  [C], [s], [-]
    air_c : array_like, shape (steps + 1,) or ()
        Air outdoors; above 32.2 C the clocks run twice as fast.  [C]

    Returns
    -------
    steps : ndarray of int, shape (...)
        -1 for never.  A step after the safe one means that the dish was safe and was then
        left too cool for too long.  [-]

    Notes
    -----
    Until it is safe the clocks of warming up run (FDA appendix 4, read strictly: our
    judgement), and for leftovers the two hours of reheating.  From then on the two hours
    below 60 C run (USDA FSIS).
    """
    core = np.asarray(core_c, np.float64)
    rule = rule_of(dish)
    was_safe = _was_safe(core, step_s=step_s, dish=dish)
    out = np.zeros(core.shape, bool)
    for runs, low_c, limit_h in (
        (rule.clock, CLOCK_LOW_C.value, RED_H.value),
        (rule.warm_clock, CLOCK_WARM_C.value, RED_WARM_H.value),
    ):
        if runs:
            warming = is_warming(core, from_c=low_c) & ~was_safe
            out |= hours_while(warming, step_s=step_s, air_c=air_c) >= limit_h
    if rule.within_h is not None:
        inside = ~(core <= 0.0)
        out |= (hours_while(inside, step_s=step_s, air_c=0.0) > rule.within_h) & ~was_safe
    if rule.hold_hot_c is not None and was_safe.any():
        cool = ~(core >= rule.hold_hot_c) & was_safe
        out |= hours_while(cool, step_s=step_s, air_c=air_c) >= LEFT_OUT_H.value
    return _first(out)


def amber_steps(
    core_c: ArrayLike, *, step_s: float, dish: Dish, air_c: ArrayLike
) -> NDArray[np.intp]:
    """Return the first step at which a dish has been warming up for two hours.

    Parameters
    ----------
    core_c, step_s, dish, air_c
        As for `red_steps`.  [C], [s], [-], [C]

    Returns
    -------
    steps : ndarray of int, shape (...)
        -1 for never.  [-]
    """
    core = np.asarray(core_c, np.float64)
    if not rule_of(dish).clock:
        return np.full(core.shape[:-1], -1, np.intp)
    warming = is_warming(core, from_c=CLOCK_LOW_C.value)
    warming &= ~_was_safe(core, step_s=step_s, dish=dish)
    return _first(hours_while(warming, step_s=step_s, air_c=air_c) >= AMBER_H.value)


def judge(
    core_c: ArrayLike,
    *,
    step_s: float,
    dish: Dish,
    air_c: ArrayLike,
    confirmed: bool = False,
) -> SafetyVerdict:
    """Return what one core history means for safety.

    Parameters
    ----------
    core_c : array_like, shape (steps + 1,)
        As for `safe_steps`.  [C]
    step_s : float
        Length of a step.  [s]
    dish : Dish
        The dish.  [-]
    air_c : array_like, shape (steps + 1,) or ()
        Air outdoors.  [C]
    confirmed : bool
        The cook's word that the dish's gate is kept.  [-]

    Returns
    -------
    verdict : SafetyVerdict
        Steps and sentences.  [-]
    """
    safe = int(safe_steps(core_c, step_s=step_s, dish=dish))
    red = int(red_steps(core_c, step_s=step_s, dish=dish, air_c=air_c))
    amber = int(amber_steps(core_c, step_s=step_s, dish=dish, air_c=air_c))
    refused = refusal(dish, confirmed=confirmed)
    return SafetyVerdict(
        safe_step=None if safe < 0 or refused else safe,
        amber_step=None if amber < 0 else amber,
        red_step=None if red < 0 else red,
        refused=refused,
        reasons=_reasons(dish, safe=safe, amber=amber, red=red, refused=refused),
    )


def _reasons(
    dish: Dish, *, safe: int, amber: int, red: int, refused: str | None
) -> tuple[str, ...]:
    """Return the sentences of a verdict, the gravest first."""
    reasons = [] if refused is None else [refused]
    if rule_of(dish) is not RULES["none"]:
        reasons.append(rule_of(dish).sentence)
    too_slow = red >= 0 and (safe < 0 or red <= safe)
    if amber >= 0:
        reasons.append(SLOW)
    if red >= 0:
        reasons.append(TOO_SLOW if too_slow else TOO_COOL)
    if spoils(dish) and refused is None and (safe < 0 or too_slow):
        reasons.append(NEVER_TOMORROW)
    return tuple(reasons)


def spoils(dish: Dish) -> bool:
    """Return whether a half-cooked dish must not be kept: meat, poultry, fish or egg."""
    raw = {"fish", "egg"} & set(dish.contains)
    return is_meat(dish) or dish.safety in ("fish", "egg dish") or bool(raw)


def _was_safe(core: NDArray[np.float64], *, step_s: float, dish: Dish) -> NDArray[np.bool_]:
    """Return the steps at and after the safe one, in the shape of the core."""
    safe = safe_steps(core, step_s=step_s, dish=dish)[..., None]
    return (safe >= 0) & (np.arange(core.shape[-1]) >= safe)


def _first(condition: NDArray[np.bool_]) -> NDArray[np.intp]:
    """Return the first true step along the last axis, -1 where there is none."""
    return np.where(condition.any(axis=-1), condition.argmax(axis=-1), -1)
