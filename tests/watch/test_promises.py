"""Every promise of DEVELOPERS.md about the calls names tests that are there."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

ROOT = Path(__file__).parents[2]
TEXT = (ROOT / "DEVELOPERS.md").read_text(encoding="utf-8")
TABLE = TEXT.partition("<!-- promises -->")[2].partition("<!-- end of promises -->")[0]
ROWS = [line for line in TABLE.splitlines() if line.startswith("| ") and "---" not in line][1:]


def test_there_are_eighteen() -> None:
    assert len(ROWS) == 18


@pytest.mark.parametrize("row", ROWS, ids=lambda row: row.split(" | ")[0].lstrip("| "))
def test_each_names_a_test_that_is_there(row: str) -> None:
    named = re.findall(r"`(tests/[\w/]+\.py)(?:::(\w+))?", row)
    assert any(test for _, test in named)
    for path, test in named:
        assert f"def {test or 'main'}(" in (ROOT / path).read_text(encoding="utf-8"), path
