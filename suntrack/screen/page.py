"""A page of sentences: a title, sections, their lines; on a terminal or as plain lines.

The commands that look at a box over many days all answer so.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from rich.console import Group, RenderableType
from rich.constrain import Constrain
from rich.text import Text

from suntrack.screen.blocks import MEASURE, heading
from suntrack.screen.charset import Charset
from suntrack.screen.tables import bulleted

if TYPE_CHECKING:
    from collections.abc import Sequence

PLAIN = Charset()


@dataclass(frozen=True, slots=True, kw_only=True)
class Section:
    """One part of a page."""

    title: str
    """What stands above it."""
    lines: tuple[str, ...]
    """Its sentences, in order."""
    drawn: tuple[str, ...] = ()
    """Rows of a chart or table, kept as they are; at most 40 columns wide."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Page:
    """One answer."""

    title: str
    """What stands above it."""
    intro: tuple[str, ...] = ()
    """What is said first."""
    sections: tuple[Section, ...] = ()
    """The rest, in order."""


def page_lines(page: Page, *, ink: Charset = PLAIN) -> tuple[str, ...]:
    """Return a page, a fact to a line."""
    lines = [page.title, *page.intro]
    for section in page.sections:
        lines += [f"{section.title}:", *section.lines, *section.drawn]
    return tuple(ink.text(line) for line in lines)


def page_block(page: Page, width: int, *, ink: Charset = PLAIN) -> RenderableType:
    """Return a page for a terminal, from 40 columns on."""
    parts: list[RenderableType] = [Text(ink.text(page.title), "bold")]
    parts += [Text(ink.text(line)) for line in page.intro]
    for section in page.sections:
        parts += [Text(""), heading(section.title, ink=ink), *_body(section, ink=ink)]
    return Constrain(Group(*parts), min(width, MEASURE))


def _body(section: Section, *, ink: Charset) -> Sequence[RenderableType]:
    drawn = [Text(ink.text(row), no_wrap=True) for row in section.drawn]
    return [*drawn, *(bulleted(line, ink=ink) for line in section.lines)]
