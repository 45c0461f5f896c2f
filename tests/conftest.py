"""Settings for every test."""

from __future__ import annotations

from hypothesis import settings

# How long an example takes says how busy the machine is, nothing about the code.
settings.register_profile("suntrack", deadline=None)
settings.load_profile("suntrack")
