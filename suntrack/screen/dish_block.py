"""One dish laid out: as a terminal block, or as plain lines."""

from __future__ import annotations

from typing import TYPE_CHECKING

from rich.console import Group, RenderableType
from rich.constrain import Constrain
from rich.text import Text

from suntrack.screen.blocks import MEASURE, heading
from suntrack.screen.charset import Charset
from suntrack.screen.style import NO
from suntrack.screen.tables import bulleted
from suntrack.screen.text.dish import dish_parts, title_words

if TYPE_CHECKING:
    from suntrack.screen.text.dish import DishSheet
    from suntrack.units import Units

PLAIN = Charset()


def dish_block(
    sheet: DishSheet, units: Units, width: int, *, why: bool, ink: Charset = PLAIN
) -> RenderableType:
    """Return a dish for a width in columns; with `why`, the reasons."""
    parts: list[RenderableType] = [Text(ink.text(title_words(sheet, units)), "bold")]
    for part in dish_parts(sheet, units, why=why):
        parts += [Text(""), heading(part.title, ink=ink)]
        if part.is_refusal:
            parts.append(Text(ink.text(part.lines[0]), NO))
        else:
            parts += [bulleted(line, ink=ink) for line in part.lines]
    return Constrain(Group(*parts), min(width, MEASURE))


def dish_lines(
    sheet: DishSheet, units: Units, *, why: bool, ink: Charset = PLAIN
) -> tuple[str, ...]:
    """Return a dish, a fact to a line."""
    lines = [title_words(sheet, units)]
    for part in dish_parts(sheet, units, why=why):
        lines += [f"{part.title}: {line}" for line in part.lines]
    return tuple(ink.text(line) for line in lines)
