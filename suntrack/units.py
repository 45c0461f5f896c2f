"""The cook's units: reading what they wrote, and writing what they read.

Inside the project everything is SI with Celsius.  A unit table belongs to the quantity a
key expects, so that `F` can only be Fahrenheit where a temperature is wanted; a number
without a unit is refused where units differ between kitchens.

An own grammar for each quantity.  Lost: a general unit library that reads `250 F` as farad.
"""

from __future__ import annotations

import re
from dataclasses import dataclass
from datetime import datetime, time, timedelta
from fractions import Fraction
from typing import TYPE_CHECKING, Literal

if TYPE_CHECKING:
    from collections.abc import Mapping
    from zoneinfo import ZoneInfo

INCH_M = 0.0254
FOOT_M = 12 * INCH_M
POUND_KG = 0.45359237
OUNCE_KG = POUND_KG / 16.0
QUART_L = 0.946352946
MILE_M, NAUTICAL_MILE_M = 1609.344, 1852.0

LENGTHS: Mapping[str, float] = {
    "mm": 0.001, "cm": 0.01, "m": 1.0, "in": INCH_M, '"': INCH_M, "inch": INCH_M,
    "inches": INCH_M, "ft": 12 * INCH_M, "foot": 12 * INCH_M, "feet": 12 * INCH_M,
}  # fmt: skip
MASSES: Mapping[str, float] = {
    "g": 0.001, "kg": 1.0, "lb": POUND_KG, "lbs": POUND_KG, "oz": OUNCE_KG,
}  # fmt: skip
VOLUMES: Mapping[str, float] = {
    "l": 1.0, "ml": 0.001, "litre": 1.0, "litres": 1.0, "liter": 1.0, "liters": 1.0,
    "qt": QUART_L, "quart": QUART_L, "quarts": QUART_L, "cup": QUART_L / 4, "cups": QUART_L / 4,
    "gal": 4 * QUART_L,
}  # fmt: skip
SPEEDS: Mapping[str, float] = {
    "m/s": 1.0, "km/h": 1 / 3.6, "mph": MILE_M / 3600.0, "kn": NAUTICAL_MILE_M / 3600.0,
}  # fmt: skip
ANGLES: Mapping[str, float] = {"deg": 1.0, "°": 1.0, "degrees": 1.0, "": 1.0}
CONDUCTANCES: Mapping[str, float] = {"W/K": 1.0}
MINUTES: Mapping[str, float] = {
    "min": 1.0, "minutes": 1.0, "h": 60.0, "hour": 60.0, "hours": 60.0,
}  # fmt: skip
DEGREES: Mapping[str, Literal["C", "F"]] = {
    "C": "C", "°C": "C", "degC": "C", "F": "F", "°F": "F", "degF": "F",
}  # fmt: skip

DIFFERENCES: Mapping[str, float] = {
    "C": 1.0, "K": 1.0, "F": 1 / 1.8, "°C": 1.0, "°F": 1 / 1.8, "degC": 1.0, "degF": 1 / 1.8,
}  # fmt: skip

# At most nine digits in a row: no kitchen needs more, and a float holds them all.
DIGITS = r"[0-9]{1,9}"
NUMBER = (
    rf"[+-]?(?:{DIGITS}\s+{DIGITS}/{DIGITS}|{DIGITS}/{DIGITS}|{DIGITS}(?:\.{DIGITS})?|\.{DIGITS})"
)
QUANTITY = re.compile(rf"\s*({NUMBER})\s*([^\s0-9]\S*)?\s*")
SPAN = re.compile(rf"({NUMBER})\s*([A-Za-z]+)\s*")


def _number_and_unit(text: str) -> tuple[float, str]:
    """Return the number and the unit of a text such as `1 1/2 in`; raise ValueError."""
    match = QUANTITY.fullmatch(text)
    if match is None:
        raise ValueError("not a number with a unit")
    try:
        number = float(sum(Fraction(part) for part in match[1].split()))
    except ZeroDivisionError:
        raise ValueError("not a number with a unit") from None
    if match[1].lstrip().startswith("-") and " " in match[1]:
        raise ValueError("a mixed fraction cannot be negative")
    return number, match[2] or ""


def _parse(text: str, table: Mapping[str, float], example: str) -> float:
    """Return a quantity in the base unit of its table; raise ValueError with what is allowed."""
    # Of several spellings the first is told.
    told = {factor: unit for unit, factor in reversed(list(table.items())) if unit}
    units = ", ".join(reversed(list(told.values())))
    allowed = f"a number and one of {units}, such as {example}"
    try:
        number, unit = _number_and_unit(text)
    except ValueError:
        raise ValueError(allowed) from None
    for name in (unit, unit.lower(), unit.upper()):
        if name in table:
            return number * table[name]
    raise ValueError(allowed)


def parse_length_m(text: str) -> float:
    """Return a length such as `12 in`, `1 1/2 in`, `30 cm`, `4 mm`.  [m]"""
    return _parse(text, LENGTHS, "30 cm or 12 in")


def parse_mass_kg(text: str) -> float:
    """Return a mass such as `2.3 kg`, `5 lb`, `12 oz`, `800 g`.  [kg]"""
    return _parse(text, MASSES, "1.5 kg or 3 lb")


def parse_volume_l(text: str) -> float:
    """Return a volume such as `4 L` or `1 1/2 qt`.  [L]"""
    return _parse(text, VOLUMES, "4 L or 4 qt")


def parse_speed_m_s(text: str) -> float:
    """Return a speed such as `3 m/s`, `10 km/h`, `6 mph`, `5 kn`.  [m/s]"""
    return _parse(text, SPEEDS, "3 m/s or 6 mph")


def parse_angle_deg(text: str) -> float:
    """Return an angle such as `15`, `15 deg`, `15°`.  [deg]"""
    return _parse(text, ANGLES, "15 deg")


def parse_conductance_w_k(text: str) -> float:
    """Return a heat-loss rate such as `0.2 W/K`.  [W/K]"""
    return _parse(text, CONDUCTANCES, "0.2 W/K")


def parse_temperature_c(text: str) -> float:
    """Return a temperature such as `250 F`, `245F`, `121 C`, `-3 °C`.  [C]"""
    allowed = "a number and C or F, such as 120 C or 250 F"
    try:
        number, unit = _number_and_unit(text)
    except ValueError:
        raise ValueError(allowed) from None
    kind = DEGREES.get(unit) or DEGREES.get(unit.upper())
    if kind is None:
        raise ValueError(allowed)
    celsius = number if kind == "C" else (number - 32.0) / 1.8
    if celsius < -273.15:
        raise ValueError(allowed)
    return celsius


def parse_temperature_difference_k(text: str) -> float:
    """Return a difference such as `10 C`, `18 F`, `10 K`, without a zero point.  [K]"""
    return _parse(text, DIFFERENCES, "10 C or 18 F")


def parse_duration_min(text: str) -> float:
    """Return a time span such as `45 min`, `2 h`, `1 h 30 min`, `1:30`.  [min]"""
    allowed = "a time span such as 45 min, 1 h 30 min or 1:30"
    clock = re.fullmatch(rf"\s*({DIGITS}):([0-5][0-9])\s*", text)
    if clock:
        return 60.0 * int(clock[1]) + int(clock[2])
    parts = SPAN.findall(text)
    if not parts or SPAN.sub("", text).strip() or "-" in text:
        raise ValueError(allowed)
    return sum(_parse(f"{number} {unit}", MINUTES, "45 min") for number, unit in parts)


@dataclass(frozen=True, slots=True, kw_only=True)
class Units:
    """The units one cook thinks in, and the one place that writes numbers for them."""

    temperature: Literal["C", "F"] = "C"
    """Celsius or Fahrenheit."""
    length: Literal["cm", "in"] = "cm"
    """Centimetres or inches."""
    mass: Literal["kg", "lb"] = "kg"
    """Kilograms or pounds."""
    clock: Literal["12", "24"] = "24"
    """Hours of a day on the clock."""

    def temperature_text(self, celsius: float) -> str:
        """Return a temperature to the degree, such as `118 °C` or `244 °F`."""
        shown = celsius if self.temperature == "C" else celsius * 1.8 + 32.0
        return f"{_whole(shown)} °{self.temperature}"

    def difference_text(self, kelvin: float) -> str:
        """Return a temperature difference, such as `10 °C` or `18 °F`."""
        shown = kelvin if self.temperature == "C" else kelvin * 1.8
        return f"{_whole(shown)} °{self.temperature}"

    def length_text(self, metres: float) -> str:
        """Return a length, such as `30 cm` or `11.8 in`."""
        if self.length == "cm":
            return f"{metres * 100.0:.0f} cm"
        return f"{metres / INCH_M:.1f} in"

    def mass_text(self, kilograms: float) -> str:
        """Return a mass, such as `1.5 kg` or `3.3 lb`."""
        if self.mass == "kg":
            return f"{kilograms:.1f} kg"
        return f"{kilograms / POUND_KG:.1f} lb"

    def wind_text(self, metres_per_second: float) -> str:
        """Return a wind speed, such as `11 km/h`, or `7 mph` beside inches."""
        name = "km/h" if self.length == "cm" else "mph"
        return f"{_whole(metres_per_second / SPEEDS[name])} {name}"

    def time_text(self, at: datetime, zone: ZoneInfo | None = None) -> str:
        """Return a time of day, such as `13:05` or `1:05 pm`, in a zone if one is given."""
        return self.clock_text((at.astimezone(zone) if zone else at).time())

    def clock_text(self, at: time) -> str:
        """Return a time on the clock, such as `13:05` or `1:05 pm`."""
        if self.clock == "24":
            return f"{at.hour}:{at.minute:02d}"
        return f"{(at.hour - 1) % 12 + 1}:{at.minute:02d} {'am' if at.hour < 12 else 'pm'}"


def span_words(span: timedelta) -> str:
    """Return the length of a time span to the minute, such as `3 min` or `1 h 12 min`."""
    hours, minutes = divmod(round(abs(span.total_seconds()) / 60.0), 60)
    if not hours:
        return f"{minutes} min"
    return f"{hours} h {minutes} min" if minutes else f"{hours} h"


def _whole(value: float) -> str:
    """Return a number without decimals, and zero without a sign."""
    return f"{round(value) + 0}"
