"""Rows of short runs of text, each with a role: what charts and the compass hand out.

No colour is named here; `blocks` gives each role its style, and `plain` drops the roles.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import groupby
from typing import Literal

Role = Literal[
    "label", "hot", "warm", "empty box", "threshold", "axis", "blank",
    "sun", "box", "aim", "ring", "letter", "band", "reading", "now",
]  # fmt: skip


@dataclass(frozen=True, slots=True, kw_only=True)
class Run:
    """Neighbouring characters with one role."""

    text: str
    """What is shown."""
    role: Role
    """What it stands for."""


Row = tuple[Run, ...]
Cell = tuple[str, Role]


def runs_of(cells: Sequence[Cell]) -> Row:
    """Return characters joined where neighbours share a role."""
    return tuple(
        Run(text="".join(text for text, _ in group), role=role)
        for role, group in groupby(cells, key=lambda cell: cell[1])
    )


def row_text(row: Row) -> str:
    """Return a row without its roles, and without blanks at its end."""
    return "".join(run.text for run in row).rstrip()
