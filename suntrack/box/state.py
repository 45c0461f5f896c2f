"""The temperatures of the box at one moment, as the simulator passes them along.

Every value is a float for one run or an array over many runs; a list runs over the glazed
openings (top first) or over the pots.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from suntrack.box.number import Number


@dataclass(slots=True)
class State:
    """All temperatures of one moment.  [C]"""

    # Not frozen: one is made for every minute of every day, and a frozen one takes four
    # times as long to make.
    air: Number
    lining: Number
    wall_in: Number
    wall_out: Number
    inner: list[Number]
    outer: list[Number]
    pots: list[Number]
    cells: list[list[Number]]
    """Of each pot, core first; empty without solid pieces."""


@dataclass(slots=True)
class Outdoors:
    """The air around the box during one step."""

    air: Number
    """[C]"""
    sky: Number
    """[C]"""
    wind: Number
    """[m/s]"""


@dataclass(slots=True)
class LightIn:
    """Light absorbed during one step.  [W]"""

    inside: Number
    inner: list[Number]
    """In the inner glass, or inner half, of each opening."""
    outer: list[Number]
