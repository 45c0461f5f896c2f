"""What is still in the box, as the journal of an earlier day has it."""

from __future__ import annotations

from datetime import UTC, date, datetime, timedelta
from typing import Any

import pytest

from suntrack.store.journal import Entry, EntryKind
from suntrack.store.leftover import still_inside

DAY = date(2026, 11, 25)
NINE = datetime(2026, 11, 25, 7, 0, tzinfo=UTC)
HOUR = timedelta(hours=1)
PLAN: dict[str, Any] = {
    "aims": [],
    "loads": {"lentil-soup": NINE.isoformat()},
    "pulls": {"lentil-soup": (NINE + 4 * HOUR).isoformat()},
    "names": {"lentil-soup": "Lentil soup"},
}


def entry(hours: float, kind: EntryKind, subject: str | None = None, **data: Any) -> Entry:
    return Entry(at=NINE + hours * HOUR, kind=kind, day=DAY, subject=subject, data=data)


def test_a_dish_that_was_planned_and_never_noted_is_taken_as_put_in() -> None:
    (dish,) = still_inside([entry(-2, "plan", **PLAN)])
    assert (dish.name, dish.load_at, dish.pull_at) == ("Lentil soup", NINE, NINE + 4 * HOUR)


@pytest.mark.parametrize(
    ("entries", "inside"),
    [
        ([], []),
        ([entry(0, "loaded", "beans")], ["beans"]),
        ([entry(0, "loaded", "beans"), entry(3, "pulled", "beans")], []),
        ([entry(3, "pulled", "beans"), entry(4, "loaded", "beans")], ["beans"]),
        ([entry(-2, "plan", **PLAN), entry(4, "pulled", "lentil-soup")], []),
        ([entry(-2, "plan", **PLAN), entry(-1, "skipped")], []),
        ([entry(-1, "skipped"), entry(0, "loaded", "beans")], ["beans"]),
        ([entry(-2, "plan", aims=[], loads={"beans": NINE.isoformat()})], ["beans"]),
    ],
)
def test_what_went_in_and_did_not_come_out(entries: list[Entry], inside: list[str]) -> None:
    assert [dish.dish for dish in still_inside(entries)] == inside


def test_a_time_to_come_out_from_before_it_went_in_is_no_time() -> None:
    late = [entry(-2, "plan", **PLAN), entry(6, "loaded", "lentil-soup")]
    (dish,) = still_inside(late)
    assert dish.pull_at is None
