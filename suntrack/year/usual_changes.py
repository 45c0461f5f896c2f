"""What a builder would change first: a list of usual changes, in the words of the config.

What each brings is weighed in `suntrack.year.compare_designs`.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from suntrack.box.materials import materials

if TYPE_CHECKING:
    from collections.abc import Callable

    from suntrack.box.build import Box

LONGER = 1.25
SIDE_TO_WIDTH = 0.5
THICKEST_M = 0.15
MORE_TILT_DEG = 10.0
CLEAR_GLASS_PER_M, USUAL_GLASS_PER_M = 4.0, 16.0
"""Extra-white and usual float glass: Duffie and Beckman, section 5.2 (from memory).  [1/m]"""
TIGHTER = 0.5
LEAST_LEAK_W_K = 0.02
BETTER = 0.8
"""Another insulation is offered when it lets through less than this share.  [-]"""
HOT_WALL_C = 150.0
"""Insulation that must stay below this has no place beside a hot lining (our choice): foams
give off fumes there.  [C]"""
INCH_M = 0.0254


@dataclass(frozen=True, slots=True, kw_only=True)
class Change:
    """One change, as the builder wrote it."""

    words: str
    """As the builder would write it."""
    box: Box
    """The box so changed."""


def usual_changes(box: Box, *, inches: bool = False) -> tuple[str, ...]:
    """Return what a builder would ask of this box first, in the words of the config."""
    length = _inches if inches else _cm
    return (
        *_glass_words(box),
        *_mirror_words(box, length),
        _side_words(box, length),
        *_wall_words(box, length),
        *_other_words(box),
    )


def _glass_words(box: Box) -> list[str]:
    words = ["top.glasses = 2"] if box.top.glasses == 1 else []
    if box.front is None:
        words.append("front = glass")
    else:
        words += ["front.glasses = 2"] if box.front.glasses == 1 else []
        words.append("front = none")
    if box.top.extinction_per_m >= USUAL_GLASS_PER_M:
        words.append("top.glass = extra-white")
    return words


def _mirror_words(box: Box, length: Callable[[float], str]) -> list[str]:
    if box.mirror is None:
        return [
            f"mirror.length = {length(box.depth_m)}, mirror.width = {length(box.width_m)}",
        ]
    words = [f"mirror.length = {length(LONGER * box.mirror.length_m)}"]
    if box.mirror.reflectance < 0.9:
        words.append("mirror.reflectance = 0.92")
    return words


def _side_words(box: Box, length: Callable[[float], str]) -> str:
    """Return side mirrors half as long as the box is wide, or longer than they are."""
    sides = box.side_mirrors
    length_m = SIDE_TO_WIDTH * box.width_m if sides is None else LONGER * sides.length_m
    return f"side_mirrors.length = {length(length_m)}"


def _wall_words(box: Box, length: Callable[[float], str]) -> list[str]:
    """Return thicker and other insulation, for the layer that keeps most heat in."""
    kept = [layer.thickness_m / _conductivity(layer.material) for layer in box.walls]
    place = int(np.argmax(kept))
    layer = box.walls[place]
    words = []
    if layer.thickness_m < THICKEST_M:
        thicker_m = min(2.0 * layer.thickness_m, THICKEST_M)
        words.append(f"wall.{place + 1}.thickness = {length(thicker_m)}")
    now = _conductivity(layer.material)
    others = [
        (one.conductivity_w_mk, name)
        for name, one in materials().items()
        if not one.pot
        and one.highest_c is not None
        and one.highest_c >= HOT_WALL_C
        and one.conductivity_w_mk < BETTER * now
    ]
    return [*words, *([f"wall.{place + 1}.material = {min(others)[1]}"] if others else [])]


def _other_words(box: Box) -> list[str]:
    words = []
    if box.leak_w_k > 2.0 * LEAST_LEAK_W_K:
        words.append(f"leak = {TIGHTER * box.leak_w_k:.2f} W/K")
    if box.tilt_deg + MORE_TILT_DEG <= 45.0:
        words.append(f"tilt = {box.tilt_deg + MORE_TILT_DEG:.0f} deg")
    return words


def _conductivity(material: str) -> float:
    return materials()[material].conductivity_w_mk


def _cm(metres: float) -> str:
    return f"{100.0 * metres:.3g} cm"


def _inches(metres: float) -> str:
    return f"{metres / INCH_M:.3g} in"
