"""The words of the keys, and the line they stand on."""

from __future__ import annotations

from datetime import UTC, datetime

import pytest
from hypothesis import given
from hypothesis import strategies as st

from suntrack.screen.dashboard.chart import Expected, Reading
from suntrack.screen.text.dashboard import (
    ALWAYS,
    NOTING,
    help_lines,
    reading_words,
    rows_of_keys,
    waiting_words,
)
from suntrack.units import Units

NAN = float("nan")
READ = Reading(at=datetime(2026, 11, 25, 9, 50, tzinfo=UTC), box_c=84.0)


@given(width=st.integers(12, 200))
def test_every_key_stands_on_a_row_that_fits(width: int) -> None:
    rows = rows_of_keys((*NOTING, *ALWAYS), width=width)
    assert [key for row in rows for key in row] == [*NOTING, *ALWAYS]
    assert all(len("  ".join(f"{k.key} {k.label}" for k in row)) <= width for row in rows)


def test_eighty_columns_are_one_row_and_forty_are_two() -> None:
    keys = (*NOTING, *ALWAYS)
    assert [len(rows_of_keys(keys, width=width)) for width in (80, 40)] == [1, 2]


@pytest.mark.parametrize(
    ("expected", "said"),
    [
        (Expected(box_c=NAN, low_c=NAN, high_c=NAN), "Read 84 °C at 9:50."),
        (
            Expected(box_c=90.0, low_c=NAN, high_c=NAN),
            "Read 84 °C at 9:50; the plan has 90 °C then.",
        ),
        (
            Expected(box_c=90.0, low_c=70.0, high_c=95.0),
            "Read 84 °C at 9:50; the plan has 90 °C then, 70 °C to 95 °C on 8 of 10 such days.",
        ),
    ],
)
def test_a_reading_is_told_beside_what_was_expected(expected: Expected, said: str) -> None:
    assert reading_words(READ, expected, Units()) == said


def test_a_reading_is_told_in_the_cook_s_units() -> None:
    """84 C is 183.2 F."""
    expected = Expected(box_c=NAN, low_c=NAN, high_c=NAN)
    assert "183 °F" in reading_words(READ, expected, Units(temperature="F"))


def test_help_names_every_key_and_the_usual_cautions() -> None:
    lines = help_lines((*NOTING, *ALWAYS), Units())
    assert [key for key, _ in lines if key] == [key.key for key in (*NOTING, *ALWAYS)]
    said = " ".join(text for _, text in lines)
    for part in ("Never look into the sun", "oven gloves", "food thermometer", "food authority"):
        assert part in said


def test_a_call_that_waits_names_the_keys_only_where_there_are_keys() -> None:
    assert waiting_words("Turn", more=0, has_keys=False) == "Waits for your answer: Turn"
    said = waiting_words("Turn", more=2, has_keys=True)
    assert said == "Waits for your answer (d done, s later): Turn and 2 more"
