"""Killed at random instants of a day; `tests/benchmarks/faults.py` does it a thousand times."""

from __future__ import annotations

import importlib.util
import random
import sys
from pathlib import Path
from types import ModuleType

import pytest

SCRIPT = Path(__file__).parents[1] / "benchmarks" / "killed_day.py"


@pytest.fixture(scope="module")
def killed_day() -> ModuleType:
    spec = importlib.util.spec_from_file_location("killed_day", SCRIPT)
    assert spec is not None
    assert spec.loader is not None
    module = importlib.util.module_from_spec(spec)
    sys.modules["killed_day"] = module
    spec.loader.exec_module(module)
    return module


@pytest.mark.promise("Killed at any instant: nothing lost, a second copy says so, no third")
def test_killed_at_random_instants_no_alert_is_lost_and_none_told_three_times(
    killed_day: ModuleType, tmp_path: Path
) -> None:
    """A second copy costs a kill, and says `Again`."""
    tally = killed_day.kill_through(
        tmp_path, kills=12, order=random.Random(7), longest_s=0.06, alerts=60
    )
    assert tally.kills >= 3
    assert (tally.lost, tally.tripled, tally.unflagged) == (0, 0, 0)
    assert tally.doubled <= tally.kills
    assert tally.doubtful <= tally.kills // 2
