"""One example day for every test of the day: the project's own scenario, computed once."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from datetime import date, datetime, timedelta
from pathlib import Path
from typing import Any

import pytest

from suntrack.config.reader import Config, load_config
from suntrack.feeds.planner import day_inputs
from suntrack.plan.inputs import DayInputs
from suntrack.plan.make import plan_day
from suntrack.plan.records import DayPlan

ROOT = Path(__file__).parents[1]
DAY = date(2026, 11, 25)


@pytest.fixture(scope="session")
def config() -> Config:
    return load_config(ROOT / "config" / "suntrack.toml")


@pytest.fixture(scope="session")
def inputs(config: Config, tmp_path_factory: pytest.TempPathFactory) -> DayInputs:
    """Everything about the example day as it stands at five in the morning."""
    dawn = datetime(2026, 11, 25, 5, 0, tzinfo=config.site.zone)
    return day_inputs(config, on=DAY, now=dawn, cache_dir=tmp_path_factory.mktemp("cache"))


@pytest.fixture(scope="session")
def plan(inputs: DayInputs) -> DayPlan:
    return plan_day(inputs)


@pytest.fixture(scope="session")
def at(inputs: DayInputs) -> Callable[[str], datetime]:
    """Return a function from a time of day, such as 13:00, to the instant on the example day."""

    def instant(text: str) -> datetime:
        hour, minute = text.split(":")
        midnight = datetime(DAY.year, DAY.month, DAY.day, tzinfo=inputs.site.zone)
        return midnight + timedelta(hours=int(hour), minutes=int(minute))

    return instant


@pytest.fixture(scope="session")
def replan(inputs: DayInputs) -> Callable[..., DayPlan]:
    """Return a function that plans the example day with some inputs changed."""

    def again(**changes: Any) -> DayPlan:
        return plan_day(replace(inputs, **changes))

    return again
