"""Guided trials in words and as JSON."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from suntrack.bench.simulated_tests import WATER_SPAN_C
from suntrack.bench.standard_tests import LEAST_POWER_SUN_W_M2, POWER_AIR_C
from suntrack.bench.trials import PASS_C, TrialResult
from suntrack.box.standard_figures import LEAST_R2
from suntrack.screen.json.day import rounded, stamp
from suntrack.screen.page import Page, Section
from suntrack.screen.text.cautions import caution_words
from suntrack.screen.text.day import date_words
from suntrack.screen.text.directions import side_mirror_words

if TYPE_CHECKING:
    from collections.abc import Mapping, Sequence

    from suntrack.bench.trial_model import Outlook
    from suntrack.bench.trials import Trial, TrialNote, TrialStep
    from suntrack.units import Units

TITLES = {
    "empty": "The empty box",
    "water": "The two-litre water trial",
    "power": "Cooking power",
}
WHY = {
    "empty": "Is the box as hot as the model says? Choose a clear day, and leave it empty.",
    "water": (
        "Does the box get food hot enough? It is the test of a slow cooker: cold water in a pot"
        " half to two thirds full, eight hours on low, lid on, then {mark} or more. That a box and"
        " two litres stand for it is our choice. Cook no food that can spoil in a box that does not"
        " pass."
    ),
    "power": (
        "How many watts reach the water? In the style of the standard ASAE S580.1, not a"
        " certified test: sun and air are those of a clear, usual day, not measured."
    ),
}
THERMOMETER = {
    "empty": "Stand the oven thermometer on the floor of the box, in the shade of a wall.",
    "water": "Put the thermometer's tip in the middle of the water, through the lid if you can.",
    "power": "Spread the water over the pots, and put the tip in the middle of the largest.",
}
CALM_M_S, STOP_M_S = 1.0, 2.5
"""S580's wind at the cooker: below the first, and stop above the second (from memory).  [m/s]"""
WHOLE_H = 7.9
"""A trial shorter than this has not the eight hours of a slow cooker.  [h]"""
TRIAL_KEYS: Mapping[str, str] = {
    "trial": "empty, water or power",
    "date": "the day, at the site",
    "water_kg": "water to weigh in; null for the empty box",
    "starts_at": "when to set the box out",
    "ends_at": "when it is over",
    "expected_c": "what the model expects on a clear day: the empty box at its hottest, the water "
    "at the end; null for water without a pot",
    "pot": "the pot for two litres; null for other trials, and without pots",
    "steps[].at": "when",
    "steps[].kind": "set out, turn, note or end",
    "steps[].face_true_deg": "where to face the box, clockwise from true north; null to leave it",
    "steps[].face_compass_deg": "the same, as a compass shows it",
    "steps[].mirror_deg": "mirror angle from the glass; null to leave it, and without one",
    "steps[].side_mirrors_deg": "angle from the glass that side mirrors are left at, where the box "
    "is set out; null elsewhere",
    "steps[].noted": "true when a temperature is to be noted",
    "notes[].at": "when a temperature was noted",
    "notes[].read_c": "what it was",
    "result.outcome": "passed, failed, agrees, differs, measured, under way or too few notes",
    "result.highest_c": "highest that was noted; null for none",
    "result.off_k": "empty box: median of reading less model; null without",
    "result.p50_w": "power: at 50 K above the air; null without a line",
    "result.r2": "power: share of the scatter that its line explains; null without",
    "result.intervals": "power: intervals that count",
    "cautions[]": "name of a caution that belongs to it",
}


def trial_json(
    trial: Trial, notes: Sequence[TrialNote], result: TrialResult, outlook: Outlook
) -> dict[str, Any]:
    """Return a trial for programs."""
    line = result.line
    return {
        "trial": trial.name,
        "date": trial.starts_at.date().isoformat(),
        "water_kg": rounded(trial.water_kg, 2),
        "starts_at": stamp(trial.starts_at),
        "ends_at": stamp(trial.ends_at),
        "expected_c": rounded(outlook.expected_c),
        "pot": outlook.pot,
        "steps": [
            {
                "at": stamp(step.at),
                "kind": step.kind,
                "face_true_deg": rounded(step.face_true_deg),
                "face_compass_deg": rounded(step.face_compass_deg),
                "mirror_deg": rounded(step.mirror_deg),
                "side_mirrors_deg": rounded(step.side_mirrors_deg),
                "noted": step.noted,
            }
            for step in trial.steps
        ],
        "notes": [{"at": stamp(note.at), "read_c": rounded(note.read_c)} for note in notes],
        "result": {
            "outcome": result.outcome,
            "highest_c": rounded(result.highest_c),
            "off_k": rounded(result.off_k),
            "p50_w": rounded(line.at_50_w if line else None),
            "r2": rounded(line.r2 if line else None, 3),
            "intervals": result.intervals,
        },
        "cautions": list(trial.cautions),
    }


def trial_page(
    trial: Trial,
    notes: Sequence[TrialNote],
    result: TrialResult,
    outlook: Outlook,
    units: Units,
) -> Page:
    """Return a trial as a page: what it is for, its steps, how it stands."""
    return Page(
        title=f"{TITLES[trial.name]}, {date_words(trial.starts_at.date())}",
        intro=(
            WHY[trial.name].format(mark=units.temperature_text(PASS_C)),
            *_outlook_words(trial, outlook, units),
        ),
        sections=(
            Section(title="Before", lines=_before(trial, outlook, units)),
            Section(title="Steps", lines=tuple(_step_words(step, units) for step in trial.steps)),
            Section(title="So far", lines=_result_lines(trial, notes, result, units)),
            Section(title="Take care", lines=tuple(map(caution_words, trial.cautions))),
        ),
    )


def _outlook_words(trial: Trial, outlook: Outlook, units: Units) -> tuple[str, ...]:
    """Return what the model expects of it, and whether the day is one for it."""
    lines = []
    if trial.name == "water" and outlook.expected_c is not None:
        lines.append(
            "By the model the water reads"
            f" {units.temperature_text(outlook.expected_c)} at the end of a clear day like this."
        )
        if outlook.expected_c < PASS_C:
            lines.append(
                "It cannot be expected to pass on this day: wait for one with a higher sun, and"
                " cook no food that can spoil in this box until it has passed."
            )
    if trial.name == "empty" and outlook.expected_c is not None:
        hottest = units.temperature_text(outlook.expected_c)
        lines.append(f"By the model it gets to {hottest} at its hottest on a clear day like this.")
    if trial.name == "power" and not _is_in_range(outlook):
        low, high = (units.temperature_text(air_c) for air_c in POWER_AIR_C)
        lines.append(
            f"Not a day for it by the standard, which wants air from {low} to {high} and"
            f" {LEAST_POWER_SUN_W_M2:.0f} W/m2 of sun square to it; a clear, usual day here has"
            f" {units.temperature_text(outlook.air_c)} and {outlook.square_w_m2:.0f} W/m2."
        )
    if trial.name == "water" and _hours(trial) < WHOLE_H:
        lines.append(
            f"The sun leaves {_hours(trial):.1f} h of the eight, so that it is harder to pass."
        )
    return tuple(lines)


def _is_in_range(outlook: Outlook) -> bool:
    low_c, high_c = POWER_AIR_C
    return low_c <= outlook.air_c <= high_c and outlook.square_w_m2 >= LEAST_POWER_SUN_W_M2


def _hours(trial: Trial) -> float:
    return (trial.ends_at - trial.starts_at).total_seconds() / 3600.0


def _before(trial: Trial, outlook: Outlook, units: Units) -> tuple[str, ...]:
    lines = [THERMOMETER[trial.name]]
    if trial.water_kg is not None:
        mass = units.mass_text(trial.water_kg)
        into = "dark, lidded pots"
        if trial.name == "water":
            into = "one dark, lidded pot that it fills by half to two thirds"
            into += f" (of yours: {outlook.pot})" if outlook.pot else ""
        lines.insert(0, f"Weigh {mass} of cold tap water into {into}, and nothing else.")
        lines.append(
            "It goes in when the box is set out. Read the thermometer from outside: every lid"
            " that is lifted costs up to half an hour."
        )
    if trial.name == "power":
        calm, stop = units.wind_text(CALM_M_S), units.wind_text(STOP_M_S)
        low, high = (units.temperature_text(water_c) for water_c in WATER_SPAN_C)
        lines.append(
            f"The standard wants a steady sun, no rain, wind at the box under {calm} (stop above"
            f" {stop}); only water from {low} to {high} counts."
        )
    example = units.temperature_text(90.0).replace(" °", "")
    lines.append(f"Note what it shows so: suntrack trial {trial.name} --note {example}")
    return tuple(lines)


def _step_words(step: TrialStep, units: Units) -> str:
    doing = {"set out": "set the box out", "turn": "turn", "note": "", "end": "the end"}[step.kind]
    parts = [doing] if doing else []
    if step.face_compass_deg is not None:
        parts.append(f"face {step.face_compass_deg:.0f}° on a compass")
    if step.mirror_deg is not None:
        parts.append(f"mirror at {step.mirror_deg:.0f}° from the glass")
    if step.side_mirrors_deg is not None:
        parts.append(side_mirror_words(step.side_mirrors_deg))
    if step.noted:
        parts.append("note the thermometer")
    return f"{units.time_text(step.at)}: {', '.join(parts)}."


def _result_lines(
    trial: Trial, notes: Sequence[TrialNote], result: TrialResult, units: Units
) -> tuple[str, ...]:
    noted = ", ".join(
        f"{units.time_text(note.at)} {units.temperature_text(note.read_c)}" for note in notes
    )
    said = _said(trial, result, units)
    if noted:
        return (f"Noted: {noted}.", said)
    return (
        ("Nothing noted.",) if result.outcome == "too few notes" else ("Nothing noted yet.", said)
    )


def _said(trial: Trial, result: TrialResult, units: Units) -> str:
    mark = units.temperature_text(PASS_C)
    if result.outcome == "under way":
        return f"It runs until {units.time_text(trial.ends_at)}."
    if result.outcome == "too few notes":
        return "Too few notes to say anything; try again on a clear day."
    if result.outcome == "passed":
        return (
            f"Passed: the water read {mark} or more at the end, the mark of slow cookers. Each dish"
            " still has its own rule, and your local food authority comes first."
        )
    if result.outcome == "failed":
        return (
            f"Not passed: the water read less than {mark} at the end. Was the day clear, the lid"
            " shut, the box turned? Do not trust this box with meat, poultry, fish, eggs or milk as"
            " it is."
        )
    if result.line is not None:
        return _power_words(result, units)
    assert result.off_k is not None
    off = units.difference_text(abs(result.off_k))
    side = "hotter" if result.off_k > 0 else "cooler"
    if result.outcome == "agrees":
        return f"The model agrees: the box was {off} {side} than it says, in the middle."
    return (
        f"The box was {off} {side} than the model says, in the middle. If the sky was clear, let"
        " it learn: suntrack learn."
    )


def _power_words(result: TrialResult, units: Units) -> str:
    line = result.line
    assert line is not None
    scatter = "" if line.r2 > LEAST_R2 else " The notes scatter more than the standard allows."
    over = units.difference_text(50.0)
    return (
        f"{line.at_50_w:.0f} W at {over} over the air, from {result.intervals} intervals; the"
        f" standard asks for 30 on three days.{scatter}"
    )
