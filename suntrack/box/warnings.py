"""What in a box gets hotter than it should: layers, seals, glass, paint.

From the hottest moments of a simulated day to plain sentences.  They are cautions, not
promises: a box without a warning here can still burn a hand.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from suntrack.box.materials import SEALANT_C, materials
from suntrack.box.thermal import LINING_GAP_M2K_W, WALL_MEAN_C, WALL_RADIATION_W_M2K

if TYPE_CHECKING:
    from suntrack.box.build import Box
    from suntrack.box.heat import Trace

GLASS_SPREAD_K = 40.0
"""Annealed float glass, centre to edge: about 30 to 40 K is safe (from memory).  [K]"""
SKIN_W_M2K = WALL_RADIATION_W_M2K + 2.8
"""Outer skin of the walls in still air, which is the hottest case.  [W/(m2 K)]"""


@dataclass(frozen=True, slots=True, kw_only=True)
class Peaks:
    """The hottest moments of a day."""

    lining_c: float
    top_glass_c: float
    """Inner glass of the top.  [C]"""
    front_glass_c: float | None
    air_c: float
    """Outdoors.  [C]"""


def peaks_of(trace: Trace, *, air_c: float) -> Peaks:
    """Return the hottest moments of a simulated day, over all its runs.

    `air_c` is the air outdoors around that time.
    """
    front = trace.front_panes_c
    return Peaks(
        lining_c=float(np.max(trace.lining_c)),
        top_glass_c=float(np.max(trace.top_panes_c[:, 0])),
        front_glass_c=float(np.max(front[:, 0])) if front.shape[1] else None,
        air_c=air_c,
    )


def layer_peaks_c(box: Box, *, peaks: Peaks) -> tuple[float, ...]:
    """Return the temperature of each layer's inner face at the hottest steady moment.

    Parameters
    ----------
    box : Box
        As built.  [-]
    peaks : Peaks
        Hottest moments.  [C]

    Returns
    -------
    face_c : tuple of float
        One for each layer, inside first; if anything too high, since walls lag.  [C]
    """
    resistances = [LINING_GAP_M2K_W]
    for layer in box.walls:
        material = materials()[layer.material]
        resistances.append(layer.thickness_m / material.conductivity_at(WALL_MEAN_C))
    whole = sum(resistances) + 1.0 / SKIN_W_M2K
    before = np.cumsum(resistances)[:-1]
    faces = peaks.lining_c - (peaks.lining_c - peaks.air_c) * before / whole
    return tuple(float(face) for face in faces)


def box_warnings(box: Box, *, peaks: Peaks) -> tuple[str, ...]:
    """Return what gets hotter than it should on such a day, in plain sentences."""
    return (*_layers(box, peaks), *_seals(peaks), *_glass(box, peaks))


def first_heating() -> str:
    """Return what to do with a newly painted or sealed box before the first food."""
    return (
        "Before the first food, heat the empty box to its hottest in full sun on two days, "
        "and air it well: new paint, glue and sealant give off fumes until they are baked in."
    )


def _layers(box: Box, peaks: Peaks) -> list[str]:
    """Return a sentence for each layer that gets too hot."""
    sentences = []
    faces = layer_peaks_c(box, peaks=peaks)
    for layer, face_c in zip(box.walls, faces, strict=True):
        material = materials()[layer.material]
        if material.highest_c is not None and face_c > material.highest_c:
            sentences.append(
                f"The {layer.material} in the wall reaches about {face_c:.0f} C on its inner "
                f"face; it should stay below {material.highest_c:.0f} C. "
                f"Above that, {material.spoils}."
            )
    return sentences


def _seals(peaks: Peaks) -> list[str]:
    """Return a sentence when ordinary sealant at the lining gets too hot."""
    if peaks.lining_c <= SEALANT_C:
        return []
    return [
        f"The lining reaches about {peaks.lining_c:.0f} C; ordinary silicone sealant should "
        f"stay below {SEALANT_C:.0f} C. Use high-temperature sealant, and only where it "
        "cannot touch food."
    ]


def _glass(box: Box, peaks: Peaks) -> list[str]:
    """Return a sentence for each glass that may crack between hot middle and cool edge."""
    panes = [("top", box.top, peaks.top_glass_c)]
    if box.front is not None and peaks.front_glass_c is not None:
        panes.append(("front", box.front, peaks.front_glass_c))
    return [
        f"The inner glass of the {place} reaches about {glass_c:.0f} C in the middle while "
        "its framed edge stays cooler, and ordinary glass can crack. Use tempered glass, "
        "leave it room to grow in its frame, and never let cold water touch it hot."
        for place, glazing, glass_c in panes
        # The edge is taken halfway between the glass and the air outdoors.
        if not glazing.tempered and 0.5 * (glass_c - peaks.air_c) > GLASS_SPREAD_K
    ]
