"""The day's sun and clear sky, computed once by the slow library and kept on disk.

The file is a plain .npz without pickles; its name is a digest of everything it depends
on, so a changed site or a newer layout is simply another file (`suntrack.store.sun_path`).
"""

from __future__ import annotations

import contextlib
import os
import zipfile
from dataclasses import dataclass
from datetime import date, timedelta
from pathlib import Path
from typing import TYPE_CHECKING

import numpy as np

from suntrack.sky.sun import SunTable, day_grid, sun_table
from suntrack.sky.weather import Weather
from suntrack.store.paths import STEP_S, sun_file

if TYPE_CHECKING:
    from suntrack.sky.site import Site

SUN = ("at_s", "elevation_deg", "azimuth_deg")
SKY = (
    "global_horizontal_w_m2",
    "beam_normal_w_m2",
    "diffuse_horizontal_w_m2",
    "air_c",
    "wind_m_s",
)


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class SunData:
    """The sun at the middle of each step of a local day, and the clear sky with it."""

    sun: SunTable
    """At the middle of each step."""
    weather: Weather
    """The clear sky with it."""


AHEAD_DAYS = 13
"""Days made along with one that is planned: a fortnight of mornings starts without the library,
whose import takes a hundred times as long as a day's table.  [days]"""


def sun_data(site: Site, *, on: date, cache_dir: Path, ahead_days: int = 0) -> SunData:
    """Return the day's sun and clear sky, from disk when they were computed before.

    Where it has to be computed, so are as many days after it, for other mornings.  A file that
    cannot be read is computed anew; a folder that cannot be written is no reason to stop.
    """
    path = sun_file(site, on=on, cache_dir=cache_dir)
    kept = _read(path, on=on, site=site)
    if kept is not None:
        return kept
    made = _compute(site, on=on)
    _write(path, made)
    # A calendar ends, and so do the days that can be made ahead.
    for later in range(1, min(ahead_days, (date.max - on).days - 1) + 1):
        _make_ahead(site, on=on + timedelta(days=later), cache_dir=cache_dir)
    return made


def _make_ahead(site: Site, *, on: date, cache_dir: Path) -> None:
    """Keep a day that is not kept yet."""
    path = sun_file(site, on=on, cache_dir=cache_dir)
    if not path.exists():
        _write(path, _compute(site, on=on))


def _compute(site: Site, *, on: date) -> SunData:
    """Compute the day with the position and clear-sky library, which takes a second to load."""
    from suntrack.sky.clear_sky import clear_weather

    starts_s = day_grid(on, site.zone, step_s=STEP_S)
    sun = sun_table(
        starts_s + STEP_S / 2.0,
        latitude_deg=site.latitude_deg,
        longitude_deg=site.longitude_deg,
        elevation_m=site.elevation_m,
    )
    return SunData(sun=sun, weather=clear_weather(sun, site=site, step_s=STEP_S, on=on))


def _read(path: Path, *, on: date, site: Site) -> SunData | None:
    """Return the kept day, or None when there is none that fits."""
    try:
        with path.open("rb") as file, np.load(file, allow_pickle=False) as kept:
            arrays = {name: kept[name] for name in (*SUN, *SKY)}
    except (OSError, ValueError, KeyError, EOFError, zipfile.BadZipFile):
        return None
    starts_s = day_grid(on, site.zone, step_s=STEP_S)
    if any(arrays[name].shape[-1] != starts_s.size for name in arrays):
        return None
    sky = {name: arrays[name] for name in SKY}
    return SunData(
        sun=SunTable(**{name: arrays[name] for name in SUN}),
        weather=Weather(at_s=starts_s, step_s=STEP_S, source="clear sky", **sky),
    )


def _write(path: Path, made: SunData) -> None:
    """Keep the day: whole or not at all, so that a crash never leaves half a file."""
    arrays = {name: getattr(made.sun, name) for name in SUN}
    arrays |= {name: getattr(made.weather, name) for name in SKY}
    part = path.with_name(f"{path.stem}-{os.getpid()}.part.npz")
    try:
        path.parent.mkdir(parents=True, exist_ok=True)
        np.savez(part, **arrays)
        part.replace(path)
    except OSError:
        with contextlib.suppress(OSError):
            part.unlink(missing_ok=True)
