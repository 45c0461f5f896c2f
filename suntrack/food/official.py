"""What the food authorities say, as numbers that know where they come from.

Only published limits and the rows of the minimum-temperature chart belong here, each with
its source and how sure we are of it, so that a screen can say why.  What a history of
temperatures means under them is worked out in `suntrack.food.safety`.

Confidence: "found" is the agency's own page; "found copy" is a page that reproduces the
agency's text; "memory" was not looked up; "our judgement" has no source.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from types import MappingProxyType
from typing import Literal

from suntrack.food.dish import SafetyRule

Confidence = Literal["found", "found copy", "memory", "our judgement"]

CHART = "USDA FSIS / FoodSafety.gov, safe minimum internal temperatures"
DANGER = "USDA FSIS, danger zone 40 to 140 F: two hours, one above 90 F"
COME_UP = "FDA Fish and Fishery Products Hazards and Controls Guidance, appendix 4"
GAME = "FDA Food Code 3-401.11, poultry, stuffed food and wild game, as Minnesota Rules 4626.0340"
REHEAT = "City of Dubuque, FDA-based: 165 F within two hours, else throw away"
OVEN = "USDA FSIS, How Temperatures Affect Food: no oven below 325 F (163 C)"
MOIST = "USDA advice on slow cookers: thawed, small pieces, moist, lid on"
FOOD_CODE = "FDA Food Code 3-501.16, as Washington Admin. Code 246-215-03525"


@dataclass(frozen=True, slots=True, kw_only=True)
class Official:
    """One published limit."""

    value: float
    """In the unit that the name of the constant ends with."""
    sentence: str
    """As a cook reads it."""
    source: str
    """Where it comes from."""
    confidence: Confidence
    """How sure the source is."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Rule:
    """One row of the chart, with the clocks that belong to it."""

    minimum_c: float
    """The coldest place has to reach this.  [C]"""
    sentence: str
    """As a cook reads it."""
    rest_s: float = 0.0
    """How long it has to stay there without a break.  [s]"""
    clock: bool = True
    """True when the time it takes to warm up is counted."""
    warm_clock: bool = True
    """True when two hours from 70 to 135 F end it: the foods that spoil fastest."""
    within_h: float | None = None
    """Hours from loading within which the minimum has to be reached; None for any.  [h]"""
    hold_hot_c: float | None = 60.0
    """Once safe it is kept at least this hot; None when it keeps cold.  [C]"""
    source: str = CHART
    """Where it comes from."""
    confidence: Confidence = "found copy"
    """How sure the source is."""


HOLD_HOT_C = Official(
    value=60.0,
    sentence="At home cooked food is kept at 60 °C (140 °F) or more.",
    source="USDA FSIS, danger zone and hot holding",
    confidence="found copy",
)
RESTAURANT_HOLD_C = Official(
    value=57.2,
    sentence="Restaurants may keep cooked food at 57 °C (135 °F).",
    source=FOOD_CODE,
    confidence="found copy",
)
HOT_DAY_C = Official(
    value=32.2,
    sentence="Above 32 °C (90 °F) outdoors two hours become one.",
    source=DANGER,
    confidence="found copy",
)
LEFT_OUT_H = Official(
    value=2.0,
    sentence="Cooked food that has been below 60 °C (140 °F) for two hours is thrown away.",
    source=DANGER,
    confidence="found copy",
)
COLD_C = Official(
    value=5.0,
    sentence="Cold food is kept at 5 °C (41 °F) or less.",
    source=FOOD_CODE,
    confidence="found copy",
)
LEFTOVERS_H = Official(
    value=2.0,
    sentence="What is left goes shallow into the refrigerator within two hours, one above "
    "32 °C (90 °F) outdoors.",
    source=DANGER,
    confidence="found copy",
)
COOLING_H = Official(
    value=6.0,
    sentence="It cools from 57 to 21 °C (135 to 70 °F) in two hours at most, and to 5 °C (41 °F) "
    "in four more.",
    source="FDA Food Code 3-501.14",
    confidence="memory",
)
REHEAT_C = Official(
    value=73.9,
    sentence="Heat what is left to 73.9 °C (165 °F) within two hours, or throw it away.",
    source=REHEAT,
    confidence="found copy",
)
CLOCK_LOW_C = Official(
    value=10.0,
    sentence="The warming-up clock runs from 10 °C (50 °F) in the middle,",
    source=COME_UP,
    confidence="found copy",
)
CLOCK_WARM_C = Official(
    value=21.1,
    sentence="the quicker one from 21 °C (70 °F),",
    source=COME_UP,
    confidence="found copy",
)
CLOCK_HIGH_C = Official(
    value=57.2,
    sentence="both up to 57 °C (135 °F).",
    source=COME_UP,
    confidence="found copy",
)
CLOCK = Official(
    value=CLOCK_HIGH_C.value,
    sentence="While it warms up, time in the middle is counted from 10 to 57 °C (50 to 135 °F).",
    source=COME_UP,
    confidence="found copy",
)
# The guidance is for food that is eaten without another cook; that a slow warm-up is ended
# by the same hours is the stricter reading, and ours.
RED_H = Official(
    value=4.0,
    sentence="Four hours from 10 to 57 °C (50 to 135 °F) in the middle are too long.",
    source=COME_UP,
    confidence="found copy",
)
RED_WARM_H = Official(
    value=2.0,
    sentence="Two hours from 21 to 57 °C (70 to 135 °F) are too long for poultry, mince, fish, egg "
    "and grain.",
    source=COME_UP,
    confidence="found copy",
)
AMBER_H = Official(
    value=2.0,
    sentence="After two hours from 10 to 57 °C (50 to 135 °F) it is time to look.",
    source="half of the four hours",
    confidence="our judgement",
)

RULES: Mapping[SafetyRule, Rule] = MappingProxyType(
    {
        "poultry": Rule(
            minimum_c=73.9,
            sentence="Poultry is safe at 73.9 °C (165 °F) in the middle of every piece.",
        ),
        "ground meat": Rule(
            minimum_c=71.1,
            sentence="Minced meat is safe at 71.1 °C (160 °F) all through; of poultry, at 73.9 °C.",
        ),
        "whole meat": Rule(
            minimum_c=62.8,
            rest_s=180.0,
            warm_clock=False,
            sentence="Whole pieces of meat are safe at 62.8 °C (145 °F) held for three minutes; "
            "needled or injected meat counts as minced.",
            source=f"{CHART}; needled and injected: FDA Food Code 3-401.11",
        ),
        "wild game": Rule(
            minimum_c=73.9,
            sentence="Wild game is safe at 73.9 °C (165 °F) in the middle of every piece.",
            source=GAME,
        ),
        "fish": Rule(
            minimum_c=62.8,
            sentence="Fish is safe at 62.8 °C (145 °F), or when it is opaque and flakes.",
        ),
        "egg dish": Rule(
            minimum_c=71.1,
            sentence="Dishes with egg are safe at 71.1 °C (160 °F).",
        ),
        "casserole": Rule(
            minimum_c=73.9,
            sentence="Casseroles are safe at 73.9 °C (165 °F) in the middle.",
        ),
        "leftovers": Rule(
            minimum_c=73.9,
            within_h=2.0,
            sentence="Leftovers have to reach 73.9 °C (165 °F) within two hours, "
            "else throw them away.",
            source=f"{CHART}; {REHEAT}",
        ),
        "hold hot": Rule(
            minimum_c=HOLD_HOT_C.value,
            warm_clock=False,
            sentence="Once hot, keep it at 60 °C (140 °F) or more until it is eaten.",
            source=HOLD_HOT_C.source,
        ),
        # The spores in rice survive the cook and make a toxin that heat does not undo
        # (Bacillus cereus, 15 to 45 C: Foodborne Pathog. Dis., found by its abstract); so
        # grains get the quick clock too, which is the stricter reading, and ours.
        "grain": Rule(
            minimum_c=HOLD_HOT_C.value,
            sentence="Rice and other grains: hot within two hours, then 60 °C (140 °F) or more "
            "until eaten; heating again does not make old rice safe.",
            source=f"{HOLD_HOT_C.source}; Bacillus cereus in rice",
            confidence="our judgement",
        ),
        "none": Rule(
            minimum_c=HOLD_HOT_C.value,
            clock=False,
            warm_clock=False,
            hold_hot_c=None,
            sentence="No minimum temperature is published for it; it is done by its core.",
            source="no rule found",
            confidence="our judgement",
        ),
    }
)
"""The chart.  None of these is ever replaced by an integral of our own: the tables that
trade temperature for time are for inspected plants and damp ovens, and not for poultry."""
