"""A forecast's sunlight held against the clear sky and against itself."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING, Any

import numpy as np

from suntrack.feeds.fault import content
from suntrack.feeds.members import with_members
from suntrack.sky.closure import as_mean_before, closure_rms_w_m2, label_of
from suntrack.sky.complete_irradiance import clear_global_w_m2
from suntrack.sky.sun import sun_table

if TYPE_CHECKING:
    from numpy.typing import NDArray

    from suntrack.sky.forecast import Forecast
    from suntrack.sky.site import Site

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
