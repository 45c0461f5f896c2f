"""One dish in words: what goes in, what done and safe mean for it, what to take care of.

Every sentence of `suntrack dish` is here; how it is laid out is in `dish_block`, and the
same facts for programs are in `dish_json`.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from datetime import timedelta
from typing import TYPE_CHECKING

from suntrack.food import official
from suntrack.food.dish import CookValue
from suntrack.food.doneness import minutes_at
from suntrack.food.kinds import is_meat, rule_of
from suntrack.food.official import RULES
from suntrack.food.safety import spoils
from suntrack.screen.text.cautions import CAUTIONS
from suntrack.screen.text.measures import in_units, thickness_text
from suntrack.units import QUART_L, span_words

if TYPE_CHECKING:
    from collections.abc import Iterator, Mapping

    from suntrack.food.dish import Dish
    from suntrack.food.why import Group, Why
    from suntrack.units import Units

CLEAN = (
    "Keep it apart from what is eaten raw, and wash hands, knife and board with soap after it. "
    "Source: USDA FSIS, clean and separate (from memory)."
)
WHEN: Mapping[str, str] = {
    "evening before": "The evening before",
    "morning": "In the morning",
    "before loading": "Before it goes in",
}
GROUPS: Mapping[Group, str] = {
    "done": "Why it is done when it is",
    "safe": "Why it is safe when it is",
    "heat": "How the heat gets in",
}
SHAPES = {"slab": "thick", "cylinder": "across", "sphere": "across"}
TEN_C = 90.0
"""A middle as the box often keeps it, for comparison.  [C]"""


@dataclass(frozen=True, slots=True, kw_only=True)
class DishSheet:
    """One dish with what the site and the pots make of it."""

    dish: Dish
    """What is shown."""
    boiling_c: float
    """Where water boils at the site.  [C]"""
    least_pot_l: float
    """The smallest pot that holds the amount.  [L]"""
    pots: tuple[str, ...]
    """The cook's pots that hold it, the smallest first."""
    refused: str | None
    """Why it is not planned; a gate that the cook's word opens is one reason."""
    refused_even_confirmed: bool
    """Why it is never planned; None when it may be."""
    reasons: tuple[Why, ...]
    """What stands behind each number."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Part:
    """One heading with its sentences."""

    title: str
    """What stands above it."""
    lines: tuple[str, ...]
    """Its sentences, in order."""
    is_refusal: bool = False
    """True where it says no."""


def title_words(sheet: DishSheet, units: Units) -> str:
    """Return the name of a dish, its short name and its amount."""
    dish = sheet.dish
    return f"{dish.name} ({dish.key}), {units.mass_text(dish.mass_kg)}"


def dish_parts(sheet: DishSheet, units: Units, *, why: bool) -> tuple[Part, ...]:
    """Return what to show of a dish, in order; with `why`, the reasons instead of the advice."""
    parts = [*_refused_parts(sheet)]
    if why:
        parts += [*_why_parts(sheet, units)]
    elif is_shut_out(sheet):
        parts += [
            Part(title="Beforehand", lines=tuple(_before_words(sheet.dish))),
            Part(title="Safe", lines=tuple(_never_words(sheet))),
            Part(title="Good to know", lines=sheet.dish.advice),
        ]
    else:
        parts += [
            Part(title="What goes in", lines=tuple(_in_words(sheet, units))),
            Part(title="Beforehand", lines=tuple(_before_words(sheet.dish))),
            Part(title="Done", lines=tuple(_done_words(sheet, units))),
            Part(title="Safe", lines=tuple(_safe_words(sheet))),
            Part(title="Waiting", lines=tuple(_waiting_words(sheet.dish))),
            Part(title="Good to know", lines=sheet.dish.advice),
            Part(title="Take care", lines=tuple(_care_words(sheet.dish))),
        ]
    return tuple(replace(part, lines=_shown(part.lines, units)) for part in parts if part.lines)


def is_shut_out(sheet: DishSheet) -> bool:
    """Return whether a dish is never planned, whatever the cook confirms."""
    return sheet.refused is not None and sheet.refused_even_confirmed


def _refused_parts(sheet: DishSheet) -> Iterator[Part]:
    """Yield why a dish is not planned as it stands."""
    if sheet.refused is not None:
        title = "Not for this box" if is_shut_out(sheet) else "Asks for your word"
        yield Part(title=title, lines=(sheet.refused,), is_refusal=True)


def _never_words(sheet: DishSheet) -> Iterator[str]:
    """Yield what safe means for a dish that is never planned: not in this box."""
    yield "In this box it is never called safe, however hot the middle gets."
    if spoils(sheet.dish):
        yield f"What the chart asks for in a kitchen: {rule_of(sheet.dish).sentence}"
    if is_meat(sheet.dish):
        yield "That is for an oven at 163 °C (325 °F) or more. Source: USDA FSIS (found copy)."


def _shown(lines: tuple[str, ...], units: Units) -> tuple[str, ...]:
    return tuple(in_units(line, units) for line in lines)


def _in_words(sheet: DishSheet, units: Units) -> Iterator[str]:
    """Yield what it contains, its pieces, its pot, and how warm it goes in."""
    dish = sheet.dish
    yield f"{', '.join(dish.contains).capitalize()}; {units.mass_text(dish.mass_kg)} in all."
    if dish.shape != "liquid":
        size = f"{thickness_text(dish.thickness_m, units)} {SHAPES[dish.shape]}"
        rest = f", {round(100 * dish.piece_share)} % of the weight; the rest is liquid around them"
        yield f"Pieces {size}{rest if dish.piece_share < 1.0 else ''}."
    yield _pot_words(sheet, units)
    yield _start_words(dish, units)
    if dish.own:
        yield f"Your own dish, from {dish.own}."


def _pot_words(sheet: DishSheet, units: Units) -> str:
    """Return which pot it takes."""
    litres = sheet.least_pot_l
    size = f"{litres:.1f} L" if units.mass == "kg" else f"{litres / QUART_L:.1f} qt"
    lid = ", with its lid on" if sheet.dish.wet else ""
    if not sheet.pots:
        return f"A pot of {size} or more{lid}; none of yours is so large."
    return f"A pot of {size} or more{lid}; of yours: {', '.join(sheet.pots)}."


def _start_words(dish: Dish, units: Units) -> str:
    """Return how warm it goes in."""
    if dish.pieces_start_c is not None and dish.liquid_start_c is not None:
        pieces = units.temperature_text(dish.pieces_start_c)
        liquid = units.temperature_text(dish.liquid_start_c)
        return f"The pieces go in at {pieces}, the liquid around them at {liquid}."
    return f"It goes in at {units.temperature_text(dish.start_c)}."


def _before_words(dish: Dish) -> Iterator[str]:
    """Yield what to do beforehand, and what the cook has to confirm."""
    for step in dish.advance:
        yield f"{WHEN[step.when]}: {step.text}"
    if dish.gate is not None:
        yield "Then set confirmed = true for it in the day's plan: without your word it is refused."


def _done_words(sheet: DishSheet, units: Units) -> Iterator[str]:
    """Yield what done means for it; nothing of safety."""
    dish = sheet.dish
    if not isinstance(dish.doneness, CookValue):
        yield f"When the middle has reached {units.temperature_text(dish.doneness.core_c)}."
    else:
        yield from _cook_words(dish.doneness, sheet, units)
    if dish.needs_box_c is not None:
        box = units.temperature_text(dish.needs_box_c)
        yield f"For a good result the box has to be at {box} or more."


def _cook_words(rule: CookValue, sheet: DishSheet, units: Units) -> Iterator[str]:
    """Yield a cook value as minutes at temperatures a cook knows."""
    times = []
    for at_c in dict.fromkeys((sheet.boiling_c, min(TEN_C, sheet.boiling_c - 1.0))):
        minutes = minutes_at(at_c, requirement_min=rule.minutes, z_c=rule.z_c)
        times.append(f"{_span(minutes)} at {units.temperature_text(at_c)}")
    boil = times[0] + " (the boil where you are)"
    yield f"When the middle has been hot for long enough: {boil}, or {times[1]}."
    slower = units.difference_text(rule.z_c)
    floor = units.temperature_text(rule.floor_c)
    yield f"It takes ten times as long for every {slower} less; below {floor} nothing counts."
    recipe = sheet.dish.recipe
    if recipe is not None:
        how = "boiled" if recipe.method == "boil" else "in an oven at"
        oven = "" if recipe.method == "boil" else f" {units.temperature_text(recipe.temperature_c)}"
        yield f"Worked out from the recipe: {how}{oven} for {_span(recipe.minutes)}."


def _span(minutes: float) -> str:
    return span_words(timedelta(minutes=minutes))


def _safe_words(sheet: DishSheet) -> Iterator[str]:
    """Yield what safe means for it; nothing of doneness."""
    rule = rule_of(sheet.dish)
    yield rule.sentence
    if rule.clock:
        yield official.AMBER_H.sentence
        yield (official.RED_WARM_H if rule.warm_clock else official.RED_H).sentence
        yield official.HOT_DAY_C.sentence
    if rule is not RULES["none"]:
        yield "The plan reckons the middle; a food thermometer measures it."
    yield "Done is not safe, and safe is not done: it needs both."


def _waiting_words(dish: Dish) -> Iterator[str]:
    """Yield how long it may wait, and what becomes of what is left."""
    yield f"Up to {_span(dish.hold_min)}, hot and closed, and it stays good."
    if rule_of(dish).hold_hot_c is not None:
        yield f"{official.HOLD_HOT_C.sentence} {official.LEFT_OUT_H.sentence}"
        yield official.LEFTOVERS_H.sentence
        if "grain" not in dish.contains:
            yield official.REHEAT_C.sentence


def _care_words(dish: Dish) -> Iterator[str]:
    """Yield the cautions that belong to a dish."""
    if spoils(dish) or "cooked food" in dish.contains:
        yield CLEAN
    if is_meat(dish) or dish.wet:
        yield "Keep the lid on and the box shut: each look costs heat, and steam scalds."
    yield CAUTIONS["burns"]
    yield "What your local food authority says comes first."


def _why_parts(sheet: DishSheet, units: Units) -> Iterator[Part]:
    """Yield the reasons, doneness and safety apart."""
    for group, title in GROUPS.items():
        reasons = [why for why in sheet.reasons if why.group == group]
        yield Part(title=title, lines=tuple(why_words(why, units) for why in reasons))


def why_words(why: Why, units: Units) -> str:
    """Return one reason: the rule or number, how sure it is, and where it is from."""
    what = why.what[0].upper() + why.what[1:]
    value = _value_words(why, units)
    # A sentence of the chart has its number in it.
    told = what if not value or what.endswith((".", ",")) else f"{what}: {value}"
    return f"{told.rstrip('.,')}. ({why.sure}: {why.source})"


def _value_words(why: Why, units: Units) -> str:
    """Return the number of a reason in the cook's units; nothing where it has none."""
    if why.value is None:
        return ""
    match why.unit:
        case "C":
            return units.temperature_text(why.value)
        case "K":
            return units.difference_text(why.value)
        case "mm":
            return thickness_text(why.value / 1000.0, units)
        case "min":
            return _span(why.value)
    return f"{why.value:g} {why.unit}".strip()
