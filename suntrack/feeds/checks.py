"""Is it a forecast at all?  What arrived in good form is held against the sky and the clock.

Most faults of feeds are silent: old rows under a fresh date, zeros where nothing is known,
members that stopped.  Each check has a sentence of its own; what can be mended is mended
and noted, what cannot is refused.
"""

from __future__ import annotations

from dataclasses import replace
from datetime import UTC, datetime, timedelta
from typing import TYPE_CHECKING, Any

import numpy as np

from suntrack.feeds.fault import content
from suntrack.feeds.members import trimmed
from suntrack.feeds.sunlight import believable
from suntrack.sky.localday import covered, sun_known
from suntrack.units import span_words

if TYPE_CHECKING:
    from collections.abc import Mapping

    from suntrack.sky.forecast import Forecast
    from suntrack.sky.site import Site

SLACK = timedelta(hours=1)
"""How far a clock may be wrong before an issue counts as from the future."""
LATEST_START = timedelta(hours=24)
OLDEST_ISSUE = timedelta(hours=48)
LEAST_AHEAD = timedelta(hours=6)
"""A forecast that knows less of the time to come is of no use to a cook (our choice)."""
MOSTLY = 0.9
"""Share of the next day below which the gaps are told (our choice)."""
FROZEN = timedelta(hours=18)
"""A feed that is renewed four times a day does not repeat itself for longer (our choice)."""
RANGES: Mapping[str, tuple[float, float, str]] = {
    # Nothing measured on the ground passes the solar constant by much; small negative light
    # is a thermopile's night, seen in recorded answers.
    "global_horizontal_w_m2": (-20.0, 1500.0, "sunlight"),
    "beam_normal_w_m2": (-20.0, 1400.0, "direct sunlight"),
    "diffuse_horizontal_w_m2": (-20.0, 1200.0, "diffuse sunlight"),
    "cloud": (-0.01, 1.01, "cloud"),
    "cloud_low": (-0.01, 1.01, "low cloud"),
    "cloud_mid": (-0.01, 1.01, "middle cloud"),
    "cloud_high": (-0.01, 1.01, "high cloud"),
    # WMO archive of extremes (from memory): -89.2 and 56.7 C; gust 113 m/s.
    "air_c": (-90.0, 60.0, "air temperature"),
    "wind_m_s": (-0.1, 113.0, "wind"),
    "gust_m_s": (-0.1, 120.0, "gusts"),
    "rain_chance": (-0.01, 1.01, "chance of rain"),
}
SHARES = ("cloud", "cloud_low", "cloud_mid", "cloud_high", "rain_chance")


def checked(
    forecast: Forecast, *, site: Site, now: datetime, before: Forecast | None = None
) -> Forecast:
    """Return a forecast that may be used, mended and with notes; raise FeedError for no other.

    `before` is the forecast that was kept until now.
    """
    _dates(forecast, now=now)
    whole = trimmed(_in_range(forecast))
    _reaches_ahead(whole, now=now)
    lit = believable(whole, site=site)
    return replace(lit, notes=(*lit.notes, *_gaps(lit, now=now), *_frozen(lit, before)))


def _dates(forecast: Forecast, *, now: datetime) -> None:
    """Refuse a forecast from the future or from long ago, by what it says of itself."""
    issued = forecast.issued_at
    if issued is not None and issued - now > SLACK:
        raise content(
            "The forecast says it was made in the future; is this computer's clock right?"
        )
    if issued is not None and now - issued > OLDEST_ISSUE:
        raise content(f"The feed's newest forecast is {span_words(now - issued)} old.")
    if not forecast.starts_at_s.size:
        raise content("The forecast has no hours at all.")
    starts = datetime.fromtimestamp(float(forecast.starts_at_s[0]), UTC)
    if starts - now > LATEST_START:
        raise content(
            f"The forecast begins only in {span_words(starts - now)};"
            " is this computer's clock right?"
        )


def _in_range(forecast: Forecast) -> Forecast:
    """Refuse values that no weather has; return the rest with small untidiness clipped."""
    fields: dict[str, Any] = dict(forecast.member_arrays())
    for name, values in fields.items():
        low, high, words = RANGES[name]
        outside = values[(values < low) | (values > high)]
        if outside.size:
            worst = outside[np.argmax(np.abs(outside))]
            raise content(f"The forecast has {words} of {worst:g}, which no weather has.")
        if name != "air_c":
            # Adding zero turns minus zero, which one feed writes, into zero.
            fields[name] = np.clip(values, 0.0, 1.0 if name in SHARES else None) + 0.0
    return replace(forecast, **fields)


def _reaches_ahead(forecast: Forecast, *, now: datetime) -> None:
    """Refuse rows of the past under a fresh date, and rows of nothing."""
    known = sun_known(forecast)
    if not known.any():
        raise content("The forecast knows neither sunlight nor cloud for any hour.")
    ends = datetime.fromtimestamp(float(forecast.ends_at_s[known][-1]), UTC)
    if ends <= now:
        raise content(f"The forecast ended {span_words(now - ends)} ago; the feed is stuck.")
    if ends - now < LEAST_AHEAD:
        raise content(f"The forecast reaches only {span_words(ends - now)} ahead.")


def _gaps(forecast: Forecast, *, now: datetime) -> list[str]:
    """Return a note when much of the coming day is not known."""
    starts_s = now.timestamp()
    share = covered(forecast, starts_s=starts_s, ends_s=starts_s + 86400.0)
    if share >= MOSTLY:
        return []
    return [f"The feed knows the sun for {24.0 * share:.0f} of the next 24 hours only."]


def _frozen(forecast: Forecast, before: Forecast | None) -> list[str]:
    """Return a note when nothing has moved since the last answer, long ago."""
    if before is None or forecast.fetched_at - before.fetched_at < FROZEN:
        return []
    arrays, earlier = forecast.member_arrays(), before.member_arrays()
    same = arrays.keys() == earlier.keys() and np.array_equal(
        forecast.starts_at_s, before.starts_at_s
    )
    if not same or not all(
        np.array_equal(arrays[name], earlier[name], equal_nan=True) for name in arrays
    ):
        return []
    span = span_words(forecast.fetched_at - before.fetched_at)
    return [f"The feed has said exactly the same for {span}; it may be stuck."]
