"""A dish for programs: `dish --json`, and a list of the same as `dishes --json`."""

from __future__ import annotations

from collections.abc import Mapping
from typing import TYPE_CHECKING, Any

from suntrack.food.dish import CookValue
from suntrack.food.doneness import minutes_at
from suntrack.food.kinds import rule_of
from suntrack.screen.json.day import rounded

if TYPE_CHECKING:
    from suntrack.food.dish import Dish
    from suntrack.food.why import Why
    from suntrack.screen.text.dish import DishSheet

DISH_KEYS: Mapping[str, str] = {
    "key": "its short name",
    "name": "its name",
    "own": "the cook's file it is from; null for a dish of the library",
    "mass_kg": "the amount its numbers are for",
    "contains[]": "what is in it that food safety asks about",
    "shape": "liquid, slab, cylinder or sphere",
    "pieces_mm": "thickness of the pieces; null for a liquid",
    "piece_share": "share of the amount that is pieces",
    "start_c": "how warm it goes in, on the whole",
    "pieces_start_c": "of the pieces; null when all is alike",
    "liquid_start_c": "of the liquid around them; null when all is alike",
    "wet": "true when free water keeps it at the boil at most",
    "boils_at_c": "that boil, at the site",
    "least_pot_l": "the smallest pot that holds it",
    "pots[]": "the cook's pots that hold it, the smallest first",
    "done.core_c": "done when the middle has reached this; null for a cook value",
    "done.minutes": "done when the middle has had so many minutes at 100 C; null for a core",
    "done.z_c": "degrees that make it ten times slower; null for a core",
    "done.floor_c": "below this nothing counts; null for a core",
    "done.minutes_at_boil": "the same as minutes at the boil of the site; null for a core",
    "done.recipe": "the kitchen recipe it was worked out from; null for none",
    "done.recipe.method": "boil or oven",
    "done.recipe.minutes": "how long",
    "done.recipe.temperature_c": "of the water or the oven",
    "done.recipe.pieces_mm": "thickness of the recipe's pieces; 0 for stirred through",
    "safe.minimum_c": "the middle has to reach this",
    "safe.rest_min": "and stay there for so long",
    "safe.within_h": "hours from loading in which it has to; null for none",
    "safe.warming_clock": "true when time from 10 to 57 C is counted",
    "safe.quick_clock": "true when two hours from 21 to 57 C end it",
    "safe.hold_hot_c": "once safe it is kept at this or more; null for what keeps cold",
    "safe.rule": "the rule in words",
    "safe.source": "where it is from",
    "safe.confidence": "how sure we are of that source",
    "hold_min": "how long it waits, hot and closed, and stays good",
    "needs_box_c": "box temperature below which the result is poor; null for none",
    "refused": "why it is not planned as it stands; null when it may be",
    "needs_confirming": "true when the cook's word opens it",
    "stove_boil_min": "how long it boils on the stove before; null for none",
    "advance[].when": "evening before, morning or before loading",
    "advance[].text": "what to do then",
    "advice[]": "what else to know",
    "why[].group": "done, safe or heat",
    "why[].what": "a rule or number that governs it, in words",
    "why[].value": "the number; null where the words say it all",
    "why[].unit": "its unit; empty for none",
    "why[].source": "where it is from",
    "why[].sure": "published, published (read in a copy), handbook, kitchen judgement, from memory",
    "source": "sources as the dish's own table has them",
}


def dish_json(sheet: DishSheet) -> dict[str, Any]:
    """Return a dish as JSON values."""
    dish = sheet.dish
    return {
        "key": dish.key,
        "name": dish.name,
        "own": dish.own,
        "mass_kg": rounded(dish.mass_kg, 3),
        "contains": list(dish.contains),
        "shape": dish.shape,
        "pieces_mm": None if dish.shape == "liquid" else rounded(dish.thickness_m * 1000.0),
        "piece_share": rounded(dish.piece_share, 3),
        "start_c": rounded(dish.start_c),
        "pieces_start_c": rounded(dish.pieces_start_c),
        "liquid_start_c": rounded(dish.liquid_start_c),
        "wet": dish.wet,
        "boils_at_c": rounded(sheet.boiling_c),
        "least_pot_l": rounded(sheet.least_pot_l, 2),
        "pots": list(sheet.pots),
        "done": _done(dish, boiling_c=sheet.boiling_c),
        "safe": _safe(dish),
        "hold_min": rounded(dish.hold_min),
        "needs_box_c": rounded(dish.needs_box_c),
        "refused": sheet.refused,
        "needs_confirming": dish.gate is not None,
        "stove_boil_min": rounded(dish.stove_boil_min) if dish.gate else None,
        "advance": [{"when": step.when, "text": step.text} for step in dish.advance],
        "advice": list(dish.advice),
        "why": [_why(why) for why in sheet.reasons],
        "source": dish.source,
    }


def _done(dish: Dish, *, boiling_c: float) -> dict[str, Any]:
    rule, recipe = dish.doneness, dish.recipe
    is_value = isinstance(rule, CookValue)
    return {
        "core_c": None if isinstance(rule, CookValue) else rounded(rule.core_c),
        "minutes": rounded(rule.minutes) if isinstance(rule, CookValue) else None,
        "z_c": rounded(rule.z_c) if isinstance(rule, CookValue) else None,
        "floor_c": rounded(rule.floor_c) if isinstance(rule, CookValue) else None,
        "minutes_at_boil": rounded(
            minutes_at(boiling_c, requirement_min=rule.minutes, z_c=rule.z_c)
        )
        if isinstance(rule, CookValue)
        else None,
        "recipe": None
        if recipe is None or not is_value
        else {
            "method": recipe.method,
            "minutes": rounded(recipe.minutes),
            "temperature_c": rounded(recipe.temperature_c),
            "pieces_mm": rounded(recipe.thickness_m * 1000.0),
        },
    }


def _safe(dish: Dish) -> dict[str, Any]:
    rule = rule_of(dish)
    return {
        "minimum_c": rounded(rule.minimum_c),
        "rest_min": rounded(rule.rest_s / 60.0),
        "within_h": rounded(rule.within_h),
        "warming_clock": rule.clock,
        "quick_clock": rule.warm_clock,
        "hold_hot_c": rounded(rule.hold_hot_c),
        "rule": rule.sentence,
        "source": rule.source,
        "confidence": rule.confidence,
    }


def _why(why: Why) -> dict[str, Any]:
    return {
        "group": why.group,
        "what": why.what,
        "value": rounded(why.value, 2),
        "unit": why.unit,
        "source": why.source,
        "sure": why.sure,
    }
