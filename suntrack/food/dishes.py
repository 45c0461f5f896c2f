"""The library of dishes: from the text a cook can read to records, all mistakes at once."""

from __future__ import annotations

import tomllib
from collections.abc import Mapping
from dataclasses import fields
from functools import cache
from importlib import resources
from typing import Any, get_args

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

KEYS = {
    "name", "mass_kg", "shape", "pieces_mm", "piece_share", "made_of", "start_c", "safety",
    "cook_min", "z_c", "floor_c", "core_c", "hold_min", "wet", "moist_small_pieces",
    "needs_box_c", "gate", "refused", "evening_before", "morning", "before_loading", "advice",
    "source",
}  # fmt: skip
PARTS = tuple(field.name for field in fields(Composition))
ADVANCE = {
    "evening_before": "evening before",
    "morning": "morning",
    "before_loading": "before loading",
}


@cache
def builtin_dishes() -> Mapping[str, Dish]:
    """Return the dishes that come with the project, by key."""
    file = resources.files("suntrack.food") / "dishes.toml"
    dishes, problems = parse_dishes(file.read_text(encoding="utf-8"), where="dishes.toml")
    assert not problems, problems
    return dishes


def parse_dishes(text: str, *, where: str) -> tuple[dict[str, Dish], tuple[Problem, ...]]:
    """Return the good dishes of a file and a problem for each bad one."""
    try:
        data = tomllib.loads(text)
    except tomllib.TOMLDecodeError as error:
        return {}, (_problem(where, str(error), "TOML", "Mend that line."),)
    dishes: dict[str, Dish] = {}
    problems: list[Problem] = []
    foods = data.pop("food", {})
    for key, table in data.items():
        try:
            dishes[key] = _dish(key, table, foods)
        except (ValueError, TypeError, KeyError) as error:
            found = error.args[0] if error.args else key
            problems.append(
                _problem(f"{where}: {key}", str(found), "a dish as the others", "Correct it.")
            )
    return dishes, tuple(problems)


def _problem(where: str, found: str, allowed: str, remedy: str) -> Problem:
    return Problem(where=where, found=found, allowed=allowed, remedy=remedy)


def _dish(key: str, table: dict[str, Any], foods: dict[str, Any]) -> Dish:
    """Return one dish; raise ValueError with what is wrong."""
    unknown = set(table) - KEYS
    if unknown:
        raise ValueError(f"unknown {', '.join(sorted(unknown))}")
    shape = table.get("shape", "liquid")
    _one_of("shape", shape, get_args(Shape))
    _one_of("safety", table.get("safety"), get_args(SafetyRule))
    pieces_m = table.get("pieces_mm", 0.0) / 1000.0
    if (shape == "liquid") != (pieces_m == 0.0):
        raise ValueError("pieces_mm goes with a slab, cylinder or sphere")
    return Dish(
        key=key,
        name=table["name"],
        mass_kg=_above_zero("mass_kg", table["mass_kg"]),
        shape=shape,
        thickness_m=pieces_m,
        piece_share=table.get("piece_share", 0.0 if shape == "liquid" else 1.0),
        composition=_composition(foods[table["made_of"]]),
        start_c=float(table["start_c"]),
        doneness=_doneness(table),
        safety=table["safety"],
        hold_min=float(table["hold_min"]),
        wet=table.get("wet", True),
        moist_small_pieces=table.get("moist_small_pieces", False),
        needs_box_c=table.get("needs_box_c"),
        gate=table.get("gate"),
        refused=table.get("refused"),
        advance=tuple(
            AdvanceStep(when=when, text=table[name])  # type: ignore[arg-type]
            for name, when in ADVANCE.items()
            if name in table
        ),
        advice=tuple(table.get("advice", ())),
        source=table.get("source", "kitchen judgement"),
    )


def _one_of(name: str, value: object, allowed: tuple[str, ...]) -> None:
    if value not in allowed:
        raise ValueError(f"{name} = {value!r}; allowed: {', '.join(allowed)}")


def _above_zero(name: str, value: float) -> float:
    if value <= 0.0:
        raise ValueError(f"{name} = {value}; it has to be above 0")
    return float(value)


def _doneness(table: dict[str, Any]) -> CookValue | CoreReaches:
    """Return the doneness rule: a cook value or a core temperature, not both."""
    if ("cook_min" in table) == ("core_c" in table):
        raise ValueError("either cook_min with z_c and floor_c, or core_c")
    if "core_c" in table:
        return CoreReaches(core_c=float(table["core_c"]))
    return CookValue(
        minutes=_above_zero("cook_min", table["cook_min"]),
        z_c=_above_zero("z_c", table["z_c"]),
        floor_c=float(table["floor_c"]),
    )


def _composition(percent: dict[str, float]) -> Composition:
    """Return mass shares from percentages, total carbohydrate freed of its fibre, summing to 1."""
    parts = {name: float(percent[name]) for name in PARTS}
    parts["carbohydrate"] = max(parts["carbohydrate"] - parts["fibre"], 0.0)
    total = sum(parts.values())
    if not 90.0 < total < 110.0:
        raise ValueError(f"made of {total:.0f} %; it has to be about 100")
    return Composition(**{name: part / total for name, part in parts.items()})
