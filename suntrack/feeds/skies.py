"""Which sky a day is planned for: the forecast's many, the usual ones, or the clear one."""

from __future__ import annotations

from dataclasses import dataclass, replace
from datetime import datetime
from math import isnan
from typing import TYPE_CHECKING

from suntrack.config.feed_terms import FEEDS
from suntrack.plan.records import SkyHour, SkyNote
from suntrack.sky.localday import covered, day_bounds_s
from suntrack.sky.sun import sun_events

if TYPE_CHECKING:
    from datetime import date

    from suntrack.config.reader import Config
    from suntrack.sky.forecast import Forecast
    from suntrack.sky.weather import Weather
    from suntrack.store.sun_table import SunData

ENOUGH = 0.5
"""A forecast has to know this share of the daylight to come, or the day is not planned with it
(our choice).  [-]"""


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class DaySky:
    """The sky of a day, and what is to be said of it."""

    weather: Weather
    """The sky that is planned for."""
    note: SkyNote
    """Where it came from, for the cook to read."""
    forecast: Forecast | None
    """The forecast that stands behind it; None for none."""


def day_sky(
    config: Config,
    data: SunData,
    *,
    on: date,
    now: datetime,
    forecast: Forecast | None,
    own_width: float = 1.0,
) -> DaySky:
    """Return the sky to plan a day for.

    With a forecast that covers the day, the skies it may turn out to be.  Where a feed is on
    but has nothing to say of the day, the usual sky.  Without a feed, the clear sky.
    `own_width` is how wide the site's own record asks a forecast to be dressed.
    """
    from suntrack.sky.ensemble import day_seed, dressed_skies, typical_skies

    seed = day_seed(config.site, on)
    if forecast is not None and covers(forecast, config, data, on=on, now=now):
        weather = dressed_skies(
            forecast, clear=data.weather, sun=data.sun, seed=seed, own_width=own_width
        )
        note = replace(_note(config, forecast), hours=hours_of(forecast, config, data))
        return DaySky(weather=weather, note=note, forecast=forecast)
    weather = data.weather
    if config.feed.is_on:
        weather = typical_skies(clear=data.weather, sun=data.sun, seed=seed)
    return DaySky(
        weather=weather, note=SkyNote(source=weather.source, issued_at=None), forecast=None
    )


def covers(forecast: Forecast, config: Config, data: SunData, *, on: date, now: datetime) -> bool:
    """Return whether a forecast knows enough of the daylight that a day still has."""
    starts_s, ends_s = day_bounds_s(on, config.site.zone)
    events = sun_events(data.sun)
    first_s = starts_s if events.rises_at_s is None else events.rises_at_s
    last_s = ends_s if events.sets_at_s is None else events.sets_at_s
    # In the evening the whole day is shown once more, as it was.
    first_s = max(first_s, now.timestamp()) if now.timestamp() < last_s else first_s
    return covered(forecast, starts_s=first_s, ends_s=last_s) >= ENOUGH


def hours_of(forecast: Forecast, config: Config, data: SunData) -> tuple[SkyHour, ...]:
    """Return the light that a forecast has for the hours of a day, to be kept with its plan."""
    from suntrack.sky.forecast_day import told_day

    told = told_day(forecast, clear=data.weather, sun=data.sun)
    zone = config.site.zone
    assert told.global_horizontal_w_m2 is not None
    assert told.air_c is not None
    assert told.wind_m_s is not None
    rows = zip(
        told.starts_at_s, told.ends_at_s, told.global_horizontal_w_m2[0], told.air_c[0],
        told.wind_m_s[0], strict=True,
    )  # fmt: skip
    return tuple(
        SkyHour(
            starts_at=datetime.fromtimestamp(start_s, tz=zone),
            ends_at=datetime.fromtimestamp(end_s, tz=zone),
            global_w_m2=round(float(light_w_m2), 1),
            air_c=_rounded(float(air_c)),
            wind_m_s=_rounded(float(wind_m_s)),
        )
        for start_s, end_s, light_w_m2, air_c, wind_m_s in rows
    )


def _rounded(value: float) -> float | None:
    """Return a number to a tenth; None for one that is not known."""
    return None if isnan(value) else round(value, 1)


def _note(config: Config, forecast: Forecast) -> SkyNote:
    """Return who made the forecast, when, and the words its terms ask to be shown."""
    feed = FEEDS.get(forecast.feed)
    return SkyNote(
        source=feed.title if feed else forecast.feed,
        issued_at=_local(config, forecast.issued_at),
        fetched_at=_local(config, forecast.fetched_at),
        attribution=forecast.attribution,
        notes=forecast.notes,
    )


def _local(config: Config, at: datetime | None) -> datetime | None:
    return None if at is None else at.astimezone(config.site.zone)
