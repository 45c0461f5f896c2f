"""A cook's first config: a few answers become a commented file that is checked before it stays."""

from __future__ import annotations

import os
from dataclasses import dataclass
from datetime import time
from typing import TYPE_CHECKING

from suntrack.config.reader import load_config

if TYPE_CHECKING:
    from pathlib import Path

POTS = (
    (4.0, 0.25, 0.13, 1.3),
    (2.5, 0.20, 0.12, 0.9),
    (1.5, 0.16, 0.10, 0.6),
    (0.8, 0.13, 0.08, 0.4),
)
"""Common pots, the largest first (our choice).  [L], [m], [m], [kg]"""
FILLED = 0.45
"""Kilograms of food for each litre of pot (kitchen judgement).  [kg/L]"""


@dataclass(frozen=True, slots=True, kw_only=True)
class Answers:
    """What the cook was asked."""

    site_name: str
    """What the screens call the place."""
    latitude_deg: float
    """North positive.  [deg]"""
    longitude_deg: float
    """East positive.  [deg]"""
    elevation_m: float
    """Above sea level.  [m]"""
    guessed_elevation: bool = False
    """True when nobody said how high the place is."""
    time_zone: str
    """IANA name."""
    low_c: float
    """Of each month, January first.  [C]"""
    high_c: float
    """Of each month, January first.  [C]"""
    skyline: tuple[tuple[float, float], ...]
    """Azimuth and height, rising.  [deg], [deg]"""
    inside_m: tuple[float, float, float]
    """Width, depth, height."""
    glasses: int
    """1 or 2."""
    mirror_m: tuple[float, float] | None
    """Length and width; None without one."""
    inch: bool
    """Show inches, pounds, Fahrenheit and a 12-hour clock."""
    meal: time
    """The first meal."""


def config_text(answers: Answers) -> str:
    """Return the file."""
    parts = (_site(answers), _skyline(answers), _box(answers), _mirror(answers), _rest(answers))
    return "\n".join(part for part in parts if part)


def write_checked(path: Path, text: str) -> None:
    """Put a config in its place once it has been read without a mistake; else raise InputError.

    Whatever happens, nothing half-done stays.
    """
    path.parent.mkdir(parents=True, exist_ok=True)
    part = path.with_name(f".{path.name}.{os.getpid()}.part")
    try:
        part.write_text(text, encoding="utf-8")
        load_config(part)
        part.replace(path)
    finally:
        part.unlink(missing_ok=True)


def _site(a: Answers) -> str:
    return f"""\
# suntrack: your place, your box, your pot and your first dish.
# The example config/suntrack.toml of the project explains every key there is.

[site]
name = {_quoted(a.site_name)}
latitude = {a.latitude_deg}                # degrees, north positive
longitude = {a.longitude_deg}               # degrees, east positive
elevation = "{a.elevation_m:.0f} m"            # {_height(a)}
time_zone = {_quoted(a.time_zone)}

# An ordinary day where no forecast is at hand: one value each, or twelve, January first.
[site.air]
low = "{a.low_c:.0f} C"                  # coolest air, near sunrise
high = "{a.high_c:.0f} C"                 # warmest air, in the afternoon
"""


def _height(a: Answers) -> str:
    """Return what is said of the height of the place."""
    if a.guessed_elevation:
        return "above sea level, off a coarse map: put yours in, it sets where water boils"
    return "above sea level; sets where water boils"


def _skyline(a: Answers) -> str:
    if not a.skyline:
        return (
            "# Nothing hides the sun.  If something does: [[site.skyline]], azimuth and height.\n"
        )
    head = "# What hides the sun: bearings from true north, heights above the level.\n"
    points = (
        f'[[site.skyline]]\nazimuth = "{azimuth:g} deg"\nheight = "{height:g} deg"\n'
        for azimuth, height in a.skyline
    )
    return head + "\n".join(points)


def _box(a: Answers) -> str:
    width, depth, height = (_length(size, a) for size in a.inside_m)
    return f"""\
[box]                              # measured inside
width = "{width}"                  # left to right, seen from the front
depth = "{depth}"                  # front to back
height = "{height}"                 # floor to top glass

[box.top]                          # the glass on top
glasses = {a.glasses}
thickness = "4 mm"                 # usual; measure yours

# A glass front as well: [box.front], with the same keys as [box.top].

[box.lining]                       # the dark sheet inside; usual
material = "aluminium"
thickness = "1 mm"

# The walls, behind the lining first: usual ones.  Yours decide how hot the box gets.
[[box.wall]]
material = "mineral wool"          # no wood next to the hot sheet
thickness = "50 mm"

[[box.wall]]
material = "plywood"
thickness = "12 mm"
"""


def _mirror(a: Answers) -> str:
    if a.mirror_m is None:
        return "# No mirror.  If you add one: [box.mirror] with length and width.\n"
    length, width = (_length(size, a) for size in a.mirror_m)
    return f"""\
[box.mirror]                       # hinged at the back
length = "{length}"                 # hinge to tip
width = "{width}"                  # left to right
"""


def _rest(a: Answers) -> str:
    litres, wide_m, high_m, mass_kg = pot_for(a.inside_m)
    show = ("F", "in", "lb", "12") if a.inch else ("C", "cm", "kg", "24")
    return f"""\
[[pot]]                            # a common dark pot with a lid; measure yours
name = "pot"
capacity = "{litres:g} L"
mass = "{mass_kg:g} kg"
material = "enamelled steel"
diameter = "{wide_m * 100.0:.0f} cm"
height = "{high_m * 100.0:.0f} cm"

[[dish]]                           # suntrack dishes lists what you can put here
dish = "lentil-soup"
serve = "{a.meal:%H:%M}"
amount = "{litres * FILLED:.1f} kg"
pot = "pot"

[show]
temperature = "{show[0]}"
length = "{show[1]}"
mass = "{show[2]}"
clock = "{show[3]}"

[feed]
use = "none"                       # suntrack feed lists weather services and their terms
"""


def pot_for(inside_m: tuple[float, float, float]) -> tuple[float, float, float, float]:
    """Return the largest common pot that has some air around it; the smallest if none has."""
    across, high = min(inside_m[:2]), inside_m[2]
    fits = (pot for pot in POTS if pot[1] + 0.02 <= across and pot[2] + 0.02 <= high)
    return next(fits, POTS[-1])


def _length(metres: float, a: Answers) -> str:
    return f"{metres / 0.0254:.4g} in" if a.inch else f"{metres * 100.0:.4g} cm"


def _quoted(text: str) -> str:
    """Return a TOML basic string; signs that it cannot hold as they are become spaces."""
    kept = "".join(sign if sign.isprintable() else " " for sign in text)
    return '"' + kept.replace("\\", "\\\\").replace('"', '\\"') + '"'
