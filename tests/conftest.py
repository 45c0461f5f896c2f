"""Settings for every test."""

from __future__ import annotations

import os
from pathlib import Path

from hypothesis import settings

from suntrack.store.compiled import keep_compiled

# How long an example takes says how busy the machine is, nothing about the code.
settings.register_profile("suntrack", deadline=None)
settings.load_profile("suntrack")

# Compile the simulator once for all tests; the programs they start read the variable too.
keep_compiled(Path(__file__).parents[1] / ".pytest_cache", env=os.environ)
