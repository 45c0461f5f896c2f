"""The library of dishes: from the text a cook can read to records, all mistakes at once.

The dishes themselves are in `dishes.toml`, whose head explains every key; a cook's own files
have the same form.  How one dish is read is in `suntrack.food.reading`, and what it may not
say of itself in `suntrack.food.guard`.
"""

from __future__ import annotations

import tomllib
from collections.abc import Callable, Mapping
from dataclasses import dataclass
from functools import cache
from importlib import resources
from types import MappingProxyType
from typing import Any

from suntrack.errors import Problem
from suntrack.food.dish import Composition, Dish
from suntrack.food.guard import check_dish, check_own_dish, held_to
from suntrack.food.reading import PARTS, read_composition, read_dish
from suntrack.food.table import Table, path_text, shown

LIBRARY = "dishes.toml"
SEA_LEVEL_BOIL_C = 100.0
REMEDY = "See dishes.toml."

Place = Callable[[tuple[str, ...]], str]


@dataclass(frozen=True, slots=True, kw_only=True)
class Parsed:
    """What one file of dishes says."""

    dishes: Mapping[str, Dish]
    """The good ones, by key."""
    foods: Mapping[str, Composition]
    """The good ones under [food], by name."""
    problems: tuple[Problem, ...]
    """Every mistake, in the order of the file."""


@cache
def builtin_dishes(*, boiling_c: float = SEA_LEVEL_BOIL_C) -> Mapping[str, Dish]:
    """Return the dishes that come with the project, by key, for where water boils so."""
    return _library(boiling_c).dishes


@cache
def builtin_foods() -> Mapping[str, Composition]:
    """Return what the dishes that come with the project are made of, by name."""
    return _library(SEA_LEVEL_BOIL_C).foods


def parse_dishes(
    text: str,
    *,
    where: str,
    boiling_c: float = SEA_LEVEL_BOIL_C,
    foods: Mapping[str, Composition] | None = None,
) -> tuple[dict[str, Dish], tuple[Problem, ...]]:
    """Return the good dishes of a file, and every problem of the others at once.

    Parameters
    ----------
    text : str
        TOML.
    where : str
        The file's name, for the problems.
    boiling_c : float
        Where water boils at the site.  [C]
    foods : mapping of str to Composition, optional
        Foods that may be named beside the file's own.

    Returns
    -------
    dishes : dict of str to Dish
    problems : tuple of Problem
    """
    try:
        data = tomllib.loads(text)
    except tomllib.TOMLDecodeError as error:
        problem = Problem(where=where, found=str(error), allowed="TOML", remedy="Mend that line.")
        return {}, (problem,)

    def place(path: tuple[str, ...]) -> str:
        return f"{where}: {path_text(path)}"

    parsed = read_file(data, place=place, boiling_c=boiling_c, foods=foods or {})
    return dict(parsed.dishes), parsed.problems


def read_file(
    data: Mapping[str, Any],
    *,
    place: Place,
    boiling_c: float,
    foods: Mapping[str, Composition],
    own: str | None = None,
    library: Mapping[str, Dish] | None = None,
) -> Parsed:
    """Return the dishes and foods of a file that has been read as TOML.

    Parameters
    ----------
    data : mapping
        The file.
    place : callable
        From a path of keys to the words that say where it is.
    boiling_c : float
        Where water boils at the site.  [C]
    foods : mapping of str to Composition
        Foods that may be named beside the file's own, which come first.
    own : str, optional
        The name of a cook's own file, whose dishes are held to more; None for the library.
    library : mapping of str to Dish, optional
        What an own dish of the same key takes the place of, and is held to.

    Returns
    -------
    parsed : Parsed
    """
    problems: list[Problem] = []
    tables = _foods(data.get("food", {}), place=place, problems=problems)
    good = {name: read_composition(table) for name, table in tables.items() if not table.problems}
    known = {**foods, **good}
    dishes: dict[str, Dish] = {}
    for key, value in data.items():
        table = (
            None if key == "food" else _table(value, path=(key,), place=place, problems=problems)
        )
        if table is None:
            continue
        # Names of spoilt foods are taken, so that one mistake is not told twice.
        dish = read_dish(key, table, {**dict.fromkeys(tables, WATER), **known}, boiling_c, own=own)
        check_dish(dish, table)
        if own is not None:
            check_own_dish(dish, table)
            dish = held_to(dish, (library or {}).get(key))
        problems += table.problems
        if not table.problems and not _is_of(table, set(tables) - set(good)):
            dishes[key] = dish
    return Parsed(dishes=dishes, foods=good, problems=tuple(problems))


WATER = Composition(water=1.0, protein=0.0, fat=0.0, carbohydrate=0.0, fibre=0.0, ash=0.0)


@cache
def _library(boiling_c: float) -> Parsed:
    """Return the library as it is where water boils at this temperature."""
    text = (resources.files("suntrack.food") / LIBRARY).read_text(encoding="utf-8")

    def place(path: tuple[str, ...]) -> str:
        return f"{LIBRARY}: {path_text(path)}"

    parsed = read_file(tomllib.loads(text), place=place, boiling_c=boiling_c, foods={})
    assert not parsed.problems, parsed.problems
    return Parsed(
        dishes=MappingProxyType(dict(parsed.dishes)),
        foods=MappingProxyType(dict(parsed.foods)),
        problems=(),
    )


def _table(
    value: object, *, path: tuple[str, ...], place: Place, problems: list[Problem]
) -> Table | None:
    """Return a value as a table; complain when it is none."""
    if isinstance(value, dict):
        return Table(path=path, place=place, data=value)
    problems.append(
        Problem(where=place(path), found=shown(value), allowed="a table", remedy=REMEDY)
    )
    return None


def _is_of(table: Table, spoilt: set[str]) -> bool:
    """Return whether a dish without a mistake of its own is made of a spoilt food."""
    return any(table.data.get(name) in spoilt for name in ("made_of", "in_liquid"))


def _foods(foods: object, *, place: Place, problems: list[Problem]) -> dict[str, Table]:
    """Return the table of each food, its mistakes found and kept."""
    table = _table(foods, path=("food",), place=place, problems=problems)
    tables: dict[str, Table] = {}
    for name, value in {} if table is None else table.data.items():
        parts = value if isinstance(value, dict) else {}
        tables[name] = Table(path=("food", name), place=place, data=parts)
        tables[name].only(PARTS)
        read_composition(tables[name])
        problems += tables[name].problems
    return tables
