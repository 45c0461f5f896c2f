"""A dish as a record: what it is, what it needs to be done, what it needs to be safe."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

Shape = Literal["liquid", "slab", "cylinder", "sphere"]
SafetyRule = Literal[
    "poultry",
    "ground meat",
    "whole meat",
    "wild game",
    "fish",
    "egg dish",
    "casserole",
    "leftovers",
    "hold hot",
    "grain",
    "none",
]
Ingredient = Literal[
    "poultry",
    "minced poultry",
    "meat",
    "minced meat",
    "wild game",
    "fish",
    "egg",
    "kidney beans",
    "other pulses",
    "tinned pulses",
    "grain",
    "vegetables",
    "fruit",
    "dough",
    "cooked food",
    "stuffed bird",
    "sealed jars",
]
"""What a dish is made of as food safety sees it; see `suntrack.food.kinds`."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Composition:
    """Mass shares of a food as eaten, summing to 1."""

    water: float
    """Share of the mass.  [-]"""
    protein: float
    """Share of the mass.  [-]"""
    fat: float
    """Share of the mass.  [-]"""
    carbohydrate: float
    """Without the fibre.  [-]"""
    fibre: float
    """Share of the mass.  [-]"""
    ash: float
    """Share of the mass.  [-]"""


@dataclass(frozen=True, slots=True, kw_only=True)
class CookValue:
    """Done when the cook value at the core reaches `minutes`."""

    minutes: float
    """Equivalent minutes at 100 C.  [min]"""
    z_c: float
    """Degrees that change the rate tenfold.  [K]"""
    floor_c: float
    """Below this nothing is credited.  [C]"""


@dataclass(frozen=True, slots=True, kw_only=True)
class CoreReaches:
    """Done when the core reaches a temperature."""

    core_c: float
    """What the middle has to reach.  [C]"""


@dataclass(frozen=True, slots=True, kw_only=True)
class Recipe:
    """A kitchen recipe that a requirement was worked out from."""

    method: Literal["boil", "oven"]
    """How the recipe has it cooked."""
    minutes: float
    """In the pot at the boil, or in the oven.  [min]"""
    temperature_c: float
    """Of the boiling water or of the oven.  [C]"""
    thickness_m: float
    """Of the recipe's pieces; 0 for what is stirred through.  [m]"""


@dataclass(frozen=True, slots=True, kw_only=True)
class AdvanceStep:
    """Something to do before the day or before loading."""

    when: Literal["evening before", "morning", "before loading"]
    """Long before loading or just before."""
    text: str
    """What to do, as a cook reads it."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Dish:
    """One dish of the library, for the amount it was written for."""

    key: str
    """Short and stable, such as lentil-soup."""
    name: str
    """As a cook reads it."""
    mass_kg: float
    """The library's amount, for four.  [kg]"""
    shape: Shape
    """What its solid pieces are like."""
    thickness_m: float
    """Full thickness or diameter of the pieces; 0 for a liquid.  [m]"""
    piece_share: float
    """Share of the mass that is pieces; the rest is free liquid.  1 for a solid.  [-]"""
    composition: Composition
    """Of the whole, or of the pieces when `liquid` is given."""
    start_c: float
    """Of everything when it goes in; the mean where pieces and liquid have their own.  [C]"""
    doneness: CookValue | CoreReaches
    """When it counts as done."""
    safety: SafetyRule
    """The main rule; what the dish contains can only add to it (`kinds.rule_of`)."""
    contains: tuple[Ingredient, ...] = ()
    """Its ingredients; each brings its rule."""
    hold_min: float
    """How long it waits, hot, in the closed pot and stays good.  [min]"""
    wet: bool
    """True when free water keeps it at the boiling point at most."""
    moist_small_pieces: bool = False
    """For meat and poultry: moist, lidded, in small pieces, as slow-cooker advice asks."""
    needs_box_c: float | None = None
    """Box temperature below which the result is poor, such as a pale loaf.  [C]"""
    stove_boil_min: float = 30.0
    """How long kidney-type beans are boiled on the stove beforehand, at this site.  [min]"""
    refused: str | None = None
    """Why this dish is never planned; None when it may be."""
    advance: tuple[AdvanceStep, ...] = ()
    """What to do beforehand."""
    advice: tuple[str, ...] = ()
    """What else to know of it."""
    source: str = "kitchen judgement"
    """Where it comes from."""
    liquid: Composition | None = None
    """Of the free liquid around the pieces; None when it is as the rest."""
    pieces_start_c: float | None = None
    """Of the pieces when they go in; None for all at `start_c`.  [C]"""
    liquid_start_c: float | None = None
    """Of the liquid around them; None for all at `start_c`.  [C]"""
    recipe: Recipe | None = None
    """The kitchen recipe that `doneness` was worked out from; None when it was given."""
    own: str | None = None
    """The cook's own file it stands in; None for a dish of the library."""

    @property
    def gate(self) -> Literal["kidney bean"] | None:
        """A confirmation without which the dish is refused."""
        return "kidney bean" if "kidney beans" in self.contains else None
