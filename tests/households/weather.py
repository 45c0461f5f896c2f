"""Measured weather for the judge: two months at a high plain, a year's five minutes at four.

See tests/data/households/README.md for where each comes from and on what terms.
"""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date, datetime, timedelta
from pathlib import Path
from zoneinfo import ZoneInfo

import numpy as np
import pandas as pd
import pvlib
from households.truth import STEP_S
from numpy.typing import NDArray

DATA = Path(__file__).parents[1] / "data" / "households"


@dataclass(frozen=True, slots=True, kw_only=True)
class Place:
    """Where a household cooks."""

    name: str
    latitude_deg: float
    longitude_deg: float
    elevation_m: float
    zone: str


PLACES = {
    "high-plain": Place(name="high-plain", latitude_deg=39.742, longitude_deg=-105.179,
                        elevation_m=1829.0, zone="America/Denver"),
    "desert": Place(name="desert", latitude_deg=36.62, longitude_deg=-116.02,
                    elevation_m=1007.0, zone="America/Los_Angeles"),
    "humid": Place(name="humid", latitude_deg=34.25, longitude_deg=-89.87,
                   elevation_m=98.0, zone="America/Chicago"),
    "corn": Place(name="corn", latitude_deg=40.05, longitude_deg=-88.37,
                  elevation_m=230.0, zone="America/Chicago"),
    "north-plain": Place(name="north-plain", latitude_deg=48.31, longitude_deg=-105.10,
                         elevation_m=634.0, zone="America/Denver"),
}  # fmt: skip
STATIONS = {"desert": "Desert_Rock", "humid": "Goodwin_Creek", "corn": "Bondville",
            "north-plain": "Fort_Peck"}  # fmt: skip


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Sky:
    """A measured day, from 5:00 to 21:00 local time in steps of the judge's world."""

    place: Place
    on: date
    first_at: datetime
    elevation_deg: NDArray[np.float64]
    azimuth_deg: NDArray[np.float64]
    ghi: NDArray[np.float64]
    dni: NDArray[np.float64]
    dhi: NDArray[np.float64]
    air_c: NDArray[np.float64]
    wind_m_s: NDArray[np.float64]
    clearness: float
    """Light of the day, as a share of a clear one's.  [-]"""

    def step(self, at: datetime) -> int:
        """Return the step of a moment."""
        return round((at - self.first_at).total_seconds() / STEP_S)


def days_of(name: str) -> list[date]:
    """Return the days that are measured at a place, from April to September."""
    if name == "high-plain":
        months = [(2012, 6, 30), (2012, 8, 31)]
        return [date(y, m, d) for y, m, last in months for d in range(1, last + 1)]
    first = date(2018, 4, 3)
    return [first + timedelta(days=6 * i) for i in range(30)]


def measured(name: str, on: date) -> Sky | None:
    """Return a measured day; None where too much of it is missing."""
    place = PLACES[name]
    zone = ZoneInfo(place.zone)
    first = datetime(on.year, on.month, on.day, 5, tzinfo=zone)
    steps = int(16 * 3600 / STEP_S)
    times = pd.DatetimeIndex([first + timedelta(seconds=STEP_S * (i + 0.5)) for i in range(steps)])
    sun = pvlib.solarposition.get_solarposition(
        times, place.latitude_deg, place.longitude_deg, altitude=place.elevation_m
    )
    up = np.sin(np.radians(sun["apparent_elevation"].to_numpy())).clip(0.0)
    clear = pvlib.clearsky.haurwitz(sun["apparent_zenith"])["ghi"].to_numpy()
    found = _srrl(times) if name == "high-plain" else _surfrad(STATIONS[name], times, sun)
    if found is None:
        return None
    ghi, dni, dhi, air_c, wind = found
    daylight = clear > 50.0
    return Sky(
        place=place, on=on, first_at=first,
        elevation_deg=sun["apparent_elevation"].to_numpy(), azimuth_deg=sun["azimuth"].to_numpy(),
        ghi=ghi, dni=np.where(up > 0.02, dni, 0.0), dhi=dhi, air_c=air_c, wind_m_s=wind,
        clearness=float(ghi[daylight].sum() / clear[daylight].sum()),
    )  # fmt: skip


def _srrl(times: pd.DatetimeIndex) -> tuple[NDArray[np.float64], ...] | None:
    """Return an hourly file's light, spread by the hour's middle.  [W/m2], [C], [m/s]"""
    table = pd.read_csv(DATA / "srrl_2012.csv.gz", comment="#")
    # Hours end at the label, Mountain Standard Time.
    middle = pd.to_datetime(table["ends_mst"]) + pd.Timedelta(hours=7) - pd.Timedelta(minutes=30)
    at_s = np.array([t.timestamp() for t in middle.dt.tz_localize("UTC")])
    asked = np.array([t.timestamp() for t in times])
    return tuple(
        np.interp(asked, at_s, table[column].to_numpy(float)).clip(
            -40.0 if column == "air_c" else 0.0
        )
        for column in ("ghi", "dni", "dhi", "air_c", "wind")
    )


def _surfrad(
    station: str, times: pd.DatetimeIndex, sun: pd.DataFrame
) -> tuple[NDArray[np.float64], ...] | None:
    """Return five-minute global light, split by Erbs; air is a plain daily wave (invented).

    No beam is measured in the file.
    """
    kept = np.load(DATA / "surfrad_2018.npz")
    start_s = datetime.fromisoformat("2018-01-01T00:00+00:00").timestamp()
    asked = np.array([t.timestamp() for t in times])
    five = ((asked - start_s) // 300).astype(int)
    day = np.searchsorted(kept["rows"], five // 288)
    values = kept[station].astype(float)[day, five % 288]
    if (values < -100).mean() > 0.02:
        return None
    values = values.clip(0.0)
    split = pvlib.irradiance.erbs(values, sun["zenith"], times)
    hour = (asked - asked[0]) / 3600.0 + 5.0
    air_c = 24.0 + 6.0 * np.sin((hour - 9.0) / 24.0 * 2.0 * np.pi)
    return (
        values,
        np.asarray(split["dni"]),
        np.asarray(split["dhi"]),
        air_c,
        np.full(five.size, 2.0),
    )
