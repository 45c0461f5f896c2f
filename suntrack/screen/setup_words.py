"""The words of the first run: the questions, what may be answered, and what to do next."""

from __future__ import annotations

from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from collections.abc import Mapping, Sequence

WELCOME = (
    "A few questions, about two minutes. Enter takes what stands in brackets; Ctrl-C stops and"
    " leaves nothing behind."
)
QUESTIONS: Mapping[str, str] = {
    "place": "Where does the box stand? A large city near you, or latitude, longitude",
    "elevation": "How high above the sea? (it sets where water boils)",
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
    "elevation": "-430 to 6000 m, such as 1010 m or 3300 ft",
    "zone": "a time zone such as Africa/Gaborone",
    "units": "metric or inch",
    "inside": "three lengths and their unit, 10 cm to 3 m, such as 58 x 44 x 27 cm",
    "glasses": "1 or 2",
    "mirror": "two lengths and their unit, 10 cm to 3 m, such as 44 x 60 cm, or none",
    "air": "two temperatures, the lower first, such as 15 C to 28 C or 60 F to 85 F",
    "meal": "a time such as 13:00",
}
NOT_ASKED = "Taken as usual because nobody said otherwise: {what}. Change it in the file."
ASKED_OF = "setup asks questions, and nobody can answer here"
ANSWER_BY = "Run it at a terminal, or with --place and --yes."


def question(name: str, default: str) -> str:
    """Return a question as it is asked."""
    return f"{QUESTIONS[name]} [{default}]: " if default else f"{QUESTIONS[name]}: "


def next_lines(path: str, *, usual: Sequence[str]) -> tuple[str, ...]:
    """Return what to do after the first plan."""
    lines = [NOT_ASKED.format(what=", ".join(usual))] if usual else []
    return (
        *lines,
        "What next:",
        f"  Open {path}: put in your walls, your glass, your pots and your dishes.",
        "  suntrack dishes             what it can plan",
        "  suntrack today              the plan, any time",
        "  suntrack watch              stay and be called for every step",
        "  suntrack feed               weather services, so that clouds count",
        "  suntrack note reading 90C   when you have an oven thermometer in the box",
    )
