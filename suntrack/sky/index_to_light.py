"""From a clear-sky index to light, air and wind on the steps of a day."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from suntrack.sky.clear_sky_index import mean_known
from suntrack.sky.decomposition import split_global
from suntrack.sky.surface import LOWEST_RISE
from suntrack.sky.weather import SkySource, Weather

if TYPE_CHECKING:
    from numpy.typing import NDArray

    from suntrack.sky.clear_sky_index import Pieces
    from suntrack.sky.forecast import Forecast
    from suntrack.sky.sun import SunTable

BOX_WIND = 0.72
"""Wind at the height of a box, about 1 m, in shares of that at 10 m: the seventh-root law of
open ground, (1/10)^(1/7), from memory.  [-]"""


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class StepAir:
    """Air and wind at the box in each step, shape (steps,)."""

    air_c: NDArray[np.float64]
    """Air outdoors.  [C]"""
    wind_m_s: NDArray[np.float64]
    """Wind at the height of the box.  [m/s]"""


def indexed_weather(
    index: NDArray[np.float64],
    pieces: Pieces,
    *,
    clear: Weather,
    sun: SunTable,
    air: StepAir,
    source: SkySource,
    forecast: Forecast | None = None,
) -> Weather:
    """Return the light of every sky on the plan's steps."""
    here = pieces.of_step(clear)
    whole_w_m2 = index[:, here] * clear.global_horizontal_w_m2
    share = _diffuse_share(index, pieces, clear=clear, sun=sun)[:, here]
    rise = np.sin(np.radians(sun.elevation_deg))
    beam_w_m2 = np.where(
        rise > LOWEST_RISE, (1.0 - share) * whole_w_m2 / np.maximum(rise, LOWEST_RISE), 0.0
    )
    return Weather(
        at_s=clear.at_s,
        step_s=clear.step_s,
        global_horizontal_w_m2=whole_w_m2,
        beam_normal_w_m2=beam_w_m2,
        diffuse_horizontal_w_m2=whole_w_m2 - beam_w_m2 * np.maximum(rise, 0.0),
        air_c=np.broadcast_to(air.air_c, whole_w_m2.shape),
        wind_m_s=np.broadcast_to(air.wind_m_s, whole_w_m2.shape),
        source=source,
        issued_at=None if forecast is None else forecast.issued_at,
    )


def _diffuse_share(
    index: NDArray[np.float64], pieces: Pieces, *, clear: Weather, sun: SunTable
) -> NDArray[np.float64]:
    """Return the diffuse share of the light of each piece, 1 with the sun down.  [-]"""
    whole_w_m2 = index * pieces.mean(clear.global_horizontal_w_m2[0], clear)
    height_deg = np.interp(pieces.mid_at_s, sun.at_s, sun.elevation_deg)
    _, diffuse_w_m2 = split_global(whole_w_m2, sun_elevation_deg=height_deg, at_s=pieces.mid_at_s)
    lit = whole_w_m2 > 0.0
    return np.where(lit, diffuse_w_m2 / np.where(lit, whole_w_m2, 1.0), 1.0)


def forecast_air_c(forecast: Forecast, clear: Weather) -> NDArray[np.float64]:
    """Return the air of each step: the typical day, moved to meet the forecast.  [C]"""
    return _met(forecast, forecast.air_c, clear.air_c[0], clear)


def forecast_wind_m_s(forecast: Forecast, clear: Weather) -> NDArray[np.float64]:
    """Return the wind at the height of the box in each step.  [m/s]"""
    high = forecast.wind_m_s
    low = None if high is None else BOX_WIND * high
    return np.maximum(_met(forecast, low, clear.wind_m_s[0], clear), 0.0)


def _met(
    forecast: Forecast,
    values: NDArray[np.float64] | None,
    typical: NDArray[np.float64],
    clear: Weather,
) -> NDArray[np.float64]:
    """Return the typical course moved by what the forecast says, by straight lines."""
    if values is None:
        return typical
    mean = mean_known(values)
    known = ~np.isnan(mean)
    if not known.any():
        return typical
    mid_s, step_s = forecast.mid_at_s[known], clear.at_s + clear.step_s / 2.0
    away = mean[known] - np.interp(mid_s, step_s, typical)
    return typical + np.interp(step_s, mid_s, away)
