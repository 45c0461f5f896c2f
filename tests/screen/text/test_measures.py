"""Quantities in sentences: one unit for each cook."""

from __future__ import annotations

import re

import pytest
from hypothesis import given
from hypothesis import strategies as st

from suntrack.food import official, refused, safety
from suntrack.food.dishes import builtin_dishes
from suntrack.food.official import RULES, Official
from suntrack.screen.text.measures import in_units, inches_text, thickness_text
from suntrack.units import Units

METRIC = Units()
IMPERIAL = Units(temperature="F", length="in", mass="lb", clock="12")


@pytest.mark.parametrize(
    ("text", "metric", "imperial"),
    [
        ("safe at 73.9 °C (165 °F) in", "safe at 73.9 °C in", "safe at 165 °F in"),
        ("from 10 to 57 °C (50 to 135 °F)", "from 10 to 57 °C", "from 50 to 135 °F"),
        # 135 C is 275 F by definition of the scales.
        ("Under 135 °C the crust", "Under 135 °C the crust", "Under 275 °F the crust"),
        ("74 to 85 °C", "74 to 85 °C", "165 to 185 °F"),
        ("Cut to 3 cm, for 30 minutes", "Cut to 3 cm, for 30 minutes",
         "Cut to 1 1/8 in, for 30 minutes"),
        ("25 mm", "25 mm", "1 in"),
        ("above 1500 m.", "above 1500 m.", "above 4900 ft."),
        ("boil for 45 min", "boil for 45 min", "boil for 45 min"),
        ("serves 4", "serves 4", "serves 4"),
    ],
)  # fmt: skip
def test_each_cook_reads_one_unit(text: str, metric: str, imperial: str) -> None:
    assert in_units(text, METRIC) == metric
    assert in_units(text, IMPERIAL) == imperial


@given(mm=st.floats(3.2, 200.0))
def test_inches_are_never_thicker_than_told(mm: float) -> None:
    """A piece that has to be small stays small: rounded down, but for 2 %."""
    parts = inches_text(mm / 1000.0).split()
    inches = sum(
        float(part) if "/" not in part else float(part[0]) / float(part[2:]) for part in parts
    )
    assert mm - 3.3 <= inches * 25.4 <= mm * 1.0201


def test_thickness_in_both_units() -> None:
    assert thickness_text(0.035, METRIC) == "35 mm"
    assert thickness_text(0.035, IMPERIAL) == "1 3/8 in"


def every_sentence() -> list[str]:
    limits = [value.sentence for value in vars(official).values() if isinstance(value, Official)]
    rules = [rule.sentence for rule in RULES.values()]
    said = [getattr(safety, name) for name in ("SLOW", "TOO_SLOW", "TOO_COOL", "NEVER_TOMORROW")]
    said += [refused.LARGE, refused.OPEN, refused.FROZEN, refused.STUFFED]
    for dish in builtin_dishes().values():
        said += [*dish.advice, *(step.text for step in dish.advance), dish.refused or ""]
    return [*limits, *rules, *said]


@pytest.mark.parametrize("units", [METRIC, IMPERIAL], ids=["metric", "imperial"])
def test_no_sentence_of_food_keeps_the_other_unit(units: Units) -> None:
    """Sources are quoted as printed; everything before them is in the cook's units."""
    other = "°F" if units.temperature == "C" else "°C"
    for sentence in every_sentence():
        told = in_units(sentence, units).split("Source: ")[0]
        assert other not in told, told
        if units.length == "in":
            assert not re.search(r"\d (mm|cm)\b", told), told


def test_printed_pairs_are_the_same_temperature() -> None:
    """Within a degree of Fahrenheit: the charts print whole degrees."""
    pairs = [
        pair
        for sentence in every_sentence()
        for pair in re.findall(r"([\d.]+) °C \(([\d.]+) °F\)", sentence)
    ]
    assert len(pairs) > 10
    for celsius, fahrenheit in pairs:
        assert float(celsius) * 1.8 + 32.0 == pytest.approx(float(fahrenheit), abs=1.0)
