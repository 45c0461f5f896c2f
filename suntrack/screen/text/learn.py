"""What was learned of a box, in words and as JSON."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from suntrack.box.build import Learned
from suntrack.screen.json.day import rounded
from suntrack.screen.page import Page, Section
from suntrack.screen.text.day import date_words

if TYPE_CHECKING:
    from collections.abc import Mapping

    from suntrack.learn.calibration import Lesson
    from suntrack.units import Units

FACTORS = {
    "loss": ("loses", "heat through walls, seals and glass"),
    "light": ("takes in", "light"),
    "store": ("holds", "heat in lining and walls"),
}
TAKEN_AS_CLEAR = (
    "of whose light nothing was told, taken as clear, with a brightness of its own; an hour may"
    " have had a cloud"
)
LOOKS_ALIKE = "Dust on glass or mirror and haze look the same to a thermometer."
ALL_DULL = (
    "None of these days was clear, and no forecast told of their light: they say next to nothing"
    " of the box. Log clear days, or switch a forecast on (suntrack feed)."
)
EVEN = 0.005
"""Less than this away from 1 is as built.  [-]"""
LEARN_KEYS: Mapping[str, str] = {
    "days[]": "a day that counts",
    "told[]": "one of them whose light a forecast told; the others are taken as clear",
    "dull[]": "a day that was left out: it was taken as clear and was not",
    "older": "how many days were left out because twenty came after them",
    "usable": "false when no day says enough of the box to be used",
    "readings": "how many readings count",
    "factors[].name": "loss, light or store",
    "factors[].factor": "what the readings make of it, against the box as built",
    "factors[].spread": "one standard deviation of its logarithm",
    "factors[].low": "it is above this 19 times of 20",
    "factors[].high": "it is below this 19 times of 20",
    "factors[].told": "false when the readings say little of it",
    "not_apart[][]": "two factors that these readings cannot tell apart",
    "before_k": "root mean square of model less reading, as built",
    "after_k": "the same with the factors",
    "new_day_before_k": "median distance on a day, as built; null with one day",
    "new_day_after_k": "the same, each day foretold from the others; null with one day",
    "in_use": "true when the planner uses factors for this box now",
}


def learn_json(lesson: Lesson, *, in_use: bool) -> dict[str, Any]:
    """Return what was learned, for programs."""
    fit = lesson.fit
    return {
        "days": [on.isoformat() for on in lesson.days],
        "told": [on.isoformat() for on in lesson.told],
        "dull": [on.isoformat() for on in lesson.dull],
        "older": lesson.older,
        "usable": not lesson.all_dull,
        "readings": fit.readings,
        "factors": [
            {
                "name": name,
                "factor": rounded(getattr(fit.learned, name), 3),
                "spread": rounded(getattr(fit.spread, name), 3),
                "low": rounded(fit.range_of(name)[0], 3),
                "high": rounded(fit.range_of(name)[1], 3),
                "told": name not in fit.not_told,
            }
            for name in FACTORS
        ],
        "not_apart": [list(pair) for pair in fit.not_apart],
        "before_k": rounded(fit.before_k),
        "after_k": rounded(fit.after_k),
        "new_day_before_k": rounded(fit.new_day_before_k),
        "new_day_after_k": rounded(fit.new_day_after_k),
        "in_use": in_use,
    }


def learn_page(lesson: Lesson, units: Units, *, box_name: str, done: str) -> Page:
    """Return what was learned, as a page; `done` says what was written or how to."""
    return Page(
        title=f"What {box_name} has taught",
        intro=(_from_words(lesson),),
        sections=(
            Section(title="Against the box as built", lines=_factor_lines(lesson)),
            Section(title="How far off the model is", lines=_error_lines(lesson, units)),
            Section(title="What to know of it", lines=_notes(lesson)),
            Section(title="In use", lines=(done,)),
        ),
    )


def share_words(name: str, factor: float) -> str:
    """Return one factor, such as `loses 12 % more heat through walls, seals and glass`."""
    verb, what = FACTORS[name]
    if abs(factor - 1.0) < EVEN:
        return f"{verb} as much {what} as built"
    return f"{verb} {abs(factor - 1.0) * 100:.0f} % {'more' if factor > 1.0 else 'less'} {what}"


def learned_line(learned: Learned, *, days: int) -> str:
    """Return the one line that says a plan was made with it."""
    parts = [share_words(name, getattr(learned, name)) for name in FACTORS]
    said = f"{', '.join(parts[:-1])} and {parts[-1]}"
    return f"Planned with your box as {days_words(days)} of readings taught it: it {said}."


def _from_words(lesson: Lesson) -> str:
    said = f"From {lesson.fit.readings} readings on {days_words(len(lesson.days))}."
    if lesson.dull:
        said += f" Left out, not clear: {', '.join(date_words(on) for on in lesson.dull)}."
    if lesson.older:
        said += f" Left out, older: {days_words(lesson.older)}."
    return said


def days_words(count: int) -> str:
    """Return how many days."""
    return "1 day" if count == 1 else f"{count} days"


def _sky_words(lesson: Lesson) -> str:
    """Return what the light of the days was taken to be."""
    told, clear = len(lesson.told), len(lesson.days) - len(lesson.told)
    parts = []
    if told:
        parts.append(f"{days_words(told)} under the light that a forecast told")
    if clear:
        parts.append(f"{days_words(clear)} {TAKEN_AS_CLEAR}")
    return f"Learned from {', and from '.join(parts)}. {LOOKS_ALIKE}"


def _factor_lines(lesson: Lesson) -> tuple[str, ...]:
    fit = lesson.fit
    lines = []
    for name in FACTORS:
        said = share_words(name, getattr(fit.learned, name))
        told = "; the readings say little of it" if name in fit.not_told else ""
        lines.append(f"It {said}; nine times of ten {_range_words(fit.range_of(name))}{told}.")
    return tuple(lines)


def _range_words(ends: tuple[float, float]) -> str:
    """Return between what a factor lies, such as `between 3 % less and 21 % more`."""
    low, high = (f"{abs(end - 1.0) * 100:.0f} % {'more' if end > 1.0 else 'less'}" for end in ends)
    return f"between {low} and {high}"


def _error_lines(lesson: Lesson, units: Units) -> tuple[str, ...]:
    fit, text = lesson.fit, units.difference_text
    lines = [
        f"On these days: {text(fit.before_k)} as built, {text(fit.after_k)} with what was learned."
    ]
    if fit.new_day_before_k is not None and fit.new_day_after_k is not None:
        lines.append(
            f"On a day that it was not learned from: {text(fit.new_day_before_k)} as built,"
            f" {text(fit.new_day_after_k)} with it."
        )
    else:
        lines.append("One day cannot say how a new day would go; log another.")
    return tuple(lines)


def _notes(lesson: Lesson) -> tuple[str, ...]:
    lines = [ALL_DULL] if lesson.all_dull else []
    mixed = [name for name in FACTORS if any(name in pair for pair in lesson.fit.not_apart)]
    if mixed:
        lines.append(
            f"These readings cannot tell {', '.join(mixed[:-1])} and {mixed[-1]} apart: only what"
            " they make together is known. A day with a weighed pot of water in the box, read"
            " into the evening, helps."
        )
    if lesson.few:
        lines.append("These are few days; three clear ones, read every half hour, are better.")
    after, before = lesson.fit.new_day_after_k, lesson.fit.new_day_before_k
    if after is not None and before is not None and after >= before:
        lines.append("On a new day it would be no better than the box as built: leave it unused.")
    return (*lines, _sky_words(lesson))
