"""Only the modules that draw may load rich; `now --json` and plain lines stay light."""

from __future__ import annotations

import subprocess
import sys

import pytest


@pytest.mark.parametrize("module", ["plain", "json.day", "text.day", "moment", "compass", "curves"])
def test_light_modules_load_neither_rich_nor_numpy(module: str) -> None:
    """In a process of its own, since this one has loaded everything already."""
    script = (
        f"import sys, suntrack.screen.{module}\n"
        "print(sorted({'rich', 'numpy', 'pvlib', 'pandas'} & set(sys.modules)))"
    )
    run = subprocess.run([sys.executable, "-c", script], capture_output=True, text=True, check=True)
    assert run.stdout.strip() == "[]"
