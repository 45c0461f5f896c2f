"""What boxes and pots are made of: a small library with a source for every row.

The numbers are in `materials.toml`; this module only reads them.  What a layer of a wall
does with heat is worked out in `suntrack.box.heat.network`.
"""

from __future__ import annotations

import tomllib
from dataclasses import dataclass
from functools import cache
from importlib.resources import files
from types import MappingProxyType
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from collections.abc import Mapping

SEALANT_C = 176.0
"""Hottest an ordinary food-contact silicone may be for long: data sheet of an acetoxy
silicone, 21 CFR 177.2600, studylib 18457847 (read).  [C]"""


@dataclass(frozen=True, slots=True, kw_only=True)
class Material:
    """One material of the library."""

    name: str
    """What the cook calls it."""
    conductivity_w_mk: float
    """At 24 C.  [W/(m K)]"""
    density_kg_m3: float
    """Mass for its size.  [kg/m3]"""
    specific_heat_j_kgk: float
    """Heat for a degree.  [J/(kg K)]"""
    source: str
    """Where the values come from."""
    per_degree: float = 0.0
    """Share by which the conductivity grows for each degree above 24 C.  [1/K]"""
    highest_c: float | None = None
    """Hottest it may be for hours; None when a box cannot get there.  [C]"""
    spoils: str = ""
    """What happens to it above that."""
    highest_source: str = ""
    """Where its limit comes from."""
    pot: bool = False
    """True for what pots are made of."""

    def conductivity_at(self, mean_c: float) -> float:
        """Return the conductivity at the mean temperature of a layer.  [W/(m K)]"""
        return self.conductivity_w_mk * (1.0 + self.per_degree * (mean_c - 24.0))


@cache
def materials() -> Mapping[str, Material]:
    """Return every material by its name."""
    text = files("suntrack.box").joinpath("materials.toml").read_text(encoding="utf-8")
    rows = tomllib.loads(text)
    return MappingProxyType({name: Material(name=name, **row) for name, row in rows.items()})


def pot_materials() -> tuple[str, ...]:
    """Return the names of what pots are made of."""
    return tuple(name for name, material in materials().items() if material.pot)
