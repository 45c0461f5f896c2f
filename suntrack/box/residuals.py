"""How far a model is from a day's readings, and what each factor would do about it.

The light of a logged day is known only so well: each hour has a factor of its own, which is
held near 1 as far as the sky of the day is trusted (`LoggedDay.hour_spread`).
"""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import TYPE_CHECKING

import numpy as np

from suntrack.box.build import Learned
from suntrack.box.heat.network import factors_applied
from suntrack.box.heat.simulate import Climate, simulate
from suntrack.box.heat.structs import PotCharge

if TYPE_CHECKING:
    from numpy.typing import NDArray

    from suntrack.box.heat.network import Thermal
    from suntrack.box.light.gain import BoxLight

NAMES = ("loss", "light", "store")
WALK_S = 60.0
"""Longest stride of a simulated step: a fit looks at kelvins, not at tenths.  [s]"""
FACTOR_STEP, HOUR_STEP = 0.04, 0.15
"""How far logarithms are moved to see what they do.  The simulator takes its films anew for
every 1.5 K, a jump of up to a tenth of a kelvin: a step has to move the box by several.  [-]"""


def _none() -> NDArray[np.intp]:
    return np.zeros(0, np.intp)


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class LoggedDay:
    """One day on which the box was read, and what drove it."""

    light: BoxLight
    """As built, under the sky of the day, shape (steps,).  [W]"""
    climate: Climate
    """The air around the box."""
    step_s: float
    """Length of a step.  [s]"""
    start_c: float
    """At the beginning.  [C]"""
    at_step: NDArray[np.float64]
    """When it was read, in steps from the start, shape (readings,).  [-]"""
    read_c: NDArray[np.float64]
    """What the oven thermometer showed, shape (readings,).  [C]"""
    pots: tuple[PotCharge, ...] = ()
    """What was in it."""
    load_step: NDArray[np.intp] = field(default_factory=_none)
    """When each went in."""
    pull_step: NDArray[np.intp] = field(default_factory=_none)
    """When each came out."""
    hour: NDArray[np.intp] = field(default_factory=_none)
    """Which hour of light each step belongs to, -1 for none, shape (steps,); without any
    entry the light has no doubt but that of the whole day.  [-]"""
    hour_spread: NDArray[np.float64] = field(default_factory=lambda: np.zeros(0))
    """How far each hour's light may be off, of the logarithm, shape (hours,).  [-]"""
    only_dimmer: NDArray[np.bool_] = field(default_factory=lambda: np.zeros(0, np.bool_))
    """True for hours taken as clear, that can only be much darker, shape (hours,)."""


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class ReadingResiduals:
    """Model less reading, and how it changes with the logarithm of each factor."""

    off_k: NDArray[np.float64]
    """Shape (readings,).  [K]"""
    by_factor_k: NDArray[np.float64]
    """Of loss, light and store, shape (readings, 3).  [K]"""
    by_hour_k: NDArray[np.float64]
    """Of each hour's light, shape (readings, hours).  [K]"""


def foretold_c(
    parts: Thermal, day: LoggedDay, learned: Learned, *, light: float = 1.0
) -> NDArray[np.float64]:
    """Return what the oven thermometer should have shown at each reading.

    Parameters
    ----------
    parts : Thermal
        The box as its sizes have it.  [-]
    day : LoggedDay
        What drove it.
    learned : Learned
        Factors of the box.  [-]
    light : float
        Factor on the light of this day.  [-]

    Returns
    -------
    read_c : ndarray, shape (readings,)
        Between steps by straight lines.  [C]
    """
    shown_c = _shown_c(parts, day, learned, day.light.scaled(learned.light * light))
    return np.asarray(shown_c[0])


def misfit(
    parts: Thermal, day: LoggedDay, logs: NDArray[np.float64], hour_logs: NDArray[np.float64]
) -> ReadingResiduals:
    """Return how far the model is from the readings of a day, with its derivatives.

    Parameters
    ----------
    parts : Thermal
        The box as its sizes have it.  [-]
    day : LoggedDay
    logs : ndarray, shape (3,)
        Logarithms of loss, light (with that of the whole day) and store.  [-]
    hour_logs : ndarray, shape (hours,)
        Logarithms of each hour's light.  [-]
    """
    lit = np.exp(logs[1] + of_steps(day, hour_logs))
    runs = [lit, lit * np.exp(FACTOR_STEP), lit * np.exp(-FACTOR_STEP), *_hours_moved(day, lit)]
    shown_c = _lit_c(parts, day, logs, np.array(runs))
    up_c, down_c = shown_c[3::2], shown_c[4::2]
    slopes = [
        _slope_k(parts, day, logs, lit, place=0),
        (shown_c[1] - shown_c[2]) / (2.0 * FACTOR_STEP),
        _slope_k(parts, day, logs, lit, place=2),
    ]
    return ReadingResiduals(
        off_k=shown_c[0] - day.read_c,
        by_factor_k=np.array(slopes).T,
        by_hour_k=((up_c - down_c) / (2.0 * HOUR_STEP)).T,
    )


def of_steps(day: LoggedDay, hour_logs: NDArray[np.float64]) -> NDArray[np.float64]:
    """Return each step's share of what is given for hours; 0 where no hour is."""
    if not hour_logs.size:
        return np.zeros(day.light.inside_w.shape[-1])
    return np.where(day.hour >= 0, hour_logs[day.hour], 0.0)


def day_light(day: LoggedDay, day_log: float, hour_logs: NDArray[np.float64]) -> float:
    """Return the light of a whole day against the sky that it was taken to have.  [-]"""
    light_w = day.light.inside_w
    shares = np.exp(day_log + of_steps(day, hour_logs))
    return float((light_w * shares).sum() / max(float(light_w.sum()), 1e-9))


def _hours_moved(day: LoggedDay, lit: NDArray[np.float64]) -> list[NDArray[np.float64]]:
    """Return the light with each hour brighter, then darker, in turn."""
    return [
        np.where(day.hour == hour, lit * np.exp(move), lit)
        for hour in range(day.hour_spread.size)
        for move in (HOUR_STEP, -HOUR_STEP)
    ]


def _slope_k(
    parts: Thermal,
    day: LoggedDay,
    logs: NDArray[np.float64],
    lit: NDArray[np.float64],
    *,
    place: int,
) -> NDArray[np.float64]:
    """Return what a logarithm of the box does to the readings, shape (readings,).  [K]"""
    move = FACTOR_STEP * np.eye(3)[place]
    more_c, less_c = (_lit_c(parts, day, logs + sign * move, lit[None])[0] for sign in (1, -1))
    return np.asarray((more_c - less_c) / (2.0 * FACTOR_STEP))


def _lit_c(
    parts: Thermal, day: LoggedDay, logs: NDArray[np.float64], lit: NDArray[np.float64]
) -> NDArray[np.float64]:
    """Return readings under several lights, shares of the day's, shape (runs, readings).  [C]"""
    loss, _, store = (float(one) for one in np.exp(logs))
    return _shown_c(parts, day, Learned(loss=loss, store=store), day.light.masked(lit))


def _shown_c(
    parts: Thermal, day: LoggedDay, learned: Learned, light: BoxLight
) -> NDArray[np.float64]:
    """Return what the thermometer shows at the readings, shape (runs, readings).  [C]"""
    trace = simulate(
        factors_applied(parts, learned),
        light=light,
        climate=day.climate,
        pots=day.pots,
        load_step=day.load_step,
        pull_step=day.pull_step if day.pots else None,
        step_s=day.step_s,
        start_c=day.start_c,
        longest_s=WALK_S,
    )
    steps = np.arange(trace.oven_c.shape[-1])
    return np.array([np.interp(day.at_step, steps, row) for row in trace.oven_c])
