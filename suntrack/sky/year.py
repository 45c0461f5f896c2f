"""A year of days in equal steps: clear, or as an hourly file of typical weather has it.

Days run from midnight to midnight of standard time; clocks that change are the business of
whoever asks what happens at a meal.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from datetime import UTC, date, datetime, timedelta
from typing import TYPE_CHECKING, Any

import numpy as np

from suntrack.sky.air import air_of, typical_air_c
from suntrack.sky.clear_sky import clear_sky
from suntrack.sky.index_to_light import BOX_WIND
from suntrack.sky.sun import SunTable, sun_table

if TYPE_CHECKING:
    from numpy.typing import NDArray

    from suntrack.sky.site import Site

STEP_S = 300.0
"""Step of a year: short against the hours that a box takes to warm.  [s]"""
DAY_S = 86400.0
DARK_DEG = -1.0
"""Sun height below which no light is reckoned (our choice).  [deg]"""
MOST_BEAM = 1.5
"""Most that an hour's beam may be against the clear sky's; beyond it the sun is on the horizon
and the ratio means nothing (our choice).  [-]"""
LEAST_W_M2 = 5.0
"""Clear light of an hour below which the hour's own is spread evenly (our choice).  [W/m2]"""


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class YearSky:
    """Sun, light and air of many days, arrays of shape (days, steps) unless said otherwise."""

    dates: tuple[date, ...]
    """The days."""
    starts_s: NDArray[np.float64]
    """Midnight of standard time, seconds since 1970 UTC, shape (days,).  [s]"""
    step_s: float
    """Length of a step.  [s]"""
    elevation_deg: NDArray[np.float64]
    """Height of the sun above the level horizon.  [deg]"""
    azimuth_deg: NDArray[np.float64]
    """Where it stands, clockwise from true north.  [deg]"""
    global_horizontal_w_m2: NDArray[np.float64]
    """On level ground.  [W/m2]"""
    beam_normal_w_m2: NDArray[np.float64]
    """Square to the rays.  [W/m2]"""
    diffuse_horizontal_w_m2: NDArray[np.float64]
    """From the sky on level ground.  [W/m2]"""
    air_c: NDArray[np.float64]
    """Air outdoors.  [C]"""
    wind_m_s: NDArray[np.float64]
    """At the height of the box."""
    source: str
    """`clear sky`, or the name of the place of a typical year."""

    @property
    def at_s(self) -> NDArray[np.float64]:
        """Middle of each step, seconds since 1970 UTC.  [s]"""
        steps = np.arange(self.elevation_deg.shape[1]) + 0.5
        return np.asarray(self.starts_s[:, None] + self.step_s * steps)

    def every(self, days: int) -> YearSky:
        """Return every so many days of it, from the middle of the first lot."""
        pick = slice(days // 2, None, days)
        arrays = {name: getattr(self, name)[pick] for name in _ARRAYS}
        return replace(self, dates=self.dates[pick], starts_s=self.starts_s[pick], **arrays)

    def dimmed(self, shares: NDArray[np.float64]) -> YearSky:
        """Return all its days once for each share of its light, (shares,) lots of them."""
        lots = shares.size
        bright = np.repeat(shares, len(self.dates))[:, None]
        arrays: dict[str, Any] = {n: np.tile(getattr(self, n), (lots, 1)) for n in _ARRAYS}
        arrays |= {name: bright * arrays[name] for name in _ARRAYS if name.endswith("_w_m2")}
        return replace(
            self, dates=self.dates * lots, starts_s=np.tile(self.starts_s, lots), **arrays
        )


_ARRAYS = (
    "elevation_deg", "azimuth_deg", "global_horizontal_w_m2", "beam_normal_w_m2",
    "diffuse_horizontal_w_m2", "air_c", "wind_m_s",
)  # fmt: skip


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class TypicalHours:
    """A typical year by the hour: 8760 hours from midnight of standard time, shape (8760,)."""

    place: str
    """As the file names it."""
    latitude_deg: float
    """North positive.  [deg]"""
    longitude_deg: float
    """East positive.  [deg]"""
    elevation_m: float
    """Above sea level.  [m]"""
    utc_offset_h: float
    """Standard time, hours ahead of UTC.  [h]"""
    global_horizontal_w_m2: NDArray[np.float64]
    """Mean of each hour."""
    beam_normal_w_m2: NDArray[np.float64]
    """Square to the rays.  [W/m2]"""
    diffuse_horizontal_w_m2: NDArray[np.float64]
    """From the sky on level ground.  [W/m2]"""
    air_c: NDArray[np.float64]
    """Air outdoors.  [C]"""
    wind_10m_m_s: NDArray[np.float64]
    """As it is measured, at 10 m.  [m/s]"""


def clear_year(
    site: Site, *, year: int, utc_offset_h: float, step_s: float = STEP_S, every: int = 1
) -> YearSky:
    """Return a year without a cloud, with the site's typical air.

    Parameters
    ----------
    site : Site
    year : int
        The 29th of February is left out.
    utc_offset_h : float
        Standard time of the site, hours ahead of UTC.  [h]
    step_s : float
        A whole number of steps an hour.  [s]
    every : int
        Only one day in so many, from the middle of the first lot.  [days]
    """
    dates, starts_s = _days(year, utc_offset_h=utc_offset_h)
    pick = slice(every // 2, None, every)
    dates, starts_s = dates[pick], starts_s[pick]
    sun = _sun(site, starts_s, step_s=step_s)
    light = _clear(site, sun)
    air_c, wind_m_s = _typical_air(site, dates, sun, days=len(dates))
    return _year(
        dates, starts_s, sun, light, air_c=air_c, wind_m_s=wind_m_s, source="clear sky",
        step_s=step_s,
    )  # fmt: skip


def typical_year(site: Site, hours: TypicalHours, *, year: int, step_s: float = STEP_S) -> YearSky:
    """Return a typical year in fine steps, hour by hour as bright as the file has it.

    Parameters
    ----------
    site : Site
        Where the sun is reckoned for: the file's own place.
    hours : TypicalHours
        The file.
    year : int
        Any year; its 29th of February is left out.
    step_s : float
        A whole number of steps an hour.  [s]

    Notes
    -----
    Within an hour, beam and sky follow the clear sky's course, scaled so that their means are
    the file's; clouds that come and go within the hour are lost.  Global light is beam and
    sky together.
    """
    dates, starts_s = _days(year, utc_offset_h=hours.utc_offset_h)
    sun = _sun(site, starts_s, step_s=step_s)
    clear = _clear(site, sun)
    per_hour = round(3600.0 / step_s)
    beam = _hourly(clear[1], hours.beam_normal_w_m2, per_hour=per_hour, most=MOST_BEAM)
    sky = _hourly(clear[2], hours.diffuse_horizontal_w_m2, per_hour=per_hour, most=np.inf)
    level = beam * np.maximum(np.sin(np.radians(sun.elevation_deg)), 0.0) + sky
    mid_h = (np.arange(sun.at_s.size) + 0.5) / per_hour
    hour_mid = np.arange(hours.air_c.size) + 0.5
    # Air and wind are of the hour as a whole; between the middles by straight lines.
    air_c = np.interp(mid_h, hour_mid, hours.air_c)
    wind_m_s = BOX_WIND * np.interp(mid_h, hour_mid, hours.wind_10m_m_s)
    return _year(
        dates, starts_s, sun, (level, beam, sky), air_c=air_c, wind_m_s=wind_m_s,
        source=hours.place, step_s=step_s,
    )  # fmt: skip


def _days(year: int, *, utc_offset_h: float) -> tuple[tuple[date, ...], NDArray[np.float64]]:
    """Return 365 dates and their midnights.  [-], [s]"""
    first = date(year, 1, 1)
    dates = [first + timedelta(days=i) for i in range(366)]
    kept = tuple(on for on in dates if on.year == year and (on.month, on.day) != (2, 29))
    midnights = [datetime(on.year, on.month, on.day, tzinfo=UTC).timestamp() for on in kept]
    return kept, np.array(midnights) - 3600.0 * utc_offset_h


def _sun(site: Site, starts_s: NDArray[np.float64], *, step_s: float) -> SunTable:
    """Return the sun at the middle of every step, days one after the other."""
    steps = round(DAY_S / step_s)
    at_s = (starts_s[:, None] + step_s * (np.arange(steps) + 0.5)).ravel()
    return sun_table(
        at_s,
        latitude_deg=site.latitude_deg,
        longitude_deg=site.longitude_deg,
        elevation_m=site.elevation_m,
    )


_Lights = tuple["NDArray[np.float64]", "NDArray[np.float64]", "NDArray[np.float64]"]


def _clear(site: Site, sun: SunTable) -> _Lights:
    """Return global, beam and sky of a clear year, nothing by night.  [W/m2]"""
    up = sun.elevation_deg > DARK_DEG
    by_day = SunTable(
        at_s=sun.at_s[up], elevation_deg=sun.elevation_deg[up], azimuth_deg=sun.azimuth_deg[up]
    )
    found = clear_sky(by_day, site=site)
    level, beam, sky = (np.zeros(up.size) for _ in range(3))
    level[up] = found.global_horizontal_w_m2
    beam[up] = found.beam_normal_w_m2
    sky[up] = found.diffuse_horizontal_w_m2
    return level, beam, sky


def _hourly(
    clear: NDArray[np.float64], hourly: NDArray[np.float64], *, per_hour: int, most: float
) -> NDArray[np.float64]:
    """Return the clear course scaled to hourly means; hours with next to none spread evenly."""
    mean = clear.reshape(-1, per_hour).mean(axis=1)
    dim = mean < LEAST_W_M2
    share = np.minimum(hourly / np.where(dim, 1.0, mean), most)
    fine = clear * np.repeat(np.where(dim, 0.0, share), per_hour)
    lit = clear > 0.0
    some = np.repeat(np.where(dim, hourly, 0.0), per_hour)
    return np.asarray(fine + np.where(lit, some, 0.0))


def _typical_air(
    site: Site, dates: tuple[date, ...], sun: SunTable, *, days: int
) -> tuple[NDArray[np.float64], NDArray[np.float64]]:
    """Return air and wind of ordinary days.  [C], [m/s]"""
    at_s, height_deg = (part.reshape(days, -1) for part in (sun.at_s, sun.elevation_deg))
    air_c, wind_m_s = np.empty_like(at_s), np.empty_like(at_s)
    for day, on in enumerate(dates):
        low_c, high_c, wind = air_of(site.typical_air, on)
        rises_s, noon_s, sets_s = _air_day(at_s[day], height_deg[day])
        wind_m_s[day] = wind
        air_c[day] = typical_air_c(
            at_s[day], low_c=low_c, high_c=high_c, sunrise_s=rises_s, sunset_s=sets_s, noon_s=noon_s
        )
    return air_c.ravel(), wind_m_s.ravel()


def _air_day(
    at_s: NDArray[np.float64], height_deg: NDArray[np.float64]
) -> tuple[float, float, float]:
    """Return sunrise, noon and sunset to a step; near the poles a day of twelve hours.  [s]"""
    up = np.flatnonzero(height_deg > 0.0)
    noon_s = float(at_s[int(height_deg.argmax())])
    if up.size in (0, at_s.size):
        return noon_s - 6 * 3600.0, noon_s, noon_s + 6 * 3600.0
    return min(float(at_s[up[0]]), noon_s - 60.0), noon_s, max(float(at_s[up[-1]]), noon_s + 60.0)


def _year(
    dates: tuple[date, ...],
    starts_s: NDArray[np.float64],
    sun: SunTable,
    light: _Lights,
    *,
    air_c: NDArray[np.float64],
    wind_m_s: NDArray[np.float64],
    source: str,
    step_s: float,
) -> YearSky:
    """Return flat arrays as days."""

    def by_day(flat: NDArray[np.float64]) -> NDArray[np.float64]:
        return flat.reshape(len(dates), -1)

    return YearSky(
        dates=dates,
        starts_s=starts_s,
        step_s=step_s,
        elevation_deg=by_day(sun.elevation_deg),
        azimuth_deg=by_day(sun.azimuth_deg),
        global_horizontal_w_m2=by_day(light[0]),
        beam_normal_w_m2=by_day(light[1]),
        diffuse_horizontal_w_m2=by_day(light[2]),
        air_c=by_day(air_c),
        wind_m_s=by_day(wind_m_s),
        source=source,
    )
