"""`suntrack setup`: a few questions, a config of the cook's own, and the first plan."""

from __future__ import annotations

import argparse
import os
from pathlib import Path
from typing import TYPE_CHECKING, Any

from suntrack.commands.context import print_json
from suntrack.edge import answers as read
from suntrack.edge.clock import SystemClock
from suntrack.edge.first_config import Answers, config_text, write_checked
from suntrack.edge.paths import FILE, dishes_dir
from suntrack.edge.skyline_text import ALLOWED, read_skyline
from suntrack.errors import InputError, Problem
from suntrack.screen.setup_words import (
    ANSWER_BY,
    ASKED_OF,
    WELCOME,
    WHAT_IS_ALLOWED,
    next_lines,
    question,
)
from suntrack.sky.declination import declination

if TYPE_CHECKING:
    from collections.abc import Callable

LOCALTIME = Path("/etc/localtime")
ORDER = (
    "place", "elevation", "zone", "units", "inside", "glasses", "mirror", "skyline", "air", "meal",
)  # fmt: skip
OPTIONS = {"zone": "time_zone"}
"""Where the name of an option is not the question's."""
USUAL = {
    "elevation": "0 m", "units": "metric", "inside": "50 x 40 x 25 cm", "glasses": "1",
    "mirror": "none", "skyline": "none", "air": "15 C to 28 C", "meal": "13:00",
}  # fmt: skip
"""Plain guesses, and the cook is told so; without a mirror nobody is promised its heat."""


def run(args: argparse.Namespace) -> int:
    """Ask, write, plan, and say what to do next."""
    path = Path(args.config).expanduser() if args.config else dishes_dir(os.environ).parent / FILE
    asks = not args.yes
    _may_write(path, args, asks=asks)
    if asks and not args.json:
        print(WELCOME)
    given = _given(args)
    found, usual = _answered(given, asks=asks)
    write_checked(path, config_text(_answers(found)))
    if args.json:
        from suntrack.screen.files_json import setup_json

        print_json(setup_json(path, usual))
        return 0
    print(f"Written: {path}")
    status = _first_plan(path)
    print("\n" + "\n".join(next_lines(str(path), usual=usual)))
    return status


def _first_plan(path: Path) -> int:
    from suntrack.commands import today

    wanted = argparse.Namespace(config=str(path), json=False, plain=False, at=None, date=None)
    return today.run(wanted)


def _may_write(path: Path, args: argparse.Namespace, *, asks: bool) -> None:
    """Ask before an older config is written over; without asking, refuse."""
    if not path.exists() or args.replace:
        return
    if (
        asks
        and _ask(f"There is a config already, {path}. Write over it? yes or no [no]: ") == "yes"
    ):
        return
    raise InputError(
        Problem(
            where="--config",
            found=f"{str(path)!r}, a config that is there already",
            allowed="a file that is new",
            remedy="Nothing was changed. Name another file with --config, or add --replace.",
        )
    )


def _given(args: argparse.Namespace) -> dict[str, str]:
    """Return the answers that the command line brings."""
    given = {name: getattr(args, OPTIONS.get(name, name), None) for name in ORDER}
    if args.latitude is not None and args.longitude is not None:
        given["place"] = f"{args.latitude}, {args.longitude}"
    return {name: text for name, text in given.items() if text is not None}


def _answered(given: dict[str, str], *, asks: bool) -> tuple[dict[str, Any], list[str]]:
    """Return every answer, and which were nobody's; raise InputError with all mistakes."""
    found: dict[str, Any] = {}
    usual: list[str] = []
    problems: list[Problem] = []
    for name in ORDER:
        default = _default(name, found)
        try:
            if name in given:
                found[name] = _read(name, given[name], found)
            elif asks:
                found[name] = _asked(name, default, found)
            else:
                found[name] = _read(name, default, found)
                usual += [f"{name} {default}"] if name in USUAL else []
        except ValueError as error:
            problems.append(_problem(name, given.get(name, default), error))
    if problems:
        raise InputError(*problems)
    return found, usual


def _default(name: str, found: dict[str, Any]) -> str:
    """Return what Enter takes; for the place nothing."""
    if name == "zone":
        own = read.system_zone(os.environ, LOCALTIME)
        return found["place"].time_zone if "place" in found else own
    return USUAL.get(name, "")


def _asked(name: str, default: str, found: dict[str, Any]) -> Any:
    """Ask until there is an answer that can be read."""
    while True:
        text = _ask(question(name, default)) or default
        try:
            return _read(name, text, found)
        except ValueError as error:
            print(f"  That is not {_allowed(name, error)}.")


def _ask(words: str) -> str:
    try:
        return input(words).strip()
    except EOFError:
        print()
        raise InputError(
            Problem(where="setup", found=ASKED_OF, allowed="answers", remedy=ANSWER_BY)
        ) from None


def _read(name: str, text: str, found: dict[str, Any]) -> Any:
    """Return an answer as a value; raise ValueError."""
    if name == "place":
        return read.read_place(text, zone=read.system_zone(os.environ, LOCALTIME))
    if name == "skyline":
        return read_skyline(text, declination_deg=_declination_deg(found))
    readers: dict[str, Callable[[str], Any]] = {
        "elevation": read.read_elevation, "zone": read.read_zone, "units": read.read_units,
        "inside": read.read_inside, "glasses": read.read_glasses, "mirror": read.read_mirror,
        "air": read.read_air, "meal": read.read_meal,
    }  # fmt: skip
    return readers[name](text)


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


def _answers(found: dict[str, Any]) -> Answers:
    place = found["place"]
    low_c, high_c = found["air"]
    return Answers(
        site_name=place.name,
        latitude_deg=place.latitude_deg,
        longitude_deg=place.longitude_deg,
        elevation_m=found["elevation"],
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
