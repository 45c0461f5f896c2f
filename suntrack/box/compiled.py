"""The simulator, and the paths of light among mirrors, compiled into quick functions.

The formulas stay ordinary Python (and are tested as such); here they are handed to numba,
the first time a day is simulated or a box has side mirrors.  That takes some ten seconds,
or four, unless an earlier compile is kept on disk: `suntrack.store.compiled` says where.
numba checks only the one file it compiles from for changes, so the place has to change
whenever any file of this room does.

Compiled by numba: each day is walked alone, in strides as short as that day needs and with the
films taken whenever it has moved by a degree; within 0.2 K of LSODA at every minute.  Lost:
numpy over thousands of days at once (one stride and one look for all of them, so up to 2 K off
after a lid or a cloud, and four times slower per day; a single day took a hundred times as
long), plain floats, and C (a compiler on every cook's machine).  The price: about ten seconds
once per machine and version; the formulas take arguments by place, because numba knows no
keyword-only ones; and records are numpy's plain ones, because tuples of arrays cost ten times
as much in counting references.
"""

from __future__ import annotations

import importlib
import sys
from functools import cache
from typing import TYPE_CHECKING, Literal, ParamSpec

from suntrack.box.heat import conductances as links
from suntrack.box.heat import convection as film
from suntrack.box.heat import integrate as march
from suntrack.box.heat import moist_air as air
from suntrack.box.heat import solid_nodes as shells
from suntrack.box.heat import step as balance
from suntrack.box.heat import step_control as looks
from suntrack.box.light import beams, polygon

if TYPE_CHECKING:
    from collections.abc import Callable, Iterable
    from types import ModuleType

    import numpy as np
    from numpy.typing import NDArray

    from suntrack.box.heat.integrate import Drive, Record, Work

    Rows = NDArray[np.void]
    RunDays = Callable[[int, int, Rows, Rows, Drive, Work, Record], None]
    Floats = NDArray[np.float64]
    TraceCups = Callable[[Floats, Floats, Floats, Floats, Floats, Floats, Floats], None]

Arguments = ParamSpec("Arguments")

LINEAR_ALGEBRA = "scipy.linalg.cython_blas"

DIVISION: Literal["numpy"] = "numpy"
"""Division as in numpy, which spares a test at every one of them."""
MODULES = (air, film, links, shells, balance, looks, march)
"""Every formula in these is compiled for the simulator, in this order."""
LIGHT_MODULES = (polygon, beams)
"""The same for the paths of light among mirrors."""


@cache
def run_days() -> RunDays:
    """Return `suntrack.box.heat.integrate.run_days`, compiled."""
    return _quick(march.run_days, MODULES)


@cache
def trace_cups() -> TraceCups:
    """Return `suntrack.box.light.beams.trace_cups`, compiled."""
    return _quick(beams.trace_cups, LIGHT_MODULES)


def _quick(
    function: Callable[Arguments, None], modules: Iterable[ModuleType]
) -> Callable[Arguments, None]:
    """Return a function compiled with every formula of some modules."""
    # Here and not above: what does not simulate does not wait for it.
    from numba import config, njit
    from numba.extending import register_jitable

    _spare_linear_algebra()
    for module in modules:
        for formula in vars(module).values():
            if getattr(formula, "__module__", None) == module.__name__ and _is_function(formula):
                register_jitable(error_model=DIVISION)(formula)
    kept = bool(getattr(config, "CACHE_DIR", ""))
    return _patient(njit(nogil=True, cache=kept, error_model=DIVISION)(function))


def _spare_linear_algebra() -> None:
    """Keep numba from loading scipy's linear algebra, a tenth of what a fresh plan takes.

    numba only looks whether it is there, for products of matrices, of which the formulas have
    none.  Python takes a name that stands for None as not installed.
    """
    if LINEAR_ALGEBRA in sys.modules:
        return
    sys.modules[LINEAR_ALGEBRA] = None  # type: ignore[assignment]
    try:
        importlib.import_module("numba.np.arraymath")
    finally:
        del sys.modules[LINEAR_ALGEBRA]


def _patient(quick: Callable[Arguments, None]) -> Callable[Arguments, None]:
    """Return a function that does not mind when what was compiled cannot be kept."""

    def run(*args: Arguments.args, **kwargs: Arguments.kwargs) -> None:
        try:
            quick(*args, **kwargs)
        except OSError:
            # The disk is full or closed to us: it is compiled all the same, for this once.
            quick(*args, **kwargs)

    return run


def _is_function(thing: object) -> bool:
    """Return whether something is a plain function."""
    return type(thing).__name__ == "function"
