"""From when to when a year is of use: a season may run over New Year."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

if TYPE_CHECKING:
    from collections.abc import Sequence
    from datetime import date

    from numpy.typing import NDArray


@dataclass(frozen=True, slots=True, kw_only=True)
class Usable:
    """The year without its longest stretch of days that are no good."""

    first: date
    """The first good day after that stretch; in the south often later in the year than `last`."""
    last: date
    """The last good day before it."""
    break_days: int
    """How long the stretch is; 0 when every day is good.  [days]"""


def usable(dates: Sequence[date], good: NDArray[np.bool_]) -> Usable | None:
    """Return from when to when days are good; None when none is.

    Parameters
    ----------
    dates : sequence of date
        A whole year in order; the day after the last is the first.
    good : ndarray of bool, shape (days,)
    """
    days = np.flatnonzero(good)
    if not days.size:
        return None
    gaps = np.diff(days, append=days[0] + good.size) - 1
    longest = int(gaps.argmax())
    if gaps[longest] == 0:
        return Usable(first=dates[0], last=dates[-1], break_days=0)
    return Usable(
        first=dates[int(days[(longest + 1) % days.size])],
        last=dates[int(days[longest])],
        break_days=int(gaps[longest]),
    )
