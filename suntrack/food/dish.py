"""A dish as a record: what it is, what it needs to be done, what it needs to be safe."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

Shape = Literal["liquid", "slab", "cylinder", "sphere"]
SafetyRule = Literal[
    "poultry",
    "ground meat",
    "whole meat",
    "fish",
    "egg dish",
    "casserole",
    "leftovers",
    "hold hot",
    "grain",
    "none",
]


@dataclass(frozen=True, slots=True, kw_only=True)
class Composition:
    """Mass shares of a food as eaten, summing to 1."""

    water: float
    protein: float
    fat: float
    carbohydrate: float
    """Without the fibre.  [-]"""
    fibre: float
    ash: float


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


@dataclass(frozen=True, slots=True, kw_only=True)
class AdvanceStep:
    """Something to do before the day or before loading."""

    when: Literal["evening before", "morning", "before loading"]
    text: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Dish:
    """One dish of the library, for the amount it was written for."""

    key: str
    """Short and stable, such as lentil-soup."""
    name: str
    mass_kg: float
    shape: Shape
    thickness_m: float
    """Full thickness or diameter of the pieces; 0 for a liquid.  [m]"""
    piece_share: float
    """Share of the mass that is pieces; the rest is free liquid.  1 for a solid.  [-]"""
    composition: Composition
    """Of the whole, or of the pieces when `liquid` is given."""
    start_c: float
    """Of everything when it goes in; for cold pieces under hot liquid, the mean.  [C]"""
    doneness: CookValue | CoreReaches
    safety: SafetyRule
    hold_min: float
    """How long it waits, hot, in the closed pot and stays good.  [min]"""
    wet: bool
    """True when free water keeps it at the boiling point at most."""
    moist_small_pieces: bool = False
    """For meat and poultry: moist, lidded, in small pieces, as slow-cooker advice asks."""
    needs_box_c: float | None = None
    """Box temperature below which the result is poor, such as a pale loaf.  [C]"""
    gate: Literal["kidney bean"] | None = None
    """A confirmation without which the dish is refused."""
    refused: str | None = None
    """Why this dish is never planned; None when it may be."""
    advance: tuple[AdvanceStep, ...] = ()
    advice: tuple[str, ...] = ()
    source: str = "kitchen judgement"
    liquid: Composition | None = None
    """Of the free liquid around the pieces; None when it is as the rest."""
