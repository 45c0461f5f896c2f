"""Quiet hours: over midnight, over a change of clocks, one after the other."""

from __future__ import annotations

from datetime import UTC, datetime, time, timedelta
from zoneinfo import ZoneInfo

import pytest
from hypothesis import given
from hypothesis import strategies as st

from suntrack.alerts.quiet import NEVER, Quiet

GABORONE = ZoneInfo("Africa/Gaborone")
NIGHT = Quiet(stretches=((time(21, 30), time(6, 0)),), zone=GABORONE)


def local(text: str, zone: ZoneInfo = GABORONE) -> datetime:
    return datetime.fromisoformat(text).replace(tzinfo=zone)


@pytest.mark.promise("Quiet hours")
@pytest.mark.parametrize(
    ("now", "ends"),
    [
        ("2026-11-25T21:29:59", None),
        ("2026-11-25T21:30:00", "2026-11-26T06:00:00"),
        ("2026-11-25T23:59:59", "2026-11-26T06:00:00"),
        ("2026-11-26T00:00:00", "2026-11-26T06:00:00"),
        ("2026-11-26T05:59:59", "2026-11-26T06:00:00"),
        ("2026-11-26T06:00:00", None),
        ("2026-11-26T12:00:00", None),
    ],
)
def test_a_night_goes_over_midnight(now: str, ends: str | None) -> None:
    assert NIGHT.ends_at(local(now)) == (local(ends) if ends else None)


def test_only_what_is_not_urgent_enough_waits() -> None:
    night = local("2026-11-25T23:00:00")
    assert NIGHT.holds("normal", night)
    assert NIGHT.holds("low", night)
    assert not NIGHT.holds("urgent", night)
    assert not NIGHT.holds("normal", local("2026-11-25T12:00:00"))


def test_stretches_that_follow_one_another_are_one_peace() -> None:
    quiet = Quiet(stretches=((time(12), time(13)), (time(13), time(14, 30))), zone=GABORONE)
    assert quiet.ends_at(local("2026-11-25T12:10:00")) == local("2026-11-25T14:30:00")


@pytest.mark.parametrize(
    ("now", "ends"),
    [
        ("2026-03-07T23:00:00", "2026-03-08T06:00:00"),
        ("2026-10-31T23:00:00", "2026-11-01T06:00:00"),
    ],
)
def test_it_ends_by_the_clock_on_the_wall_when_the_clocks_change(now: str, ends: str) -> None:
    """8 March and 1 November 2026 are the days of change in Denver (IANA time zone database)."""
    denver = ZoneInfo("America/Denver")
    quiet = Quiet(stretches=((time(21, 30), time(6, 0)),), zone=denver)
    before, after = local(now, denver), local(ends, denver)
    assert before.utcoffset() != after.utcoffset()
    assert quiet.ends_at(before) == after


def test_without_hours_there_is_no_peace() -> None:
    assert not NEVER.holds("low", local("2026-11-25T03:00:00"))


TIMES = st.times(max_value=time(23, 59)).map(lambda t: t.replace(second=0, microsecond=0))


@given(
    stretches=st.lists(st.tuples(TIMES, TIMES).filter(lambda s: s[0] != s[1]), max_size=3),
    now=st.datetimes(
        min_value=datetime(2026, 1, 1),  # noqa: DTZ001
        max_value=datetime(2027, 1, 1),  # noqa: DTZ001
        timezones=st.just(UTC),
    ),
)
def test_every_peace_has_an_end_that_lies_ahead_and_within_a_day(
    stretches: list[tuple[time, time]], now: datetime
) -> None:
    """So that the watch is never told to sleep for good."""
    quiet = Quiet(stretches=tuple(stretches), zone=ZoneInfo("America/Denver"))
    ends_at = quiet.ends_at(now)
    if ends_at is not None:
        assert now < ends_at <= now + timedelta(hours=25)
