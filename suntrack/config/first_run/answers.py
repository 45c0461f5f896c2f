"""Reading what a cook answers on the first run; ValueError for what is none of it."""

from __future__ import annotations

import re
from datetime import time
from typing import TYPE_CHECKING
from zoneinfo import ZoneInfo, ZoneInfoNotFoundError

from suntrack.config.first_run.places import Place, find_place
from suntrack.config.times import CLOCK_TIME, read_time
from suntrack.units import parse_length_m, parse_temperature_c

if TYPE_CHECKING:
    from collections.abc import Mapping
    from pathlib import Path

COORDINATES = re.compile(
    r"\s*([+-]?\d{1,2}(?:\.\d+)?)\s*°?\s*([NS]?)\s*[,\s]"
    r"\s*([+-]?\d{1,3}(?:\.\d+)?)\s*°?\s*([EW]?)\s*",
    re.IGNORECASE,
)
"""As a map or a phone writes a place: -24.65, 25.91, or 24.65 S, 25.91 E."""
DEGREES = re.compile(
    r"\s*([+-]?\d+(?:\.\d+)?)\s*(°?\s*[CF])?\s*(?:to|,|-|\N{EN DASH})"
    r"\s*([+-]?\d+(?:\.\d+)?)\s*(°?\s*[CF])?\s*",
    re.IGNORECASE,
)
HALF_DAY = re.compile(r"(0?[1-9]|1[0-2])\s*([ap]m)", re.IGNORECASE)
BARE_UNITS = {
    "elevation": ("m", "ft"), "inside": ("cm", "in"), "mirror": ("cm", "in"), "air": ("C", "F"),
}  # fmt: skip
"""What a number without a unit is taken in: metric, or inch."""
METRIC = ("metric", "m", "cm", "c", "kg", "celsius")
INCH = ("inch", "inches", "in", "ft", "f", "lb", "us", "imperial", "fahrenheit")
OWN_PLACE = "my place"
LENGTH_M = (0.1, 3.0)


def read_place(text: str, *, zone: str) -> Place:
    """Return the place of a name or of `latitude, longitude`; `zone` is for the latter."""
    found = COORDINATES.fullmatch(text)
    if found is None:
        return find_place(text)
    latitude = _signed(found[1], found[2], minus="s")
    longitude = _signed(found[3], found[4], minus="w")
    if abs(latitude) > 90.0 or abs(longitude) > 180.0:
        raise ValueError("latitude -90 to 90, longitude -180 to 180, such as -24.65, 25.91")
    return Place(
        name=OWN_PLACE, country="", latitude_deg=latitude, longitude_deg=longitude, time_zone=zone
    )


def _signed(number: str, letter: str, *, minus: str) -> float:
    """Return a coordinate; a letter stands in the place of a sign."""
    if letter and number[0] in "+-":
        raise ValueError("a sign or a letter, such as -24.65, 25.91 or 24.65 S, 25.91 E")
    return -float(number) if letter.lower() == minus else float(number)


def with_unit(name: str, text: str, *, inch: bool) -> str:
    """Return an answer with the cook's unit where a number has none; others as they are."""
    if name not in BARE_UNITS or not re.search(r"\d", text):
        return text
    unit = BARE_UNITS[name][inch]
    if name == "air":
        return _air_with_unit(text, unit)
    return text if re.search(r"[^\W\d_x]|[\"'\u2033\u2032]", text) else f"{text.strip()} {unit}"


def _air_with_unit(text: str, unit: str) -> str:
    """Return two temperatures, each with a unit: its own, or that of the other."""
    found = DEGREES.fullmatch(text)
    if found is None:
        return text
    low, high = found[2] or found[4] or unit, found[4] or found[2] or unit
    return f"{found[1]} {low.strip()} to {found[3]} {high.strip()}"


def read_elevation(text: str) -> float:
    """Return a height above the sea.  [m]"""
    height_m = parse_length_m(text)
    if not -430.0 <= height_m <= 6000.0:
        raise ValueError("too low or too high")
    return height_m


def read_zone(text: str) -> str:
    """Return the name of a time zone that there is."""
    try:
        return ZoneInfo(text.strip()).key
    except (ZoneInfoNotFoundError, ValueError, OSError):
        raise ValueError("no such time zone") from None


def read_units(text: str) -> bool:
    """Return True for inches, pounds and Fahrenheit."""
    return _word(text, (*METRIC, *INCH)) in INCH


def read_lengths(text: str, *, count: int) -> tuple[float, ...]:
    """Return lengths such as `58 x 44 x 27 cm`; a unit at the end is for all.  [m]"""
    pieces = [piece.strip() for piece in re.split(r"[x\u00d7]", text)]
    unit = re.search(r"[^\d.\s/]+$", pieces[-1])
    if len(pieces) != count or unit is None:
        raise ValueError("other than asked for")
    sized = [piece if re.search(r"[^\d.\s/]$", piece) else f"{piece} {unit[0]}" for piece in pieces]
    found = tuple(parse_length_m(piece) for piece in sized)
    if not all(LENGTH_M[0] <= length <= LENGTH_M[1] for length in found):
        raise ValueError("too small or too large")
    return found


def read_inside(text: str) -> tuple[float, float, float]:
    """Return width, depth and height.  [m]"""
    width, depth, height = read_lengths(text, count=3)
    return width, depth, height


def read_glasses(text: str) -> int:
    """Return 1 or 2."""
    return int(_word(text, ("1", "2")))


def read_mirror(text: str) -> tuple[float, float] | None:
    """Return length and width; None for none.  [m]"""
    if text.strip().lower() in ("", "none", "no"):
        return None
    length, width = read_lengths(text, count=2)
    return length, width


def read_air(text: str) -> tuple[float, float]:
    """Return the coolest and the warmest air of a day.  [C]"""
    low, _, high = text.replace(",", " to ").partition(" to ")
    low_c, high_c = parse_temperature_c(low.strip()), parse_temperature_c(high.strip())
    if not -60.0 <= low_c <= high_c <= 60.0:
        raise ValueError("not in order, or none of this earth")
    return low_c, high_c


def read_meal(text: str) -> time:
    """Return the time of the meal, such as 13:00, 1:00 pm or 1 pm."""
    whole = HALF_DAY.sub(r"\1:00 \2", text.strip()) if HALF_DAY.fullmatch(text.strip()) else text
    if not re.fullmatch(CLOCK_TIME, whole.strip()):
        raise ValueError("no time")
    return read_time(whole.strip())


def system_zone(env: Mapping[str, str], localtime: Path) -> str:
    """Return the time zone of this computer; `UTC` where it does not say."""
    told = (env.get("TZ", ""), str(localtime.resolve()).partition("zoneinfo/")[2])
    for name in told:
        try:
            if name:
                return read_zone(name)
        except ValueError:
            continue
    return "UTC"


def _word(text: str, allowed: tuple[str, ...]) -> str:
    word = text.strip().lower()
    if word not in allowed:
        raise ValueError("none of those")
    return word
