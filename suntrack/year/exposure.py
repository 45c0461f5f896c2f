"""The box set out on many days: covered until the cook is there, then turned through the day.

Nobody turns a box while nobody is there: an aim is for the middle of the stretch until the
cook comes back, as the half-hour habit aims half an interval ahead.
"""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date, datetime, time, timedelta
from typing import TYPE_CHECKING

import numpy as np

from suntrack.box.heat.convection import swinbank_sky_c
from suntrack.box.heat.network import Thermal, thermal
from suntrack.box.heat.simulate import Climate, simulate
from suntrack.box.heat.structs import PotCharge
from suntrack.box.light.gain import BoxLight, box_light
from suntrack.box.light.mirror_setting import mirrors_set_deg
from suntrack.plan.rays import Rays, site_rays

if TYPE_CHECKING:
    from collections.abc import Sequence
    from zoneinfo import ZoneInfo

    from numpy.typing import NDArray

    from suntrack.box.build import Box
    from suntrack.sky.site import Site
    from suntrack.sky.year import YearSky


GRAIN_S = 600.0
"""The box goes out, and dishes go in, on these marks, as in a plan.  [s]"""
STRIDE_S = 150.0
"""Longest stride of a simulated step here: one dish within 0.25 K of strides of 30 s, three
within 0.6 K, in a third of the time (measured on 365 clear days).  [s]"""

Hours = tuple[tuple[time, time], ...]
"""When the cook is there, as in the config; empty for always."""


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Exposure:
    """One box out on many days; arrays of shape (days, steps) unless said otherwise."""

    dates: tuple[date, ...]
    """The days."""
    zone: ZoneInfo
    """Whose clock they are told by."""
    thermal: Thermal
    """The box as conductances and stores."""
    light: BoxLight
    """What it takes in, step by step on each day."""
    climate: Climate
    """The air around it."""
    there: NDArray[np.bool_]
    """True for steps in which the cook is at home and the box is out."""
    starts_s: NDArray[np.float64]
    """Start of the first step, seconds since 1970 UTC, shape (days,).  [s]"""
    step_s: float
    """Length of a step.  [s]"""

    @property
    def steps(self) -> int:
        """How many steps a day has here."""
        return int(self.there.shape[1])

    def step_of(self, at: time) -> NDArray[np.intp]:
        """Return the step that covers a time on the clock, kept within each day, (days,)."""
        since_s = _clock_s(self.dates, at, self.zone) - self.starts_s
        return np.clip(np.floor(since_s / self.step_s), 0, self.steps).astype(np.intp)

    def cores(
        self,
        rows: NDArray[np.intp],
        load: NDArray[np.intp],
        *,
        pots: Sequence[PotCharge],
        pull: NDArray[np.intp],
    ) -> NDArray[np.float64]:
        """Return cores, (runs, pots, steps + 1), up to a step after the last pull.  [C]

        Parameters
        ----------
        rows : ndarray of int, shape (runs,)
            Which day each run is of.
        load, pull : ndarray of int, shape (runs, pots)
            When each pot goes in and comes out.  [step]
        pots : sequence of PotCharge
        """
        last = min(int(pull.max(initial=0)) + 1, self.steps)
        pick = np.s_[rows, :last]
        return simulate(
            self.thermal,
            light=self.light.taken(pick),
            climate=Climate(
                air_c=self.climate.air_c[pick],
                sky_c=self.climate.sky_c[pick],
                wind_m_s=self.climate.wind_m_s[pick],
            ),
            pots=tuple(pots),
            load_step=load,
            pull_step=pull,
            step_s=self.step_s,
            start_c=self.climate.air_c[rows, 0],
            longest_s=STRIDE_S,
        ).core_c


def outing(box: Box, site: Site, sky: YearSky, *, free: Hours = ()) -> Exposure:
    """Return a box out on the days of a year.

    Parameters
    ----------
    box, site : Box, Site
    sky : YearSky
        Any days.
    free : sequence of (time, time)
        When the cook is there on every day, midnight as an end being the next one; empty for
        always.

    Returns
    -------
    outing : Outing
        It goes out, as a plan has it, when the sun has cleared the skyline and 5 degrees and
        the cook is there; before that it is covered and as warm as the air is then.  It is
        turned every half hour for as long as the cook is there.
    """
    window = sunny_window(sky)
    height_deg, azimuth_deg = sky.elevation_deg[:, window], sky.azimuth_deg[:, window]
    starts_s = sky.starts_s + sky.step_s * window.start
    at_s = starts_s[:, None] + sky.step_s * np.arange(height_deg.shape[1])
    home = _home(at_s, sky.dates, site.zone, free)
    up = height_deg > np.maximum(site.skyline.height_at(azimuth_deg), LEAST_SUN_DEG)
    out = _out_step(up & home, every=max(1, round(GRAIN_S / sky.step_s)))
    waits = np.arange(height_deg.shape[1]) < out[:, None]
    held = _held(home, out, _last(up), every=max(1, round(TURN_S / sky.step_s)))
    rows = np.arange(len(sky.dates))[:, None]
    light = box_light(
        box,
        **rays_of_year(site, sky, (slice(None), window)),
        face_deg=azimuth_deg[rows, held],
        mirror_deg=mirrors_through_deg(box, height_deg, held, lit=up & ~waits),
    )
    return Exposure(
        dates=sky.dates,
        zone=site.zone,
        thermal=thermal(box),
        light=light.masked((~waits).astype(np.float64)),
        climate=_climate(sky, window, waits, out),
        there=home & ~waits,
        starts_s=starts_s,
        step_s=sky.step_s,
    )


def _clock_s(dates: Sequence[date], at: time, zone: ZoneInfo) -> NDArray[np.float64]:
    """Return a time on the clock on each date, seconds since 1970 UTC.  [s]"""
    return np.array([datetime.combine(on, at, tzinfo=zone).timestamp() for on in dates])


def _home(
    at_s: NDArray[np.float64], dates: Sequence[date], zone: ZoneInfo, free: Hours
) -> NDArray[np.bool_]:
    """Return the steps, (days, steps), in which the cook is at home."""
    if not free:
        return np.ones(at_s.shape, bool)
    home = np.zeros(at_s.shape, bool)
    for starts, ends in free:
        later = timedelta(days=ends == time(0))
        first_s = _clock_s(dates, starts, zone)
        last_s = _clock_s([on + later for on in dates], ends, zone)
        home |= (at_s >= first_s[:, None]) & (at_s < last_s[:, None])
    return home


def _out_step(may: NDArray[np.bool_], *, every: int) -> NDArray[np.intp]:
    """Return the step at which the box goes out, on a mark, (days,); past the end for never."""
    first = np.where(may.any(axis=1), may.argmax(axis=1), may.shape[1])
    return np.asarray(first - np.where(first < may.shape[1], first % every, 0), np.intp)


def _last(up: NDArray[np.bool_]) -> NDArray[np.intp]:
    """Return the last step with sun, (days,); 0 for none."""
    return np.where(up.any(axis=1), up.shape[1] - 1 - up[:, ::-1].argmax(axis=1), 0)


def _held(
    home: NDArray[np.bool_], out: NDArray[np.intp], sets: NDArray[np.intp], *, every: int
) -> NDArray[np.intp]:
    """Return the step whose sun the box faces in each step, (days, steps)."""
    place = np.arange(home.shape[1])
    turned = (home & (place % every == 0)) | (place == out[:, None])
    begun = np.maximum.accumulate(np.where(turned, place, 0), axis=1)
    coming = np.where(turned, place, place.size)
    coming = np.minimum.accumulate(coming[:, ::-1], axis=1)[:, ::-1]
    ends = np.append(coming[:, 1:], np.full((len(home), 1), place.size), axis=1)
    return np.asarray(
        (begun + np.minimum(ends, np.maximum(sets[:, None], begun + 1))) // 2, np.intp
    )


def mirrors_through_deg(
    box: Box, height_deg: NDArray[np.float64], held: NDArray[np.intp], *, lit: NDArray[np.bool_]
) -> NDArray[np.float64]:
    """Return the mirror of each step, (days, steps).

    Parameters
    ----------
    box : Box
    height_deg : ndarray, shape (days, steps)
        Of the sun.  [deg]
    held : ndarray of int, shape (days, steps)
        The step whose sun is faced in each step.
    lit : ndarray of bool, shape (days, steps)
        With sun, and the box out: a mirror that is set once a day is set for the mean of these.
    """
    faced_deg = np.take_along_axis(height_deg, held, axis=1)
    if box.mirror is not None and box.mirror.once_a_day:
        mean_deg = np.where(lit, height_deg, 0.0).sum(axis=1) / np.maximum(lit.sum(axis=1), 1)
        faced_deg = np.broadcast_to(mean_deg[:, None], height_deg.shape)
    return mirrors_set_deg(box, faced_deg)


def _climate(
    sky: YearSky, window: slice, waits: NDArray[np.bool_], out: NDArray[np.intp]
) -> Climate:
    """Return the air around the box; while it waits it stays as warm as it goes out."""
    air_c = sky.air_c[:, window]
    goes_out_c = np.take_along_axis(air_c, np.minimum(out, air_c.shape[1] - 1)[:, None], axis=1)
    air_c = np.where(waits, goes_out_c, air_c)
    sky_c = np.where(waits, air_c, np.asarray(swinbank_sky_c(air_c)))
    return Climate(air_c=air_c, sky_c=sky_c, wind_m_s=sky.wind_m_s[:, window])


TURN_S = 1800.0
"""How often the box is turned (common practice, no source).  [s]"""
LEAST_SUN_DEG = 5.0
"""Sun height from which the box is out (our choice).  [deg]"""
AFTER_S = 5400.0
"""How far past the last sun of the year a day is followed.  [s]"""


def sunny_window(sky: YearSky) -> slice:
    """Return the steps of the day that have sun on any day, from a half hour on, and some after."""
    up = np.flatnonzero((sky.elevation_deg > LEAST_SUN_DEG).any(axis=0))
    if not up.size:
        return slice(0, sky.elevation_deg.shape[1])
    last = int(up[-1]) + 1 + round(AFTER_S / sky.step_s)
    first = int(up[0]) - int(up[0]) % max(1, round(TURN_S / sky.step_s))
    return slice(first, min(last, sky.elevation_deg.shape[1]))


def rays_of_year(site: Site, sky: YearSky, pick: tuple[slice | NDArray[np.bool_], ...]) -> Rays:
    """Return the rays of some days and steps."""
    return site_rays(
        site,
        at_s=sky.at_s[pick],
        sun_elevation_deg=sky.elevation_deg[pick],
        sun_azimuth_deg=sky.azimuth_deg[pick],
        beam_normal_w_m2=sky.beam_normal_w_m2[pick],
        diffuse_horizontal_w_m2=sky.diffuse_horizontal_w_m2[pick],
        global_horizontal_w_m2=sky.global_horizontal_w_m2[pick],
    )
