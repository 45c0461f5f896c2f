"""How the cook is called, as records: the ways out and the quiet hours."""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from pathlib import Path

    from suntrack.alerts.quiet import Quiet


@dataclass(frozen=True, slots=True, kw_only=True)
class FarWay:
    """A way out to an address."""

    name: str
    """What the cook calls it."""
    address: str = field(repr=False)
    """With `${NAME}` where a secret belongs."""
    backup: bool
    """True for a way that is only used for what the ways before it did not take."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Calls:
    """How the cook is called."""

    terminal: bool
    """Whether the terminal is used."""
    desktop: bool
    """Whether notices of the desktop are used."""
    bell: bool
    """Whether it rings."""
    player: tuple[str, ...]
    """A command and its words; empty for no sound of its own."""
    secrets: Path | None
    """File that passwords stand in."""
    far: tuple[FarWay, ...]
    """Ways that leave the machine."""
    quiet: Quiet
    """Hours of peace."""
