"""The light that plans told, kept in the journal and read back."""

from __future__ import annotations

import json
from dataclasses import replace
from datetime import UTC, date, datetime, timedelta
from typing import Any

import numpy as np
import pytest

from suntrack.plan.records import SkyHour
from suntrack.store.journal import Entry
from suntrack.store.kept_light import hour_row, kept_hours, told_by

TEN = datetime(2026, 11, 25, 10, 0, tzinfo=UTC)
HOUR = timedelta(hours=1)


def hour(i: int, light: float, *, air_c: float | None = 30.0, hours: int = 1) -> SkyHour:
    return SkyHour(
        starts_at=TEN + i * HOUR, ends_at=TEN + (i + hours) * HOUR, global_w_m2=light, air_c=air_c,
        wind_m_s=None,
    )  # fmt: skip


def plan(*rows: Any, place: str = "here") -> Entry:
    data = json.loads(json.dumps({"light": list(rows), "place": place}))
    return Entry(at=TEN, kind="plan", day=date(2026, 11, 25), data=data)


def test_what_is_kept_is_read_back() -> None:
    hours = (hour(0, 500.0), hour(1, 620.5, air_c=None))
    assert kept_hours([plan(*map(hour_row, hours))], place="here") == hours


def test_the_plan_that_was_shown_later_has_the_word() -> None:
    early = plan(hour_row(hour(0, 500.0)), hour_row(hour(1, 600.0)))
    later = plan(hour_row(hour(1, 300.0)))
    told = told_by(kept_hours([early, later], place="here"))
    assert told is not None
    assert told.global_horizontal_w_m2 is not None
    assert told.global_horizontal_w_m2[0].tolist() == [500.0, 300.0]


def test_hours_that_overlap_are_cut_to_those_told_last() -> None:
    told = told_by([hour(0, 500.0, hours=3), hour(1, 100.0)])
    assert told is not None
    assert told.starts_at_s.tolist() == [(TEN + HOUR).timestamp()]


def test_a_plan_for_another_box_or_place_tells_nothing_here() -> None:
    assert kept_hours([plan(hour_row(hour(0, 500.0)), place="there")], place="here") == ()


@pytest.mark.parametrize("row", [[], ["x", "y", 1, 2, 3], [None] * 5, "abc", [1, 2, 3, 4, 5], 7])
def test_damaged_rows_are_passed_over(row: Any) -> None:
    assert kept_hours([plan(row, hour_row(hour(0, 1.0)))], place="here") == (hour(0, 1.0),)


def test_plans_of_old_versions_kept_no_light() -> None:
    entry = replace(plan(), data={})
    assert kept_hours([entry], place="here") == ()
    assert told_by(()) is None


def test_what_is_not_known_stays_unknown() -> None:
    told = told_by([hour(0, 500.0, air_c=None)])
    assert told is not None
    assert told.air_c is not None
    assert np.isnan(told.air_c).all()
