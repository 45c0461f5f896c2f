"""What a change to the box brings: heat, the time of the meal, days, and how weak the sun may be.

Each change is run through the same days as the box as it is: some of a year's, for days and
times; and a few clear ones under ever weaker sun, which tells changes apart even where every
day of the year is good.  The meals are judged as a planned day is (`suntrack.year.meal_days`);
where there are none, two litres of water stand for them.

Changes are counted under the usual sky and by the weakest sun.  Lost: a clear year, under which
nearly every change wins no day.
"""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime, time
from typing import TYPE_CHECKING

import numpy as np

from suntrack.bench.simulated_tests import standstill
from suntrack.bench.water_load import standard_pot
from suntrack.box.heat.network import thermal
from suntrack.box.light.gain import BoxLight
from suntrack.box.warnings import Peaks, too_hot
from suntrack.year.meal_days import meal_year
from suntrack.year.meal_pots import Cookbook, cookbook
from suntrack.year.season import EVENING, YearRun, by_meal, year_light, year_run

if TYPE_CHECKING:
    from collections.abc import Sequence

    from numpy.typing import NDArray

    from suntrack.box.build import Box, Pot
    from suntrack.box.warnings import TooHot
    from suntrack.sky.site import Site
    from suntrack.sky.year import YearSky
    from suntrack.year.exposure import Hours
    from suntrack.year.meal_pots import Meal
    from suntrack.year.usual_changes import Change

YEAR_DAYS = 365
SUNS = np.linspace(1.0, 0.3, 15)
"""Suns that the meals are tried under, as shares of the clear one.  [-]"""
TOO_WEAK = float(SUNS[0] + 0.05)
"""What a day counts on which not even the clear sun is enough.  [-]"""


@dataclass(frozen=True, slots=True, kw_only=True)
class Kitchen:
    """What is cooked in the box, and when somebody is there."""

    site: Site
    """Where the box stands."""
    pots: tuple[Pot, ...]
    """The cook's own."""
    meals: tuple[Meal, ...] = ()
    """None of them: two litres of water, in the largest pot that fits, by 18:00."""
    free: Hours = ()
    """When somebody is there."""
    threshold_c: float = 100.0
    """From what temperature the box cooks.  [C]"""
    hours: float = 2.0
    """A cooking day is one on which the empty box is above the threshold so long.  [h]"""


@dataclass(frozen=True, slots=True, kw_only=True)
class Gain:
    """What a change brings, against the box as it is."""

    words: str
    """The change, as the builder writes it."""
    hotter_k: float
    """Middle of the days: how much hotter the empty box gets.  [K]"""
    meal_sooner_min: float | None
    """Mean of the days on which both are good: how much sooner the first dish is ready, loaded
    as early as it comes good; None for no such day.  [min]"""
    more_meal_days: int
    """Days of the year gained on which the meals come good.  [days]"""
    weakest_sun: float | None
    """Then, see `Builder`.  [-]"""
    weaker_sun: float
    """How much weaker the sun may be than for the box as it is.  [-]"""
    fit: bool
    """False when a dish that goes into the box as it is no longer does, or not beside the others;
    then no day counts."""
    sooner_min: float | None
    """The same for two litres of water; None where they never get hot.  [min]"""
    more_days: int
    """Days of the year gained on which the empty box is hot enough.  [days]"""
    more_pot_days: int
    """Days of the year gained on which the two litres get hot.  [days]"""
    too_hot: tuple[TooHot, ...]
    """What then gets hotter than it should, in the strongest light of the year."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Builder:
    """The answer: the box as it is, and each change."""

    source: str
    """Whose sky it was."""
    sample: int
    """How many days of the year were run.  [days]"""
    peak_c: float
    """Hottest the box gets as it is.  [C]"""
    hot_days: int
    """Days on which it cooks as it is."""
    dishes: tuple[str, ...]
    """The dishes that go in; empty where two litres of water stand for them."""
    together: bool
    """True when they are judged together on one day; False where they have not all a pot, or
    room, on one day: each then has the box to itself, and a day counts when all would be good."""
    refused: tuple[tuple[str, str], ...]
    """The dishes that do not go into this box, and why."""
    meal_days: int
    """Days of the year on which they come good.  [days]"""
    ready: time | None
    """When the first dish is ready on a middling good day, loaded as early as it comes good, on
    the clock; None for never."""
    weakest_sun: float | None
    """The weakest sun under which the meals still come good, as a share of the clear one, in the
    mean of some clear days of the year; None for never.  [-]"""
    too_hot: tuple[TooHot, ...]
    """What gets too hot in it as it is."""
    gains: tuple[Gain, ...]
    """Every change, the best first."""


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class _Stand:
    """How one box stands: each array of shape (days,)."""

    run: YearRun
    """The empty box through the days."""
    good: NDArray[np.bool_]
    """Days good for all meals, shape (days,)."""
    ready_s: NDArray[np.float64]
    """When the first dish is ready where it is good, seconds since 1970 UTC; inf elsewhere."""
    weakest_sun: float
    """Share of a clear sun that is just enough.  [-]"""
    fit: bool
    """False when the dishes do not go in."""
    book: Cookbook
    """The meals it is judged by."""
    too_hot: tuple[TooHot, ...]
    """What gets hotter than it should."""

    @property
    def dishes(self) -> tuple[str, ...]:
        """The dishes that go in."""
        return tuple(self.book.meals[i].dish.name for i in self.book.going)


def weigh(
    box: Box, changes: Sequence[Change], *, kitchen: Kitchen, sky: YearSky, clear: YearSky
) -> Builder:
    """Return what each change brings.

    Parameters
    ----------
    box, changes : Box, sequence of Change
        The box as it is, and what it could be.
    kitchen : Kitchen
    sky : YearSky
        A whole year, or a sample of its days.
    clear : YearSky
        Some clear days at the same site, spread over the year.

    Returns
    -------
    builder : Builder
        The gains ranked by days of the meals, then by how weak the sun may be, then time, then
        heat.
    """
    now = _stand(box, kitchen, sky, clear)
    gains = [
        _gain(change.words, now, _stand(change.box, kitchen, sky, clear, needed=now), kitchen)
        for change in changes
    ]
    return Builder(
        source=sky.source,
        sample=len(sky.dates),
        peak_c=float(np.median(now.run.peak_c)),
        hot_days=_of_year(now.run.hours_above >= kitchen.hours),
        dishes=now.dishes,
        together=now.book.all_fit,
        refused=tuple(
            (meal.dish.name, reason)
            for meal, reason in zip(now.book.meals, now.book.refused, strict=True)
            if reason
        ),
        meal_days=_of_year(now.good),
        ready=_middling(now.ready_s, kitchen.site),
        weakest_sun=_told(now.weakest_sun),
        too_hot=now.too_hot,
        gains=tuple(sorted(gains, key=_rank, reverse=True)),
    )


def _stand(
    box: Box, kitchen: Kitchen, sky: YearSky, clear: YearSky, *, needed: _Stand | None = None
) -> _Stand:
    """Return how a box stands; `needed` is the box whose dishes it has to take."""
    site = kitchen.site
    pot = standard_pot(kitchen.pots, box=box, elevation_m=site.elevation_m)
    run = year_run(box, site, sky, pot=pot, threshold_c=kitchen.threshold_c)
    book = cookbook(kitchen.meals, box=box, pots=kitchen.pots, site=site)
    wanted = book if needed is None else needed.book
    suns = clear.dimmed(SUNS)
    if wanted.going:
        fit = book.going == wanted.going and (book.all_fit or not wanted.all_fit)
        together = wanted.all_fit
        good, ready_s = _meals(box, kitchen, sky, book, together=together)
        sunny, _ = _meals(box, kitchen, suns, book, together=together)
    else:
        good, ready_s, fit = by_meal(run, EVENING, site), run.ready_s, pot is not None
        dim = year_run(box, site, suns, pot=pot, threshold_c=kitchen.threshold_c)
        sunny = by_meal(dim, EVENING, site)
    return _Stand(
        run=run,
        good=good & fit,
        ready_s=ready_s,
        weakest_sun=_weakest((sunny & fit).reshape(SUNS.size, -1)),
        fit=fit,
        book=book,
        too_hot=parts_too_hot(box, site, (sky, clear)),
    )


def _meals(
    box: Box, kitchen: Kitchen, sky: YearSky, book: Cookbook, *, together: bool
) -> tuple[NDArray[np.bool_], NDArray[np.float64]]:
    """Return on which days the meals come good, and when the first dish is ready.  [-], [s]"""
    going = list(book.going)
    if not going:
        return np.zeros(len(sky.dates), bool), np.full(len(sky.dates), np.inf)
    run = meal_year(box, kitchen.site, sky, book=book, free=kitchen.free)
    good = run.together if together else np.asarray(run.good[going].all(axis=0))
    return good, run.ready_s[going[0]]


def _weakest(good: NDArray[np.bool_]) -> float:
    """Return the weakest sun, in the mean of days; good by suns and days, (suns, days).  [-]"""
    so_far = np.logical_and.accumulate(good, axis=0).sum(axis=0)
    return float(np.append(TOO_WEAK, SUNS)[so_far].mean())


def _told(weakest_sun: float) -> float | None:
    """Return a weakest sun that is one; None where the clear sun is not enough.  [-]"""
    return weakest_sun if weakest_sun < TOO_WEAK else None


def _middling(ready_s: NDArray[np.float64], site: Site) -> time | None:
    """Return the middle time on the clock, over the days on which there is one."""
    clocks = [datetime.fromtimestamp(at_s, tz=site.zone) for at_s in ready_s[np.isfinite(ready_s)]]
    if not clocks:
        return None
    minutes = int(np.median([at.hour * 60 + at.minute for at in clocks]))
    return time(minutes // 60, minutes % 60)


def _rank(gain: Gain) -> tuple[bool, float, float, float, float]:
    sooner = -np.inf if gain.meal_sooner_min is None else gain.meal_sooner_min
    return gain.fit, gain.more_meal_days, round(gain.weaker_sun, 6), sooner, gain.hotter_k


def _gain(words: str, now: _Stand, then: _Stand, kitchen: Kitchen) -> Gain:
    hot_days = [_of_year(one.run.hours_above >= kitchen.hours) for one in (now, then)]
    pot_days = [_of_year(np.isfinite(one.run.ready_s)) for one in (now, then)]
    return Gain(
        words=words,
        hotter_k=float(np.median(then.run.peak_c - now.run.peak_c)),
        meal_sooner_min=_sooner_min(now.ready_s, then.ready_s) if then.fit else None,
        more_meal_days=_of_year(then.good) - _of_year(now.good),
        weakest_sun=_told(then.weakest_sun),
        weaker_sun=now.weakest_sun - then.weakest_sun,
        fit=then.fit,
        sooner_min=_sooner_min(now.run.ready_s, then.run.ready_s),
        more_days=hot_days[1] - hot_days[0],
        more_pot_days=pot_days[1] - pot_days[0],
        too_hot=then.too_hot,
    )


def _sooner_min(now_s: NDArray[np.float64], then_s: NDArray[np.float64]) -> float | None:
    """Return how much sooner, in the mean of the days on which both are; None for none.  [min]"""
    both = np.isfinite(now_s) & np.isfinite(then_s)
    return float(np.mean(now_s[both] - then_s[both])) / 60.0 if both.any() else None


def _of_year(good: NDArray[np.bool_]) -> int:
    """Return how many days of a year a sample stands for."""
    return round(YEAR_DAYS * float(np.mean(good)))


def parts_too_hot(box: Box, site: Site, skies: Sequence[YearSky]) -> tuple[TooHot, ...]:
    """Return what gets too hot in the strongest light of some days, held, in still air."""
    moments = [_strongest(box, site, sky) for sky in skies]
    moment, outdoors_c = max(moments, key=lambda one: float(one[0].inside_w))
    still = standstill(thermal(box), light=moment, air_c=outdoors_c, wind_m_s=0.0)
    peaks = Peaks(
        lining_c=still.lining_c,
        top_glass_c=still.top_panes_c[0],
        front_glass_c=still.front_panes_c[0] if still.front_panes_c else None,
        air_c=outdoors_c,
    )
    return too_hot(box, peaks=peaks)


def _strongest(box: Box, site: Site, sky: YearSky) -> tuple[BoxLight, float]:
    """Return the moment of the strongest light, and the air then.  [-], [C]"""
    light, air_c = year_light(box, site, sky)
    flat = np.unravel_index(int(light.inside_w.argmax()), light.inside_w.shape)
    moment = BoxLight(
        inside_w=light.inside_w[flat],
        top_panes_w=light.top_panes_w[flat],
        front_panes_w=light.front_panes_w[flat],
        top_w=light.top_w[flat],
        front_w=light.front_w[flat],
        mirror_w=light.mirror_w[flat],
    )
    return moment, float(air_c[flat])
