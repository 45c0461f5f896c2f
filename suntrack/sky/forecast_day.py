"""The light of one day as a forecast told it: cut down to be kept, and made a sky again."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from suntrack.sky.clear_sky_index import day_pieces, foreseen_index, mean_known
from suntrack.sky.forecast import Forecast
from suntrack.sky.index_to_light import StepAir, forecast_air_c, forecast_wind_m_s, indexed_weather

if TYPE_CHECKING:
    from numpy.typing import NDArray

    from suntrack.sky.clear_sky_index import Pieces
    from suntrack.sky.sun import SunTable
    from suntrack.sky.weather import Weather


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class KeptForecastDay:
    """A day's sky as it was told, clear where nothing was."""

    weather: Weather
    """One sky."""
    index: NDArray[np.float64]
    """Clear-sky index of each step; nan where nothing was told, shape (steps,).  [-]"""


def told_day(forecast: Forecast, *, clear: Weather, sun: SunTable) -> Forecast:
    """Return what a forecast says of one day's light, air and wind, by the hour at most.

    Parameters
    ----------
    forecast : Forecast
        Of any kind; several members become their mean.
    clear : Weather
        The cloudless day, one sky.  [W/m2]
    sun : SunTable
        At the middle of each step of `clear`.

    Returns
    -------
    told : Forecast
        One member with global light, air and wind, only of intervals with light in them.
        Hours that the forecast leaves out are left out.
    """
    pieces = day_pieces(forecast, clear=clear)
    index = mean_known(foreseen_index(forecast, pieces, clear=clear, sun=sun))
    clear_w_m2 = pieces.mean(clear.global_horizontal_w_m2[0], clear)
    kept = np.isfinite(index) & (clear_w_m2 > 0.0)
    return Forecast(
        feed=forecast.feed,
        kind="radiation",
        starts_at_s=pieces.starts_at_s[kept],
        ends_at_s=pieces.ends_at_s[kept],
        fetched_at=forecast.fetched_at,
        issued_at=forecast.issued_at,
        global_horizontal_w_m2=(index * clear_w_m2)[None, kept],
        air_c=_of_pieces(forecast.air_c, pieces)[None, kept],
        wind_m_s=_of_pieces(forecast.wind_m_s, pieces)[None, kept],
    )


def _of_pieces(values: NDArray[np.float64] | None, pieces: Pieces) -> NDArray[np.float64]:
    """Return the mean over the members for each piece; nan where it is not known."""
    if values is None:
        return np.full(pieces.interval.size, np.nan)
    return pieces.of_interval(mean_known(values), missing=np.nan)


def told_sky(told: Forecast | None, *, clear: Weather, sun: SunTable) -> KeptForecastDay:
    """Return the sky of a day of which this was told.

    Parameters
    ----------
    told : Forecast or None
        None, or one without intervals, for a day of which nothing was kept.
    clear : Weather
        The cloudless day with the site's typical air, one sky.  [W/m2], [C], [m/s]
    sun : SunTable
        At the middle of each step of `clear`.
    """
    if told is None or not told.starts_at_s.size:
        return KeptForecastDay(weather=clear, index=np.full(clear.at_s.size, np.nan))
    pieces = day_pieces(told, clear=clear)
    index = mean_known(foreseen_index(told, pieces, clear=clear, sun=sun))
    weather = indexed_weather(
        np.where(np.isnan(index), 1.0, index)[None],
        pieces,
        clear=clear,
        sun=sun,
        air=StepAir(air_c=forecast_air_c(told, clear), wind_m_s=forecast_wind_m_s(told, clear)),
        source="forecast",
        forecast=told,
    )
    return KeptForecastDay(weather=weather, index=index[pieces.of_step(clear)])
