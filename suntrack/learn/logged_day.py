"""A day that was logged, put together for learning: sky, aims, pots, readings.

The sky is what the plans of that day told of it, or else the clear one.  Each day and each
hour gets a light of its own in the fit, and a day taken as clear that then turns out dull is
left out (`suntrack.learn.calibration`).  How far the light of each hour may have been another
than it is taken to be is reckoned here too.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from suntrack.box.heat.convection import swinbank_sky_c
from suntrack.box.heat.simulate import Climate
from suntrack.box.light.gain import box_light
from suntrack.box.light.mirror_setting import mirrors_set_deg, set_mirror_deg
from suntrack.box.residuals import LoggedDay
from suntrack.sky.clear_sky import extraterrestrial_w_m2
from suntrack.sky.error_quantiles import DARKEST, measured_departures

if TYPE_CHECKING:
    from collections.abc import Sequence
    from datetime import datetime

    from numpy.typing import NDArray

    from suntrack.box.build import Box
    from suntrack.box.heat.structs import PotCharge
    from suntrack.plan.inputs import ObservedAim, ObservedReading
    from suntrack.sky.site import Site
    from suntrack.sky.sun import SunTable
    from suntrack.sky.weather import Weather


BEFORE_S = 3600.0
"""Where no aim was noted, the box is taken as set out so long before it was first read, in the
sun (our choice).  [s]"""
HABIT_S = 1800.0
"""And as turned to the sun so often (common practice, no source).  [s]"""
LEAST_SUN_DEG = 5.0
"""Sun height below which nobody sets a box out (our choice).  [deg]"""


@dataclass(frozen=True, slots=True, kw_only=True)
class PotStay:
    """One pot that was in the box."""

    charge: PotCharge
    """The pot with its food."""
    loaded_at: datetime
    """When it went in."""
    pulled_at: datetime | None
    """None when nobody noted it; it is then taken as inside to the end of the log."""


def logged_day(
    box: Box,
    site: Site,
    *,
    sun: SunTable,
    weather: Weather,
    readings: Sequence[ObservedReading],
    aims: Sequence[ObservedAim] = (),
    pots: Sequence[PotStay] = (),
    index: NDArray[np.float64] | None = None,
) -> LoggedDay:
    """Return a logged day as the fit takes it.

    Parameters
    ----------
    box : Box
        As built; what was learned before must be taken out of it first.  [-]
    site : Site
    sun, weather : SunTable, Weather
        The local day, at the middle of equal steps; the first sky counts.
    readings : sequence of HeardReading
        At least one, in order of time.
    aims : sequence of HeardAim
        In order of time; none for a box that was turned to the sun.
    pots : sequence of PotStay
        What was in it.
    index : ndarray, optional
        Clear-sky index that was told for each step of the day, nan where nothing was; None
        for a day of which nothing was told.  [-]

    Returns
    -------
    day : LoggedDay
        From the first aim, load or reading to the last reading.
    """
    first, last = _span(sun, weather, readings, aims, pots)
    steps = slice(first, last)
    face_deg, mirror_deg, lit = _aimed(box, sun, weather, aims, steps)
    light = box_light(
        box,
        sun_elevation_deg=sun.elevation_deg[steps],
        sun_azimuth_deg=sun.azimuth_deg[steps],
        beam_normal_w_m2=weather.beam_normal_w_m2[0, steps],
        diffuse_horizontal_w_m2=weather.diffuse_horizontal_w_m2[0, steps],
        global_horizontal_w_m2=weather.global_horizontal_w_m2[0, steps],
        extraterrestrial_normal_w_m2=extraterrestrial_w_m2(sun.at_s[steps]),
        face_deg=face_deg,
        mirror_deg=mirror_deg,
        albedo=site.albedo,
        skyline_height_deg=site.skyline.height_at(sun.azimuth_deg[steps]),
        sky_share=site.skyline.sky_share(),
    )
    air_c = weather.air_c[:1, steps]
    let_in = light.masked(lit)
    told = np.full(weather.at_s.size, np.nan) if index is None else index
    doubt = light_doubt(let_in.inside_w, told[steps], step_s=weather.step_s)
    starts_s = float(weather.at_s[first])
    places = [(reading.at.timestamp() - starts_s) / weather.step_s for reading in readings]
    return LoggedDay(
        light=let_in,
        climate=Climate(
            air_c=air_c,
            sky_c=np.asarray(swinbank_sky_c(air_c)),
            wind_m_s=weather.wind_m_s[:1, steps],
        ),
        step_s=weather.step_s,
        start_c=float(air_c[0, 0]),
        at_step=np.clip(np.array(places), 0.0, last - first),
        read_c=np.array([reading.box_c for reading in readings]),
        pots=tuple(stay.charge for stay in pots),
        load_step=np.array([_step(weather, stay.loaded_at) - first for stay in pots], np.intp),
        pull_step=np.array(
            [
                (last if stay.pulled_at is None else _step(weather, stay.pulled_at)) - first
                for stay in pots
            ],
            np.intp,
        ),
        hour=doubt.hour,
        hour_spread=doubt.spread,
        only_dimmer=doubt.only_dimmer,
    )


def _step(weather: Weather, at: datetime) -> int:
    """Return the step that covers an instant, kept within the day."""
    step = int((at.timestamp() - weather.at_s[0]) / weather.step_s)
    return min(max(step, 0), weather.at_s.size)


def _span(
    sun: SunTable,
    weather: Weather,
    readings: Sequence[ObservedReading],
    aims: Sequence[ObservedAim],
    pots: Sequence[PotStay],
) -> tuple[int, int]:
    """Return the steps from which and to which the day is followed."""
    known = [*(aim.at for aim in aims), *(stay.loaded_at for stay in pots)]
    first = min(_step(weather, at) for at in [readings[0].at, *known])
    if not aims:
        up = np.flatnonzero(sun.elevation_deg > LEAST_SUN_DEG)
        early = first - round(BEFORE_S / weather.step_s)
        first = min(first, max(early, int(up[0]) if up.size else 0))
    last = _step(weather, readings[-1].at) + 1
    return first, max(min(last, weather.at_s.size), first + 1)


def _aimed(
    box: Box, sun: SunTable, weather: Weather, aims: Sequence[ObservedAim], steps: slice
) -> tuple[NDArray[np.float64], NDArray[np.float64], NDArray[np.float64]]:
    """Return face and mirror of each step, and 0 where the box was still covered."""
    count = steps.stop - steps.start
    if not aims:
        # Half an interval ahead of the sun, as the habit has it.
        every = max(1, round(HABIT_S / weather.step_s))
        place = np.arange(steps.start, steps.stop)
        held = np.minimum(place - place % every + every // 2, sun.at_s.size - 1)
        heights_deg = sun.elevation_deg[held]
        return sun.azimuth_deg[held], mirrors_set_deg(box, heights_deg), np.ones(count)
    starts = [_step(weather, aim.at) for aim in aims]
    which = np.searchsorted(starts, np.arange(steps.start, steps.stop), side="right") - 1
    faces_deg = np.array([aim.face_true_deg for aim in aims])
    set_deg = [
        aim.mirror_deg if aim.mirror_deg is not None else _mirror_at(box, sun, start)
        for aim, start in zip(aims, starts, strict=True)
    ]
    row = np.maximum(which, 0)
    return faces_deg[row], np.array(set_deg)[row], (which >= 0).astype(np.float64)


def _mirror_at(box: Box, sun: SunTable, step: int) -> float:
    """Return the best mirror for the sun of a step; a placeholder without one."""
    height_deg = float(sun.elevation_deg[min(step, sun.at_s.size - 1)])
    best_deg = set_mirror_deg(box, elevation_deg=max(height_deg, 0.0))
    return 90.0 if best_deg is None else best_deg


HOUR_S = 3600.0
CLEAR_SPREAD = 0.05
"""Of the logarithm, for an hour that is taken as clear because nothing else is known; clouds
are in its tail, on the dark side alone (our choice).  [-]"""
TOLD_SHARE = 0.2
"""For an hour that was told, the share of the measured departure from "as yesterday": the
core of what forecasts miss by, the rest is in the tails.  Of 0.2, 0.3 and 0.55, with and
without tails, this foretold new days best: boxes made up under skies measured at NREL SRRL,
summer 2012, hours told with errors.  [-]"""
DARK = 0.01
"""An hour with less than this share of the brightest one's light has no factor.  [-]"""


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class LightUncertainty:
    """The hours of a day, as `suntrack.box.residuals.LoggedDay` has them."""

    hour: NDArray[np.intp]
    """Which hour each step belongs to, -1 for none, shape (steps,)."""
    spread: NDArray[np.float64]
    """Of the logarithm of each hour's light, shape (hours,).  [-]"""
    only_dimmer: NDArray[np.bool_]
    """True where the hour is taken as clear, shape (hours,)."""


def light_doubt(
    light_w: NDArray[np.float64], index: NDArray[np.float64], *, step_s: float
) -> LightUncertainty:
    """Return how far the light of each hour is to be doubted.

    Parameters
    ----------
    light_w : ndarray, shape (steps,)
        Light in the box.  [W]
    index : ndarray, shape (steps,)
        Clear-sky index that was told; nan where nothing was.  [-]
    step_s : float
        Length of a step.  [s]
    """
    row = np.arange(light_w.size) // max(1, round(HOUR_S / step_s))
    sums = np.bincount(row, weights=light_w)
    lit = sums > DARK * sums.max(initial=0.0)
    told = np.array([_mean_known(index[row == hour]) for hour in np.flatnonzero(lit)])
    return LightUncertainty(
        hour=np.where(lit[row], np.cumsum(lit)[row] - 1, -1),
        spread=np.where(np.isnan(told), CLEAR_SPREAD, told_spread(told)),
        only_dimmer=np.isnan(told),
    )


def told_spread(index: NDArray[np.float64]) -> NDArray[np.float64]:
    """Return how far light that was told may be off, of its logarithm; nan stays nan.  [-]"""
    low, high = measured_departures().at(index[:, None], np.array([-1.0, 1.0])).T
    spread = TOLD_SHARE * (high - low) / 2.0 / np.maximum(index, 2.0 * DARKEST)
    return np.where(np.isnan(index), np.nan, spread)


def _mean_known(values: NDArray[np.float64]) -> float:
    known = values[~np.isnan(values)]
    return float(known.mean()) if known.size else np.nan
