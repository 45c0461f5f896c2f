"""The answers of the first run: from the command line, from the cook, or what is usual."""

from __future__ import annotations

import os
from dataclasses import dataclass, field
from datetime import timedelta
from pathlib import Path
from typing import TYPE_CHECKING, Any
from zoneinfo import ZoneInfo

from suntrack.clock import SystemClock
from suntrack.commands.asking import asked, say
from suntrack.config.first_run import answers as read
from suntrack.config.first_run.heights import map_height_m
from suntrack.config.first_run.skyline import ALLOWED, read_skyline
from suntrack.config.first_run.text import Answers
from suntrack.errors import InputError, Problem
from suntrack.screen.text.setup import (
    TAKEN,
    WHAT_IS_ALLOWED,
    far_zone_words,
    height_words,
    question,
)
from suntrack.sky.declination import declination
from suntrack.units import FOOT_M

if TYPE_CHECKING:
    import argparse
    from collections.abc import Callable, Iterator
    from datetime import datetime

LOCALTIME = Path("/etc/localtime")
ORDER = (
    "place", "zone", "units", "elevation", "inside", "glasses", "mirror", "skyline", "air", "meal",
)  # fmt: skip
"""Units come before every size: a number without its unit is then in those of the cook."""
OPTIONS = {"zone": "time_zone"}
"""Where the name of an option is not the question's."""
USUAL = {
    "elevation": "0 m", "units": "metric", "inside": "50 x 40 x 25 cm", "glasses": "1",
    "mirror": "none", "skyline": "none", "air": "15 C to 28 C", "meal": "13:00",
}  # fmt: skip
"""Plain guesses, and the cook is told so; without a mirror nobody is promised its heat."""
USUAL_INCH = {"elevation": "0 ft", "inside": "20 x 16 x 10 in", "air": "60 F to 82 F"}
"""The same where the cook said inch."""
MEASURED = ("elevation", "inside", "mirror", "air")
"""What a number without a unit is said back for."""
MOST_APART_H = 3.0
"""So far, and no farther, clocks stand from the sun (in the west of China, from memory).  [h]"""


@dataclass(slots=True, kw_only=True)
class Answered:
    """What was answered so far."""

    found: dict[str, Any] = field(default_factory=dict)
    """What was answered, by the question's name."""
    usual: list[str] = field(default_factory=list)
    """What nobody said and is usual, in words."""
    problems: list[Problem] = field(default_factory=list)
    """Every mistake, in the order of the file."""

    @property
    def inch(self) -> bool:
        """True when numbers without a unit are inches, feet and Fahrenheit."""
        return bool(self.found.get("units", False))


def given_answers(args: argparse.Namespace) -> dict[str, str]:
    """Return the answers that the command line brings."""
    given = {name: getattr(args, OPTIONS.get(name, name), None) for name in ORDER}
    if args.latitude is not None and args.longitude is not None:
        given["place"] = f"{args.latitude}, {args.longitude}"
    return {name: text for name, text in given.items() if text is not None}


def answered(given: dict[str, str], *, asks: bool) -> Answered:
    """Return every answer; raise InputError with all mistakes."""
    so_far = Answered()
    for name in ORDER:
        default = _default(name, so_far)
        try:
            if asks and name not in given:
                _ask_for(name, default, so_far)
            else:
                so_far.found[name] = _read(name, given.get(name, default), so_far)
                _note_usual(name, default, so_far, was_said=name in given)
        except ValueError as error:
            so_far.problems.append(_problem(name, given.get(name, default), error))
    if so_far.problems:
        raise InputError(*so_far.problems)
    return so_far


def _ask_for(name: str, default: str, so_far: Answered) -> None:
    """Ask until it can be read, and say back what a bare number was taken for."""
    so_far.found[name], text = asked(
        question(name, default),
        default=default,
        read=lambda text: _read(name, text, so_far),
        allowed=lambda error: _allowed(name, error),
    )
    if name in MEASURED and any(sign.isdigit() for sign in text):
        whole = read.with_unit(name, text, inch=so_far.inch)
        if whole != text:
            say(TAKEN.format(what=whole), indent="  ")
    # The others are plain to see when Enter is pressed; this one is off a coarse map.
    if name == "elevation" and not text:
        _note_usual(name, default, so_far, was_said=False)


def _note_usual(name: str, default: str, so_far: Answered, *, was_said: bool) -> None:
    by_number = "place" in so_far.found and so_far.found["place"].name == read.OWN_PLACE
    if not was_said and (name in USUAL or (name == "zone" and by_number)):
        so_far.usual.append(f"{'time zone' if name == 'zone' else name} {default}")


def _default(name: str, so_far: Answered) -> str:
    """Return what Enter takes; for the place nothing."""
    if name == "zone":
        own = read.system_zone(os.environ, LOCALTIME)
        return so_far.found["place"].time_zone if "place" in so_far.found else own
    if name == "elevation" and "place" in so_far.found:
        return _map_height(so_far)
    return (USUAL | (USUAL_INCH if so_far.inch else {})).get(name, "")


def _map_height(so_far: Answered) -> str:
    """Return the height that a coarse map has for the place, in the cook's units."""
    place = so_far.found["place"]
    height_m = map_height_m(latitude_deg=place.latitude_deg, longitude_deg=place.longitude_deg)
    return f"{round(height_m / FOOT_M, -1):.0f} ft" if so_far.inch else f"{height_m:.0f} m"


def _read(name: str, text: str, so_far: Answered) -> Any:
    """Return an answer as a value; raise ValueError."""
    if name == "place":
        return read.read_place(text, zone=read.system_zone(os.environ, LOCALTIME))
    if name == "skyline":
        return read_skyline(text, declination_deg=_declination_deg(so_far.found))
    readers: dict[str, Callable[[str], Any]] = {
        "elevation": read.read_elevation, "zone": read.read_zone, "units": read.read_units,
        "inside": read.read_inside, "glasses": read.read_glasses, "mirror": read.read_mirror,
        "air": read.read_air, "meal": read.read_meal,
    }  # fmt: skip
    return readers[name](read.with_unit(name, text, inch=so_far.inch))


def _declination_deg(found: dict[str, Any]) -> float:
    """Return how far east of true north a compass points where the box stands.  [deg]"""
    if "place" not in found:
        return 0.0
    return declination(
        latitude_deg=found["place"].latitude_deg,
        longitude_deg=found["place"].longitude_deg,
        elevation_m=found.get("elevation", 0.0),
        on=SystemClock().now().date(),
    ).deg


def _allowed(name: str, error: ValueError) -> str:
    if name == "skyline":
        return ALLOWED
    return WHAT_IS_ALLOWED.get(name, str(error))


def _problem(name: str, text: str, error: ValueError) -> Problem:
    option = OPTIONS.get(name, name).replace("_", "-")
    return Problem(
        where=f"--{option}",
        found=repr(text) if text else "nothing",
        allowed=_allowed(name, error),
        remedy="Write it so.",
    )


def doubts(so_far: Answered, *, now: datetime) -> Iterator[str]:
    """Yield, in sentences, what nobody said or cannot be and changes every plan."""
    if any(text.startswith("elevation ") for text in so_far.usual):
        yield height_words(so_far.found["elevation"], inch=so_far.inch)
    zone, sun_h = ZoneInfo(so_far.found["zone"]), so_far.found["place"].longitude_deg / 15.0
    clock_h = (now.astimezone(zone).utcoffset() or timedelta()) / timedelta(hours=1)
    # Round the world: 23 hours one way are one hour the other.
    if abs((clock_h - sun_h + 12.0) % 24.0 - 12.0) > MOST_APART_H:
        yield far_zone_words(zone.key)


def config_answers(found: dict[str, Any], *, guessed_elevation: bool) -> Answers:
    """Return the answers as the first config wants them."""
    place = found["place"]
    low_c, high_c = found["air"]
    return Answers(
        site_name=place.name,
        latitude_deg=place.latitude_deg,
        longitude_deg=place.longitude_deg,
        elevation_m=found["elevation"],
        guessed_elevation=guessed_elevation,
        time_zone=found["zone"],
        low_c=low_c,
        high_c=high_c,
        skyline=found["skyline"],
        inside_m=found["inside"],
        glasses=found["glasses"],
        mirror_m=found["mirror"],
        inch=found["units"],
        meal=found["meal"],
    )
