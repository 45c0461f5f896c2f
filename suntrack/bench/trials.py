"""Guided trials of a box in the sun: what to do when, and what the notes mean.

    empty    the empty box, turned every half hour: as hot as the model says?
    water    two litres of water from the morning on: hot enough to cook in?
    power    water weighed by the sun caught, noted every ten minutes: how many watts?

The last is in the style of ASAE S580.1, not a certified test: the sun's strength is that of
a clear sky, not measured.
"""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime
from typing import TYPE_CHECKING, Literal

import numpy as np

from suntrack.bench.simulated_tests import WATER_SPAN_C
from suntrack.bench.standard_tests import intercept_m2
from suntrack.box.build import Learned
from suntrack.box.heat.network import thermal
from suntrack.box.light.mirror_setting import set_mirror_deg
from suntrack.box.residuals import foretold_c
from suntrack.box.standard_figures import (
    POWER_LOAD_KG_M2,
    WATER_J_KGK,
    PowerLine,
    power_line,
    standard_power_w,
)
from suntrack.learn.logged_day import logged_day
from suntrack.plan.cautions import usual_cautions
from suntrack.plan.inputs import ObservedAim, ObservedReading
from suntrack.sky.bearing import to_compass_deg
from suntrack.sky.clear_sky import extraterrestrial_w_m2
from suntrack.sky.sun import position_at, sun_events
from suntrack.sky.surface import surface_light

if TYPE_CHECKING:
    from collections.abc import Sequence

    from numpy.typing import NDArray

    from suntrack.box.build import Box
    from suntrack.sky.site import Site
    from suntrack.sky.sun import SunTable
    from suntrack.sky.weather import Weather

TrialName = Literal["empty", "water", "power"]
Outcome = Literal["passed", "failed", "under way", "too few notes", "agrees", "differs", "measured"]

NAMES: tuple[TrialName, ...] = ("empty", "water", "power")
WATER_KG = 2.0
PASS_C = 85.0
"""A slow cooker half to two thirds full of tap water, eight hours on low, lid on, should then
read 185 F; less is not safe (New Mexico State University extension, Quay County, January
2016).  Ours: that a box in its day stands for a slow cooker, and that two litres do.  [C]"""
AT_END_MIN = 30.0
"""A note this near to the end tells what the water reads then (our choice).  [min]"""
EMPTY_H, WATER_H, POWER_H = (2.5, 2.0), (4.0, 4.0), (2.0, 2.0)
"""Hours before and after solar noon; S580 tests from 10 to 14 o'clock (from memory), the water
has eight hours as in a slow cooker.  [h]"""
TURN_MIN = 30
EVERY_MIN = {"empty": 30, "water": 60, "power": 10}
"""How often to note.  [min]"""
LEAST_SUN_DEG = 8.0
"""Sun height below which there is nothing to test (our choice).  [deg]"""
AGREES_K = 10.0
"""A model within this of a clear day's readings is good enough to plan with (our choice).  [K]"""
FEWEST = 3
"""Notes or intervals, fewer of which say nothing (our choice).  [-]"""
GAP_MIN = (8.0, 12.0)
"""Notes this far apart make an interval of S580.  [min]"""


@dataclass(frozen=True, slots=True, kw_only=True)
class TrialStep:
    """One thing to do."""

    at: datetime
    """When it is due."""
    kind: Literal["set out", "turn", "note", "end"]
    """What to do then."""
    face_true_deg: float | None = None
    """Where to face the box, from true north; None to leave it.  [deg]"""
    face_compass_deg: float | None = None
    """The same on a compass.  [deg]"""
    mirror_deg: float | None = None
    """Angle from the glass; None without a mirror.  [deg]"""
    side_mirrors_deg: float | None = None
    """Where the box is set out: the angle side mirrors are left at; None elsewhere.  [deg]"""
    noted: bool = False
    """True when a temperature is to be noted at this step too."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Trial:
    """One trial on one day."""

    name: TrialName
    """Which of the tests."""
    steps: tuple[TrialStep, ...]
    """What to do, in order of time."""
    water_kg: float | None
    """Water to weigh in; None for the empty box.  [kg]"""
    starts_at: datetime
    """When the box is set out."""
    ends_at: datetime
    """When the last temperature is read."""
    cautions: tuple[str, ...]
    """Names of the cautions that belong beside it."""


@dataclass(frozen=True, slots=True, kw_only=True)
class TrialNote:
    """One temperature that was noted."""

    at: datetime
    """When it was read."""
    read_c: float
    """What was read, air or water as the test asks.  [C]"""


@dataclass(frozen=True, slots=True, kw_only=True)
class TrialResult:
    """What the notes of a trial mean."""

    outcome: Outcome
    """Whether it tells anything, and if not why."""
    highest_c: float | None = None
    """The highest that was read; None without a note.  [C]"""
    off_k: float | None = None
    """Median of reading less model, over the notes of the empty box.  [K]"""
    line: PowerLine | None = None
    """The cooking power line; None where the test has none."""
    intervals: int = 0
    """How many intervals the line is drawn through."""


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class TrialDay:
    """Where and when: everything a trial is made from."""

    box: Box
    """The box that is tried."""
    site: Site
    """Where."""
    sun: SunTable
    """The sun's table of the day."""
    weather: Weather
    """Its sky and air."""
    declination_deg: float
    """How far a compass points east of true north.  [deg]"""


def trial_of(name: TrialName, day: TrialDay) -> Trial | None:
    """Return the trial of a day; None on a day whose sun stays too low."""
    good = np.flatnonzero(day.sun.elevation_deg > LEAST_SUN_DEG)
    if not good.size:
        return None
    noon_s = sun_events(day.sun).noon_at_s
    before_h, after_h = {"empty": EMPTY_H, "water": WATER_H, "power": POWER_H}[name]
    first_s = max(noon_s - 3600.0 * before_h, float(day.sun.at_s[good[0]]))
    last_s = min(noon_s + 3600.0 * after_h, float(day.sun.at_s[good[-1]]))
    first_s, last_s = (600.0 * round(at_s / 600.0) for at_s in (first_s, last_s))
    return Trial(
        name=name,
        steps=tuple(_steps(name, day, first_s=first_s, last_s=last_s)),
        water_kg=_water_kg(name, day, noon_s),
        starts_at=_at(first_s, day),
        ends_at=_at(last_s, day),
        cautions=usual_cautions(day.box),
    )


def _steps(name: TrialName, day: TrialDay, *, first_s: float, last_s: float) -> list[TrialStep]:
    """Return set out, turns and notes, and the end."""
    every = EVERY_MIN[name]
    minutes = range(0, round((last_s - first_s) / 60.0), min(every, TURN_MIN))
    steps = [_step(day, first_s + 60.0 * m, kind=_kind(m), noted=m % every == 0) for m in minutes]
    return [*steps, TrialStep(at=_at(last_s, day), kind="end", noted=True)]


def _kind(minute: int) -> Literal["set out", "turn", "note"]:
    if minute == 0:
        return "set out"
    return "turn" if minute % TURN_MIN == 0 else "note"


def _step(
    day: TrialDay, at_s: float, *, kind: Literal["set out", "turn", "note"], noted: bool
) -> TrialStep:
    """Return a step; the box is faced half a turn's time ahead of the sun."""
    if kind == "note":
        return TrialStep(at=_at(at_s, day), kind=kind, noted=True)
    height_deg, face_deg = position_at(day.sun, at_s + 30.0 * TURN_MIN)
    mirror_deg = set_mirror_deg(day.box, elevation_deg=max(float(height_deg), 0.0))
    compass_deg = to_compass_deg(face_deg, declination_deg=day.declination_deg)
    sides = day.box.side_mirrors
    return TrialStep(
        at=_at(at_s, day),
        kind=kind,
        face_true_deg=float(face_deg),
        face_compass_deg=float(compass_deg),
        mirror_deg=mirror_deg,
        side_mirrors_deg=sides.angle_deg if sides and kind == "set out" else None,
        noted=noted,
    )


def _water_kg(name: TrialName, day: TrialDay, noon_s: float) -> float | None:
    """Return the water to weigh in; S580's 7 kg for each square metre of sun caught.  [kg]"""
    if name == "empty":
        return None
    if name == "water":
        return WATER_KG
    height_deg, _ = position_at(day.sun, noon_s)
    mirror_deg = set_mirror_deg(day.box, elevation_deg=float(height_deg))
    caught_m2 = intercept_m2(day.box, elevation_deg=float(height_deg), mirror_deg=mirror_deg)
    return POWER_LOAD_KG_M2 * caught_m2


def _at(at_s: float, day: TrialDay) -> datetime:
    return datetime.fromtimestamp(at_s, tz=day.site.zone)


def as_told(trial: Trial) -> list[ObservedAim]:
    """Return the aims that a trial asks for."""
    return [
        ObservedAim(at=step.at, face_true_deg=step.face_true_deg, mirror_deg=step.mirror_deg)
        for step in trial.steps
        if step.face_true_deg is not None
    ]


def judged(
    trial: Trial, notes: Sequence[TrialNote], day: TrialDay, *, now: datetime
) -> TrialResult:
    """Return what the notes mean.

    Parameters
    ----------
    trial : Trial
        What was to be done.
    notes : sequence of TrialNote
        Of this trial and day, in order of time.
    day : TrialDay
    now : datetime
        A trial that is not over is not failed.
    """
    inside = [note for note in notes if note.at >= trial.starts_at]
    if trial.name == "power":
        return _power(trial, inside, day, now=now)
    if not inside:
        return TrialResult(outcome=_so_far(trial, now))
    highest_c = max(note.read_c for note in inside)
    if trial.name == "water":
        return TrialResult(outcome=_water(trial, inside, now=now), highest_c=highest_c)
    if len(inside) < FEWEST:
        return TrialResult(outcome=_so_far(trial, now), highest_c=highest_c)
    off_k = _off_k(trial, inside, day)
    agrees = abs(off_k) <= AGREES_K
    return TrialResult(outcome="agrees" if agrees else "differs", highest_c=highest_c, off_k=off_k)


def _so_far(trial: Trial, now: datetime) -> Outcome:
    return "under way" if now < trial.ends_at else "too few notes"


def _water(trial: Trial, notes: Sequence[TrialNote], *, now: datetime) -> Outcome:
    """Return whether the water is hot enough at the end, whatever it was before."""
    away_min = [abs((note.at - trial.ends_at).total_seconds()) / 60.0 for note in notes]
    if min(away_min) > AT_END_MIN:
        return _so_far(trial, now)
    last_c = notes[away_min.index(min(away_min))].read_c
    return "passed" if last_c >= PASS_C else "failed"


def _off_k(trial: Trial, notes: Sequence[TrialNote], day: TrialDay) -> float:
    """Return the median of reading less model, the box turned as the trial says.  [K]"""
    logged = logged_day(
        day.box,
        day.site,
        sun=day.sun,
        weather=day.weather,
        readings=[ObservedReading(at=note.at, box_c=note.read_c) for note in notes],
        aims=as_told(trial),
    )
    # What was learned is in the light of `logged` and in the box already.
    return float(np.median(logged.read_c - foretold_c(thermal(day.box), logged, Learned())))


def _power(
    trial: Trial, notes: Sequence[TrialNote], day: TrialDay, *, now: datetime
) -> TrialResult:
    """Return the line of S580 through the intervals between notes."""
    at_s = np.array([note.at.timestamp() for note in notes])
    water_c = np.array([note.read_c for note in notes])
    if at_s.size < 2:
        return TrialResult(outcome=_so_far(trial, now))
    gap_s, rise_k = np.diff(at_s), np.diff(water_c)
    low, high = WATER_SPAN_C
    used = (gap_s >= 60.0 * GAP_MIN[0]) & (gap_s <= 60.0 * GAP_MIN[1])
    used &= (water_c[:-1] >= low) & (water_c[1:] <= high)
    count = int(used.sum())
    highest_c = float(water_c.max())
    if count < FEWEST or trial.water_kg is None:
        return TrialResult(outcome=_so_far(trial, now), highest_c=highest_c, intervals=count)
    mid_s = (at_s[:-1] + at_s[1:])[used] / 2.0
    power_w = rise_k[used] * trial.water_kg * WATER_J_KGK / gap_s[used]
    air_c = np.interp(mid_s, day.sun.at_s, day.weather.air_c[0])
    line = power_line(
        standard_power_w(power_w, normal_w_m2=square_w_m2(day, mid_s)),
        difference_k=((water_c[:-1] + water_c[1:]) / 2.0)[used] - air_c,
    )
    return TrialResult(outcome="measured", highest_c=highest_c, line=line, intervals=count)


def square_w_m2(day: TrialDay, at_s: NDArray[np.float64]) -> NDArray[np.float64]:
    """Return clear sunlight on a surface square to the sun.  [W/m2]"""
    step = np.clip(np.searchsorted(day.sun.at_s, at_s), 0, day.sun.at_s.size - 1)
    height_deg, azimuth_deg = day.sun.elevation_deg[step], day.sun.azimuth_deg[step]
    # Tilts vary, and the light on a surface is reckoned for one tilt at a time.
    return np.array(
        [
            _on_square(day, int(i), float(height), float(azimuth))
            for i, height, azimuth in zip(step, height_deg, azimuth_deg, strict=True)
        ]
    )


def _on_square(day: TrialDay, step: int, height_deg: float, azimuth_deg: float) -> float:
    light = surface_light(
        sun_elevation_deg=height_deg,
        sun_azimuth_deg=azimuth_deg,
        beam_normal_w_m2=float(day.weather.beam_normal_w_m2[0, step]),
        diffuse_horizontal_w_m2=float(day.weather.diffuse_horizontal_w_m2[0, step]),
        global_horizontal_w_m2=float(day.weather.global_horizontal_w_m2[0, step]),
        extraterrestrial_normal_w_m2=float(extraterrestrial_w_m2(day.sun.at_s[step])),
        tilt_deg=90.0 - height_deg,
        azimuth_deg=azimuth_deg,
        albedo=day.site.albedo,
    )
    return float(light.beam_w_m2 + light.sky_w_m2 + light.ground_w_m2)
