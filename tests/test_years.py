"""Years that calendars cannot count past are answered, not crashed on."""

from __future__ import annotations

from datetime import UTC, date, datetime

import pytest

from suntrack.commands.context import parse_day, parse_when
from suntrack.errors import InputError

NOW = datetime(2026, 11, 25, 8, 0, tzinfo=UTC)


@pytest.mark.parametrize("text", ["0001-01-01", "1899-12-31", "2200-01-01", "9999-12-31"])
def test_a_year_out_of_reach_is_named(text: str) -> None:
    with pytest.raises(InputError, match=r"--date: found the year \d+; allowed: a year from 1900"):
        parse_day(text, today=NOW.date())
    with pytest.raises(InputError, match=r"--at: found the year \d+; allowed: a year from 1900"):
        parse_when(f"{text}T00:00+14:00", now=NOW)


@pytest.mark.parametrize("text", ["1900-01-01", "2199-12-31"])
def test_the_first_and_the_last_year_are_taken(text: str) -> None:
    assert parse_day(text, today=NOW.date()) == date.fromisoformat(text)
    assert parse_when(f"{text}T12:00+00:00", now=NOW).date() == date.fromisoformat(text)


def test_an_empty_time_is_no_time() -> None:
    with pytest.raises(InputError, match="--at: found ''"):
        parse_when("", now=NOW)
