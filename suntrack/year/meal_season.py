"""The year of the meals: days by dish and together, month by month, and when they begin.

A season may run over New Year.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

if TYPE_CHECKING:
    from collections.abc import Sequence
    from datetime import date

    from numpy.typing import NDArray

    from suntrack.year.meal_days import MealYear
    from suntrack.year.meal_pots import Cookbook, Meal


@dataclass(frozen=True, slots=True, kw_only=True)
class DishYear:
    """One dish through the year, with the box to itself."""

    meal: Meal
    """What was judged."""
    refused: str
    """Why it does not go into this box at all; empty for a dish that may."""
    by_month: tuple[int, ...]
    """Days on which it comes good, a number for each month of the year that was run.  [days]"""

    @property
    def days(self) -> int:
        """Days of the year on which it comes good."""
        return sum(self.by_month)


@dataclass(frozen=True, slots=True, kw_only=True)
class MealSeason:
    """The year of all meals."""

    dishes: tuple[DishYear, ...]
    """Each dish alone."""
    together: tuple[int, ...]
    """Days on which all that may go in come good on one day, by month.  [days]"""
    fit: bool
    """False when not all of them have a pot, or room, on one day."""
    span: Usable | None
    """From when to when; None for never."""
    best_months: tuple[int, ...]
    """Months with the greatest share of such days, 1 to 12; empty for never."""

    @property
    def going(self) -> tuple[DishYear, ...]:
        """The dishes that may go in."""
        return tuple(dish for dish in self.dishes if not dish.refused)

    @property
    def days(self) -> int:
        """Days of the year on which all come good."""
        return sum(self.together)


def meal_season(book: Cookbook, run: MealYear, *, dates: Sequence[date]) -> MealSeason:
    """Return the year of the meals.

    Parameters
    ----------
    book : Cookbook
    run : MealYear
        What every day makes of them.
    dates : sequence of date
        These days, in order.
    """
    month = np.array([on.month for on in dates])
    numbers = sorted(set(month.tolist()))

    def by_month(good: NDArray[np.bool_]) -> tuple[int, ...]:
        return tuple(int(good[month == number].sum()) for number in numbers)

    together = by_month(run.together)
    share = [days / int((month == n).sum()) for days, n in zip(together, numbers, strict=True)]
    best = max(share, default=0.0)
    return MealSeason(
        dishes=tuple(
            DishYear(meal=meal, refused=refused, by_month=by_month(good))
            for meal, refused, good in zip(book.meals, book.refused, run.good, strict=True)
        ),
        together=together,
        fit=book.all_fit,
        span=usable(dates, run.together),
        best_months=tuple(
            n for n, one in zip(numbers, share, strict=True) if best > 0.0 and one == best
        ),
    )


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
