"""The beef formula against the table it was fitted to."""

from __future__ import annotations

import ast
from pathlib import Path

import numpy as np
import pytest

import suntrack.food
from suntrack.food.lethality import beef_lethality_log10

# FSIS Appendix A, 1999, all rows from 135 F (found copy, rhosey.com/usda_cooking_guideline):
# Fahrenheit, seconds for 6.5 logs, seconds for 7 logs.
MINUTES = [
    (135, 36, 37), (136, 28, 32), (137, 23, 24), (138, 18, 19), (139, 15, 15), (140, 12, 12),
    (141, 9, 10), (142, 8, 8), (143, 6, 6), (144, 5, 5), (145, 4, 4),
]  # fmt: skip
SECONDS = [
    (146, 169, 182), (147, 134, 144), (148, 107, 115), (149, 85, 91), (150, 67, 72),
    (151, 54, 58), (152, 43, 46), (153, 34, 37), (154, 27, 29), (155, 22, 23), (156, 17, 19),
    (157, 14, 15),
]  # fmt: skip


def time_s(fahrenheit: float, logs: float) -> float:
    """Return the time a steady temperature takes, from the rate over one second."""
    core_c = np.full(2, (fahrenheit - 32.0) / 1.8)
    return logs / float(beef_lethality_log10(core_c, step_s=1.0)[-1])


@pytest.mark.parametrize(("fahrenheit", "seconds", "longer"), SECONDS)
def test_rows_in_seconds(fahrenheit: float, seconds: float, longer: float) -> None:
    """Within a second, or 2 %: the rows are printed in whole seconds.

    147 F and 151 F are also in Table D of Alaska 18 AAC 31.232, from the FDA Food Code
    (found): 134 s and 54 s.
    """
    assert time_s(fahrenheit, 6.5) == pytest.approx(seconds, abs=1.0, rel=0.02)
    assert time_s(fahrenheit, 7.0) == pytest.approx(longer, abs=1.0, rel=0.02)


@pytest.mark.parametrize(("fahrenheit", "minutes", "longer"), MINUTES)
def test_rows_in_minutes(fahrenheit: float, minutes: float, longer: float) -> None:
    """The printed minutes are rounded up, from 136 F on and most at 143 to 145 F."""
    assert 0.87 * minutes <= time_s(fahrenheit, 6.5) / 60.0 <= 1.03 * minutes
    # The 7-log column prints 32 minutes at 136 F, out of line with its neighbours.
    assert 0.87 * longer <= time_s(fahrenheit, 7.0) / 60.0 <= 1.06 * longer


def test_no_lethality_below_57_degrees() -> None:
    """A later study could not confirm the times at 54.4 C (found abstract)."""
    assert beef_lethality_log10(np.full(10_000, 56.9), step_s=60.0)[-1] == 0.0


def test_what_is_not_known_stays_unknown() -> None:
    logs = beef_lethality_log10([70.0, np.nan, 70.0], step_s=1.0)
    assert logs[0] == 0.0
    assert np.isnan(logs[1:]).all()


def test_no_verdict_ever_reads_the_table() -> None:
    """FSIS: the beef columns must not be used for poultry; here they are used for nothing."""
    for path in Path(suntrack.food.__path__[0]).glob("*.py"):
        tree = ast.parse(path.read_text(encoding="utf-8"))
        froms = [node.module for node in ast.walk(tree) if isinstance(node, ast.ImportFrom)]
        assert "suntrack.food.lethality" not in froms, path.name
