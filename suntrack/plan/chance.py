"""The chance that the plan proves right: the whole day over many skies at once.

The cook's part is taken as planned: the same turns, the same loads; a dish stays in until
its meal.  Left out are what other skies would make
the cook do otherwise, errors of temperature and wind, and those of the model itself.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

import numpy as np

from suntrack.food.safety import red_steps
from suntrack.plan.dishes.oven import day_oven
from suntrack.plan.records import Chances
from suntrack.plan.verdict import ENOUGH_H
from suntrack.plan.window import longest_above

if TYPE_CHECKING:
    from collections.abc import Mapping

    from numpy.typing import ArrayLike, NDArray

    from suntrack.plan.dishes.judge import Judge
    from suntrack.plan.dishes.load_search import Outcome
    from suntrack.plan.dishes.outcome import Cooking
    from suntrack.plan.dishes.oven import DayOven
    from suntrack.plan.frame import Frame
    from suntrack.plan.inputs import DayInputs
    from suntrack.plan.turns.aims import AimedDay
    from suntrack.sky.weather import Weather

BAND = (0.1, 0.5, 0.9)


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class SkyDay:
    """The box under every sky of the day, ready to try loads in."""

    oven: DayOven
    """Without pots, one run for each sky."""
    steps: int
    """Of the stretch."""
    skies: int
    """How many there are."""

    def good(self, going: Mapping[int, Cooking]) -> dict[int, NDArray[np.bool_]]:
        """Return on which skies each dish is done and safe by its meal, each (skies,)."""
        _, core_c = self.run(going)
        return good_by_wish(core_c, going)

    def run(self, going: Mapping[int, Cooking]) -> tuple[NDArray[np.float64], NDArray[np.float64]]:
        """Return the box, (skies, steps + 1), and the cores, (skies, dishes, steps + 1).  [C]"""
        cookings = going.values()
        full = replace(self.oven, pots=tuple(cooking.charge for cooking in cookings))
        load = np.array([[cooking.load_step for cooking in cookings]], np.intp)
        out = [self._out(cooking) for cooking in cookings]
        trace = full.run(load_step=load, pull_step=np.array([out], np.intp))
        return trace.oven_c, trace.core_c

    def _out(self, cooking: Cooking) -> int:
        """Return when a dish is taken out: when it really was, else at its meal."""
        pulled = cooking.judge.pull_step
        return min(cooking.serve_step if pulled is None else pulled, self.steps)


def sky_day(
    inputs: DayInputs, *, frame: Frame, aimed: AimedDay, light_factor: ArrayLike
) -> SkyDay | None:
    """Return the box under the day's skies; None where there is only the one planned for.

    `light_factor` is what thermometer readings make of their light, at each step or all day.
    """
    skies = inputs.weather.global_horizontal_w_m2.shape[0] - 1
    if skies < 1:
        return None
    known = inputs
    factor = np.broadcast_to(np.asarray(light_factor, np.float64), (frame.grid.steps,))
    if (factor != 1.0).any():
        # What a reading says of the sky up to then is true whatever comes; one that says
        # nothing of the light leaves the factor at 1.
        gone = frame.day.step(inputs.heard.readings[-1].at)
        known = replace(inputs, weather=known_until(inputs.weather, gone))
    oven = day_oven(
        known,
        aimed=aimed,
        steps=frame.steps,
        pots=(),
        light_factors=factor[None],
        skies=slice(1, None),
    )
    return SkyDay(oven=oven, steps=frame.grid.steps, skies=skies)


def known_until(weather: Weather, step: int) -> Weather:
    """Return skies that are all like the first one before a step."""

    def settled(light: NDArray[np.float64]) -> NDArray[np.float64]:
        past = np.arange(light.shape[1]) < step
        return np.where(past, light[:1], light)

    return replace(
        weather,
        global_horizontal_w_m2=settled(weather.global_horizontal_w_m2),
        beam_normal_w_m2=settled(weather.beam_normal_w_m2),
        diffuse_horizontal_w_m2=settled(weather.diffuse_horizontal_w_m2),
    )


def good_days(core_c: NDArray[np.float64], cooking: Cooking) -> NDArray[np.bool_]:
    """Return on which days a dish is done and safe by its meal, and still safe then.

    Parameters
    ----------
    core_c : ndarray, shape (days, steps + 1)
        Simulated cores.  [C]
    cooking : Cooking
        The dish, when it goes in and when it is wanted.
    """
    load = np.full(core_c.shape[0], cooking.load_step, np.intp)
    return good_by(cooking.judge, core_c, load, serve_step=cooking.serve_step)[0]


def good_by(
    judge: Judge, core_c: NDArray[np.float64], load: NDArray[np.intp], *, serve_step: int
) -> tuple[NDArray[np.bool_], Outcome]:
    """Return on which days, each with its own load, a dish is good at a meal, and all else of it.

    Cores have the shape (days, steps + 1), loads and what is returned (days,).
    """
    outcome = judge(core_c, load)
    inside_c = judge.inside(core_c, load)
    red = red_steps(inside_c, step_s=judge.step_s, dish=judge.dish, air_c=judge.air_c)
    in_time = outcome.safe & (outcome.ready_step <= serve_step)
    return np.asarray(in_time & ((red < 0) | (red > serve_step))), outcome


def good_by_wish(
    core_c: NDArray[np.float64], going: Mapping[int, Cooking]
) -> dict[int, NDArray[np.bool_]]:
    """Return for each dish on which days it comes good; cores (days, dishes, steps + 1)."""
    return {
        wish: good_days(core_c[:, place], cooking)
        for place, (wish, cooking) in enumerate(going.items())
    }


def all_good(good: Mapping[int, NDArray[np.bool_]], counted: frozenset[int]) -> float:
    """Return the share of days on which every dish that counts comes good."""
    days = [one for wish, one in good.items() if wish in counted]
    return float(np.all(days, axis=0).mean()) if days else 0.0


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class DayChances:
    """What the skies make of the day."""

    chances: Chances
    """For the day as a whole."""
    counted: frozenset[int]
    """The wishes that `chances.good` speaks of."""
    by_dish: Mapping[int, float]
    """Chance of each dish that goes in, by the number of its wish.  [-]"""
    band_c: NDArray[np.float64]
    """The loaded box: a tenth, half and nine tenths of the skies are cooler, at the start of
    each step, shape (3, steps + 1).  [C]"""


def day_chances(
    day: SkyDay,
    *,
    going: Mapping[int, Cooking],
    counted: frozenset[int],
    threshold_c: float,
) -> DayChances:
    """Return the chances of a planned day.

    Parameters
    ----------
    day : SkyDay
    going : mapping
        What goes in, and when, by the number of its wish.
    counted : frozenset of int
        Those of them that the day is judged by.
    threshold_c : float
        What the empty box has to hold.  [C]

    Returns
    -------
    chances : DayChances
    """
    box_c, core_c = day.run(going)
    good = good_by_wish(core_c, going)
    empty_c = day.oven.empty().oven_c
    hold = ENOUGH_H * 3600.0 / day.oven.step_s
    chances = Chances(
        skies=day.skies,
        holds=float((longest_above(empty_c, threshold_c) >= hold).mean()),
        good=all_good(good, counted) if good else None,
        sampling_error=0.5 / float(np.sqrt(day.skies)),
    )
    return DayChances(
        chances=chances,
        counted=counted,
        by_dish={wish: float(days.mean()) for wish, days in good.items()},
        band_c=np.quantile(box_c, BAND, axis=0),
    )
