"""The figures of test standards in words, each beside what is published of other boxes.

The ranges and how sure they are come from `suntrack.box.standard_figures`; none of them is a
promise, and a figure here is simulated.
"""

from __future__ import annotations

from datetime import timedelta
from typing import TYPE_CHECKING

from suntrack.bench.standard_tests import TEST_WIND_M_S
from suntrack.box.standard_figures import (
    FIRST_SEEN_K_M2_W,
    GRADE_A_K_M2_W,
    GRADE_B_K_M2_W,
    LEAST_R2,
    MIRROR_RISE_SEEN,
    SECOND_LEAST,
    SECOND_SEEN,
    grade_of,
)
from suntrack.units import span_words

if TYPE_CHECKING:
    from suntrack.bench.box_report import BoxSheet
    from suntrack.box.standard_figures import PowerLine
    from suntrack.units import Units

FRONT_NOTE = (
    "The standards were written for glass on top only. Here the front glass is counted too,"
    " its light and its losses, so F1 and F2 also change with the height of the sun."
)


def figures_notes(sheet: BoxSheet, units: Units) -> tuple[str, ...]:
    """Return how the figures came about, and what is unusual about this box."""
    used = "the mirror, P(50) with it" if sheet.sides is None else "mirrors, P(50) with them"
    mirrored = sheet.sizes.mirror_m2 > 0.0 or sheet.sides is not None
    with_water = (
        (f"F1 and F2 without {used}. " if mirrored else "")
        + "Water stands in the pots of the config,"
        + f" wind {units.wind_text(TEST_WIND_M_S)}."
    )
    return (with_water, FRONT_NOTE) if sheet.sizes.front_glass_m2 else (with_water,)


def place_words(value: float, seen: tuple[float, float]) -> str:
    """Return where a value lies: `inside`, `below` or `above` a published range."""
    if value < seen[0]:
        return "below"
    return "above" if value > seen[1] else "inside"


def figure_rows(sheet: BoxSheet, units: Units) -> tuple[tuple[str, str, str], ...]:
    """Return each figure: its name, its value, and what is published of it."""
    rows = [_first(sheet), _second(sheet, units), _power(sheet, units)]
    rise = mirror_rise(sheet)
    if rise is not None:
        rows.append(_rise(rise, many=sheet.sides is not None))
    return tuple(rows)


def _rise(rise: float, *, many: bool) -> tuple[str, str, str]:
    low, high = MIRROR_RISE_SEEN
    other = "box with one mirror" if many else "box"
    return (
        "Rise with all mirrors" if many else "Rise with the mirror",
        f"{rise:.2f} times that without",
        f"{place_words(rise, MIRROR_RISE_SEEN).capitalize()} the {low} to {high} of the one"
        f" measured box we know of, another {other} in another sun (from memory).",
    )


def mirror_rise(sheet: BoxSheet) -> float | None:
    """Return the lining's rise over the air with mirrors to that without; None without.  [-]"""
    if sheet.mirror_deg is None and sheet.sides is None:
        return None
    return (sheet.used.lining_c - sheet.sun.air_c) / (sheet.bare.lining_c - sheet.sun.air_c)


def _first(sheet: BoxSheet) -> tuple[str, str, str]:
    f1 = sheet.figures.f1_k_m2_w
    low, high = FIRST_SEEN_K_M2_W
    grade = grade_of(f1)
    reached = f"would be grade {grade}" if grade else "no grade"
    return (
        "F1 (IS 13429), empty",
        f"{f1:.3f} K m²/W, {reached}",
        f"{place_words(f1, FIRST_SEEN_K_M2_W).capitalize()} the {low} to {high} usually"
        f" published; grade A asks for {GRADE_A_K_M2_W:.2f}, B for {GRADE_B_K_M2_W:.2f} (all"
        " from memory).",
    )


def _second(sheet: BoxSheet, units: Units) -> tuple[str, str, str]:
    figures = sheet.figures
    name = "F2 (IS 13429), with water"
    low, high = SECOND_SEEN
    published = (
        f"{low} to {high} usually published, and more with more pots; the standard asks for"
        f" {SECOND_LEAST:.2f} (from memory; one paper has 0.42)."
    )
    if figures.f2 is None or figures.f2_span_c is None or figures.f2_heating_s is None:
        return name, f"none: {_why_no_water(figures.f2_water_kg)}", f"For others, {published}"
    cold, hot = (units.temperature_text(c) for c in figures.f2_span_c)
    took = span_words(timedelta(seconds=figures.f2_heating_s))
    return (
        name,
        f"{figures.f2:.2f}; {units.mass_text(figures.f2_water_kg)} of water from {cold} to {hot}"
        f" in {took}",
        f"{place_words(figures.f2, SECOND_SEEN).capitalize()} the {published}",
    )


def _power(sheet: BoxSheet, units: Units) -> tuple[str, str, str]:
    figures = sheet.figures
    name = "P(50) (ASAE S580), cooking power"
    published = (
        "S580 sets no limit, and we know of no published range for such boxes. It asks for"
        f" r² above {LEAST_R2} (from memory)."
    )
    if figures.power is None:
        return name, f"none: {_why_no_water(figures.power_water_kg)}", published
    return name, power_words(figures.power, figures.power_water_kg, units), published


def power_words(line: PowerLine, water_kg: float, units: Units) -> str:
    """Return the power 50 K above the air, and the line it comes from, both by the cook's degree.

    In Celsius a degree of difference is a kelvin, and engineers write W/K.
    """
    fahrenheit = units.temperature == "F"
    slope = f"{line.slope_w_k / 1.8:.2f} W/°F" if fahrenheit else f"{line.slope_w_k:.2f} W/K"
    return (
        f"{line.at_50_w:.0f} W when the water is {units.difference_text(50.0)} above the air;"
        f" line {line.still_w:.0f} W - {slope} x difference,"
        f" r² {line.r2:.2f}, {units.mass_text(water_kg)} of water"
    )


def _why_no_water(water_kg: float) -> str:
    """Return why there is no figure."""
    return (
        "the water does not get hot enough in this sun" if water_kg else "no pot of the config fits"
    )
