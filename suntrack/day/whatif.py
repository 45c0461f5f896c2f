"""What a change to the box would bring: heat, time and days, the best first.

Each change is run through the same sample of the year's days as the box as it is.  Side
mirrors are not among them: the light model has one mirror, at the back.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from suntrack.box.gain import BoxLight
from suntrack.box.materials import materials
from suntrack.box.thermal import thermal
from suntrack.box.trial import standstill
from suntrack.box.warnings import Peaks, too_hot
from suntrack.day.season import YearRun, year_light, year_run
from suntrack.day.standard_pot import standard_pot

if TYPE_CHECKING:
    from collections.abc import Callable, Sequence

    from numpy.typing import NDArray

    from suntrack.box.build import Box, Pot
    from suntrack.box.warnings import TooHot
    from suntrack.sky.site import Site
    from suntrack.sky.year import YearSky

YEAR_DAYS = 365
EVERY_DAYS = 5
"""One day in so many stands for all of them.  [days]"""
LONGER = 1.25
THICKEST_M = 0.15
MORE_TILT_DEG = 10.0
CLEAR_GLASS_PER_M, USUAL_GLASS_PER_M = 4.0, 16.0
"""Extra-white and usual float glass: Duffie and Beckman, section 5.2 (from memory).  [1/m]"""
TIGHTER = 0.5
LEAST_LEAK_W_K = 0.02
BETTER = 0.8
"""Another insulation is offered when it lets through less than this share.  [-]"""
HOT_WALL_C = 150.0
"""Insulation that must stay below this has no place beside a hot lining (our choice): foams
give off fumes there.  [C]"""
INCH_M = 0.0254


@dataclass(frozen=True, slots=True, kw_only=True)
class Change:
    """One change, as the builder wrote it."""

    words: str
    box: Box


@dataclass(frozen=True, slots=True, kw_only=True)
class Gain:
    """What a change brings, against the box as it is."""

    words: str
    hotter_k: float
    """Middle of the days: how much hotter the empty box gets.  [K]"""
    sooner_min: float | None
    """Middle of the days on which both bring two litres of water to heat: how much sooner;
    None where they never do.  [min]"""
    more_days: int
    """Cooking days of the year gained.  [days]"""
    more_pot_days: int
    """Days of the year gained on which the two litres get hot.  [days]"""
    too_hot: tuple[TooHot, ...]
    """What then gets hotter than it should, in the strongest light of the year."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Builder:
    """The answer: the box as it is, and each change."""

    source: str
    peak_c: float
    hot_days: int
    too_hot: tuple[TooHot, ...]
    gains: tuple[Gain, ...]


def weigh(
    box: Box,
    changes: Sequence[Change],
    *,
    site: Site,
    sky: YearSky,
    pots: Sequence[Pot],
    threshold_c: float,
    hours: float,
) -> Builder:
    """Return what each change brings.

    Parameters
    ----------
    box, changes : Box, sequence of Change
        The box as it is, and what it could be.
    site : Site
    sky : YearSky
        A whole year, or a sample of its days.
    pots : sequence of Pot
        The cook's own; the standard pot is the largest that fits each box.
    threshold_c, hours : float
        What a cooking day is.  [C], [h]

    Returns
    -------
    builder : Builder
        The gains ranked by cooking days, then days of the pot, then time, then heat.
    """

    def run(one: Box) -> YearRun:
        pot = standard_pot(pots, box=one, elevation_m=site.elevation_m)
        return year_run(one, site, sky, pot=pot, threshold_c=threshold_c)

    now = run(box)
    gains = [
        _gain(
            change.words,
            now,
            run(change.box),
            hours=hours,
            hot=parts_too_hot(change.box, site, sky),
        )
        for change in changes
    ]
    return Builder(
        source=sky.source,
        peak_c=float(np.median(now.peak_c)),
        hot_days=_of_year(now.hours_above >= hours),
        too_hot=parts_too_hot(box, site, sky),
        gains=tuple(sorted(gains, key=_rank, reverse=True)),
    )


def _rank(gain: Gain) -> tuple[float, float, float, float]:
    sooner = -np.inf if gain.sooner_min is None else gain.sooner_min
    return gain.more_days, gain.more_pot_days, sooner, gain.hotter_k


def _gain(
    words: str, now: YearRun, then: YearRun, *, hours: float, hot: tuple[TooHot, ...]
) -> Gain:
    both = np.isfinite(now.ready_s) & np.isfinite(then.ready_s)
    sooner_s = (now.ready_s - then.ready_s)[both]
    hot_days = [_of_year(run.hours_above >= hours) for run in (now, then)]
    pot_days = [_of_year(np.isfinite(run.ready_s)) for run in (now, then)]
    return Gain(
        words=words,
        hotter_k=float(np.median(then.peak_c - now.peak_c)),
        sooner_min=float(np.mean(sooner_s)) / 60.0 if sooner_s.size else None,
        more_days=hot_days[1] - hot_days[0],
        more_pot_days=pot_days[1] - pot_days[0],
        too_hot=hot,
    )


def _of_year(good: NDArray[np.bool_]) -> int:
    """Return how many days of a year a sample stands for."""
    return round(YEAR_DAYS * float(np.mean(good)))


def parts_too_hot(box: Box, site: Site, sky: YearSky) -> tuple[TooHot, ...]:
    """Return what gets too hot in the strongest light of the year, held, in still air."""
    light, air_c = year_light(box, site, sky)
    flat = np.unravel_index(int(light.inside_w.argmax()), light.inside_w.shape)
    moment = BoxLight(
        inside_w=light.inside_w[flat],
        top_panes_w=light.top_panes_w[flat],
        front_panes_w=light.front_panes_w[flat],
        top_w=light.top_w[flat],
        front_w=light.front_w[flat],
        mirror_w=light.mirror_w[flat],
    )
    outdoors_c = float(air_c[flat])
    still = standstill(thermal(box), light=moment, air_c=outdoors_c, wind_m_s=0.0)
    peaks = Peaks(
        lining_c=still.lining_c,
        top_glass_c=still.top_panes_c[0],
        front_glass_c=still.front_panes_c[0] if still.front_panes_c else None,
        air_c=outdoors_c,
    )
    return too_hot(box, peaks=peaks)


def usual_changes(box: Box, *, inches: bool = False) -> tuple[str, ...]:
    """Return what a builder would ask of this box first, in the words of the config."""
    length = _inches if inches else _cm
    return (
        *_glass_words(box),
        *_mirror_words(box, length),
        *_wall_words(box, length),
        *_other_words(box),
    )


def _glass_words(box: Box) -> list[str]:
    words = ["top.glasses = 2"] if box.top.glasses == 1 else []
    if box.front is None:
        words.append("front = glass")
    else:
        words += ["front.glasses = 2"] if box.front.glasses == 1 else []
        words.append("front = none")
    if box.top.extinction_per_m >= USUAL_GLASS_PER_M:
        words.append("top.glass = extra-white")
    return words


def _mirror_words(box: Box, length: Callable[[float], str]) -> list[str]:
    if box.mirror is None:
        return [
            f"mirror.length = {length(box.depth_m)}, mirror.width = {length(box.width_m)}",
        ]
    words = [f"mirror.length = {length(LONGER * box.mirror.length_m)}"]
    if box.mirror.reflectance < 0.9:
        words.append("mirror.reflectance = 0.92")
    return words


def _wall_words(box: Box, length: Callable[[float], str]) -> list[str]:
    """Return thicker and other insulation, for the layer that keeps most heat in."""
    kept = [layer.thickness_m / _conductivity(layer.material) for layer in box.walls]
    place = int(np.argmax(kept))
    layer = box.walls[place]
    words = []
    if layer.thickness_m < THICKEST_M:
        thicker_m = min(2.0 * layer.thickness_m, THICKEST_M)
        words.append(f"wall.{place + 1}.thickness = {length(thicker_m)}")
    now = _conductivity(layer.material)
    others = [
        (one.conductivity_w_mk, name)
        for name, one in materials().items()
        if not one.pot
        and one.highest_c is not None
        and one.highest_c >= HOT_WALL_C
        and one.conductivity_w_mk < BETTER * now
    ]
    return [*words, *([f"wall.{place + 1}.material = {min(others)[1]}"] if others else [])]


def _other_words(box: Box) -> list[str]:
    words = []
    if box.leak_w_k > 2.0 * LEAST_LEAK_W_K:
        words.append(f"leak = {TIGHTER * box.leak_w_k:.2f} W/K")
    if box.tilt_deg + MORE_TILT_DEG <= 45.0:
        words.append(f"tilt = {box.tilt_deg + MORE_TILT_DEG:.0f} deg")
    return words


def _conductivity(material: str) -> float:
    return materials()[material].conductivity_w_mk


def _cm(metres: float) -> str:
    return f"{100.0 * metres:.3g} cm"


def _inches(metres: float) -> str:
    return f"{metres / INCH_M:.3g} in"
