"""What food safety asks of each kind of ingredient, and of a dish that contains several.

A dish declares what it contains; the rule that is applied is the strictest of its own and of
everything in it, part by part.  Nothing a dish says of itself can take a part away: that is
what keeps a cook's own dish file from loosening safety.

Ingredients are declared, and the strictest rule of all counts part by part, so that a cook's
own dish cannot loosen safety.  Lost: one safety key a dish, which a file can simply set lower.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache
from types import MappingProxyType
from typing import TYPE_CHECKING

from suntrack.food.official import RULES, Rule

if TYPE_CHECKING:
    from suntrack.food.dish import Dish, Ingredient, SafetyRule


@dataclass(frozen=True, slots=True, kw_only=True)
class Kind:
    """One kind of ingredient."""

    rule: SafetyRule
    """What safety asks of it."""
    meat: bool = False
    """Meat or poultry: cooked moist, lidded and in small pieces, or not at all."""
    raw: bool = False
    """It comes from the refrigerator, in pieces whose middle has to get hot."""
    z_c: float = 33.0
    """Degrees that change the pace of softening tenfold.  [K]"""
    floor_c: float = 70.0
    """Below this nothing softens to speak of.  [C]"""
    z_source: str = ""
    """Empty where z is the cook value's own."""


BEANS_Z = "Quast and da Silva 1977, J. Food Sci.: beans 18 to 19, peas 16 (abstract)"
VEGETABLES_Z = "Lee 2017, Food Eng. Progress 21, table 1: roots 16 to 29, cabbage 37 (part of it)"
RICE_Z = "kinetic study of rice of various polishing degrees: about 37 (abstract)"

# z: beans Quast and da Silva 1977 (found abstract), vegetables Lee 2017 table 1 (found in
# part), rice a kinetic study (found abstract); 33 is the cook value's own (Mansfield 1962,
# from memory).  The floors are kitchen judgement.
KINDS: Mapping[Ingredient, Kind] = MappingProxyType(
    {
        "poultry": Kind(rule="poultry", meat=True, raw=True),
        "minced poultry": Kind(rule="poultry", meat=True),
        "meat": Kind(rule="whole meat", meat=True, raw=True),
        "minced meat": Kind(rule="ground meat", meat=True),
        "wild game": Kind(rule="wild game", meat=True, raw=True),
        "fish": Kind(rule="fish", raw=True),
        "egg": Kind(rule="egg dish"),
        "kidney beans": Kind(rule="hold hot", z_c=19.0, floor_c=80.0, z_source=BEANS_Z),
        "other pulses": Kind(rule="hold hot", z_c=19.0, floor_c=75.0, z_source=BEANS_Z),
        "tinned pulses": Kind(rule="hold hot"),
        "grain": Kind(rule="grain", z_c=35.0, floor_c=65.0, z_source=RICE_Z),
        "vegetables": Kind(rule="hold hot", z_c=24.0, floor_c=75.0, z_source=VEGETABLES_Z),
        "fruit": Kind(rule="hold hot", z_c=26.0),
        "dough": Kind(rule="none"),
        "cooked food": Kind(rule="leftovers"),
        "stuffed bird": Kind(rule="poultry", meat=True),
        "sealed jars": Kind(rule="none"),
    }
)
MEAT_RULES: tuple[SafetyRule, ...] = ("poultry", "ground meat", "whole meat", "wild game")
QUIET: tuple[SafetyRule, ...] = ("hold hot", "none")
"""Rules whose sentence is left out beside another's, which says more."""


def is_meat(dish: Dish) -> bool:
    """Return whether a dish is of meat or poultry, by its rule or by anything in it."""
    return dish.safety in MEAT_RULES or any(KINDS[kind].meat for kind in dish.contains)


def rule_of(dish: Dish) -> Rule:
    """Return the rule that a dish has to meet: its own, and that of all it contains."""
    return _joined((dish.safety, *(KINDS[kind].rule for kind in dish.contains)))


def is_looser(name: SafetyRule, than: SafetyRule) -> bool:
    """Return whether one rule asks less than another in any part."""
    return _parts(RULES[name]) != _parts(_joined((name, than)))


@cache
def _joined(names: tuple[SafetyRule, ...]) -> Rule:
    """Return the strictest of several rules, part by part."""
    rules = [RULES[name] for name in dict.fromkeys(names)]
    if len(rules) == 1:
        return rules[0]
    first = max(rules, key=lambda rule: (rule.minimum_c, rule.rest_s, rule.warm_clock, rule.clock))
    told = [first, *(r for r in rules if r is not first and r not in (RULES[q] for q in QUIET))]
    within = [rule.within_h for rule in rules if rule.within_h is not None]
    holds = [rule.hold_hot_c for rule in rules if rule.hold_hot_c is not None]
    return Rule(
        minimum_c=first.minimum_c,
        rest_s=max(rule.rest_s for rule in rules),
        clock=any(rule.clock for rule in rules),
        warm_clock=any(rule.warm_clock for rule in rules),
        within_h=min(within, default=None),
        hold_hot_c=max(holds, default=None),
        sentence=" ".join(rule.sentence for rule in told),
        source="; ".join(dict.fromkeys(rule.source for rule in told)),
        confidence=first.confidence,
    )


def _parts(rule: Rule) -> tuple[object, ...]:
    """Return what a rule asks for, without its words."""
    return (
        rule.minimum_c, rule.rest_s, rule.clock, rule.warm_clock, rule.within_h, rule.hold_hot_c,
    )  # fmt: skip
