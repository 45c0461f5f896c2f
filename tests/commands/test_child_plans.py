"""Plans from a child process: there, not yet, dead, hanging, or nonsense."""

from __future__ import annotations

import contextlib
import json
import os
import signal
import subprocess
import sys
from collections.abc import Callable, Iterator
from datetime import UTC, datetime
from pathlib import Path

import pytest

from suntrack.commands.child_plans import ChildPlans, PlannerError, planner_command
from suntrack.plan.records import DayPlan
from suntrack.watch.plans import StillPlanningError

NOW = datetime(2026, 11, 25, 4, 0, tzinfo=UTC)
EXAMPLE = Path(__file__).parents[2] / "config" / "suntrack.toml"
HANG = "import threading; threading.Event().wait()"
Start = Callable[..., ChildPlans]


@pytest.fixture
def start() -> Iterator[Start]:
    """Return a source whose child runs some code; what is left of it is ended."""
    made: list[ChildPlans] = []

    def source(code: str, limit_s: float = 60.0) -> ChildPlans:
        made.append(ChildPlans((sys.executable, "-c", code), limit_s=limit_s))
        return made[-1]

    yield source
    for plans in made:
        plans.stop()


def result(plans: ChildPlans) -> DayPlan:
    """Ask until there is an answer."""
    for _ in range(600):
        try:
            return plans(NOW)
        except StillPlanningError:
            assert plans._child is not None
            with contextlib.suppress(subprocess.TimeoutExpired):
                plans._child.wait(timeout=0.3)
    raise AssertionError("no answer")


def test_asking_never_waits_for_the_child(start: Start) -> None:
    plans = start(HANG)
    for _ in range(1000):
        with pytest.raises(StillPlanningError):
            plans(NOW)


def test_a_killed_child_is_noticed_and_said_and_the_next_one_is_started(start: Start) -> None:
    plans = start(HANG)
    with pytest.raises(StillPlanningError):
        plans(NOW)
    assert plans._child is not None
    os.kill(plans._child.pid, signal.SIGKILL)
    with pytest.raises(PlannerError, match="killed"):
        result(plans)
    with pytest.raises(StillPlanningError):
        plans(NOW)


def test_a_hanging_child_is_ended_and_said(start: Start) -> None:
    plans = start(HANG, limit_s=0.2)
    with pytest.raises(PlannerError, match="took longer"):
        result(plans)
    assert plans._child is None


@pytest.mark.parametrize(
    ("code", "said"),
    [
        ("import sys; sys.exit('config/my.toml:3: box.width: found 7')", "box.width"),
        ("raise ValueError('the sun is gone')", "the sun is gone"),
        ("import sys; sys.exit(4)", "status 4"),
        ("print('no plan')", "printed no plan"),
        ("print('{}')", "printed no plan"),
        ("import sys; print('x' * 10**7, file=sys.stderr); sys.exit(1)", "xxx"),
    ],
)
def test_a_child_that_makes_no_plan_says_why_in_one_line(
    code: str, said: str, start: Start
) -> None:
    with pytest.raises(PlannerError) as caught:
        result(start(code))
    assert said in str(caught.value)
    assert "Traceback" not in str(caught.value)
    assert len(str(caught.value)) < 400


def test_the_real_planner_makes_the_plan_of_the_day(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setenv("SUNTRACK_HOME", str(tmp_path))
    plan = result(ChildPlans(planner_command(EXAMPLE)))
    assert plan.site_name == "Gaborone courtyard"
    assert list((tmp_path / "cache").glob("plan-*.json"))
    kept = json.loads(next((tmp_path / "cache").glob("plan-*.json")).read_text())
    assert kept["date"] == plan.date.isoformat()


def test_a_config_with_a_mistake_is_told_as_the_cook_has_to_read_it(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setenv("SUNTRACK_HOME", str(tmp_path))
    text = EXAMPLE.read_text(encoding="utf-8").replace("[box.mirror]", "[box.miror]")
    (tmp_path / "mine.toml").write_text(text, encoding="utf-8")
    with pytest.raises(PlannerError, match="Did you mean mirror"):
        result(ChildPlans(planner_command(tmp_path / "mine.toml")))
