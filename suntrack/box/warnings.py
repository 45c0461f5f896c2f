"""What in a box gets hotter than it should: layers, seals, glass.

From the hottest moments of a simulated day to plain facts; `suntrack.screen.text.box` says
them in sentences.  They are cautions, not promises: a box without a warning here can still
burn a hand.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, Literal

import numpy as np

from suntrack.box.heat.convection import WALL_RADIATION_W_M2K
from suntrack.box.heat.network import LINING_GAP_M2K_W, WALL_MEAN_C
from suntrack.box.materials import SEALANT_C, materials

if TYPE_CHECKING:
    from suntrack.box.build import Box
    from suntrack.box.heat.simulate import Trace

GLASS_SPREAD_K = 40.0
"""Annealed float glass, centre to edge: about 30 to 40 K is safe (from memory).  [K]"""
SKIN_W_M2K = WALL_RADIATION_W_M2K + 2.8
"""Outer skin of the walls in still air, which is the hottest case.  [W/(m2 K)]"""


@dataclass(frozen=True, slots=True, kw_only=True)
class Peaks:
    """The hottest moments of a day."""

    lining_c: float
    """The lining at its hottest.  [C]"""
    top_glass_c: float
    """Inner glass of the top.  [C]"""
    front_glass_c: float | None
    """None for a solid front.  [C]"""
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


@dataclass(frozen=True, slots=True, kw_only=True)
class TooHot:
    """One part that gets hotter than it should."""

    kind: Literal["layer", "sealant", "glass"]
    """What gets too hot."""
    part: str
    """Material of the layer, `lining`, or which glass: `top` or `front`."""
    reached_c: float
    """How hot.  [C]"""
    limit_c: float | None
    """None for glass, which the difference to its edge cracks.  [C]"""
    spoils: str = ""
    """What happens to the material above its limit."""


def too_hot(box: Box, *, peaks: Peaks) -> tuple[TooHot, ...]:
    """Return what gets hotter than it should on such a day.

    Parameters
    ----------
    box : Box
        As built.  [-]
    peaks : Peaks
        Hottest moments.  [C]

    Returns
    -------
    parts : tuple of TooHot
        Layers from the inside, then the sealant, then the glass.
    """
    return (*_layers(box, peaks), *_seals(peaks), *_glass(box, peaks))


def _layers(box: Box, peaks: Peaks) -> list[TooHot]:
    """Return each layer that gets too hot."""
    parts = []
    for layer, face_c in zip(box.walls, layer_peaks_c(box, peaks=peaks), strict=True):
        material = materials()[layer.material]
        if material.highest_c is not None and face_c > material.highest_c:
            parts.append(
                TooHot(
                    kind="layer",
                    part=layer.material,
                    reached_c=face_c,
                    limit_c=material.highest_c,
                    spoils=material.spoils,
                )
            )
    return parts


def _seals(peaks: Peaks) -> list[TooHot]:
    """Return the ordinary sealant at the lining when it gets too hot."""
    if peaks.lining_c <= SEALANT_C:
        return []
    return [TooHot(kind="sealant", part="lining", reached_c=peaks.lining_c, limit_c=SEALANT_C)]


def _glass(box: Box, peaks: Peaks) -> list[TooHot]:
    """Return each glass that may crack between hot middle and cool edge."""
    panes = [("top", box.top, peaks.top_glass_c)]
    if box.front is not None and peaks.front_glass_c is not None:
        panes.append(("front", box.front, peaks.front_glass_c))
    return [
        TooHot(kind="glass", part=place, reached_c=glass_c, limit_c=None)
        for place, glazing, glass_c in panes
        # The edge is taken halfway between the glass and the air outdoors.
        if not glazing.tempered and 0.5 * (glass_c - peaks.air_c) > GLASS_SPREAD_K
    ]
