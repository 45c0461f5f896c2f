"""The simulator, compiled: the formulas of this room as one quick function.

The formulas stay ordinary Python (and are tested as such); here they are handed to numba,
the first time a day is simulated.  That takes some ten seconds unless an earlier compile
is kept on disk: `suntrack.edge.compiled` says where.  numba checks only the one file it
compiles from for changes, so the place has to change whenever any file of this room does.
"""

from __future__ import annotations

from functools import cache
from typing import TYPE_CHECKING, Literal

from suntrack.box import air, balance, film, links, looks, march, shells

if TYPE_CHECKING:
    from collections.abc import Callable

    import numpy as np
    from numpy.typing import NDArray

    from suntrack.box.march import Drive, Record, Work

    Rows = NDArray[np.void]
    RunDays = Callable[[int, int, Rows, Rows, Drive, Work, Record], None]

DIVISION: Literal["numpy"] = "numpy"
"""Division as in numpy, which spares a test at every one of them."""
MODULES = (air, film, links, shells, balance, looks, march)
"""Every formula in these is compiled, in this order."""


@cache
def run_days() -> RunDays:
    """Return `suntrack.box.march.run_days`, compiled."""
    # Here and not above: what does not simulate does not wait for it.
    from numba import config, njit
    from numba.extending import register_jitable

    for module in MODULES:
        for formula in vars(module).values():
            if getattr(formula, "__module__", None) == module.__name__ and _is_function(formula):
                register_jitable(error_model=DIVISION)(formula)
    kept = bool(getattr(config, "CACHE_DIR", ""))
    return _patient(njit(nogil=True, cache=kept, error_model=DIVISION)(march.run_days))


def _patient(quick: RunDays) -> RunDays:
    """Return a function that does not mind when what was compiled cannot be kept."""

    def walk(
        first: int, last: int, box: Rows, pots: Rows, drive: Drive, work: Work, record: Record
    ) -> None:
        try:
            quick(first, last, box, pots, drive, work, record)
        except OSError:
            # The disk is full or closed to us: it is compiled all the same, for this once.
            quick(first, last, box, pots, drive, work, record)

    return walk


def _is_function(thing: object) -> bool:
    """Return whether something is a plain function."""
    return type(thing).__name__ == "function"
