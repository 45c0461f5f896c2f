"""Reading one dish from its table: millimetres, percent and recipes are converted here, once.

A value that is wrong is answered with a stand-in and a problem in the table; the dish is
worthless then.  Nothing is judged here.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import fields
from typing import TYPE_CHECKING, Literal, get_args

from suntrack.food.dish import (
    AdvanceStep,
    Composition,
    CookValue,
    CoreReaches,
    Dish,
    Ingredient,
    Recipe,
    SafetyRule,
    Shape,
)
from suntrack.food.kinds import KINDS
from suntrack.food.official import RULES
from suntrack.food.properties import boiling_c as boiling_at_c
from suntrack.food.properties import food_properties
from suntrack.food.recipe import recipe_min
from suntrack.food.refused import stove_boil_min

if TYPE_CHECKING:
    from suntrack.food.table import Table

KEYS = (
    "name", "mass_kg", "shape", "pieces_mm", "piece_share", "made_of", "in_liquid", "start_c",
    "pieces_start_c", "liquid_start_c", "contains", "safety", "cook_min", "z_c", "floor_c",
    "core_c", "recipe", "hold_min", "wet", "moist_small_pieces", "needs_box_c", "refused",
    "evening_before", "morning", "before_loading", "advice", "source",
)  # fmt: skip
METHODS: tuple[Literal["boil", "oven"], ...] = ("boil", "oven")
RECIPE_KEYS = ("method", "minutes", "temperature_c", "thickness_mm", "altitude_m")
PARTS = tuple(field.name for field in fields(Composition))
NOTHING = Composition(water=1.0, protein=0.0, fat=0.0, carbohydrate=0.0, fibre=0.0, ash=0.0)
ADVANCE: tuple[tuple[str, Literal["evening before", "morning", "before loading"]], ...] = (
    ("evening_before", "evening before"),
    ("morning", "morning"),
    ("before_loading", "before loading"),
)
BOIL_MARK = "{stove_boil_min}"
"""Stands in a text for the minutes that kidney-type beans are boiled at the site."""


def read_composition(food: Table) -> Composition:
    """Return mass shares from percentages, total carbohydrate freed of its fibre, summing to 1."""
    parts = {name: food.number(name, low=0.0, high=100.0) for name in PARTS}
    total = sum(parts.values())
    if not 95.0 <= total <= 105.0 and not food.problems:
        food.complain("", f"parts that sum to {total:g} %", "about 100 %")
    parts["carbohydrate"] = max(parts["carbohydrate"] - parts["fibre"], 0.0)
    total = max(sum(parts.values()), 1e-9)
    return Composition(**{name: part / total for name, part in parts.items()})


def read_dish(
    key: str,
    table: Table,
    foods: Mapping[str, Composition],
    boiling_c: float,
    *,
    own: str | None = None,
) -> Dish:
    """Return one dish; worthless when the table has problems afterwards.

    `boiling_c` is where water boils at the site, `own` the cook's file it is from.
    """
    table.only(KEYS)
    shape = table.choice("shape", get_args(Shape), default="liquid")
    composition = _food(table, "made_of", foods)
    contains = table.choices("contains", get_args(Ingredient))
    wet = table.flag("wet", default=True)
    thickness_m = _thickness_m(table, shape)
    doneness, recipe = _doneness(
        table, shape=shape, thickness_m=thickness_m, composition=composition, contains=contains,
        wet=wet,
    )  # fmt: skip
    share = _piece_share(table, shape)
    liquid = _food(table, "in_liquid", foods) if "in_liquid" in table.data else None
    starts_c = _starts_c(table, shape, share, pieces=composition, liquid=liquid or composition)
    boil_min = stove_boil_min(boiling_c)
    return Dish(
        key=key,
        name=table.text("name"),
        mass_kg=table.number("mass_kg", low=0.05, high=20.0),
        shape=shape,
        thickness_m=thickness_m,
        piece_share=share,
        composition=composition,
        liquid=liquid,
        start_c=starts_c[0],
        pieces_start_c=starts_c[1],
        liquid_start_c=starts_c[2],
        doneness=doneness,
        recipe=recipe,
        contains=contains,
        safety=_safety(table, contains),
        hold_min=table.number("hold_min", low=0.0, high=720.0),
        wet=wet,
        moist_small_pieces=table.flag("moist_small_pieces", default=False),
        needs_box_c=_optional_number(table, "needs_box_c", low=50.0, high=200.0),
        refused=table.text("refused") if "refused" in table.data else None,
        stove_boil_min=boil_min,
        advance=_advance(table, boil_min),
        advice=table.texts("advice"),
        source=table.text("source", default="kitchen judgement"),
        own=own,
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


def _food(table: Table, key: str, foods: Mapping[str, Composition]) -> Composition:
    """Return what something is made of, by the name of a food."""
    name = table.text(key)
    if name and name not in foods:
        table.complain(key, repr(name), ", ".join(foods) or "a food under [food]")
    return foods.get(name, NOTHING)


def _starts_c(
    table: Table, shape: Shape, share: float, *, pieces: Composition, liquid: Composition
) -> tuple[float, float | None, float | None]:
    """Return the start of the whole, of the pieces and of the liquid.  [C]"""
    apart = [key for key in ("pieces_start_c", "liquid_start_c") if key in table.data]
    if not apart:
        return table.number("start_c", low=-30.0, high=100.0), None, None
    if "start_c" in table.data or shape == "liquid" or share == 1.0:
        found = "start_c beside it" if "start_c" in table.data else "no pieces in liquid"
        allowed = "start_c, or for pieces in liquid pieces_start_c with liquid_start_c"
        table.complain(apart[0], found, allowed)
    pieces_c = table.number("pieces_start_c", low=-30.0, high=100.0)
    liquid_c = table.number("liquid_start_c", low=0.0, high=100.0)
    pieces_j = share * food_properties(pieces).specific_heat_j_kgk
    liquid_j = (1.0 - share) * food_properties(liquid).specific_heat_j_kgk
    mean_c = (pieces_j * pieces_c + liquid_j * liquid_c) / max(pieces_j + liquid_j, 1e-9)
    return mean_c, pieces_c, liquid_c


def _safety(table: Table, contains: tuple[Ingredient, ...]) -> SafetyRule:
    """Return the rule that is named, else the strictest of what the dish contains."""
    if "safety" in table.data or not contains:
        return table.choice("safety", get_args(SafetyRule))
    rules = [KINDS[kind].rule for kind in contains]
    return max(rules, key=lambda name: (RULES[name].minimum_c, RULES[name].warm_clock))


def _doneness(
    table: Table,
    *,
    shape: Shape,
    thickness_m: float,
    composition: Composition,
    contains: tuple[Ingredient, ...],
    wet: bool,
) -> tuple[CookValue | CoreReaches, Recipe | None]:
    """Return the doneness rule, one of three: a cook value, a recipe, a core temperature."""
    given = [key for key in ("cook_min", "recipe", "core_c") if key in table.data]
    pace = [key for key in ("z_c", "floor_c") if key in table.data]
    allowed = "exactly one of cook_min with z_c and floor_c, recipe, or core_c"
    if len(given) != 1 or (pace and given == ["core_c"]):
        table.complain("", ", ".join([*given, *pace]) or "nothing", allowed)
    if "core_c" in table.data:
        return CoreReaches(core_c=table.number("core_c", low=40.0, high=110.0)), None
    if not given and not pace:
        return CoreReaches(core_c=100.0), None
    is_recipe = given == ["recipe"]
    z_c, floor_c = _pace(contains) if is_recipe else (None, None)
    z_c = table.number("z_c", low=5.0, high=100.0, default=z_c)
    floor_c = table.number("floor_c", low=40.0, high=100.0, default=floor_c)
    if not is_recipe:
        minutes = table.number("cook_min", low=0.1, high=600.0)
        return CookValue(minutes=minutes, z_c=z_c, floor_c=floor_c), None
    recipe = _recipe(table, thickness_m=thickness_m)
    if recipe is None:
        return CoreReaches(core_c=100.0), None
    minutes = recipe_min(
        recipe, shape=shape, properties=food_properties(composition), z_c=z_c, floor_c=floor_c,
        wet=wet,
    )  # fmt: skip
    if not minutes > 0.0:
        table.complain("recipe", "a recipe that leaves the middle raw", "a recipe that cooks it")
    return CookValue(minutes=max(minutes, 0.1), z_c=z_c, floor_c=floor_c), recipe


def _pace(contains: tuple[Ingredient, ...]) -> tuple[float, float]:
    """Return z and floor of the slowest of what a dish contains; the cook value's without any."""
    kinds = [KINDS[kind] for kind in contains] or [KINDS["meat"]]
    return min(kind.z_c for kind in kinds), max(kind.floor_c for kind in kinds)


def _recipe(table: Table, *, thickness_m: float) -> Recipe | None:
    """Return the kitchen recipe of a dish; None and a problem when it is none."""
    before = len(table.problems)
    part = table.part("recipe", RECIPE_KEYS)
    if part is None:
        return None
    method = part.choice("method", METHODS)
    minutes = part.number("minutes", low=1.0, high=900.0)
    height_m = part.number("altitude_m", low=-430.0, high=6000.0, default=0.0)
    own_mm = thickness_m * 1000.0 or (None if method == "oven" else 0.0)
    low_mm = 1.0 if method == "oven" else 0.0
    thick_mm = part.number("thickness_mm", low=low_mm, high=200.0, default=own_mm)
    if method == "boil":
        temperature_c = boiling_at_c(elevation_m=height_m)
        if "temperature_c" in part.data:
            part.complain("temperature_c", "beside boil", "altitude_m, which sets the boil")
    else:
        temperature_c = part.number("temperature_c", low=100.0, high=300.0)
    if len(table.problems) > before:
        return None
    return Recipe(
        method=method, minutes=minutes, temperature_c=temperature_c, thickness_m=thick_mm / 1000.0
    )


def _optional_number(table: Table, key: str, *, low: float, high: float) -> float | None:
    """Return a number that may be left out."""
    return table.number(key, low=low, high=high) if key in table.data else None


def _advance(table: Table, boil_min: float) -> tuple[AdvanceStep, ...]:
    """Return what to do beforehand, in order of time."""
    return tuple(
        AdvanceStep(when=when, text=table.text(key).replace(BOIL_MARK, f"{boil_min:.0f}"))
        for key, when in ADVANCE
        if key in table.data
    )
