"""What a dish may not say of itself: declarations that would loosen safety are mistakes.

The library is held to `check_dish` as well.  A cook's own dish is held to more: it has to
declare what it contains, its name must not give that the lie, and where it takes the place
of a dish of the library it keeps everything that one asks for.
"""

from __future__ import annotations

import re
from dataclasses import replace
from typing import TYPE_CHECKING

from suntrack.food.kinds import KINDS, is_looser
from suntrack.food.official import RULES

if TYPE_CHECKING:
    from collections.abc import Mapping

    from suntrack.food.dish import Dish, Ingredient
    from suntrack.food.table import Table

COLD_C, HOT_C = 10.0, 60.0
"""Food from the refrigerator is at 4.4 C, 40 F (USDA FSIS, found copy), and a little more by
the time it goes in; hot is hot holding.  In between is the danger zone.  [C]"""
STAND_OUT = "Raw, it comes from the refrigerator; browned through, it goes in hot."
WORDS: Mapping[str, tuple[Ingredient, ...]] = {
    "chicken|turkey|duck|goose|hen|poultry|guinea ?fowl|quail|ostrich": (
        "poultry", "minced poultry", "stuffed bird", "cooked food",
    ),
    "beef|pork|lamb|mutton|goat|veal|oxtail|seswaa|ham|bacon|meat|sausages?": (
        "meat", "minced meat", "wild game", "cooked food",
    ),
    "game|venison|kudu|impala|springbok|eland|warthog|hare": ("wild game", "cooked food"),
    "mince|minced|burgers?|meatballs?|meat ?loaf": ("minced meat", "minced poultry", "cooked food"),
    "fish|salmon|tuna|trout|hake|bream|tilapia|shrimps?|prawns?": ("fish", "cooked food"),
    "eggs?|quiche|omelette|frittata|custard": ("egg", "cooked food"),
    "(kidney|black|white|red|pinto|navy|sugar|borlotti|cannellini|haricot) beans?": (
        "kidney beans", "tinned pulses", "cooked food",
    ),
    "rice|samp|sorghum|maize|barley|oats?|millet|porridge|pasta": ("grain", "dough", "cooked food"),
    "leftovers?|reheat(ed)?|warmed": ("cooked food",),
    "stuffed (chicken|turkey|duck|goose|bird)": ("stuffed bird",),
    "canning|bottling|bottled|jars?|preserves": ("sealed jars",),
    "(half|part|partly|pre) ?cooked": (),
}  # fmt: skip
"""Words of a name, and what a dish of such a name has to declare one of."""


def check_dish(dish: Dish, table: Table) -> None:
    """Complain of what would make the clocks or the middle of a dish look better than it is."""
    for kind in dish.contains:
        if _is_weaker(dish, kind):
            allowed = f"{KINDS[kind].rule}, or no safety key at all"
            table.complain("safety", f"{dish.safety!r} with {kind} in it", allowed)
        if KINDS[kind].raw and dish.shape == "liquid":
            allowed = "a slab, cylinder or sphere with pieces_mm: its middle has to get hot"
            table.complain("shape", f"{dish.shape!r} with {kind} in it", allowed)
    if _needs_cold(dish):
        start_c = dish.start_c if dish.pieces_start_c is None else dish.pieces_start_c
        key = "start_c" if dish.pieces_start_c is None else "pieces_start_c"
        from_pan = dish.shape == "liquid" and start_c >= HOT_C
        if start_c > COLD_C and not from_pan:
            allowed = f"{COLD_C:g} or less; stirred through and hot, {HOT_C:g} or more"
            table.complain(key, f"{start_c:g} C for {dish.name}", allowed, STAND_OUT)


def check_own_dish(dish: Dish, table: Table) -> None:
    """Complain when a cook's own dish does not declare what it contains, or its name belies it."""
    if not dish.contains:
        # A list with a word that is not known has been complained of already.
        if not table.data.get("contains"):
            allowed = f"a list of what is in it: {', '.join(KINDS)}"
            table.complain("contains", "nothing", allowed, "Say what is in it.")
        return
    said = f"{dish.name} {dish.key}".lower().replace("-", " ")
    for words, kinds in WORDS.items():
        found = re.search(rf"\b({words})\b", said)
        if found and not set(kinds) & set(dish.contains):
            declared = ", ".join(dish.contains) or "nothing"
            remedy = "Declare it; if there is none in it, give the dish another name."
            allowed = " or ".join(kinds) or "dishes cooked in one go: half-cooked food is refused"
            found_words = f"{declared}, with {found[0]!r} in the name"
            table.complain("contains", found_words, allowed, remedy)


def held_to(dish: Dish, library: Dish | None) -> Dish:
    """Return an own dish with all that the library's dish of the same key asks for.

    What the library refuses stays refused, and what it declares to be in it stays in it.
    """
    if library is None:
        return dish
    extra = tuple(kind for kind in library.contains if kind not in dish.contains)
    safety = library.safety if is_looser(dish.safety, library.safety) else dish.safety
    return replace(
        dish,
        contains=(*dish.contains, *extra),
        safety=safety,
        refused=library.refused or dish.refused,
    )


def _is_weaker(dish: Dish, kind: Ingredient) -> bool:
    """Return whether the named rule is cooler, or gives more time, than an ingredient's."""
    named, asked = RULES[dish.safety], RULES[KINDS[kind].rule]
    return named.minimum_c < asked.minimum_c or (asked.warm_clock and not named.warm_clock)


def _needs_cold(dish: Dish) -> bool:
    """Return whether a dish is made from food that spoils and is not mixed at room warmth."""
    if "dough" in dish.contains:
        return False
    spoil = any(KINDS[kind].raw or KINDS[kind].meat for kind in dish.contains)
    return spoil or bool({"egg", "cooked food"} & set(dish.contains))
