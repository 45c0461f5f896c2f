"""Learning a box: from days of thermometer readings to the factors that explain them.

Three factors are shared by all days (`suntrack.box.learned`); each day has one more for its
own light, because a clear day is seldom quite as clear as the sky model.  What the builder
knows enters as a prior, so that a factor the readings say nothing about stays at 1.

An empty box can hardly tell its factors apart: with a tenth more light, loss and store it
has nearly the same temperatures, but for the store of its glass.  Their ratios show (light
to loss at noon, loss to store as it cools).  A weighed pot of water gives the loss more of a
scale.  The fit says which pairs it cannot tell apart.
"""

from __future__ import annotations

from dataclasses import dataclass, field
from itertools import combinations
from typing import TYPE_CHECKING

import numpy as np
from scipy.optimize import least_squares

from suntrack.box.build import Learned
from suntrack.box.heat import Climate, PotCharge, simulate
from suntrack.box.learned import dimmed, taught

if TYPE_CHECKING:
    from collections.abc import Sequence

    from numpy.typing import NDArray

    from suntrack.box.gain import BoxLight
    from suntrack.box.thermal import Thermal

NAMES = ("loss", "light", "store")
PRIOR_SPREAD = {"loss": 0.25, "light": 0.15, "store": 0.2}
"""How far a box may be from its sizes, one standard deviation of the logarithm: seals and
pressed insulation most, a mirror's shine and the paint least (builder's judgement).  [-]"""
DAY_SPREAD = 0.06
"""The same for the light of one day against the sky it was taken to have.  The best tenth of
hours at NREL SRRL, summer 2012, were 0.97 to 1.00 of the clear sky's global light and 1.04 to
1.10 of its beam.  [-]"""
READING_K = 2.5
"""How far a reading may be off: an oven thermometer is read to 5 F.  [K]"""
OUTLIER = 2.0
"""Readings further off than so many spreads pull less and less: a cloud, an open lid.  [-]"""
NOT_TOLD = 0.7
"""A factor whose spread is still this share of the prior's was not learned (our choice).  [-]"""
NOT_APART = 0.9
"""Two factors correlated at least this much cannot be told apart (our choice).  [-]"""
WALK_S = 60.0
"""Longest stride of a simulated step: a fit looks at kelvins, not at tenths.  [s]"""


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class LoggedDay:
    """One day on which the box was read, and what drove it."""

    light: BoxLight
    """As built, under the sky of the day, shape (steps,).  [W]"""
    climate: Climate
    step_s: float
    start_c: float
    at_step: NDArray[np.float64]
    """When it was read, in steps from the start, shape (readings,).  [-]"""
    read_c: NDArray[np.float64]
    """What the oven thermometer showed, shape (readings,).  [C]"""
    pots: tuple[PotCharge, ...] = ()
    load_step: NDArray[np.intp] = field(default_factory=lambda: np.zeros(0, np.intp))
    pull_step: NDArray[np.intp] = field(default_factory=lambda: np.zeros(0, np.intp))


@dataclass(frozen=True, slots=True, kw_only=True)
class Fit:
    """What the readings say of a box."""

    learned: Learned
    spread: Learned
    """One standard deviation of each factor's logarithm.  [-]"""
    not_told: tuple[str, ...]
    """Factors that the readings say little or nothing about."""
    not_apart: tuple[tuple[str, str], ...]
    """Pairs of which only the ratio or the product is known."""
    day_light: tuple[float, ...]
    """Light of each day against the sky it was taken to have.  [-]"""
    readings: int
    before_k: float
    """Root mean square of model less reading, as built.  [K]"""
    after_k: float
    """The same with the factors and the light of each day.  [K]"""
    new_day_before_k: float | None
    """Median distance on a day, as built; None with one day only.  [K]"""
    new_day_after_k: float | None
    """The same, each day foretold from the others alone.  [K]"""


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
    trace = simulate(
        taught(parts, learned),
        light=dimmed(day.light, learned.light * light),
        climate=day.climate,
        pots=day.pots,
        load_step=day.load_step,
        pull_step=day.pull_step if day.pots else None,
        step_s=day.step_s,
        start_c=day.start_c,
        longest_s=WALK_S,
    )
    oven_c = trace.oven_c[0]
    return np.asarray(np.interp(day.at_step, np.arange(oven_c.size), oven_c), np.float64)


def fit_box(parts: Thermal, days: Sequence[LoggedDay]) -> Fit:
    """Return the factors that explain the readings of one or more days.

    Parameters
    ----------
    parts : Thermal
        The box as its sizes have it.  [-]
    days : sequence of LoggedDay
        At least one, each with at least one reading.

    Returns
    -------
    fit : Fit
        See the fields for units.

    Raises
    ------
    ValueError
        If there is no reading.

    Notes
    -----
    Least squares of (model - reading) / `READING_K` beside (log factor) / prior spread, the
    readings with a soft loss that is straight in its tails.  Spreads and correlations are
    those of the inverse of J'J at the solution.  Successive readings of one day err
    together (the sky, the aim); each day's own light takes up the largest part of it, and
    many readings count as no more than one in ten minutes.
    """
    if not sum(day.read_c.size for day in days):
        raise ValueError("no reading to learn from")
    found, spread, correlation = _solve(parts, days)
    learned = _learned(found)
    light = np.exp(found[len(NAMES) :])
    as_built = _rms([foretold_c(parts, day, Learned()) - day.read_c for day in days])
    after = [
        foretold_c(parts, day, learned, light=float(one)) - day.read_c
        for day, one in zip(days, light, strict=True)
    ]
    before_k, after_k = _left_out(parts, days) if len(days) > 1 else (None, None)
    return Fit(
        learned=learned,
        spread=Learned(**dict(zip(NAMES, map(float, spread), strict=True))),
        not_told=tuple(
            name
            for name, one in zip(NAMES, spread, strict=True)
            if one > NOT_TOLD * PRIOR_SPREAD[name]
        ),
        not_apart=tuple(
            (NAMES[i], NAMES[k])
            for i, k in combinations(range(len(NAMES)), 2)
            if abs(correlation[i, k]) >= NOT_APART
        ),
        day_light=tuple(float(one) for one in light),
        readings=sum(day.read_c.size for day in days),
        before_k=as_built,
        after_k=_rms(after),
        new_day_before_k=before_k,
        new_day_after_k=after_k,
    )


def _solve(
    parts: Thermal, days: Sequence[LoggedDay]
) -> tuple[NDArray[np.float64], NDArray[np.float64], NDArray[np.float64]]:
    """Return log factors (three, then each day's light), spreads and correlations of three."""
    prior = np.array([*(PRIOR_SPREAD[name] for name in NAMES), *[DAY_SPREAD] * len(days)])
    weights = [_weights(day) for day in days]

    def misfit(logs: NDArray[np.float64]) -> NDArray[np.float64]:
        learned, light = _learned(logs), np.exp(logs[len(NAMES) :])
        off = [
            weight * _soft(foretold_c(parts, day, learned, light=float(one)) - day.read_c)
            for day, one, weight in zip(days, light, weights, strict=True)
        ]
        return np.concatenate([*off, logs / prior])

    found = least_squares(
        misfit, np.zeros(prior.size), bounds=(-1.2, 1.2), diff_step=1e-3, xtol=1e-5, ftol=1e-5
    )
    covariance = np.linalg.inv(found.jac.T @ found.jac)[: len(NAMES), : len(NAMES)]
    spread = np.sqrt(np.diag(covariance))
    return found.x, spread, covariance / np.outer(spread, spread)


def _soft(off_k: NDArray[np.float64]) -> NDArray[np.float64]:
    """Return misfits in spreads of a reading, whose squares grow straight in the tails.

    The soft loss 2 c2 (sqrt(1 + z2 / c2) - 1), signed root of it; the prior stays square.
    """
    z2 = (off_k / READING_K) ** 2 / OUTLIER**2
    return np.asarray(np.sign(off_k) * OUTLIER * np.sqrt(2.0 * (np.sqrt(1.0 + z2) - 1.0)))


def _weights(day: LoggedDay) -> NDArray[np.float64]:
    """Return the weight of each reading: those in one stretch of ten minutes share one."""
    stretch = np.floor(day.at_step * day.step_s / 600.0)
    _, where, count = np.unique(stretch, return_inverse=True, return_counts=True)
    return np.asarray(1.0 / np.sqrt(count[where]))


def _left_out(parts: Thermal, days: Sequence[LoggedDay]) -> tuple[float, float]:
    """Return the median distance on a day, as built and foretold from the other days.  [K]"""
    built, told = [], []
    for i, day in enumerate(days):
        logs, *_ = _solve(parts, [*days[:i], *days[i + 1 :]])
        built.append(np.abs(foretold_c(parts, day, Learned()) - day.read_c))
        told.append(np.abs(foretold_c(parts, day, _learned(logs)) - day.read_c))
    return float(np.median(np.concatenate(built))), float(np.median(np.concatenate(told)))


def _learned(logs: NDArray[np.float64]) -> Learned:
    return Learned(**{name: float(np.exp(log)) for name, log in zip(NAMES, logs, strict=False)})


def _rms(off_k: Sequence[NDArray[np.float64]]) -> float:
    return float(np.sqrt(np.mean(np.concatenate(off_k) ** 2)))
