"""The box as its builder describes it: sizes, glass, mirrors, walls, pots.

Lengths are inside lengths unless a name says otherwise.  What these sizes mean for heat
is worked out in `suntrack.box.heat.network`; what they mean for light in `suntrack.box.light.gain`.

    side view, facing right            mirror angle psi is measured from the
                                       glass, through the sky: 90 is upright
        mirror  /
               / psi                   tilt raises the back of the whole box,
              /___________             so that the top pane leans to the sun
        back |  top pane  | front
             |____________| pane
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import Literal


@dataclass(frozen=True, slots=True, kw_only=True)
class Glazing:
    """One glazed opening: how many glasses, how thick, how far apart."""

    glasses: Literal[1, 2] = 1
    """1 or 2."""
    thickness_m: float = 0.004
    """Across the layer or pane.  [m]"""
    gap_m: float = 0.015
    """Air between two glasses; not used with one.  [m]"""
    extinction_per_m: float = 16.0
    """Extinction coefficient: about 4 extra-white, 16 usual float, 32 greenish.  [1/m]"""
    refractive_index: float = 1.526
    """Against air.  [-]"""
    tempered: bool = False
    """Whether it is safety glass."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Mirror:
    """The flat mirror hinged along the back edge of the top pane."""

    length_m: float
    """From hinge to tip.  [m]"""
    width_m: float
    """Left to right.  [m]"""
    hinge_gap_m: float = 0.0
    """From the back edge of the glass to the mirror's lower edge, along the glass.  [m]"""
    reflectance: float = 0.85
    """Share of light thrown back.  [-]"""
    fixed_angle_deg: float | None = None
    """Set when the mirror cannot be moved.  [deg]"""
    once_a_day: bool = False
    """True for a mirror that is set in the morning and then left."""
    lowest_angle_deg: float = 60.0
    """How far it folds over the glass.  [deg]"""
    highest_angle_deg: float = 130.0
    """How far it leans back.  [deg]"""


@dataclass(frozen=True, slots=True, kw_only=True)
class SideMirrors:
    """Two flat mirrors, alike, hinged along the left and right edges of the top pane.

    They are set once and left: the plan turns the box, and the mirror at the back.
    """

    length_m: float
    """From hinge to tip.  [m]"""
    width_m: float
    """Along the edge of the glass, front to back, centred on it.  [m]"""
    angle_deg: float
    """From the glass, through the sky: 90 is upright, more leans out.  [deg]"""
    hinge_gap_m: float = 0.0
    """From the frame of the glass to the mirror's lower edge, along the glass.  [m]"""
    reflectance: float = 0.85
    """Share of light thrown back.  [-]"""
    fixed: bool = False
    """True for mirrors that cannot be folded down."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Layer:
    """One layer of the wall, by the name of its material in the library."""

    material: str
    """Its key in the library."""
    thickness_m: float
    """Across the layer or pane.  [m]"""


@dataclass(frozen=True, slots=True, kw_only=True)
class Learned:
    """What readings have taught of a box: factors on its sizes, 1 where nothing was learned."""

    loss: float = 1.0
    """On what walls, seals and glass let through for each degree.  [-]"""
    light: float = 1.0
    """On the light that is taken in.  [-]"""
    store: float = 1.0
    """On the heat that lining and walls hold.  [-]"""


@dataclass(frozen=True, slots=True, kw_only=True)
class Box:
    """The whole box, as built."""

    name: str
    """What the cook calls it."""
    width_m: float
    """Inside, left to right, as seen from the front.  [m]"""
    depth_m: float
    """Inside, front to back.  [m]"""
    height_m: float
    """Inside, floor to top glass.  [m]"""
    top: Glazing
    """The glass on top."""
    front: Glazing | None
    """None when the front is a wall like the others."""
    mirror: Mirror | None
    """The one at the back; none without."""
    walls: tuple[Layer, ...]
    """Inside first."""
    lining: Layer
    """The dark sheet on the inside of walls and floor."""
    lining_absorptance: float = 0.92
    """Share of light the dark inside keeps.  [-]"""
    lining_emittance: float = 0.9
    """How well the inside radiates.  [-]"""
    tilt_deg: float = 0.0
    """How far the back is raised.  [deg]"""
    leak_w_k: float = 0.15
    """Heat lost through the seals of lid and door for each degree.  [W/K]"""
    top_frame_m: float = 0.0
    """Width of the frame that hides glass along each edge.  [m]"""
    learned: Learned = Learned()
    """Factors that readings taught."""
    side_mirrors: SideMirrors | None = None
    """The ones at left and right; none without."""


def without_mirrors(box: Box) -> Box:
    """Return a box with none of its mirrors, as test standards have it."""
    return replace(box, mirror=None, side_mirrors=None)


@dataclass(frozen=True, slots=True, kw_only=True)
class Pot:
    """A pot, dark and round unless its owner says otherwise."""

    name: str
    """What the cook calls it."""
    capacity_l: float
    """To the brim.  [L]"""
    mass_kg: float
    """With its lid.  [kg]"""
    material: str
    """A pot material of the library, such as enamelled steel."""
    diameter_m: float
    """At the widest.  [m]"""
    height_m: float
    """With its lid on.  [m]"""
    dark: bool = True
    """Black or nearly so outside."""
    lid: Literal["tight", "loose", "none"] = "tight"
    """tight, loose or none."""
