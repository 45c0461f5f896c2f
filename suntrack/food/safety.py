"""Safety: official minimum temperatures, the come-up clock, and what is refused.

Every rule carries its source and how sure we are of it.  Nothing here makes a dish safe
on an integral of our own: the test is always the consumer minimum temperature, reached
in time.  Lethality tables are shown, never credited, because they do not hold for home
kitchens and not for poultry at all.

    Found copies are third-party pages that reproduce the agency's text.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from suntrack.food.dish import Dish, SafetyRule

if TYPE_CHECKING:
    from numpy.typing import ArrayLike, NDArray

CHART = "USDA FSIS / FoodSafety.gov safe minimum temperature chart (found copy)"
DANGER = "USDA FSIS danger zone, 40-140 F: 2 hours, 1 hour above 90 F (found copy)"
COME_UP = "FDA Fish and Fishery Products Hazards Guidance, appendix 4 (found copy)"
OVEN = "USDA FSIS: no oven below 325 F (163 C) for meat and poultry (found copy)"
MOIST = "USDA slow cooker advice: moist, tightly lidded, small thawed pieces (found copy)"
BEAN = "FDA Bad Bug Book, phytohaemagglutinin: soak 5 h, boil 30 min (found copy)"

HOLD_C = 60.0
"""140 F, hot holding at home: USDA consumer advice (found copy).  [C]"""
FDA_HOLD_C = 57.2
"""135 F, hot holding in restaurants: FDA Food Code 3-501.16 (found copy).  [C]"""
CLOCK_LOW_C, CLOCK_WARM_C, CLOCK_HIGH_C = 10.0, 21.1, 57.2
"""50, 70 and 135 F: the bounds of the FDA come-up clock.  [C]"""
HOT_DAY_C = 32.2
"""90 F outdoors: the two-hour rule becomes one hour (USDA FSIS, found copy).  [C]"""
AMBER_H, RED_H, RED_WARM_H = 2.0, 4.0, 2.0
"""Hours of come-up: 2 from 50 to 135 F is a warning, 4 the end; for the riskiest foods 2
from 70 to 135 F is the end (FDA appendix 4; the colours are our judgement).  [h]"""


@dataclass(frozen=True, slots=True, kw_only=True)
class Rule:
    """One row of the chart, with its clocks."""

    minimum_c: float
    rest_s: float
    """How long the core has to stay at the minimum.  [s]"""
    clock: bool
    """True when the come-up clock runs."""
    warm_clock: bool
    """True when two hours between 70 and 135 F already end it."""
    within_h: float | None
    """Hours from loading within which the minimum has to be reached; None for no limit.  [h]"""
    source: str
    confidence: str
    sentence: str


def _rule(
    minimum_c: float,
    sentence: str,
    *,
    rest_s: float = 0.0,
    clock: bool = True,
    warm_clock: bool = True,
    within_h: float | None = None,
    source: str = CHART,
    confidence: str = "found copy",
) -> Rule:
    return Rule(
        minimum_c=minimum_c,
        rest_s=rest_s,
        clock=clock,
        warm_clock=warm_clock,
        within_h=within_h,
        source=source,
        confidence=confidence,
        sentence=sentence,
    )


RULES: Mapping[SafetyRule, Rule] = {
    "poultry": _rule(73.9, "Poultry is safe at 73.9 °C (165 °F) in the middle of every piece."),
    "ground meat": _rule(71.1, "Minced meat is safe at 71.1 °C (160 °F) all through."),
    "whole meat": _rule(
        62.8,
        "Whole pieces of meat are safe at 62.8 °C (145 °F) held for three minutes.",
        rest_s=180.0,
        warm_clock=False,
    ),
    "fish": _rule(62.8, "Fish is safe at 62.8 °C (145 °F), or when it is opaque and flakes."),
    "egg dish": _rule(71.1, "Dishes with egg are safe at 71.1 °C (160 °F)."),
    "casserole": _rule(73.9, "Casseroles are safe at 73.9 °C (165 °F) in the middle."),
    "leftovers": _rule(
        73.9,
        "Leftovers have to reach 73.9 °C (165 °F) within two hours, else throw them away.",
        within_h=2.0,
    ),
    "hold hot": _rule(
        HOLD_C,
        "Once hot, keep it at 60 °C (140 °F) or more until it is eaten.",
        warm_clock=False,
        source="USDA consumer advice on hot holding",
    ),
    "none": _rule(
        HOLD_C,
        "No minimum temperature is published for it; it is done by its core.",
        clock=False,
        warm_clock=False,
        source="no rule found",
        confidence="kitchen judgement",
    ),
}
MEATS = ("poultry", "ground meat", "whole meat")


@dataclass(frozen=True, slots=True, kw_only=True)
class SafetyVerdict:
    """What one core history means for safety; steps count from the start of the history."""

    safe_step: int | None
    amber_step: int | None
    red_step: int | None
    refused: str | None
    reasons: tuple[str, ...]


def refusal(dish: Dish, *, confirmed: bool) -> str | None:
    """Return why a dish is not planned at all; None when it may be."""
    if dish.refused is not None:
        return dish.refused
    if dish.gate == "kidney bean" and not confirmed:
        return (
            "Kidney-type beans are poisonous until boiled: soak them 5 hours, throw the water "
            "away, boil them on the stove for 30 minutes (45 above 1500 m), then set "
            f"confirmed = true. The box gives no such boil. {BEAN}."
        )
    if dish.safety in MEATS and not dish.moist_small_pieces:
        return (
            "Large or dry pieces of meat or poultry are outside official advice at these "
            f"temperatures; cut them small and cook them moist, with the lid on. {OVEN}."
        )
    return None


def safe_steps(
    core_c: NDArray[np.float64], *, step_s: float, dish: Dish, air_c: ArrayLike
) -> NDArray[np.intp]:
    """Return the first step at which the minimum temperature has been held long enough.

    Parameters
    ----------
    core_c : ndarray, shape (..., steps + 1)
        Core at the start and after each step; 0 while not in the box.  [C]
    step_s : float
        Length of a step.  [s]
    dish : Dish
    air_c : array_like, shape (steps + 1,)
        Air outdoors.  Not used here; taken so that both questions are asked alike.  [C]

    Returns
    -------
    steps : ndarray of int, shape (...)
        -1 for never.
    """
    del air_c
    rule = RULES[dish.safety]
    hot = core_c >= rule.minimum_c
    count = np.arange(hot.shape[-1])
    # The last step that was not hot, carried forward: how long the core has been hot since.
    last_cold = np.maximum.accumulate(np.where(hot, -1, count), axis=-1)
    long_enough = hot & ((count - last_cold - 1) * step_s >= rule.rest_s)
    return np.where(long_enough.any(axis=-1), long_enough.argmax(axis=-1), -1)


def red_steps(
    core_c: NDArray[np.float64], *, step_s: float, dish: Dish, air_c: ArrayLike
) -> NDArray[np.intp]:
    """Return the first step at which a safety clock has run out; -1 for never.

    Shapes and arguments as for `safe_steps`.  While the air outdoors is above 32.2 C time
    counts double, which turns the agencies' two hours into their one.
    """
    rule = RULES[dish.safety]
    out = np.zeros(core_c.shape, bool)
    if rule.clock:
        out |= _clock_h(core_c, CLOCK_LOW_C, step_s=step_s, air_c=air_c) >= RED_H
    if rule.warm_clock:
        out |= _clock_h(core_c, CLOCK_WARM_C, step_s=step_s, air_c=air_c) >= RED_WARM_H
    if rule.within_h is not None:
        inside = np.cumsum(core_c > 0.0, axis=-1) * step_s / 3600.0
        out |= (inside > rule.within_h) & (np.maximum.accumulate(core_c, -1) < rule.minimum_c)
    return np.where(out.any(axis=-1), out.argmax(axis=-1), -1)


def amber_steps(
    core_c: NDArray[np.float64], *, step_s: float, dish: Dish, air_c: ArrayLike
) -> NDArray[np.intp]:
    """Return the first step at which the come-up clock warns; -1 for never."""
    if not RULES[dish.safety].clock:
        return np.full(core_c.shape[:-1], -1, np.intp)
    late = _clock_h(core_c, CLOCK_LOW_C, step_s=step_s, air_c=air_c) >= AMBER_H
    return np.where(late.any(axis=-1), late.argmax(axis=-1), -1)


def _clock_h(
    core_c: NDArray[np.float64], low_c: float, *, step_s: float, air_c: ArrayLike
) -> NDArray[np.float64]:
    """Return hours so far between a bound and 57.2 C, double on hot days.  [h]"""
    inside = (core_c > low_c) & (core_c < CLOCK_HIGH_C)
    pace = np.where(np.asarray(air_c) > HOT_DAY_C, 2.0, 1.0)
    hours = np.zeros(core_c.shape)
    counted = (inside * pace)[..., :-1]
    np.cumsum(counted * step_s / 3600.0, axis=-1, out=hours[..., 1:])
    return hours + 1e-9  # a sum of minutes must not miss its hour by rounding


def judge(
    core_c: NDArray[np.float64],
    *,
    step_s: float,
    dish: Dish,
    air_c: ArrayLike,
    confirmed: bool = False,
) -> SafetyVerdict:
    """Return what one core history, shape (steps + 1,), means for safety."""
    safe = int(safe_steps(core_c, step_s=step_s, dish=dish, air_c=air_c))
    red = int(red_steps(core_c, step_s=step_s, dish=dish, air_c=air_c))
    amber = int(amber_steps(core_c, step_s=step_s, dish=dish, air_c=air_c))
    refused = refusal(dish, confirmed=confirmed)
    reasons = [] if refused is None else [refused]
    rule = RULES[dish.safety]
    if dish.safety != "none":
        reasons.append(rule.sentence)
    if amber >= 0 and (safe < 0 or amber < safe):
        reasons.append("It warms slowly: over two hours below 57 °C. Check it with a thermometer.")
    if red >= 0 and (safe < 0 or red < safe):
        reasons.append("It stays too long in the danger zone before it is safe.")
    return SafetyVerdict(
        safe_step=None if safe < 0 or refused else safe,
        amber_step=None if amber < 0 else amber,
        red_step=None if red < 0 else red,
        refused=refused,
        reasons=tuple(reasons),
    )


def held_hot(core_c: float) -> tuple[bool, bool]:
    """Return whether a dish is held hot by USDA's consumer advice, and by the FDA Food Code."""
    return core_c >= HOLD_C, core_c >= FDA_HOLD_C


def after_cooking(minutes_below_60_c: float, *, air_c: float) -> str:
    """Return "fine", "amber" or "discard" for cooked food that has cooled below 60 C.

    USDA FSIS: throw away after two hours, after one when the air is above 90 F (found
    copy).  Half the time is the warning (our judgement).
    """
    limit = 60.0 if air_c > HOT_DAY_C else 120.0
    if minutes_below_60_c >= limit:
        return "discard"
    return "amber" if minutes_below_60_c >= limit / 2.0 else "fine"


def beef_lethality_log10(core_c: NDArray[np.float64], *, step_s: float) -> NDArray[np.float64]:
    """Return the log reduction of the FSIS beef table so far; for show, never for credit.

    FSIS Appendix A, 1999 (found copy): the 6.5-log column is 85 s x 10^((149 - F)/10), so
    z is 5.56 C and D at 60 C is 1.731 min.  Nothing below 57 C, where a later study could
    not confirm it; never for poultry.
    """
    rate = np.where(core_c >= 57.0, 10.0 ** ((core_c - 60.0) / 5.556) / 1.731, 0.0)
    middles = (rate[..., 1:] + rate[..., :-1]) / 2.0
    logs = np.zeros_like(rate)
    np.cumsum(middles * step_s / 60.0, axis=-1, out=logs[..., 1:])
    return logs
