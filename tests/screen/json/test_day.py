"""JSON for programs: every key documented, every number and instant plain."""

from __future__ import annotations

import json
import math
from collections.abc import Iterator
from dataclasses import replace
from datetime import datetime, timedelta
from typing import Any
from zoneinfo import ZoneInfo

import pytest

from suntrack.plan.records import DayPlan, TakeOut
from suntrack.screen.json.day import NOW_KEYS, PLAN_KEYS, now_json, plan_json
from suntrack.screen.moment import NowView

OUT = TakeOut(
    kind="refused",
    dish="whole-chicken",
    name="Whole chicken",
    loaded_at=datetime(2026, 11, 25, 9, 30, tzinfo=ZoneInfo("Africa/Gaborone")),
    reason="It is too large.",
)


def paths(value: Any, at: str = "") -> Iterator[str]:
    """Yield the path of every value that is not itself a table or a list."""
    if isinstance(value, dict):
        for key, each in value.items():
            yield from paths(each, f"{at}.{key}" if at else key)
    elif isinstance(value, list):
        for each in value:
            yield from paths(each, f"{at}[]")
    else:
        yield at


def test_every_key_of_the_plan_is_listed_with_its_meaning(
    plan: DayPlan, skied_plan: DayPlan
) -> None:
    full = replace(skied_plan, take_out=(OUT,))
    assert set(paths(plan_json(full))) == set(PLAN_KEYS) - {"chances"}
    assert set(paths(plan_json(plan))) <= set(PLAN_KEYS)
    assert all(meaning.strip() for meaning in PLAN_KEYS.values())


def test_every_key_of_the_moment_is_listed_with_its_meaning(view: NowView) -> None:
    view = replace(view, take_out=(OUT,))
    turning = {path for path in paths(now_json(view)) if not path.startswith("after_that.")}
    listed = {key for key in NOW_KEYS if not key.startswith("after_that.")}
    # A step that is there has keys of its own; one that is not is null under its own name.
    assert turning == listed - {"next_step", "after_that", "next_step.turn"}
    none = now_json(replace(view, next_step=None, after_that=None))
    assert {"next_step", "after_that"} <= set(paths(none)) <= set(NOW_KEYS)


def test_json_is_standard_and_keeps_its_values(plan: DayPlan, view: NowView) -> None:
    """RFC 8259 has no NaN; the standard library refuses to write one when told to."""
    for data in (plan_json(plan), now_json(view)):
        assert json.loads(json.dumps(data, allow_nan=False)) == data


def test_not_a_number_becomes_null(plan: DayPlan) -> None:
    broken = replace(plan, window=replace(plan.window, peak_c=math.nan))
    assert plan_json(broken)["window"]["peak_c"] is None


def test_instants_are_iso_8601_with_the_offset_of_the_site(plan: DayPlan) -> None:
    """Gaborone is two hours ahead of UTC all year (IANA time zone database)."""
    data = plan_json(plan)
    for step, written in zip(plan.steps, data["steps"], strict=True):
        at = datetime.fromisoformat(written["at"])
        assert at == step.at
        assert at.utcoffset() == timedelta(hours=2)
    assert data["steps"][1]["at"] == "2026-11-25T08:10:00+02:00"


def test_numbers_are_rounded_to_what_a_plan_can_mean(plan: DayPlan) -> None:
    data = plan_json(plan)
    for sample, written in zip(plan.box, data["box"], strict=True):
        assert abs(written["box_c"] - sample.box_c) <= 0.05 + 1e-9
        assert round(written["box_c"], 1) == written["box_c"]
    zero = replace(plan.turns.turns[0], turn_by_deg=-0.01)
    turns = replace(plan.turns, turns=(zero,))
    assert str(plan_json(replace(plan, turns=turns))["turns"][0]["turn_by_deg"]) == "0.0"


@pytest.mark.parametrize("key", ["cook", "chance", "reason"])
def test_verdict_is_as_recorded(plan: DayPlan, key: str) -> None:
    assert plan_json(plan)["verdict"][key] == getattr(plan.verdict, key)
