"""A box through a year: on how many days of each month it cooks, and how to set it.

All days are simulated in one batch, the box turned to the sun every half hour and its
mirror set each time.  What counts as a cooking day is plain on purpose: hours of the empty
box above the threshold, and when a pot of two litres of water set out in the morning is hot.
The cook's own meals are judged as a plan judges them (`suntrack.year.meal_days`).
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from datetime import date, datetime, time
from typing import TYPE_CHECKING

import numpy as np

from suntrack.bench.hinge import mirror_angles_deg
from suntrack.box.heat.convection import swinbank_sky_c
from suntrack.box.heat.network import thermal
from suntrack.box.heat.simulate import Climate, simulate
from suntrack.box.heat.structs import PotCharge
from suntrack.box.light.fixed_mirror import FixedMirror, best_fixed, mirror_table
from suntrack.box.light.gain import BoxLight, box_light
from suntrack.box.light.mirror_setting import mirrors_set_deg
from suntrack.plan.window import longest_above
from suntrack.year.exposure import (
    LEAST_SUN_DEG,
    TURN_S,
    mirrors_through_deg,
    rays_of_year,
    sunny_window,
)
from suntrack.year.meal_days import meal_year
from suntrack.year.meal_season import MealSeason, meal_season

if TYPE_CHECKING:
    from numpy.typing import NDArray

    from suntrack.box.build import Box
    from suntrack.box.light.fixed_mirror import FixedMirror
    from suntrack.plan.rays import Rays
    from suntrack.sky.site import Site
    from suntrack.sky.year import YearSky
    from suntrack.year.exposure import Hours
    from suntrack.year.meal_pots import Cookbook


HOT_WATER_C = 85.0
"""The mark of slow cookers, 185 F (New Mexico State University extension, Quay County, 2016);
the pot is ready once its water has been there for half an hour (our choice).  [C]"""
HELD_S = 1800.0
NOON, EVENING = time(12, 30), time(18, 0)
"""The meals of the standard pot, by the clock at the site (our choice)."""
WALK_S = 60.0


@dataclass(frozen=True, slots=True, kw_only=True)
class Month:
    """One month of the year."""

    month: int
    """1 to 12."""
    days: int
    """Days of it that were run."""
    hot_days: int
    """Days on which the empty box is above the threshold for long enough."""
    noon_days: int
    """Days on which the standard pot is ready by the noon meal."""
    evening_days: int
    """The same by the evening meal."""
    peak_c: float
    """Middle of the days' hottest empty box.  [C]"""
    mirror: FixedMirror | None
    """Best angle to leave alone all month; None without a mirror."""
    tilt_deg: float
    """Tilt of the whole box that takes in most light, the mirror set all the time.  [deg]"""
    tilt_gain: float
    """Light at this tilt against the tilt as built.  [-]"""


@dataclass(frozen=True, slots=True, kw_only=True)
class Season:
    """The year of a box at a place."""

    source: str
    """Whose sky it was."""
    threshold_c: float
    """From what temperature the box cooks.  [C]"""
    hours: float
    """How long the empty box has to be above it.  [h]"""
    months: tuple[Month, ...]
    """January first."""
    first: date | None
    """First day of the year on which the box cooks; None for never."""
    last: date | None
    """The last cooking day; None for none."""
    meals: MealSeason | None = None
    """The cook's meals; None without any."""

    @property
    def hot_days(self) -> int:
        """Cooking days of the year."""
        return sum(month.hot_days for month in self.months)


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class YearRun:
    """Every day of a year, simulated: shape (days,)."""

    dates: tuple[date, ...]
    """The days."""
    hours_above: NDArray[np.float64]
    """Longest stretch of the empty box above the threshold.  [h]"""
    peak_c: NDArray[np.float64]
    """Hottest of the empty box, shape (days,).  [C]"""
    ready_s: NDArray[np.float64]
    """When the standard pot is ready, seconds since 1970 UTC; inf for never.  [s]"""


def year_run(
    box: Box, site: Site, sky: YearSky, *, pot: PotCharge | None, threshold_c: float
) -> YearRun:
    """Return what every day makes of the empty box and of the standard pot.

    Parameters
    ----------
    box, site : Box, Site
    sky : YearSky
        Any number of days.
    pot : PotCharge or None
        The standard pot, put in when the box is set out; None where no pot fits.
    threshold_c : float
        Of the empty box.  [C]
    """
    window = sunny_window(sky)
    light, out = _light(box, site, sky, window)
    air_c = sky.air_c[:, window]
    climate = Climate(
        air_c=air_c, sky_c=np.asarray(swinbank_sky_c(air_c)), wind_m_s=sky.wind_m_s[:, window]
    )
    parts, start_c = thermal(box), air_c[:, 0]
    empty = simulate(
        parts, light=light, climate=climate, step_s=sky.step_s, start_c=start_c, longest_s=WALK_S
    )
    ready_s = np.full(len(sky.dates), np.inf)
    if pot is not None:
        loaded = simulate(
            parts,
            light=light,
            climate=climate,
            pots=(pot,),
            load_step=out[:, None],
            step_s=sky.step_s,
            start_c=start_c,
            longest_s=WALK_S,
        )
        starts_s = sky.starts_s + sky.step_s * window.start
        ready_s = starts_s + sky.step_s * _ready_step(loaded.core_c[:, 0], out, step_s=sky.step_s)
    return YearRun(
        dates=sky.dates,
        hours_above=np.asarray(
            longest_above(empty.oven_c, threshold_c) * (sky.step_s / 3600.0), np.float64
        ),
        peak_c=empty.oven_c.max(axis=1),
        ready_s=ready_s,
    )


def year_light(box: Box, site: Site, sky: YearSky) -> tuple[BoxLight, NDArray[np.float64]]:
    """Return the light of the days of a year and the air outdoors, shape (days, steps)."""
    window = sunny_window(sky)
    light, _ = _light(box, site, sky, window)
    return light, sky.air_c[:, window]


def _light(box: Box, site: Site, sky: YearSky, window: slice) -> tuple[BoxLight, NDArray[np.intp]]:
    """Return the light of every step, and the step at which the box is set out."""
    height_deg, azimuth_deg = sky.elevation_deg[:, window], sky.azimuth_deg[:, window]
    every = max(1, round(TURN_S / sky.step_s))
    place = np.arange(height_deg.shape[1])
    # Half an interval ahead of the sun, as the habit has it.
    held = np.minimum(place - place % every + every // 2, place[-1])
    up = height_deg > np.maximum(site.skyline.height_at(azimuth_deg), LEAST_SUN_DEG)
    light = box_light(
        box,
        **rays_of_year(site, sky, (slice(None), window)),
        face_deg=azimuth_deg[:, held],
        mirror_deg=mirrors_through_deg(
            box, height_deg, np.broadcast_to(held, height_deg.shape), lit=up
        ),
    )
    return light, np.where(up.any(axis=1), up.argmax(axis=1), place.size)


def _ready_step(
    water_c: NDArray[np.float64], out: NDArray[np.intp], *, step_s: float
) -> NDArray[np.float64]:
    """Return the step at which the water has been hot for half an hour; inf for never."""
    steps = round(HELD_S / step_s)
    hot = (water_c >= HOT_WATER_C) & (np.arange(water_c.shape[1]) >= out[:, None])
    so_far = np.cumsum(hot, axis=1)
    held = np.zeros_like(hot)
    held[:, steps:] = so_far[:, steps:] - so_far[:, :-steps] == steps
    return np.where(held.any(axis=1), held.argmax(axis=1), np.inf)


def season(
    box: Box,
    site: Site,
    sky: YearSky,
    *,
    pot: PotCharge | None,
    threshold_c: float,
    hours: float,
    book: Cookbook | None = None,
    free: Hours = (),
) -> Season:
    """Return the year of a box.

    Parameters
    ----------
    box, site : Box, Site
    sky : YearSky
        A whole year.
    pot : PotCharge or None
        The standard pot; None where no pot fits.
    threshold_c, hours : float
        A cooking day is one on which the empty box is above this for so long.  [C], [h]
    book : Cookbook, optional
        The cook's meals; None for the standard pot alone.
    free : sequence of (time, time)
        When the cook is there to turn and load; empty for always.
    """
    run = year_run(box, site, sky, pot=pot, threshold_c=threshold_c)
    hot = run.hours_above >= hours
    angles = angles_of(box, site, sky)
    days = [on for on, good in zip(run.dates, hot, strict=True) if good]
    return Season(
        source=sky.source,
        threshold_c=threshold_c,
        hours=hours,
        months=tuple(
            _month(number, run, hot, angles, site=site)
            for number in sorted({on.month for on in run.dates})
        ),
        first=days[0] if days else None,
        last=days[-1] if days else None,
        meals=None if book is None else _meals(box, site, sky, book=book, free=free),
    )


def _meals(box: Box, site: Site, sky: YearSky, *, book: Cookbook, free: Hours) -> MealSeason:
    """Return the year of the meals."""
    run = meal_year(box, site, sky, book=book, free=free)
    return meal_season(book, run, dates=sky.dates)


def by_meal(run: YearRun, meal: time, site: Site) -> NDArray[np.bool_]:
    """Return True for days on which the standard pot is ready by a meal on the clock."""
    meals = [datetime.combine(on, meal, tzinfo=site.zone).timestamp() for on in run.dates]
    return np.asarray(run.ready_s <= np.array(meals))


def _month(
    number: int, run: YearRun, hot: NDArray[np.bool_], angles: Angles, *, site: Site
) -> Month:
    """Return one month."""
    inside = np.array([on.month == number for on in run.dates])
    tilt_deg, gain = best_tilt(angles, inside[angles.day])
    return Month(
        month=number,
        days=int(inside.sum()),
        hot_days=int(hot[inside].sum()),
        noon_days=int(by_meal(run, NOON, site)[inside].sum()),
        evening_days=int(by_meal(run, EVENING, site)[inside].sum()),
        peak_c=float(np.median(run.peak_c[inside])),
        mirror=best_mirror(angles, inside[angles.day]),
        tilt_deg=tilt_deg,
        tilt_gain=gain,
    )


COARSE = 6
"""Angles are compared on every so many steps: half hours."""
MANY_DAYS = 180
"""From so many days on, one in three tells the angles of a month.  [days]"""
TILTS_DEG = np.arange(0.0, 46.0, 5.0)


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Angles:
    """Light of the sunny half hours of a year for every mirror angle and every tilt."""

    day: NDArray[np.intp]
    """Which day each half hour is of, shape (half hours,)."""
    mirrors_deg: NDArray[np.float64]
    """Empty without a mirror."""
    by_mirror_w: NDArray[np.float64]
    """Shape (mirrors, half hours)."""
    tilts_deg: NDArray[np.float64]
    """As built first."""
    by_tilt_w: NDArray[np.float64]
    """The mirror set all the time, shape (tilts, half hours)."""


def angles_of(box: Box, site: Site, sky: YearSky) -> Angles:
    """Return the light for every angle, the box turned to the sun."""
    some = np.arange(sky.elevation_deg.shape[1]) % COARSE == COARSE // 2
    sunny = (sky.elevation_deg > LEAST_SUN_DEG) & some
    if len(sky.dates) >= MANY_DAYS:
        sunny &= (np.arange(len(sky.dates)) % 3 == 1)[:, None]
    rays = rays_of_year(site, sky, (sunny,))
    tilts_deg = np.array([box.tilt_deg, *TILTS_DEG])
    tilted = [_taken_w(replace(box, tilt_deg=float(tilt)), rays) for tilt in tilts_deg]
    mirrors_deg, by_mirror_w = np.zeros(0), np.zeros((0, int(sunny.sum())))
    if box.mirror is not None:
        mirrors_deg = mirror_angles_deg(box.mirror)[::2]
        by_mirror_w = mirror_table(box, mirrors_deg=mirrors_deg, **rays)
    return Angles(
        day=np.nonzero(sunny)[0],
        mirrors_deg=mirrors_deg,
        by_mirror_w=by_mirror_w,
        tilts_deg=tilts_deg,
        by_tilt_w=np.array(tilted),
    )


def best_mirror(angles: Angles, inside: NDArray[np.bool_]) -> FixedMirror | None:
    """Return the one angle that keeps most light of a month; None without a mirror or sun."""
    if not angles.mirrors_deg.size or not inside.any():
        return None
    return best_fixed(angles.by_mirror_w[:, inside], mirrors_deg=angles.mirrors_deg)


def best_tilt(angles: Angles, inside: NDArray[np.bool_]) -> tuple[float, float]:
    """Return the tilt that takes in most light, and that light against the box as built."""
    taken = angles.by_tilt_w[:, inside].sum(axis=1)
    best = int(taken.argmax())
    return float(angles.tilts_deg[best]), float(taken[best] / taken[0]) if taken[0] > 0.0 else 1.0


def _taken_w(box: Box, rays: Rays) -> NDArray[np.float64]:
    """Return the light inside with the box turned to the sun and its mirror set.  [W]"""
    mirror_deg = mirrors_set_deg(box, np.asarray(rays["sun_elevation_deg"]))
    light = box_light(box, **rays, face_deg=rays["sun_azimuth_deg"], mirror_deg=mirror_deg)
    return np.asarray(light.inside_w)
