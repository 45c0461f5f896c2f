"""How well a box is learned under measured skies: boxes made up, days as they were.

The skies are those of NREL SRRL, Golden, June and August 2012 (hourly beam, diffuse and global
light, air and wind, NREL MIDC data).  A box with hidden factors within 30 % stands under the
measured beam and diffuse light and is read every 20 minutes with 1 K of noise.  The fit knows
the clear sky alone, or the hours' global light, as it was or as a forecast would have told it.
New days are foretold under their true light.  `python tests/benchmarks/learned_skies.py 16`
prints a table for 16 boxes of each kind of day; it takes minutes.
"""

from __future__ import annotations

import sys
import tempfile
from dataclasses import dataclass, replace
from datetime import date, datetime, timedelta
from functools import cache
from pathlib import Path
from typing import Literal

import numpy as np
from numpy.typing import NDArray

sys.path.insert(0, str(Path(__file__).parents[1]))

from measured_weather import SRRL, srrl_rows

from suntrack.box.build import Learned
from suntrack.box.fit import Fit
from suntrack.box.heat.network import as_built
from suntrack.box.residuals import LoggedDay, foretold_c
from suntrack.config.reader import load_config
from suntrack.learn.calibration import learn
from suntrack.learn.logged_day import logged_day
from suntrack.plan.inputs import ObservedReading
from suntrack.sky.clear_sky_index import interval_means
from suntrack.sky.forecast import Forecast
from suntrack.sky.forecast_day import told_sky
from suntrack.sky.site import TypicalAir
from suntrack.sky.weather import Weather
from suntrack.store.sun_table import SunData, sun_data

ROOT = Path(__file__).parents[2]
COLUMNS = ("GHI (W/m^2)", "DNI (W/m^2)", "DHI (W/m^2)", "Dry-bulb (C)", "Wspd (m/s)")
CONFIG = load_config(ROOT / "config" / "suntrack.toml")
SITE = replace(
    CONFIG.site, latitude_deg=39.742, longitude_deg=-105.179, elevation_m=1829.0,
    time_zone="Etc/GMT+7", typical_air=(TypicalAir(low_c=14.0, high_c=30.0),) * 12,
)  # fmt: skip
BOX = CONFIG.box
PARTS = as_built(BOX)
BOX_WIND = 0.72
"""The seventh-root law from 10 m down to 1 m, from memory.  [-]"""
FORECAST_ERROR = 0.22
"""Of the index of a half clouded hour, standard deviation: at `LEAST_INDEX_SD` of radiation
for the mean of all hours (0.12) and more.  [-]"""
Kind = Literal["clear", "mixed", "cloudy"]
KINDS: dict[Kind, tuple[float, float]] = {
    "clear": (0.95, 2.0),
    "mixed": (0.75, 0.95),
    "cloudy": (0.0, 0.75),
}
"""Share of the clear sky's light that a day had.  [-]"""
Known = Literal["nothing", "a forecast", "the light"]


@dataclass(frozen=True, slots=True, kw_only=True)
class Trial:
    """One box: its truth, what was learned, how far new days are off."""

    truth: Learned
    fit: Fit
    usable: bool
    before_k: float
    after_k: float

    def within(self) -> NDArray[np.bool_]:
        """Return for each factor whether the truth lies in the range that is told."""
        names = ("loss", "light", "store")
        ends = [self.fit.range_of(name) for name in names]
        return np.array(
            [
                low <= getattr(self.truth, n) <= high
                for n, (low, high) in zip(names, ends, strict=True)
            ]
        )


@cache
def measured() -> dict[date, NDArray[np.float64]]:
    """Return each whole day's hours, shape (24, 5)."""
    days: dict[date, list[list[float]]] = {}
    for name in SRRL:
        for row in srrl_rows(name):
            month, day, year = map(int, row["Date (MM/DD/YYYY)"].split("/"))
            hours = days.setdefault(date(year, month, day), [])
            hours.append([float(row[column]) for column in COLUMNS])
    whole = {on: np.array(rows) for on, rows in days.items() if len(rows) == 24}
    return {on: hours for on, hours in whole.items() if (hours > -900.0).all()}


@cache
def sky_of(on: date) -> SunData:
    folder = Path(tempfile.gettempdir()) / "suntrack-learned-skies"
    return sun_data(SITE, on=on, cache_dir=folder)


def hours_s(on: date) -> tuple[NDArray[np.float64], NDArray[np.float64]]:
    """Return the starts and ends of the file's hours, which are labelled at their end."""
    first = datetime(on.year, on.month, on.day, tzinfo=SITE.zone).timestamp()
    starts = np.asarray(first + 3600.0 * np.arange(24), np.float64)
    return starts, starts + 3600.0


@cache
def days_of(kind: Kind) -> tuple[date, ...]:
    low, high = KINDS[kind]
    return tuple(on for on in measured() if low <= share_of(on) < high)


def share_of(on: date) -> float:
    clear = sky_of(on).weather.global_horizontal_w_m2
    return float(measured()[on][:, 0].sum() / (clear.sum() * sky_of(on).weather.step_s / 3600.0))


def true_weather(on: date) -> Weather:
    """Return the measured beam and diffuse light, along the clear day's course in each hour."""
    hours, data = measured()[on], sky_of(on)
    clear, (starts, ends) = data.weather, hours_s(on)
    mid_s = clear.at_s + clear.step_s / 2.0
    place = np.clip(((mid_s - starts[0]) // 3600.0).astype(int), 0, 23)

    def along(clear_w_m2: NDArray[np.float64], column: int, most: float) -> NDArray[np.float64]:
        mean = interval_means(clear_w_m2[0], clear, starts, ends)
        share = np.where(mean > 5.0, hours[:, column] / np.maximum(mean, 5.0), 0.0)
        return np.asarray(clear_w_m2 * np.minimum(share, most)[place])

    beam, diffuse = (
        along(clear.beam_normal_w_m2, 1, 1.5),
        along(clear.diffuse_horizontal_w_m2, 2, 8.0),
    )
    rise = np.maximum(np.sin(np.radians(data.sun.elevation_deg)), 0.0)
    return replace(
        clear,
        global_horizontal_w_m2=beam * rise + diffuse,
        beam_normal_w_m2=beam,
        diffuse_horizontal_w_m2=diffuse,
        air_c=np.interp(mid_s, (starts + ends) / 2.0, hours[:, 3])[None],
        wind_m_s=BOX_WIND * np.interp(mid_s, (starts + ends) / 2.0, hours[:, 4])[None],
        source="measured",
    )


def told(on: date, rng: np.random.Generator | None) -> Forecast:
    """Return the hours' global light, air and wind; with a generator as a forecast errs."""
    hours, clear, (starts, ends) = measured()[on], sky_of(on).weather, hours_s(on)
    light = hours[:, 0]
    if rng is not None:
        mean = interval_means(clear.global_horizontal_w_m2[0], clear, starts, ends)
        index = light / np.maximum(mean, 5.0)
        spread = FORECAST_ERROR * np.clip((1.2 - index) / 0.7, 0.15, 1.0)
        light = mean * np.clip(index + spread * _correlated(rng, 24), 0.05, 1.1)
    return Forecast(
        feed="test", kind="radiation", starts_at_s=starts, ends_at_s=ends,
        fetched_at=datetime(on.year, on.month, on.day, tzinfo=SITE.zone),
        global_horizontal_w_m2=light[None], air_c=hours[None, :, 3], wind_m_s=hours[None, :, 4],
    )  # fmt: skip


def _correlated(rng: np.random.Generator, count: int) -> NDArray[np.float64]:
    """Return normal numbers, two fifths of the variance in common, the rest fading by 0.6."""
    row = [float(rng.normal())]
    for _ in range(count - 1):
        row.append(0.6 * row[-1] + 0.8 * float(rng.normal()))
    return np.asarray(np.sqrt(0.4) * rng.normal() + np.sqrt(0.6) * np.array(row))


def day_under(
    on: date, weather: Weather, read_c: NDArray[np.float64] | None = None,
    index: NDArray[np.float64] | None = None,
) -> LoggedDay:  # fmt: skip
    eight = datetime(on.year, on.month, on.day, 8, tzinfo=SITE.zone)
    times = [eight + timedelta(minutes=20 * i) for i in range(35)]
    shown = np.zeros(len(times)) if read_c is None else read_c
    return logged_day(
        BOX, SITE, sun=sky_of(on).sun, weather=weather, index=index,
        readings=[ObservedReading(at=at, box_c=float(c)) for at, c in zip(times, shown, strict=True)],  # noqa: E501
    )  # fmt: skip


def try_box(rng: np.random.Generator, kind: Kind, known: Known, *, days: int = 3) -> Trial:
    """Return what comes of one box that nobody knows."""
    truth = Learned(**{n: float(rng.uniform(0.7, 1.3)) for n in ("loss", "light", "store")})
    logged: dict[date, LoggedDay] = {}
    for on in pick(rng, days_of(kind), days):
        real_c = foretold_c(PARTS, day_under(on, true_weather(on)), truth)
        read_c = real_c + rng.normal(0.0, 1.0, real_c.size)
        data, kept = sky_of(on), None
        if known != "nothing":
            kept = told(on, rng if known == "a forecast" else None)
        sky = told_sky(kept, clear=data.weather, sun=data.sun)
        logged[on] = day_under(on, sky.weather, read_c, sky.index)
    lesson = learn(PARTS, logged, on_new_days=False)
    new = [day_under(on, true_weather(on)) for on in pick(rng, tuple(measured()), 4)]
    real = [foretold_c(PARTS, day, truth) for day in new]

    def off_k(learned: Learned) -> float:
        off = [foretold_c(PARTS, d, learned) - c for d, c in zip(new, real, strict=True)]
        return float(np.median(np.abs(np.concatenate(off))))

    return Trial(
        truth=truth,
        fit=lesson.fit,
        usable=not lesson.all_dull,
        before_k=off_k(Learned()),
        after_k=off_k(lesson.fit.learned),
    )


def pick(rng: np.random.Generator, days: tuple[date, ...], count: int) -> list[date]:
    return [days[int(i)] for i in rng.permutation(len(days))[:count]]


def main(boxes: int) -> None:
    """Print a row for every kind of day and of knowledge."""
    for kind in KINDS:
        for known in ("nothing", "a forecast", "the light"):
            rng = np.random.default_rng(7)
            trials = [try_box(rng, kind, known) for _ in range(boxes)]
            used = [one for one in trials if one.usable]
            row = f"{kind:7} {known:11} {len(used)} of {boxes} usable"
            if used:
                before, after = (
                    np.median([getattr(t, n) for t in used]) for n in ("before_k", "after_k")
                )
                held = np.mean([t.within() for t in used])
                row += f"; {before:.1f} K, then {after:.1f} K; in its range {held:.0%}"
            print(row, flush=True)


if __name__ == "__main__":
    main(int(sys.argv[1]) if len(sys.argv) > 1 else 8)
