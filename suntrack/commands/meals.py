"""Which meals a year is judged by: the cook's own of the config, or those of `--meal`."""

from __future__ import annotations

import re
from datetime import time
from typing import TYPE_CHECKING

from suntrack.config.times import CLOCK_TIME, read_time
from suntrack.errors import InputError, Problem
from suntrack.year.meal_pots import Meal

if TYPE_CHECKING:
    from collections.abc import Sequence

    from suntrack.config.record import Config, MealRequest
    from suntrack.food.dish import Dish

OTHERWISE = time(18, 0)
"""When a dish is wanted that has no time, in a config without any (our choice)."""


def meals_of(config: Config, words: Sequence[str] | None) -> tuple[Meal, ...]:
    """Return the meals; raise InputError with every mistake in the words.

    A dish that is in the config is taken as it stands there, but for a time that is said; any
    other in the library's amount, at the last meal of the config.
    """
    if not words:
        return tuple(_as_wished(config, wish) for wish in config.dishes)
    meals: list[Meal] = []
    problems: list[Problem] = []
    for one in words:
        try:
            meals.append(_meal(config, one))
        except InputError as error:
            problems += error.problems
    problems += _twice(meals)
    if problems:
        raise InputError(*problems)
    return tuple(meals)


def _as_wished(config: Config, wish: MealRequest, serve: time | None = None) -> Meal:
    """Return a dish of the config, at its own time unless another is given."""
    return Meal(
        dish=config.library[wish.dish],
        serve=serve or wish.serve,
        mass_kg=wish.mass_kg,
        pot=wish.pot,
        confirmed=wish.confirmed,
    )


def _meal(config: Config, said: str) -> Meal:
    """Return the meal of one `DISH` or `DISH@18:00`."""
    name, mark, clock = said.partition("@")
    dish = _dish(config, name, said)
    serve = _serve(clock, said) if mark else None
    for wish in config.dishes:
        if wish.dish == dish.key:
            return _as_wished(config, wish, serve)
    last = max((wish.serve for wish in config.dishes), default=OTHERWISE)
    return Meal(dish=dish, serve=serve or last)


def _dish(config: Config, name: str, said: str) -> Dish:
    """Return the dish of a name; a mistake says which `--meal` it is in."""
    from suntrack.commands.dish import find_dish

    try:
        return find_dish([name], config.library)
    except InputError as error:
        raise InputError(
            *(
                Problem(
                    where=f'--meal "{said}"',
                    found=one.found,
                    allowed=one.allowed,
                    remedy=one.remedy,
                )
                for one in error.problems
            )
        ) from None


def _serve(clock: str, said: str) -> time:
    """Return the time of a meal."""
    if re.fullmatch(CLOCK_TIME, clock.strip()):
        return read_time(clock)
    raise InputError(
        Problem(
            where=f'--meal "{said}"',
            found=repr(clock),
            allowed="a time such as 18:00 or 6:00 pm",
            remedy="Write lentil-soup@18:00.",
        )
    )


def _twice(meals: Sequence[Meal]) -> list[Problem]:
    """Return a problem for each dish that is named twice, as the config has it."""
    keys = [meal.dish.key for meal in meals]
    return [
        Problem(
            where="--meal",
            found=f"{key!r} twice",
            allowed="each dish once",
            remedy="Ask for the other time in a run of its own.",
        )
        for key in dict.fromkeys(keys)
        if keys.count(key) > 1
    ]
