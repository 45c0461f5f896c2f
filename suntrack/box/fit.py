"""Learning a box: from days of thermometer readings to the factors that explain them.

Three factors are shared by all days (`suntrack.box.learned`); each day has one more for its
own light, because a clear day is seldom quite as clear as the sky model, and each hour one
for its clouds.  What the builder knows enters as a prior, so that a factor the readings say
nothing about stays at 1.

An empty box can hardly tell its factors apart: with a tenth more light, loss and store it
has nearly the same temperatures, but for the store of its glass.  Their ratios show (light
to loss at noon, loss to store as it cools).  A weighed pot of water gives the loss more of a
scale.  The fit says which pairs it cannot tell apart.
"""

from __future__ import annotations

from dataclasses import dataclass
from itertools import combinations, pairwise
from math import sqrt
from typing import TYPE_CHECKING, NamedTuple

import numpy as np
from scipy.optimize import least_squares

from suntrack.box.build import Learned
from suntrack.box.residuals import NAMES, ReadingResiduals, day_light, foretold_c, misfit
from suntrack.box.robust import OUTLIER, READING_K, soft, soft_slope, weights, worsening

if TYPE_CHECKING:
    from collections.abc import Sequence

    from numpy.typing import NDArray

    from suntrack.box.heat.network import Thermal
    from suntrack.box.residuals import LoggedDay

PRIOR_SPREAD = {"loss": 0.25, "light": 0.18, "store": 0.2}
"""How far a box may be from its sizes, one standard deviation of the logarithm: seals and
pressed insulation most, a mirror's shine and the paint least (builder's judgement).  [-]"""
MODEL_SPREAD = 0.05
"""How far each factor may be off because the model is not the box: films, aims a few degrees
off, where the thermometer stands (our estimate).  [-]"""
DAY_SPREAD = 0.06
"""The same for the light of one day against the sky it was taken to have.  The best tenth of
hours at NREL SRRL, summer 2012, were 0.97 to 1.00 of the clear sky's global light and 1.04 to
1.10 of its beam.  [-]"""
UNSEEN_SPREAD = 0.12
"""How far loss and light learned on one day taken as clear may be off by a haze or cloud that
nobody told of: boxes made up under days of sun and cloud at NREL SRRL, summer 2012.  [-]"""
HOUR_TAIL = 0.7
"""Hours further off than so many spreads pull less and less: a cloud (our choice).  [-]"""
NOT_TOLD = 0.7
"""A factor whose spread is still this share of the prior's was not learned (our choice).  [-]"""
NOT_APART = 0.9
"""Two factors correlated at least this much cannot be told apart (our choice).  [-]"""
FOLDS = 5
"""Days are foretold from the others in at most so many parts (our choice).  [-]"""
NINE_OF_TEN = 1.645
"""Standard deviations to either side that hold nine tenths of a normal distribution.  [-]"""


@dataclass(frozen=True, slots=True, kw_only=True)
class Fit:
    """What the readings say of a box."""

    learned: Learned
    """Factors that readings taught."""
    spread: Learned
    """One standard deviation of each factor's logarithm, model error and all.  [-]"""
    not_told: tuple[str, ...]
    """Factors that the readings say little or nothing about."""
    not_apart: tuple[tuple[str, str], ...]
    """Pairs of which only the ratio or the product is known."""
    day_light: tuple[float, ...]
    """Light of each day against the sky it was taken to have.  [-]"""
    readings: int
    """How many it is drawn from."""
    before_k: float
    """Root mean square of model less reading, as built.  [K]"""
    after_k: float
    """The same with the factors and the light of each day and hour.  [K]"""
    new_day_before_k: float | None
    """Median distance on a day, as built; None with one day, or when not asked for.  [K]"""
    new_day_after_k: float | None
    """The same, each day foretold from others alone, under the sky it was taken to have.  [K]"""

    def range_of(self, name: str) -> tuple[float, float]:
        """Return between what a factor lies nine times of ten."""
        middle, spread = getattr(self.learned, name), getattr(self.spread, name)
        wide = float(np.exp(NINE_OF_TEN * spread))
        return middle / wide, middle * wide


def fit_box(parts: Thermal, days: Sequence[LoggedDay], *, on_new_days: bool = True) -> Fit:
    """Return the factors that explain the readings of one or more days.

    Parameters
    ----------
    parts : Thermal
        The box as its sizes have it.  [-]
    days : sequence of LoggedDay
        At least one, each with at least one reading.
    on_new_days : bool
        False to leave out how days would be foretold from others, which takes most of the time.

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
    readings and the hours' light with a soft loss that is straight in its tails.  Spreads and
    correlations are those of the inverse of J'J at the solution, so that what the light of
    days and hours leaves open is in them.  Where readings are missed by more than
    `READING_K`, or miss together one after the other, they are told to say less.  Many
    readings count as no more than one in ten minutes.
    """
    if not sum(day.read_c.size for day in days):
        raise ValueError("no reading to learn from")
    found = _solve(parts, days)
    as_built = [foretold_c(parts, day, Learned()) - day.read_c for day in days]
    tried = on_new_days and len(days) > 1
    before_k, after_k = _left_out(parts, days, found) if tried else (None, None)
    return Fit(
        learned=found.learned,
        spread=Learned(**dict(zip(NAMES, map(float, found.spread), strict=True))),
        not_told=tuple(
            name
            for name, one in zip(NAMES, found.spread, strict=True)
            if one > NOT_TOLD * PRIOR_SPREAD[name]
        ),
        not_apart=tuple(
            (NAMES[i], NAMES[k])
            for i, k in combinations(range(len(NAMES)), 2)
            if abs(found.correlation[i, k]) >= NOT_APART
        ),
        day_light=found.day_light,
        readings=sum(day.read_c.size for day in days),
        before_k=_rms(as_built),
        after_k=_rms(found.off_k),
        new_day_before_k=before_k,
        new_day_after_k=after_k,
    )


class _Found(NamedTuple):
    """A solution, with `at` in prior spreads: three factors, each day's light, each hour's."""

    at: NDArray[np.float64]
    """Where the fit ended."""
    spread: NDArray[np.float64]
    """How far each factor may be off."""
    correlation: NDArray[np.float64]
    """How they go together.  [-]"""
    day_light: tuple[float, ...]
    """Each day's own light.  [-]"""
    off_k: list[NDArray[np.float64]]
    """What is still missed.  [K]"""

    @property
    def learned(self) -> Learned:
        """The three factors."""
        logs = self.at[: len(NAMES)] * _priors()
        return Learned(**{n: float(np.exp(log)) for n, log in zip(NAMES, logs, strict=True)})


class _Rows(NamedTuple):
    """Residuals and their derivatives; the first `readings` rows are of readings."""

    misses: list[ReadingResiduals]
    """Where each day's rows begin."""
    residual: NDArray[np.float64]
    """What is missed, by row."""
    slope: NDArray[np.float64]
    """What each factor would do about it."""
    readings: int
    """How many rows are of readings."""


class _Problem:
    """The residuals of a fit as functions of one vector, the last answer remembered."""

    def __init__(self, parts: Thermal, days: Sequence[LoggedDay]):
        self.parts, self.days = parts, days
        hours = [day.hour_spread.size for day in days]
        first = len(NAMES) + len(days)
        ends = first + np.cumsum([0, *hours])
        self.hours = [slice(int(a), int(b)) for a, b in pairwise(ends)]
        self.size = int(ends[-1])
        self.dims = np.concatenate([np.zeros(first, np.bool_), *(d.only_dimmer for d in days)])
        self._last: tuple[bytes, _Rows] | None = None

    def rows(self, at: NDArray[np.float64]) -> _Rows:
        """Return everything at a point."""
        if self._last is None or self._last[0] != at.tobytes():
            self._last = (at.tobytes(), self._rows(at))
        return self._last[1]

    def logs(
        self, at: NDArray[np.float64], i: int
    ) -> tuple[NDArray[np.float64], float, NDArray[np.float64]]:
        """Return the logarithms of the box, of a day's light and of its hours."""
        day_log = float(DAY_SPREAD * at[len(NAMES) + i])
        return at[: len(NAMES)] * _priors(), day_log, at[self.hours[i]] * self.days[i].hour_spread

    def _rows(self, at: NDArray[np.float64]) -> _Rows:
        misses, residuals, slopes = [], [], []
        for i, day in enumerate(self.days):
            box, day_log, hours = self.logs(at, i)
            miss = misfit(self.parts, day, box + np.array([0.0, day_log, 0.0]), hours)
            weight, scaled = weights(day.at_step, step_s=day.step_s), miss.off_k / READING_K
            residuals.append(weight * soft(scaled, OUTLIER))
            slope = np.zeros((scaled.size, self.size))
            slope[:, : len(NAMES)] = miss.by_factor_k * _priors()
            slope[:, len(NAMES) + i] = miss.by_factor_k[:, 1] * DAY_SPREAD
            slope[:, self.hours[i]] = miss.by_hour_k * day.hour_spread
            slopes.append(slope * (weight * soft_slope(scaled, OUTLIER) / READING_K)[:, None])
            misses.append(miss)
        readings = sum(one.size for one in residuals)
        prior, prior_slope = self._prior(at)
        return _Rows(
            misses,
            np.concatenate([*residuals, prior]),
            np.concatenate([*slopes, np.diag(prior_slope)]),
            readings,
        )

    def _prior(self, at: NDArray[np.float64]) -> tuple[NDArray[np.float64], NDArray[np.float64]]:
        """Return the residuals of the priors; an hour taken as clear is never much brighter."""
        is_hour = np.arange(self.size) >= len(NAMES) + len(self.days)
        bent = is_hour & ~(self.dims & (at > 0.0))
        return (
            np.where(bent, soft(at, HOUR_TAIL), at),
            np.where(bent, soft_slope(at, HOUR_TAIL), 1.0),
        )


def _solve(
    parts: Thermal, days: Sequence[LoggedDay], start: NDArray[np.float64] | None = None
) -> _Found:
    """Return the factors that fit best, from where a fit of other days ended."""
    problem = _Problem(parts, days)
    first = np.zeros(problem.size)
    if start is not None:
        first[: len(NAMES)] = start
    found = least_squares(
        lambda at: problem.rows(at).residual,
        first,
        jac=lambda at: problem.rows(at).slope,
        # Many narrow factors: MINPACK is quicker here than singular values.
        method="lm",
        xtol=1e-3,
        ftol=1e-4,
        max_nfev=40,
    )
    rows = problem.rows(found.x)
    covariance = _covariance(rows, days)[: len(NAMES), : len(NAMES)]
    spread = np.sqrt(np.diag(covariance))
    logs = [problem.logs(found.x, i) for i in range(len(days))]
    lights = [day_light(day, one, hours) for day, (_, one, hours) in zip(days, logs, strict=True)]
    return _Found(
        at=found.x,
        spread=np.sqrt((spread * _priors()) ** 2 + MODEL_SPREAD**2 + _unseen(days, lights) ** 2),
        correlation=covariance / np.outer(spread, spread),
        day_light=tuple(lights),
        off_k=[miss.off_k for miss in rows.misses],
    )


def _unseen(days: Sequence[LoggedDay], lights: Sequence[float]) -> NDArray[np.float64]:
    """Return what clouds that nobody told of may have hidden in loss and light.

    On days taken as clear, as much light as the fit finds missing may be missing once more.
    """
    share = [float(day.only_dimmer.mean()) if day.only_dimmer.size else 0.0 for day in days]
    missing = [max(0.0, 1.0 - light) for light in lights]
    all_day = UNSEEN_SPREAD * float(np.mean(share)) / sqrt(len(days))
    return float(np.hypot(all_day, np.dot(share, missing) / len(days))) * np.array([1.0, 1.0, 0.0])


def _covariance(rows: _Rows, days: Sequence[LoggedDay]) -> NDArray[np.float64]:
    """Return what is left open, in prior spreads, the readings told to say less as they miss."""
    of_readings, of_priors = rows.slope[: rows.readings], rows.slope[rows.readings :]
    worse = worsening([one.off_k for one in rows.misses], [day.at_step for day in days])
    return np.asarray(np.linalg.inv(of_readings.T @ of_readings / worse + of_priors.T @ of_priors))


def _left_out(parts: Thermal, days: Sequence[LoggedDay], whole: _Found) -> tuple[float, float]:
    """Return the median distance on a day, as built and foretold from other days.  [K]"""
    built, told = [], []
    folds = min(FOLDS, len(days))
    for fold in range(folds):
        others = [day for i, day in enumerate(days) if i % folds != fold]
        learned = _solve(parts, others, start=whole.at[: len(NAMES)]).learned
        for day in days[fold::folds]:
            built.append(np.abs(foretold_c(parts, day, Learned()) - day.read_c))
            told.append(np.abs(foretold_c(parts, day, learned) - day.read_c))
    return float(np.median(np.concatenate(built))), float(np.median(np.concatenate(told)))


def _priors() -> NDArray[np.float64]:
    return np.array([PRIOR_SPREAD[name] for name in NAMES])


def _rms(off_k: Sequence[NDArray[np.float64]]) -> float:
    return float(np.sqrt(np.mean(np.concatenate(list(off_k)) ** 2)))
