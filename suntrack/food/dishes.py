"""The library of dishes: from the text a cook can read to records, all mistakes at once.

The dishes themselves are in `dishes.toml`, whose head explains every key.  Millimetres and
percent are converted here, once; nothing is judged here.
"""

from __future__ import annotations

import tomllib
from collections.abc import Mapping
from dataclasses import fields
from functools import cache
from importlib import resources
from types import MappingProxyType
from typing import Literal, get_args

from suntrack.errors import Problem
from suntrack.food.dish import (
    AdvanceStep,
    Composition,
    CookValue,
    CoreReaches,
    Dish,
    SafetyRule,
    Shape,
)
from suntrack.food.table import Table

KEYS = (
    "name", "mass_kg", "shape", "pieces_mm", "piece_share", "made_of", "in_liquid", "start_c",
    "safety", "cook_min", "z_c", "floor_c", "core_c", "hold_min", "wet", "moist_small_pieces",
    "needs_box_c", "gate", "refused", "evening_before", "morning", "before_loading", "advice",
    "source",
)  # fmt: skip
GATES: tuple[Literal["kidney bean"], ...] = ("kidney bean",)
PARTS = tuple(field.name for field in fields(Composition))
NOTHING = Composition(water=1.0, protein=0.0, fat=0.0, carbohydrate=0.0, fibre=0.0, ash=0.0)


@cache
def builtin_dishes() -> Mapping[str, Dish]:
    """Return the dishes that come with the project, by key."""
    file = resources.files("suntrack.food") / "dishes.toml"
    dishes, problems = parse_dishes(file.read_text(encoding="utf-8"), where="dishes.toml")
    assert not problems, problems
    return MappingProxyType(dishes)


def parse_dishes(text: str, *, where: str) -> tuple[dict[str, Dish], tuple[Problem, ...]]:
    """Return the good dishes of a file, and every problem of the others at once.

    `where` is the file's name, for the problems.
    """
    try:
        data = tomllib.loads(text)
    except tomllib.TOMLDecodeError as error:
        problem = Problem(where=where, found=str(error), allowed="TOML", remedy="Mend that line.")
        return {}, (problem,)
    problems: list[Problem] = []
    foods = _foods(_table(data.pop("food", {}), where=f"{where}: food", problems=problems))
    problems += [problem for food in foods.values() for problem in food.problems]
    spoilt = [name for name, food in foods.items() if food.problems]
    dishes: dict[str, Dish] = {}
    for key, value in data.items():
        table = _table(value, where=f"{where}: {key}", problems=problems)
        if table is None:
            continue
        dish = _dish(key, table, foods)
        problems += table.problems
        is_spoilt = any(table.data.get(name) in spoilt for name in ("made_of", "in_liquid"))
        if not table.problems and not is_spoilt:
            dishes[key] = dish
    return dishes, tuple(problems)


def _table(value: object, *, where: str, problems: list[Problem]) -> Table | None:
    """Return a value as a table; complain when it is none."""
    if isinstance(value, dict):
        return Table(where=where, data=value)
    problems.append(
        Problem(where=where, found=repr(value), allowed="a table", remedy="See dishes.toml.")
    )
    return None


def _foods(foods: Table | None) -> dict[str, Table]:
    """Return the table of each food, its mistakes found."""
    if foods is None:
        return {}
    tables: dict[str, Table] = {}
    for name, value in foods.data.items():
        parts = value if isinstance(value, dict) else {}
        tables[name] = Table(where=f"{foods.where}.{name}", data=parts)
        tables[name].only(PARTS)
        _composition(tables[name])
    return tables


def _composition(food: Table) -> Composition:
    """Return mass shares from percentages, total carbohydrate freed of its fibre, summing to 1."""
    parts = {name: food.number(name, low=0.0, high=100.0) for name in PARTS}
    total = sum(parts.values())
    if not 95.0 <= total <= 105.0 and not food.problems:
        food.complain("", f"parts that sum to {total:g} %", "about 100 %")
    parts["carbohydrate"] = max(parts["carbohydrate"] - parts["fibre"], 0.0)
    total = max(sum(parts.values()), 1e-9)
    return Composition(**{name: part / total for name, part in parts.items()})


def _dish(key: str, table: Table, foods: Mapping[str, Table]) -> Dish:
    """Return one dish; worthless when the table has problems afterwards."""
    table.only(KEYS)
    shape = table.choice("shape", get_args(Shape), default="liquid")
    return Dish(
        key=key,
        name=table.text("name"),
        mass_kg=table.number("mass_kg", low=0.05, high=20.0),
        shape=shape,
        thickness_m=_thickness_m(table, shape),
        piece_share=_piece_share(table, shape),
        composition=_food(table, "made_of", foods),
        liquid=_food(table, "in_liquid", foods) if "in_liquid" in table.data else None,
        start_c=table.number("start_c", low=-30.0, high=100.0),
        doneness=_doneness(table),
        safety=table.choice("safety", get_args(SafetyRule)),
        hold_min=table.number("hold_min", low=0.0, high=720.0),
        wet=table.flag("wet", default=True),
        moist_small_pieces=table.flag("moist_small_pieces", default=False),
        needs_box_c=_optional_number(table, "needs_box_c", low=50.0, high=200.0),
        gate=table.choice("gate", GATES) if "gate" in table.data else None,
        refused=table.text("refused") if "refused" in table.data else None,
        advance=_advance(table),
        advice=table.texts("advice"),
        source=table.text("source", default="kitchen judgement"),
    )


def _thickness_m(table: Table, shape: Shape) -> float:
    """Return the thickness of the pieces, which a liquid does not have.  [m]"""
    if shape != "liquid":
        return table.number("pieces_mm", low=1.0, high=200.0) / 1000.0
    if "pieces_mm" in table.data:
        table.complain("pieces_mm", "pieces of a liquid", "a slab, cylinder or sphere of pieces")
    return 0.0


def _piece_share(table: Table, shape: Shape) -> float:
    """Return the share of the mass that is pieces.  [-]"""
    if shape != "liquid":
        return table.number("piece_share", low=0.05, high=1.0, default=1.0)
    if "piece_share" in table.data:
        table.complain("piece_share", "pieces of a liquid", "a slab, cylinder or sphere of pieces")
    return 0.0


def _food(table: Table, key: str, foods: Mapping[str, Table]) -> Composition:
    """Return what something is made of, by the name of a food of the same file."""
    name = table.text(key)
    if name in foods:
        # The food's own mistakes are reported where it stands.
        return _composition(Table(where="", data=foods[name].data))
    if name:
        table.complain(key, repr(name), ", ".join(foods) or "a food under [food]")
    return NOTHING


def _doneness(table: Table) -> CookValue | CoreReaches:
    """Return the doneness rule: a cook value or a core temperature, not both."""
    cooked = [key for key in ("cook_min", "z_c", "floor_c") if key in table.data]
    if ("core_c" in table.data) == bool(cooked):
        found = ", ".join([*cooked, "core_c"]) if cooked else "nothing"
        table.complain("", found, "either cook_min with z_c and floor_c, or core_c")
    if "core_c" in table.data:
        return CoreReaches(core_c=table.number("core_c", low=40.0, high=110.0))
    if not cooked:
        return CoreReaches(core_c=100.0)
    return CookValue(
        minutes=table.number("cook_min", low=0.1, high=600.0),
        z_c=table.number("z_c", low=5.0, high=100.0),
        floor_c=table.number("floor_c", low=40.0, high=100.0),
    )


def _optional_number(table: Table, key: str, *, low: float, high: float) -> float | None:
    """Return a number that may be left out."""
    return table.number(key, low=low, high=high) if key in table.data else None


def _advance(table: Table) -> tuple[AdvanceStep, ...]:
    """Return what to do beforehand, in order of time."""
    steps: list[AdvanceStep] = []
    if "evening_before" in table.data:
        steps.append(AdvanceStep(when="evening before", text=table.text("evening_before")))
    if "morning" in table.data:
        steps.append(AdvanceStep(when="morning", text=table.text("morning")))
    if "before_loading" in table.data:
        steps.append(AdvanceStep(when="before loading", text=table.text("before_loading")))
    return tuple(steps)
