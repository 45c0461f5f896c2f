"""Why a dish is planned as it is: each rule and number behind it, its source, how sure it is.

Doneness and safety stand apart, as everywhere; a third group is how the heat gets in.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, Literal

from suntrack.food import charge, official
from suntrack.food.dish import CookValue
from suntrack.food.kinds import KINDS, is_meat, rule_of
from suntrack.food.official import RULES, Confidence, Official
from suntrack.food.refused import BOIL_MIN, SMALL_PIECES_M

if TYPE_CHECKING:
    from collections.abc import Iterator, Mapping

    from suntrack.food.dish import Dish

Group = Literal["done", "safe", "heat"]
Unit = Literal["C", "K", "min", "h", "mm", "W/(m2 K)", ""]
Sure = Literal[
    "published", "published, read in a copy", "handbook", "kitchen judgement", "from memory"
]

SURE: Mapping[Confidence, Sure] = {
    "found": "published",
    "found copy": "published, read in a copy",
    "memory": "from memory",
    "our judgement": "kitchen judgement",
}
HOURS = frozenset(
    limit.sentence
    for limit in (
        official.AMBER_H,
        official.RED_H,
        official.RED_WARM_H,
        official.LEFT_OUT_H,
        official.LEFTOVERS_H,
        official.COOLING_H,
    )
)
"""Limits that are a time; the others are temperatures."""
COOK_VALUE = "cook value, Mansfield 1962; Holdsworth and Simpson, Thermal Processing, chapter 4"


@dataclass(frozen=True, slots=True, kw_only=True)
class Why:
    """One rule or number."""

    group: Group
    """Which question it answers."""
    what: str
    """In words, without the number."""
    value: float | None
    """None where the words say it all.  [unit]"""
    unit: Unit
    """What the number is counted in."""
    source: str
    """Where it comes from."""
    sure: Sure
    """How sure the source is."""


def reasons(dish: Dish, *, boiling_c: float) -> tuple[Why, ...]:
    """Return every rule and number that governs a dish, doneness first, then safety.

    `boiling_c` is where water boils at the site.
    """
    return (*_done(dish), *_safe(dish), *_heat(dish, boiling_c=boiling_c))


def _done(dish: Dish) -> Iterator[Why]:
    """Yield what decides whether it is done."""
    if not isinstance(dish.doneness, CookValue):
        value = dish.doneness.core_c
        yield _own(dish, "done", "the middle reaches", value, "C", label="core")
        return
    if dish.recipe is None:
        minutes = dish.doneness.minutes
        yield _own(dish, "done", "minutes at 100 °C in the middle", minutes, "min", label="cook")
    else:
        yield from _recipe(dish)
    z_c, floor_c = dish.doneness.z_c, dish.doneness.floor_c
    yield _pace(dish, z_c)
    yield _own(dish, "done", "below this nothing is counted", floor_c, "C", label="floor")
    yield Why(
        group="done",
        what="how minutes at other temperatures are counted: 10 to the power (T - 100) / z",
        value=None,
        unit="",
        source=COOK_VALUE,
        sure="from memory",
    )


def _recipe(dish: Dish) -> Iterator[Why]:
    """Yield the kitchen recipe, and what it is worth."""
    assert dish.recipe is not None
    assert isinstance(dish.doneness, CookValue)
    recipe = dish.recipe
    where = "at the boil" if recipe.method == "boil" else "in a kitchen oven"
    yield _own(dish, "done", f"the recipe: minutes {where}", recipe.minutes, "min", label="recipe")
    yield _own(dish, "done", f"the recipe: {where} at", recipe.temperature_c, "C", label="recipe")
    if recipe.thickness_m:
        thick_mm = recipe.thickness_m * 1000.0
        yield _own(dish, "done", "the recipe: pieces this thick", thick_mm, "mm", label="recipe")
    yield Why(
        group="done",
        what="what the recipe gives the middle: minutes at 100 °C",
        value=dish.doneness.minutes,
        unit="min",
        source="the recipe run in a reference kitchen: film 1000 at the boil, 22 W/(m2 K) in a "
        "still oven, a wet surface at 100 C at most",
        sure="handbook",
    )


def _pace(dish: Dish, z_c: float) -> Why:
    """Return z: of the dish's own source, or that of the kind of ingredient it is."""
    what = "degrees that make the cook ten times slower (z)"
    own = _segment(dish, "z")
    published = [KINDS[kind] for kind in dish.contains if KINDS[kind].z_source]
    if own is None and published:
        kind = min(published, key=lambda kind: kind.z_c)
        return Why(
            group="done", what=what, value=z_c, unit="K", source=kind.z_source, sure="published"
        )
    return _own(dish, "done", what, z_c, "K", label="z")


def _safe(dish: Dish) -> Iterator[Why]:
    """Yield what decides whether it is safe."""
    rule = rule_of(dish)
    for name in dict.fromkeys((dish.safety, *(KINDS[kind].rule for kind in dish.contains))):
        row = RULES[name]
        yield Why(
            group="safe",
            what=row.sentence,
            value=row.minimum_c if name != "none" else None,
            unit="C" if name != "none" else "",
            source=row.source,
            sure=SURE[row.confidence],
        )
    limits: list[Official] = []
    if rule.clock:
        limits += [official.CLOCK, official.AMBER_H, official.RED_H]
    if rule.warm_clock:
        limits.append(official.RED_WARM_H)
    if rule.hold_hot_c is not None:
        limits += [official.HOLD_HOT_C, official.LEFT_OUT_H, official.HOT_DAY_C]
        limits += [official.LEFTOVERS_H, official.COOLING_H, official.REHEAT_C]
    for limit in limits:
        unit: Unit = "h" if limit.sentence in HOURS else "C"
        yield Why(
            group="safe",
            what=limit.sentence,
            value=limit.value,
            unit=unit,
            source=limit.source,
            sure=SURE[limit.confidence],
        )
    if rule.clock and not rule.warm_clock and is_meat(dish):
        yield Why(
            group="safe",
            what="the quicker clock of two hours is not counted for whole pieces: what makes ill "
            "sits on their outside, which gets hot first",
            value=None,
            unit="",
            source="our reading of appendix 4",
            sure="kitchen judgement",
        )
    yield from _gates(dish)


def _gates(dish: Dish) -> Iterator[Why]:
    """Yield what has to be so before it is planned at all."""
    if is_meat(dish):
        yield Why(
            group="safe",
            what="meat and poultry only moist, under a lid, in small pieces; large, dry or whole "
            "they want an oven of 163 °C (325 °F) or more",
            value=None,
            unit="",
            source=f"{official.OVEN}; {official.MOIST}",
            sure="published, read in a copy",
        )
        yield Why(
            group="safe",
            what="the thickest piece that counts as small",
            value=SMALL_PIECES_M * 1000.0,
            unit="mm",
            source="the advice names no number",
            sure="kitchen judgement",
        )
    if dish.gate == "kidney bean":
        yield Why(
            group="safe",
            what="kidney-type beans are boiled on the stove first, at sea level at least",
            value=BOIL_MIN,
            unit="min",
            source="FDA Bad Bug Book, phytohaemagglutinin",
            sure="published, read in a copy",
        )
        yield Why(
            group="safe",
            what="and where you are",
            value=dish.stove_boil_min,
            unit="min",
            source="longer where water boils below 100 C, by half at 1500 m",
            sure="kitchen judgement",
        )


def _heat(dish: Dish, *, boiling_c: float) -> Iterator[Why]:
    """Yield how warm it starts, and what limits the heat."""
    if dish.pieces_start_c is not None and dish.liquid_start_c is not None:
        yield _own(dish, "heat", "the pieces go in at", dish.pieces_start_c, "C", label="start")
        yield _own(dish, "heat", "the liquid goes in at", dish.liquid_start_c, "C", label="start")
    else:
        yield _own(dish, "heat", "it goes in at", dish.start_c, "C", label="start")
    if dish.wet:
        yield Why(
            group="heat",
            what="with free water it gets no hotter than the boil where you are",
            value=boiling_c,
            unit="C",
            source="ICAO standard atmosphere and Antoine's equation for water",
            sure="handbook",
        )
    if dish.shape != "liquid":
        yield Why(
            group="heat",
            what="film around the pieces: in liquid, in steam or against a tin",
            value=charge.film_w_m2k(dish),
            unit="W/(m2 K)",
            source="in liquid 100 to 500 by the handbooks; the value is ours",
            sure="kitchen judgement",
        )
    yield Why(
        group="heat",
        what="what it is made of, and so how fast heat goes in (Choi and Okos 1986)",
        value=None,
        unit="",
        source="ASHRAE Refrigeration, table 3, for the vegetables; other foods USDA, rounded",
        sure="from memory",
    )
    yield _own(dish, "heat", "it waits, hot and closed, up to", dish.hold_min, "min", label="hold")


def _own(dish: Dish, group: Group, what: str, value: float, unit: Unit, *, label: str) -> Why:
    """Return a number of the dish's own table, with the part of its source that speaks of it."""
    said = _segment(dish, label)
    file = f" ({dish.own})" if dish.own else ""
    if said is None:
        judged: Sure = "kitchen judgement"
        return Why(
            group=group, what=what, value=value, unit=unit, source=f"the dish{file}", sure=judged
        )
    return Why(
        group=group, what=what, value=value, unit=unit, source=f"{said}{file}", sure=_sure(said)
    )


def _segment(dish: Dish, label: str) -> str | None:
    """Return the part of a dish's source that begins with a label; None when there is none."""
    for part in dish.source.split("; "):
        head, _, said = part.partition(": ")
        if said and label in head.split(" and "):
            return said
    return None


def _sure(said: str) -> Sure:
    """Return how sure a source of a dish's own words is."""
    if "found cop" in said:
        return "published, read in a copy"
    if "found" in said:
        return "published"
    return "from memory" if "memory" in said else "kitchen judgement"
