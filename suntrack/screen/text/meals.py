"""The meals of a year in words: who they are, on how many days they come good, from when on."""

from __future__ import annotations

from typing import TYPE_CHECKING

from suntrack.screen.page import Section
from suntrack.screen.text.measures import in_units

if TYPE_CHECKING:
    from collections.abc import Sequence
    from datetime import date

    from suntrack.units import Units
    from suntrack.year.meal_season import DishYear, MealSeason

NAMES = ("Jan", "Feb", "Mar", "Apr", "May", "Jun", "Jul", "Aug", "Sep", "Oct", "Nov", "Dec")
BAR = 16
"""Columns of a whole month, so that a row fits 40."""
ACROSS = 6
"""Dishes beside each other in a table, so that a row fits 40."""
SHORT_BREAK = 14
"""A stretch without a good day that is no longer than this is weather, not a season (our
choice).  [days]"""
COUNTED = (
    "A dish is good on a day when it is done and safe by its meal, is still safe then, and no"
    " safety clock has run out: loaded first thing, else at the best time found while you are"
    " there. The box is turned every half hour while you are there; with fewer turns some of these"
    " days are missed."
)
ALL = (
    "Together they share one box on one day: each goes in when it is best alone; where that is"
    " not good enough, each in turn, the latest meal first, at the best time found."
)
NO_PROMISE = (
    "This is a simulated year: it says how often, never that a dish is safe. On the day follow"
    " the plan and a thermometer, and your local food authority."
)
NO_ROOM = "They have not all a pot, or room in the box, on one day: together they never count."


def bars(
    days: Sequence[int], whole: Sequence[int], months: Sequence[int], *, solid: str, empty: str
) -> tuple[str, ...]:
    """Return days of each month as bars, and the year."""
    rows = []
    for month, good, all_days in zip(months, days, whole, strict=True):
        filled = round(BAR * good / all_days)
        bar = solid * filled + empty * (BAR - filled)
        rows.append(f"{NAMES[month - 1]}  {bar}  {good:2d} of {all_days}")
    return (*rows, f"Year {' ' * BAR}  {sum(days)} of {sum(whole)}")


def meal_sections(
    meals: MealSeason,
    units: Units,
    *,
    months: Sequence[int],
    whole: Sequence[int],
    solid: str,
    empty: str,
) -> tuple[Section, ...]:
    """Return the sections of a page about the meals; `whole` are the days of each month."""
    told = Section(title="Your meals", lines=_who(meals, units))
    going = meals.going
    if not going:
        return (told,)
    title = (
        f"Days good for {going[0].meal.dish.name}"
        if len(going) == 1
        else f"Days good for all {len(going)} together"
    )
    chart = bars(meals.together, whole, months, solid=solid, empty=empty)
    lines = (COUNTED, *((ALL,) if len(going) > 1 else ()), *(() if meals.fit else (NO_ROOM,)))
    return (
        told,
        Section(title=title, drawn=chart, lines=(*lines, NO_PROMISE)),
        Section(title="The year of the meals", lines=_span(meals)),
        *_each(going, months),
    )


def _who(meals: MealSeason, units: Units) -> tuple[str, ...]:
    """Return the dishes with their times, numbered as in the table, and those that stay out."""
    going = [
        f"{place}: {dish.meal.dish.name}, {units.mass_text(_kg(dish))},"
        f" {units.clock_text(dish.meal.serve)}"
        for place, dish in enumerate(meals.going, start=1)
    ]
    out = [
        f"Not in this box: {dish.meal.dish.name}. {in_units(dish.refused, units)}"
        for dish in meals.dishes
        if dish.refused
    ]
    return (*going, *out)


def _kg(dish: DishYear) -> float:
    """Return how much of a dish is made, the library's amount where nothing else is said.  [kg]"""
    return dish.meal.dish.mass_kg if dish.meal.mass_kg is None else dish.meal.mass_kg


def _each(going: Sequence[DishYear], months: Sequence[int]) -> tuple[Section, ...]:
    """Return the table of each dish by itself; none for one dish."""
    if len(going) == 1:
        return ()
    rows: list[str] = []
    for start in range(0, len(going), ACROSS):
        part = list(enumerate(going, start=1))[start : start + ACROSS]
        rows.append(f"    {''.join(f'{place:5d}' for place, _ in part)}")
        rows += [
            f"{NAMES[month - 1]} {''.join(f'{dish.by_month[i]:5d}' for _, dish in part)}"
            for i, month in enumerate(months)
        ]
        rows.append(f"Year{''.join(f'{dish.days:5d}' for _, dish in part)}")
    return (Section(title="Days good for each alone", drawn=tuple(rows), lines=()),)


def _span(meals: MealSeason) -> tuple[str, ...]:
    """Return from when to when the meals come good, and the best months."""
    several = len(meals.going) > 1
    what = "all of them come" if several else "it comes"
    span = meals.span
    if span is None:
        never = "do all of them" if several else "does it"
        return (f"On no day of the year {never} come good.",)
    if span.break_days == 0:
        return (f"On every day of the year {what} good.",)
    stretch = "1 day" if span.break_days == 1 else f"{span.break_days} days"
    if span.break_days <= SHORT_BREAK:
        said = f"Usable all year: the longest stretch without a good day is {stretch}."
    else:
        first, last = day_text(span.first), day_text(span.last)
        said = f"First good day {first}, last {last}; then none for {stretch}."
    return (said, _best(meals.best_months))


def _best(months: Sequence[int]) -> str:
    names = [NAMES[month - 1] for month in months]
    if len(names) == 1:
        return f"The best month is {names[0]}."
    return f"The best months are {', '.join(names[:-1])} and {names[-1]}."


def day_text(on: date) -> str:
    """Return a day of the year, such as `3 Mar`."""
    return f"{on.day} {NAMES[on.month - 1]}"
