"""The grammar of stretches of time: ISO 8601 durations, read and refused."""

from __future__ import annotations

from datetime import UTC, datetime, timedelta

import pytest
from hypothesis import given
from hypothesis import strategies as st

from suntrack.errors import FeedError
from suntrack.feeds.weather_gov import duration, stretch

NOW = datetime(2022, 2, 4, 3, 20, tzinfo=UTC)


@pytest.mark.parametrize(
    ("text", "length"),
    [
        # Lengths that occur in a recorded raw grid of the US service (2022-02-04).
        ("PT1H", timedelta(hours=1)),
        ("PT10H", timedelta(hours=10)),
        ("P6DT15H", timedelta(days=6, hours=15)),
        ("P1DT6H", timedelta(days=1, hours=6)),
        ("P7DT14H", timedelta(days=7, hours=14)),
        # ISO 8601-1:2019, 5.5.2.2 (from memory): any part may be left out.
        ("P1D", timedelta(days=1)),
        ("PT90M", timedelta(minutes=90)),
        ("PT0S", timedelta(0)),
    ],
)
def test_lengths_are_read(text: str, length: timedelta) -> None:
    assert duration(text) == length


@given(
    days=st.integers(0, 400),
    hours=st.integers(0, 999),
    minutes=st.integers(0, 999),
    seconds=st.integers(0, 9999),
)
def test_every_length_of_the_grammar_is_read(
    days: int, hours: int, minutes: int, seconds: int
) -> None:
    text = f"P{days}DT{hours}H{minutes}M{seconds}S"
    length = timedelta(days=days, hours=hours, minutes=minutes, seconds=seconds)
    assert duration(text) == length
    starts = datetime(2026, 1, 1, tzinfo=UTC)
    assert stretch(f"{starts.isoformat()}/{text}", now=NOW) == (starts, starts + length)
    ends = starts + length
    assert stretch(f"{text}/{ends.isoformat()}", now=NOW) == (starts, ends)
    assert stretch(f"{starts.isoformat()}/{ends.isoformat()}", now=NOW) == (starts, ends)


@given(st.text(max_size=12))
def test_anything_else_is_a_clear_fault(text: str) -> None:
    """Whatever stands there, the answer is a length or our own error, never another one."""
    for read in (lambda: duration(text), lambda: stretch(text, now=NOW)):
        try:
            found = read()
        except FeedError as error:
            assert error.kind == "content"
        else:
            assert found


@pytest.mark.parametrize("text", ["", "P", "PT", "1H", "P1H", "PT1D", "P1W", "PT-1H", "PT1.5H"])
def test_what_is_no_length_is_refused(text: str) -> None:
    with pytest.raises(FeedError, match="no length of time"):
        duration(text)


def test_now_may_stand_at_either_end() -> None:
    """The service's interface description allows it."""
    assert stretch("NOW/PT2H", now=NOW) == (NOW, NOW + timedelta(hours=2))
    assert stretch("PT2H/NOW", now=NOW) == (NOW - timedelta(hours=2), NOW)


def test_an_offset_is_taken_into_account() -> None:
    starts, _ = stretch("2022-02-04T01:00:00-05:00/PT1H", now=NOW)
    assert starts == datetime(2022, 2, 4, 6, tzinfo=UTC)
