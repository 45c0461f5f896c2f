"""From when to when a year is of use: tables, and what has to hold for any year."""

from __future__ import annotations

from datetime import date, timedelta

import numpy as np
from hypothesis import given
from hypothesis import strategies as st

from suntrack.year.meal_season import usable

DAYS = tuple(date(2026, 1, 1) + timedelta(days=i) for i in range(365))


def good(*stretches: tuple[int, int]) -> np.ndarray:
    days = np.zeros(365, bool)
    for first, last in stretches:
        days[first : last + 1] = True
    return days


def test_a_northern_summer_lies_within_the_year() -> None:
    found = usable(DAYS, good((59, 300)))
    assert found is not None
    assert (found.first, found.last) == (DAYS[59], DAYS[300])
    assert found.break_days == 365 - 242


def test_a_southern_summer_runs_over_new_year() -> None:
    found = usable(DAYS, good((0, 100), (200, 364)))
    assert found is not None
    assert (found.first, found.last) == (DAYS[200], DAYS[100])
    assert found.break_days == 99


def test_all_and_none() -> None:
    found = usable(DAYS, np.ones(365, bool))
    assert found is not None
    assert found.break_days == 0
    assert usable(DAYS, np.zeros(365, bool)) is None


def test_one_day_is_first_and_last() -> None:
    found = usable(DAYS, good((17, 17)))
    assert found is not None
    assert found.first == found.last == DAYS[17]
    assert found.break_days == 364


@given(st.lists(st.booleans(), min_size=365, max_size=365))
def test_no_stretch_without_a_good_day_is_longer(days: list[bool]) -> None:
    """Counted the slow way: around the year twice, day by day."""
    found = usable(DAYS, np.array(days))
    if found is None:
        assert not any(days)
        return
    assert days[DAYS.index(found.first)]
    assert days[DAYS.index(found.last)]
    longest = run = 0
    for one in days * 2:
        run = 0 if one else run + 1
        longest = max(longest, run)
    assert found.break_days == longest
