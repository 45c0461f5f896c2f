"""One forecast becomes many skies: as it was issued it is never quite what comes.

Each hour's clear-sky index is moved by a measured departure (`suntrack.sky.error_quantiles`),
correlated over the day, and narrowed by how soon the hour comes: a weather model errs
about half as much as "as yesterday", from which the departures were measured.

Measured quantiles given the foreseen index, moved together over the hours by R(l) = 0.40 + 0.60
0.6^l.  On a year at seven stations, each foretold from the six others, "as yesterday" gets a
Brier score of 0.131 so, 0.137 with hours apart, 0.151 with the usual sky, 0.212 as a plain yes
or no.  Lost: hours apart (half the spread that days have), a normal law (skies are clear or
covered, seldom between), and the ranks of whole measured days in the place of R(l): 0.131 too,
a little truer between 0.4 and 0.8, for a table of days.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

from suntrack.sky.clear_sky_index import Pieces, day_pieces, foreseen_index, mean_known
from suntrack.sky.error_quantiles import (
    BRIGHTEST,
    DARKEST,
    ErrorQuantiles,
    correlated_normals,
    measured_departures,
)
from suntrack.sky.index_to_light import (
    StepAir,
    forecast_air_c,
    forecast_wind_m_s,
    indexed_weather,
)

if TYPE_CHECKING:
    from collections.abc import Sequence
    from datetime import date

    from numpy.typing import ArrayLike, NDArray

    from suntrack.sky.forecast import Forecast
    from suntrack.sky.site import Site
    from suntrack.sky.sun import SunTable
    from suntrack.sky.weather import Weather

SKIES = 100
"""Skies made of a forecast, unless asked otherwise.  [-]"""
LEAD_H = (0.0, 6.0, 30.0, 60.0, 120.0)
WIDTH = (0.30, 0.50, 0.55, 0.75, 1.0)
"""Share of a measured departure taken at each lead time.  Placeholders until logged forecasts
allow a fit: half on the same day after Perez et al. 2013 (weather models halve the error of
persistence at 34 sites), and nothing gained after five days (Ye and Chen 2011: skill of cloud
forecasts ends at about 120 h); the rest is our estimate.  [h], [-]"""
RUN_AGE_H = 6.0
"""Age of a forecast when it is fetched, where the feed does not say when it was made: a
global model starts every six hours and takes hours to come out (our estimate).  [h]"""
CLOUD_ONLY, COARSE = 1.4, 1.2
"""Wider by these for light that is reckoned from cloud, and for intervals of hours: the
first gives the 0.25 that cloud is trusted with a day ahead, the second is our choice.  [-]"""
TAILS = (np.arange(99) + 1.0) / 100.0


def departure_width(lead_h: ArrayLike) -> NDArray[np.float64]:
    """Return the share of a measured departure to take: the later, the wider.

    Parameters
    ----------
    lead_h : array_like
        From when the forecast was made to the hour it speaks of; below 0 counts as 0.  [h]

    Returns
    -------
    width : ndarray
        Between 0.3 and 1, in the shape of `lead_h`.  [-]
    """
    return np.asarray(np.interp(np.asarray(lead_h, np.float64), LEAD_H, WIDTH))


def day_seed(site: Site, on: date) -> tuple[int, ...]:
    """Return the seed of a day at a site: the same day always draws the same numbers.

    A newer forecast then changes a chance, and mere luck does not.
    """
    place = (site.latitude_deg + 90.0, site.longitude_deg + 180.0)
    return (on.toordinal(), *(round(1e4 * part) for part in place))


def dressed_skies(
    forecast: Forecast,
    *,
    clear: Weather,
    sun: SunTable,
    seed: int | Sequence[int],
    skies: int = SKIES,
    departures: ErrorQuantiles | None = None,
    own_width: float = 1.0,
) -> Weather:
    """Return the skies that a forecast may turn out to be.

    Parameters
    ----------
    forecast : Forecast
        Of any kind, with one or more members.  Hours that it leaves out get the usual sky.
        Its own issue (or fetch) counts as its age: the older, the wider.
    clear : Weather
        The cloudless day with the site's typical air, one sky.  [W/m2], [C], [m/s]
    sun : SunTable
        The sun at the middle of each step of `clear`, shape (steps,).
    seed : int or sequence of int
        Of numpy's generator; equal seeds give equal skies.
    skies : int
        How many to make, at least 1.
    departures : Departures, optional
        Measured departures; None for the table that ships.
    own_width : float
        Factor on the width that the site's own record asks for.  [-]

    Returns
    -------
    weather : Weather
        Arrays of shape (1 + skies, steps) on the steps of `clear`.  The first sky is the
        middle one: in every hour half of the departures are brighter.

    Raises
    ------
    ValueError
        If fewer than one sky is asked for.

    Notes
    -----
    With the foreseen index k, the width s and standard normal numbers z that are correlated
    over the hours, a sky has k + s (Q(z | k) - k), cut to 0.05 .. 1.1; Q are measured
    quantiles, which reach further down than up.  Members of an ensemble are taken in turn
    and moved only by the variance that they lack.  Beam and diffuse light follow from the
    global at the middle of each hour (`suntrack.sky.decomposition`).  Temperature and wind are the
    forecast's own in every sky.
    """
    table = departures or measured_departures()
    pieces = day_pieces(forecast, clear=clear)
    foreseen = foreseen_index(forecast, pieces, clear=clear, sun=sun)
    width = np.minimum(own_width * _width(forecast, pieces), 1.0)
    random = np.random.default_rng(seed)
    index = _dressed(foreseen, pieces, width=width, skies=skies, random=random, table=table)
    return indexed_weather(
        index,
        pieces,
        clear=clear,
        sun=sun,
        air=StepAir(
            air_c=forecast_air_c(forecast, clear), wind_m_s=forecast_wind_m_s(forecast, clear)
        ),
        source="forecast",
        forecast=forecast,
    )


def typical_skies(
    *,
    clear: Weather,
    sun: SunTable,
    seed: int | Sequence[int],
    skies: int = SKIES,
    departures: ErrorQuantiles | None = None,
) -> Weather:
    """Return usual skies, for a day of which nothing is known.

    The table that ships is the whole year at seven stations of one continent, not the
    season of the site: a chance counted over it has to be called that.

    Parameters
    ----------
    clear, sun, seed, skies, departures
        As for `dressed_skies`.

    Returns
    -------
    weather : Weather
        As for `dressed_skies`, with the site's typical air.

    Raises
    ------
    ValueError
        If fewer than one sky is asked for.
    """
    table = departures or measured_departures()
    pieces = day_pieces(None, clear=clear)
    index = _dressed(
        np.full((1, pieces.mid_at_s.size), np.nan),
        pieces,
        width=np.ones(pieces.mid_at_s.size),
        skies=skies,
        random=np.random.default_rng(seed),
        table=table,
    )
    air = StepAir(air_c=clear.air_c[0], wind_m_s=clear.wind_m_s[0])
    return indexed_weather(index, pieces, clear=clear, sun=sun, air=air, source="typical sky")


def _width(forecast: Forecast, pieces: Pieces) -> NDArray[np.float64]:
    """Return how wide to dress each piece, shape (pieces,).  [-]"""
    made_at_s = (forecast.issued_at or forecast.fetched_at).timestamp()
    if forecast.issued_at is None:
        made_at_s -= RUN_AGE_H * 3600.0
    width = departure_width((pieces.mid_at_s - made_at_s) / 3600.0)
    if forecast.kind == "cloud only":
        width = width * CLOUD_ONLY
    coarse = pieces.of_interval(forecast.coarse.astype(np.float64), missing=0.0) > 0.0
    return np.minimum(np.where(coarse, width * COARSE, width), 1.0)


def _dressed(
    foreseen: NDArray[np.float64],
    pieces: Pieces,
    *,
    width: NDArray[np.float64],
    skies: int,
    random: np.random.Generator,
    table: ErrorQuantiles,
) -> NDArray[np.float64]:
    """Return the index of the middle sky and of every other, shape (1 + skies, pieces)."""
    if skies < 1:
        raise ValueError(f"{skies} skies; ask for at least 1")
    middle = mean_known(foreseen)
    member = random.permutation(np.arange(skies) % foreseen.shape[0])
    at_h = pieces.mid_at_s / 3600.0
    normal = correlated_normals(random, at_h=at_h, skies=skies)
    lacking = _lacking(foreseen, middle, width=width, table=table)
    rows = _moved(foreseen[member], normal, width=width * lacking, table=table)
    centre = _moved(middle, np.zeros(at_h.size), width=width, table=table)
    index: NDArray[np.float64] = np.concatenate([centre[None], rows])
    return np.asarray(index.clip(DARKEST, BRIGHTEST))


def _moved(
    foreseen: NDArray[np.float64],
    normal: NDArray[np.float64],
    *,
    width: NDArray[np.float64],
    table: ErrorQuantiles,
) -> NDArray[np.float64]:
    """Return the index moved by its departures; the usual one where nothing was foreseen."""
    measured = table.at(foreseen, normal)
    moved = foreseen + width * (measured - foreseen)
    return np.where(np.isnan(foreseen), measured, moved)


def _lacking(
    foreseen: NDArray[np.float64],
    middle: NDArray[np.float64],
    *,
    width: NDArray[np.float64],
    table: ErrorQuantiles,
) -> NDArray[np.float64]:
    """Return the share of a departure that members which differ already still lack.

    The variance they have is taken off the variance of the departures: 1 for one member.
    """
    normal = np.interp(TAILS, table.levels, table.normal_levels)
    wanted = width**2 * table.at(middle, normal[:, None]).var(axis=0)
    have = mean_known((foreseen - middle) ** 2)
    share = np.sqrt(np.clip(1.0 - have / np.maximum(wanted, 1e-12), 0.0, 1.0))
    return np.where(np.isnan(share), 1.0, share)
