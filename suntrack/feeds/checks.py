"""Is it a forecast at all?  What arrived in good form is held against the sky and the clock.

Most faults of feeds are silent: old rows under a fresh date, zeros where nothing is known,
members that stopped.  Each check has a sentence of its own; what can be mended is mended
and noted, what cannot is refused.  Sunlight is held against the clear sky and against itself;
rows at the end that nobody knows are cut off.
"""

from __future__ import annotations

from dataclasses import replace
from datetime import UTC, datetime, timedelta
from typing import TYPE_CHECKING, Any

import numpy as np

from suntrack.feeds.wire import content
from suntrack.sky.closure import as_mean_before, closure_rms_w_m2, label_of
from suntrack.sky.complete_irradiance import clear_global_w_m2
from suntrack.sky.localday import covered, only, sun_known
from suntrack.sky.sun import sun_table
from suntrack.units import span_words

if TYPE_CHECKING:
    from collections.abc import Mapping

    from numpy.typing import NDArray

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


HIGH_SUN_DEG = 15.0
"""Above this the clear sky is known well enough to hold light against it (our choice)."""
DARK_INDEX = 0.02
"""The blackest measured hours under a thick storm keep more of the clear sky (our choice)."""
DARK_S = 2.0 * 3600.0
OVERCAST = 0.95
BRIGHT_INDEX = 1.3
"""Sun beside bright cloud passes the clear sky for minutes; no hour's mean comes near this
(our choice).  [-]"""
STAMPS = {
    "instant": "The feed stamps its sunlight at the moment, not after the hour; it was moved.",
    "mean after": "The feed stamps its sunlight before the hour, not after; it was moved.",
}


def believable(forecast: Forecast, *, site: Site) -> Forecast:
    """Return a forecast whose light is possible, moved to the hour it belongs to.

    Members with impossible light are left out; raise FeedError when it is the only one, or
    too few are left.
    """
    if forecast.global_horizontal_w_m2 is None:
        return forecast
    moved = _moved(forecast, site=site)
    light = moved.global_horizontal_w_m2
    assert light is not None
    clear = clear_global_w_m2(moved.starts_at_s, moved.ends_at_s, site=site)
    high = _elevation_deg(moved.mid_at_s, site=site) > HIGH_SUN_DEG
    bright = high & (light > BRIGHT_INDEX * clear)
    dark = high & (light < DARK_INDEX * clear) & ~_overcast(moved)
    too_dark = _longest_s(dark, moved.ends_at_s - moved.starts_at_s) >= DARK_S
    wrong = too_dark | bright.any(axis=1)
    if moved.members == 1 and too_dark[0]:
        raise content("The forecast has no sunlight at all at midday, and no cloud to hide it.")
    if moved.members == 1 and wrong[0]:
        raise content("The forecast has more sunlight than a clear sky can give.")
    return with_members(moved, ~wrong)


def _overcast(forecast: Forecast) -> NDArray[np.bool_]:
    """Return where a forecast's own cloud could hide the sun; nowhere when it is not known."""
    if forecast.cloud is None:
        return np.zeros((forecast.members, forecast.starts_at_s.size), bool)
    return forecast.cloud >= OVERCAST


def _longest_s(marked: NDArray[np.bool_], lengths_s: NDArray[np.float64]) -> NDArray[np.float64]:
    """Return the longest unbroken stretch of marked intervals, by member.  [s]"""
    run = longest = np.zeros(marked.shape[0])
    for i, length_s in enumerate(lengths_s):
        run = np.where(marked[:, i], run + length_s, 0.0)
        longest = np.maximum(longest, run)
    return longest


def _elevation_deg(at_s: NDArray[np.float64], *, site: Site) -> NDArray[np.float64]:
    return sun_table(
        at_s,
        latitude_deg=site.latitude_deg,
        longitude_deg=site.longitude_deg,
        elevation_m=site.elevation_m,
    ).elevation_deg


def _moved(forecast: Forecast, *, site: Site) -> Forecast:
    """Return a forecast with its light in the hours it belongs to, by its own closure."""
    light = [
        forecast.global_horizontal_w_m2,
        forecast.beam_normal_w_m2,
        forecast.diffuse_horizontal_w_m2,
    ]
    if any(values is None for values in light) or forecast.members > 1 or forecast.coarse.any():
        return forecast
    total, beam, diffuse = (values[0] for values in light if values is not None)
    rms = closure_rms_w_m2(
        forecast.ends_at_s,
        global_horizontal_w_m2=total,
        beam_normal_w_m2=beam,
        diffuse_horizontal_w_m2=diffuse,
        sun_elevation_deg=lambda at_s: _elevation_deg(at_s, site=site),
    )
    label = label_of(rms, expected="mean before")
    if label == "mean before":
        return forecast
    names = ("global_horizontal_w_m2", "beam_normal_w_m2", "diffuse_horizontal_w_m2")
    fields: dict[str, Any] = {
        name: as_mean_before(row[None], label)
        for name, row in zip(names, (total, beam, diffuse), strict=True)
    }
    return replace(forecast, notes=(*forecast.notes, STAMPS[label]), **fields)


LEAST_KNOWN = 0.5
"""Share of the best member's hours below which a member counts as dead (our choice)."""
FEWEST_MEMBERS = 5
"""Fewer tell no chance (our choice)."""


def trimmed(forecast: Forecast) -> Forecast:
    """Return a forecast without dead members and without the hours that not all know.

    Raises
    ------
    FeedError
        If there were many members and hardly any is left.
    """
    light = _sun(forecast)
    if light is None:
        return forecast
    known = np.isfinite(light).sum(axis=1)
    if not known.any():
        return forecast
    alive = known >= max(1.0, LEAST_KNOWN * float(known.max()))
    kept = with_members(forecast, alive)
    return _common(kept) if forecast.members > 1 else _without_tail(kept)


def with_members(forecast: Forecast, alive: NDArray[np.bool_]) -> Forecast:
    """Return a forecast with some of its members, chosen by a mask; raise FeedError for few."""
    if alive.all():
        return forecast
    left = int(np.count_nonzero(alive))
    if left < (FEWEST_MEMBERS if forecast.members > 1 else 1):
        raise content(f"Only {left} of the forecast's {forecast.members} members can be used.")
    fields: dict[str, Any] = {
        name: values[alive] for name, values in forecast.member_arrays().items()
    }
    note = f"Left out: {forecast.members - left} of {forecast.members} members."
    return replace(forecast, notes=(*forecast.notes, note), **fields)


def _sun(forecast: Forecast) -> NDArray[np.float64] | None:
    """Return what a forecast says of the sun: light, or else cloud."""
    light = forecast.global_horizontal_w_m2
    return forecast.cloud if light is None else light


def _common(forecast: Forecast) -> Forecast:
    """Return the hours up to the last that every member knows."""
    light = _sun(forecast)
    assert light is not None
    shared = np.flatnonzero(np.isfinite(light).all(axis=0))
    last = int(shared[-1]) if shared.size else -1
    return only(forecast, np.arange(light.shape[1]) <= last)


def _without_tail(forecast: Forecast) -> Forecast:
    """Return the hours up to the last of which anything is known of the sun."""
    known = np.flatnonzero(sun_known(forecast))
    last = int(known[-1]) if known.size else -1
    return only(forecast, np.arange(forecast.starts_at_s.size) <= last)
