"""The words of the first run: the questions, what may be answered, and what to do next."""

from __future__ import annotations

import textwrap
from typing import TYPE_CHECKING

from suntrack.food.properties import boiling_c
from suntrack.units import FOOT_M

if TYPE_CHECKING:
    from collections.abc import Mapping, Sequence

WELCOME = (
    "A few questions, about two minutes. Enter takes what stands in brackets; Ctrl-C stops and"
    " leaves nothing behind."
)
QUESTIONS: Mapping[str, str] = {
    "place": "Where does the box stand? A large city near you, or latitude, longitude",
    "elevation": (
        "How high above the sea? A map or a phone shows it. The higher, the cooler water boils"
    ),
    "zone": "Which time zone?",
    "units": "Which units, metric or inch?",
    "inside": "How large is the box inside? Width x depth x height",
    "glasses": "How many glasses on top, 1 or 2?",
    "mirror": "The mirror, length x width, or none",
    "skyline": (
        "What hides the sun? Stand at the box. From-to bearing, as a compass shows it, and height"
        " in fists at arm's length or in degrees, such as 70-110: 1.5 fists; several with commas;"
        " or none. Do not measure at the sun, and never look at it"
    ),
    "air": "Coolest and warmest air on an ordinary day now",
    "meal": "When do you eat?",
}
WHAT_IS_ALLOWED: Mapping[str, str] = {
    "elevation": "a height of -430 to 6000 m, such as 1010 m or 3300 ft",
    "zone": "a time zone such as Africa/Gaborone",
    "units": "metric or inch",
    "inside": "three lengths and their unit, 10 cm to 3 m, such as 58 x 44 x 27 cm",
    "glasses": "1 or 2",
    "mirror": "two lengths and their unit, 10 cm to 3 m, such as 44 x 60 cm, or none",
    "air": "two temperatures, the lower first, such as 15 C to 28 C or 60 F to 85 F",
    "meal": "a time such as 13:00 or 1 pm",
}
WANTED = "Wanted: {allowed}."
TAKEN = "Taken as {what}."
WRITE_OVER = "There is a config already, {path}. Write over it? yes or no [no]:"
NOT_ASKED = "Taken as usual because nobody said otherwise: {what}. Change it in the file."
ASKED_OF = "setup asks questions, and nobody can answer here"
ANSWER_BY = "Run it at a terminal, or with --place and --yes."


COMMANDS = (
    ("suntrack dishes", "what it can plan"),
    ("suntrack today", "the plan, any time"),
    ("suntrack watch", "stay and be called for every step"),
    ("suntrack feed", "weather services, so that clouds count"),
    ("suntrack note reading 90C", "when you have an oven thermometer in the box"),
)
ROOMY = 76
"""From this width on, a command and its meaning stand on one line.  [columns]"""
SHOWN_M = (1000.0, 2000.0)
"""Heights for which it is told where water boils.  [m]"""


def question(name: str, default: str) -> str:
    """Return a question as it is asked."""
    return f"{QUESTIONS[name]} [{default}]:" if default else f"{QUESTIONS[name]}:"


def usual_words(usual: Sequence[str]) -> str:
    """Return what nobody said; empty for nothing."""
    return NOT_ASKED.format(what=", ".join(usual)) if usual else ""


def height_words(elevation_m: float, *, inch: bool) -> str:
    """Return that nobody said how high the place is, and why it matters."""
    height = f"{round(elevation_m / FOOT_M, -1):.0f} ft" if inch else f"{elevation_m:.0f} m"
    off = "300 ft" if inch else "100 m"
    boils = " and ".join(_boils(m, inch=inch) for m in SHOWN_M)
    return (
        f"Nobody said how high your place is: a coarse map of the world has it at {height}, and may"
        f" be {off} and more off, in the mountains far more. Higher up water boils cooler, at"
        f" {boils}: food is then done later. Give --elevation, or change elevation in the file."
    )


def _boils(height_m: float, *, inch: bool) -> str:
    """Return where water boils at a height."""
    boils_c = boiling_c(elevation_m=height_m)
    if inch:
        return f"{boils_c * 1.8 + 32.0:.0f} °F at {round(height_m / FOOT_M, -2):.0f} ft"
    return f"{boils_c:.0f} °C at {height_m:.0f} m"


def far_zone_words(zone: str) -> str:
    """Return that the clock and the sun of a place do not go together."""
    return (
        f"The time zone {zone} is far from the sun of your place: are place and zone right? Every"
        " time in the plan is on that clock. Change time_zone in the file."
    )


def next_lines(path: str, *, width: int) -> tuple[str, ...]:
    """Return what to do after the first plan, in lines of at most a width."""
    opening = f"Put in your walls, your glass, your pots and your dishes: open {path}."
    return (
        "What next:",
        *textwrap.wrap(
            opening, width, initial_indent="  ", subsequent_indent="  ", break_long_words=False
        ),
        *(line for each in COMMANDS for line in _command(*each, width=width)),
    )


def _command(command: str, meaning: str, *, width: int) -> tuple[str, ...]:
    if width >= ROOMY:
        return (f"  {command:<27} {meaning}",)
    indent = "      "
    lines = textwrap.wrap(meaning, width, initial_indent=indent, subsequent_indent=indent)
    return (f"  {command}", *lines)
