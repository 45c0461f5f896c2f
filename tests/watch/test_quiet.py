"""Quiet hours under the watch: what waits, what breaks through, what is counted afterwards."""

from __future__ import annotations

from collections.abc import Callable
from datetime import time
from typing import Any
from zoneinfo import ZoneInfo

import pytest

from suntrack.alerts.quiet import Quiet

Make = Callable[..., Any]
ZONE = ZoneInfo("Africa/Gaborone")
MIDDAY = Quiet(stretches=((time(9, 30), time(12, 30)),), zone=ZONE)


@pytest.mark.promise("Quiet hours")
def test_what_is_still_worth_telling_comes_when_the_peace_is_over_with_one_line_for_the_rest(
    bench: Any, make_way: Make, make_plan: Make, make_turn: Make, make_load: Make
) -> None:
    """Four turns and a dish in quiet hours: the newest turn, the dish, and one line."""
    steps = [make_turn(i, bench.at(f"{9 + i}:00")) for i in range(1, 4)]
    steps += [make_turn(4, bench.at("12:20")), make_load(1, bench.at("11:30"))]
    screen = make_way("terminal")
    watch = bench.watch(make_plan(sorted(steps, key=lambda s: s.at)), screen, quiet=MIDDAY)
    bench.run(watch, "12:29")
    assert screen.sent == []
    bench.run(watch, "12:30")
    (notice,) = screen.sent
    assert "Turn the box" in notice.title + notice.body
    assert "goes in" in notice.title + notice.body
    assert "Missed: 3 turns." in notice.body
    bench.run(watch, "13:30")
    assert len(screen.sent) == 1


def test_food_breaks_through(bench: Any, make_way: Make, make_plan: Make, make_soup: Make) -> None:
    dish = make_soup(pull_at=bench.at("11:00"), pull_by=bench.at("11:03"))
    screen = make_way("terminal")
    watch = bench.watch(make_plan([], dish), screen, quiet=MIDDAY)
    bench.run(watch, "11:00")
    assert screen.keys() == ["pull-lentil-soup"]


def test_what_may_not_break_through_waits_whatever_it_is(
    bench: Any, make_way: Make, make_plan: Make, make_soup: Make
) -> None:
    dish = make_soup(pull_at=bench.at("11:00"), pull_by=bench.at("11:03"))
    screen = make_way("terminal")
    silent = Quiet(stretches=MIDDAY.stretches, tells=frozenset(), zone=ZONE)
    watch = bench.watch(make_plan([], dish), screen, quiet=silent)
    bench.run(watch, "12:29")
    assert screen.keys() == []
    bench.run(watch, "12:30")
    assert screen.keys() == ["pull-lentil-soup"]


def test_the_watch_wakes_when_the_peace_ends(
    bench: Any, make_way: Make, make_plan: Make, make_load: Make
) -> None:
    plan = make_plan([make_load(1, bench.at("10:00")), make_load(2, bench.at("18:00"))])
    watch = bench.watch(plan, make_way("terminal"), quiet=MIDDAY)
    bench.run(watch, "12:00")
    assert watch.next_at(bench.clock.now()) == bench.at("12:00").replace(minute=30)
