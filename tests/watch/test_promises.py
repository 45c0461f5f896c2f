"""The promises about the calls are markers on tests: `pytest --promises` lists who keeps which."""

from __future__ import annotations

import ast
from pathlib import Path

TESTS = Path(__file__).parents[1]


def promises() -> dict[str, list[str]]:
    """Return every promise with the tests that carry it."""
    found: dict[str, list[str]] = {}
    for path in sorted(TESTS.rglob("test_*.py")):
        for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
            if not isinstance(node, ast.FunctionDef):
                continue
            for mark in node.decorator_list:
                if isinstance(mark, ast.Call) and ast.unparse(mark.func) == "pytest.mark.promise":
                    assert isinstance(mark.args[0], ast.Constant)
                    found.setdefault(str(mark.args[0].value), []).append(node.name)
    return found


def test_none_of_the_eighteen_is_lost() -> None:
    assert len(promises()) >= 18, sorted(promises())
