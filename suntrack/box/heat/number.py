"""The numbers of the simulator's formulas: one float, or an array over many.

The formulas of `suntrack.box.heat.moist_air` and `suntrack.box.heat.convection` are written
once and used three ways: on floats, on arrays, and compiled inside the simulator.  That works as
long as a formula keeps to `+ - * / **`, `abs` and numpy's own functions of numbers, and takes
its arguments by place as well as by name (the compiler knows no keyword-only arguments).
"""

from __future__ import annotations

from typing import Any, TypeAlias

Number: TypeAlias = Any
"""A float or an array of floats; a formula gives back what it was given, which the type
checker has no word for."""
