"""Settings for every test."""

from __future__ import annotations

import os
from pathlib import Path

import pytest
from hypothesis import settings

from suntrack.store.compiled import keep_compiled

# How long an example takes says how busy the machine is, nothing about the code.
settings.register_profile("suntrack", deadline=None)
settings.load_profile("suntrack")

# Compile the simulator once for all tests; the programs they start read the variable too.
keep_compiled(Path(__file__).parents[1] / ".pytest_cache", env=os.environ)


def pytest_addoption(parser: pytest.Parser) -> None:
    parser.addoption("--promises", action="store_true", help="list the promises and their tests")


def pytest_collection_modifyitems(config: pytest.Config, items: list[pytest.Item]) -> None:
    """With --promises, print who keeps which promise, and run nothing."""
    if not config.getoption("--promises"):
        return
    kept: dict[str, set[str]] = {}
    for item in items:
        for mark in item.iter_markers("promise"):
            kept.setdefault(mark.args[0], set()).add(item.nodeid.partition("[")[0])
    for promise, tests in sorted(kept.items()):
        print(promise, *sorted(tests), sep="\n    ")
    items[:] = []
