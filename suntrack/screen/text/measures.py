"""Quantities inside sentences, in the cook's units.

Texts of dishes and of the food rules are written metric first, with the printed Fahrenheit
beside a temperature that has one: `73.9 °C (165 °F)`, `35 mm`.  Here each becomes what the
cook reads: one unit, not two.
"""

from __future__ import annotations

import math
import re
from typing import TYPE_CHECKING

from suntrack.units import INCH_M

if TYPE_CHECKING:
    from suntrack.units import Units

NUMBER = r"\d+(?:\.\d+)?"
SPAN = rf"(?:{NUMBER} to )?{NUMBER}"
BOTH = re.compile(rf"({SPAN}) °C \(({SPAN}) °F\)")
CELSIUS = re.compile(rf"({NUMBER})(?: to ({NUMBER}))? °C")
SMALL = re.compile(rf"({NUMBER}) (mm|cm)\b")
HEIGHT = re.compile(rf"({NUMBER}) m\b")
EIGHTHS = ("", "1/8", "1/4", "3/8", "1/2", "5/8", "3/4", "7/8")
NEARLY = 1.02
"""Rounded down to the eighth, so that a piece that has to be small stays so; but 25 mm is an
inch."""
FOOT_M = 12.0 * INCH_M


def in_units(text: str, units: Units) -> str:
    """Return a sentence with its temperatures and lengths in the cook's units."""
    if units.temperature == "C":
        text = BOTH.sub(r"\1 °C", text)
    else:
        text = BOTH.sub(r"\2 °F", text)
        text = CELSIUS.sub(_fahrenheit, text)
    if units.length == "in":
        text = SMALL.sub(_inches, text)
        text = HEIGHT.sub(_feet, text)
    return text


def thickness_text(metres: float, units: Units) -> str:
    """Return the size of a piece, such as `35 mm` or `1 3/8 in`."""
    if units.length == "cm":
        return f"{metres * 1000.0:.0f} mm"
    return f"{inches_text(metres)} in"


def inches_text(metres: float) -> str:
    """Return inches to the eighth below, such as `1 3/8`; a sixteenth for what is less."""
    eighths = math.floor(metres * NEARLY / INCH_M * 8.0)
    if eighths < 1:
        return "1/16"
    whole, part = divmod(eighths, 8)
    return " ".join(piece for piece in (str(whole) if whole else "", EIGHTHS[part]) if piece)


def _fahrenheit(match: re.Match[str]) -> str:
    shown = (f"{round(float(part) * 1.8 + 32.0)}" for part in match.groups() if part)
    return f"{' to '.join(shown)} °F"


def _inches(match: re.Match[str]) -> str:
    return f"{inches_text(float(match[1]) * (0.001 if match[2] == 'mm' else 0.01))} in"


def _feet(match: re.Match[str]) -> str:
    return f"{round(float(match[1]) / FOOT_M, -2):.0f} ft"
