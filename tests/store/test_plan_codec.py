"""The plan's way to the disk and back."""

from __future__ import annotations

import json
from dataclasses import replace
from datetime import UTC, datetime, timedelta, timezone
from typing import Any
from zoneinfo import ZoneInfo

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from suntrack.plan.records import BoxSample, DayPlan, DishPlan, DishSample, Step, Turn
from suntrack.store.plan_codec import (
    instant_of,
    instant_text,
    plan_from_cache,
    plan_to_cache,
)

NUMBERS = st.floats(allow_nan=False, allow_infinity=False)
INSTANTS = st.datetimes(
    datetime(2000, 1, 1),  # noqa: DTZ001 - the strategy adds the zone
    datetime(2099, 12, 31),  # noqa: DTZ001
    timezones=st.sampled_from([ZoneInfo("Africa/Gaborone"), ZoneInfo("America/Denver"), UTC]),
    allow_imaginary=False,
)
MAYBE = st.none() | INSTANTS
TURNS = st.builds(
    Turn,
    at=INSTANTS,
    face_true_deg=NUMBERS,
    face_compass_deg=NUMBERS,
    mirror_deg=st.none() | NUMBERS,
    turn_by_deg=NUMBERS,
)
STEPS = st.builds(
    Step,
    key=st.text(),
    kind=st.sampled_from(["prepare", "turn", "pull"]),
    at=INSTANTS,
    dish=st.none() | st.text(),
    turn=st.none() | TURNS,
    detail=st.text(),
)
DISHES = st.builds(
    DishPlan,
    key=st.text(),
    name=st.text(),
    pot=st.none() | st.text(),
    serve_at=INSTANTS,
    load_at=MAYBE,
    done_at=MAYBE,
    safe_at=MAYBE,
    pull_at=MAYBE,
    pull_by=MAYBE,
    stove_by=MAYBE,
    status=st.sampled_from(["ready", "late", "not done", "not safe", "refused"]),
    notes=st.lists(st.text()).map(tuple),
    curve=st.lists(
        st.builds(DishSample, at=INSTANTS, core_c=NUMBERS, done=NUMBERS, safe=st.booleans()),
        max_size=3,
    ).map(tuple),
)
BOX = st.builds(BoxSample, at=INSTANTS, box_c=NUMBERS, empty_c=NUMBERS)


@settings(deadline=None)
@given(
    turns=st.lists(TURNS, max_size=3).map(tuple),
    steps=st.lists(STEPS, max_size=3).map(tuple),
    dishes=st.lists(DISHES, max_size=2).map(tuple),
    box=st.lists(BOX, max_size=3).map(tuple),
)
def test_any_plan_comes_back_exactly(
    plan: DayPlan, turns: Any, steps: Any, dishes: Any, box: Any
) -> None:
    """Through real JSON text, to the last bit and in the same zones."""
    choice = replace(plan.turns, turns=turns)
    wanted = replace(plan, turns=choice, steps=steps, dishes=dishes, box=box)
    found = plan_from_cache(json.loads(json.dumps(plan_to_cache(wanted))))
    assert found == wanted
    assert [step.at.tzinfo for step in found.steps] == [step.at.tzinfo for step in steps]


def test_instants_are_written_as_rfc_9557_has_them() -> None:
    """RFC 9557 section 4.1: an RFC 3339 time with the zone's name in square brackets."""
    at = datetime(2026, 11, 25, 8, 10, tzinfo=ZoneInfo("Africa/Gaborone"))
    assert instant_text(at) == "2026-11-25T08:10:00+02:00[Africa/Gaborone]"


def test_the_doubled_hour_of_autumn_keeps_its_side() -> None:
    """In Denver 1:30 happens twice on 1 November 2026 (IANA time zone database)."""
    denver = ZoneInfo("America/Denver")
    for fold in (0, 1):
        at = datetime(2026, 11, 1, 1, 30, tzinfo=denver, fold=fold)
        back = instant_of(instant_text(at))
        assert (back.utcoffset(), back.fold) == (at.utcoffset(), fold)


def test_bare_offset_stays_an_offset() -> None:
    at = datetime(2026, 11, 25, 8, tzinfo=timezone(timedelta(hours=5, minutes=30)))
    assert instant_of(instant_text(at)) == at


def spoiled(data: dict[str, Any], path: str, value: Any) -> dict[str, Any]:
    """Return cache data with one value changed, or taken out when the value is `...`."""
    *way, last = path.split(".")
    part = data
    for key in way:
        part = part[key]
    if value is ...:
        del part[last]
    else:
        part[last] = value
    return data


@pytest.mark.parametrize(
    ("path", "value"),
    [
        ("made_at", "yesterday"),
        ("made_at", "2026-11-25T08:10:00"),
        ("date", 20261125),
        ("window.peak_c", "hot"),
        ("window.peak_c", True),
        ("window.peak_c", ...),
        ("window.unheard_of", 1.0),
        ("verdict", None),
        ("verdict.cook", 1),
        ("cautions", "burns"),
        ("steps", [{"key": "x", "kind": "dance", "at": "2026-11-25T08:10:00+02:00"}]),
    ],
)
def test_anything_else_is_refused(plan: DayPlan, path: str, value: Any) -> None:
    """A cache from another version, or a damaged one, is made anew instead of believed."""
    with pytest.raises(ValueError, match=r"."):
        plan_from_cache(spoiled(json.loads(json.dumps(plan_to_cache(plan))), path, value))
