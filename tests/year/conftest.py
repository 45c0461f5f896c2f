"""The example day, for every test of this room."""

from __future__ import annotations

from example_day import at, config, inputs, plan, replan

__all__ = ["at", "config", "inputs", "plan", "replan"]
