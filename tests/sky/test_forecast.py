"""The forecast record: what fits together, what is refused, how old it is."""

from __future__ import annotations

from datetime import UTC, datetime, timedelta

import numpy as np
import pytest

from suntrack.sky.forecast import Forecast

FETCHED = datetime(2026, 11, 25, 6, 0, tzinfo=UTC)
STARTS = np.array([0.0, 3600.0, 7200.0])


def forecast(**changes: object) -> Forecast:
    given: dict[str, object] = {
        "feed": "made up",
        "kind": "radiation",
        "starts_at_s": STARTS,
        "ends_at_s": STARTS + 3600.0,
        "fetched_at": FETCHED,
        "global_horizontal_w_m2": np.array([[0.0, 100.0, np.nan]]),
    }
    return Forecast(**(given | changes))  # type: ignore[arg-type]


def test_everything_but_the_intervals_is_optional() -> None:
    bare = forecast(global_horizontal_w_m2=None)
    assert bare.member_arrays() == {}
    assert bare.members == 1


def test_the_sun_of_an_interval_stands_at_its_middle() -> None:
    assert forecast().mid_at_s.tolist() == [1800.0, 5400.0, 9000.0]


def test_members_are_counted_by_rows() -> None:
    assert forecast(global_horizontal_w_m2=np.zeros((31, 3))).members == 31


def test_arrays_of_another_length_are_refused() -> None:
    with pytest.raises(ValueError, match="3 intervals"):
        forecast(global_horizontal_w_m2=np.zeros((1, 4)))


def test_arrays_with_other_members_are_refused() -> None:
    with pytest.raises(ValueError, match="give them one"):
        forecast(cloud=np.zeros((2, 3)))


@pytest.mark.parametrize(
    ("starts", "ends", "why"),
    [
        ([0.0, 1.0], [1.0, 1.0], "before it starts"),
        ([0.0, 1.0], [2.0, 3.0], "overlap"),
        ([2.0, 0.0], [3.0, 1.0], "out of order"),
        ([0.0, 1.0], [1.0], "one length"),
    ],
)
def test_intervals_that_make_no_sense_are_refused(
    starts: list[float], ends: list[float], why: str
) -> None:
    with pytest.raises(ValueError, match=why):
        forecast(
            starts_at_s=np.array(starts), ends_at_s=np.array(ends), global_horizontal_w_m2=None
        )


def test_only_intervals_longer_than_an_hour_are_coarse() -> None:
    starts, ends = np.array([0.0, 3600.0]), np.array([3600.0, 7.0 * 3600.0])
    mixed = forecast(starts_at_s=starts, ends_at_s=ends, global_horizontal_w_m2=None)
    assert mixed.coarse.tolist() == [False, True]


def test_age_counts_from_the_issue_and_use_from_the_fetch() -> None:
    issued = forecast(issued_at=FETCHED - timedelta(hours=5))
    assert issued.age(FETCHED) == timedelta(hours=5)
    assert forecast().age(FETCHED + timedelta(hours=1)) == timedelta(hours=1)
    assert issued.usable(FETCHED + timedelta(hours=48))
    assert not issued.usable(FETCHED + timedelta(hours=48, seconds=1))


def test_a_clock_set_back_makes_no_negative_age() -> None:
    assert forecast().age(FETCHED - timedelta(hours=1)) == timedelta(0)
