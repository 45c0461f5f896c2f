"""The box's sheet as a terminal block, for any width from 40 columns on."""

from __future__ import annotations

from typing import TYPE_CHECKING

from rich.console import Group, RenderableType
from rich.constrain import Constrain
from rich.padding import Padding
from rich.table import Table
from rich.text import Text

from suntrack.screen.blocks import MEASURE, heading
from suntrack.screen.charset import Charset
from suntrack.screen.chart import bar
from suntrack.screen.tables import BAR, NARROW, bulleted
from suntrack.screen.text import box as box_words
from suntrack.screen.text import day as words
from suntrack.screen.text.figures import figure_rows, figures_notes

if TYPE_CHECKING:
    from collections.abc import Sequence

    from suntrack.bench.box_report import BoxSheet
    from suntrack.units import Units

PLAIN = Charset()
WIDE_BAR = 30
"""How wide the bars of the losses are, where there is room.  [columns]"""


def box_block(sheet: BoxSheet, units: Units, width: int, *, ink: Charset = PLAIN) -> RenderableType:
    """Return the sheet."""
    measure = min(width, MEASURE)
    parts = [
        _top(sheet, ink=ink),
        *_section("Sizes, inside", [_rows(box_words.size_rows(sheet, units), ink=ink)], ink),
        *_section("Walls, inside first", _walls(sheet, units, width=measure, ink=ink), ink),
        *_section("Empty in steady sun", _states(sheet, units, ink=ink), ink),
        *_section("Where the heat goes", _losses(sheet, width=measure, ink=ink), ink),
        *_section("Figures of test standards", _figures(sheet, units, ink=ink), ink),
        *_mirror(sheet, units, ink=ink),
        *_side_mirrors(sheet, ink=ink),
        *_section("Take care", _care(sheet, units, ink=ink), ink),
    ]
    return Constrain(Group(*parts), measure)


def _section(title: str, body: Sequence[RenderableType], ink: Charset) -> list[RenderableType]:
    return [Text(""), heading(title, ink=ink), *body]


def _top(sheet: BoxSheet, *, ink: Charset) -> RenderableType:
    place = f"{sheet.box_name}, {sheet.site_name}, {words.date_words(sheet.date)}"
    return Group(Text(ink.text(place), "bold"), Text(ink.text(box_words.INTRO)))


def _rows(rows: Sequence[tuple[str, str]], *, ink: Charset) -> Table:
    """Return facts in two columns."""
    table = Table.grid(padding=(0, 2, 0, 0))
    table.add_column(overflow="fold")
    table.add_column(overflow="fold")
    for what, how_much in rows:
        table.add_row(ink.text(what), ink.text(how_much))
    return table


def _stack(head: str, *lines: str, ink: Charset) -> RenderableType:
    """Return one thing with what is to say of it below."""
    body = Group(*(Text(ink.text(line)) for line in lines))
    return Group(Text(ink.text(head), "bold"), Padding(body, (0, 0, 0, 2)))


def _walls(sheet: BoxSheet, units: Units, *, width: int, ink: Charset) -> list[RenderableType]:
    layers = box_words.layer_rows(sheet, units)
    whole = _rows(box_words.store_rows(sheet), ink=ink)
    if width < NARROW:
        return [*(_stack(name, facts, ink=ink) for name, facts in layers), whole]
    return [_rows(layers, ink=ink), Text(""), whole]


def _states(sheet: BoxSheet, units: Units, *, ink: Charset) -> list[RenderableType]:
    """Return the temperatures of the empty box, with its mirrors and without."""
    table = Table.grid(padding=(0, 2, 0, 0))
    columns = [box_words.state_rows(sheet.used, units)]
    heads = ["no mirror"]
    if head := box_words.used_head(sheet):
        columns.append(box_words.state_rows(sheet.bare, units))
        heads.insert(0, head.replace(", ", "\n"))
    table.add_column(overflow="fold")
    for _ in heads:
        table.add_column(justify="right", no_wrap=True)
    table.add_row("", *(Text(ink.text(head), "bold") for head in heads))
    for rows in zip(*columns, strict=True):
        table.add_row(rows[0][0], *(ink.text(value) for _, value in rows))
    lines = [Text(ink.text(line), "dim") for line in box_words.sun_lines(sheet, units)]
    return [*lines, table, Text(ink.text(box_words.cooling_words(sheet.used)))]


def _losses(sheet: BoxSheet, *, width: int, ink: Charset) -> list[RenderableType]:
    """Return the shares of the losses as bars, each with its number."""
    table = Table.grid(padding=(0, 2, 0, 0))
    table.add_column(overflow="fold")
    table.add_column(no_wrap=True)
    table.add_column(justify="right", overflow="fold")
    columns = BAR if width < NARROW else WIDE_BAR
    for way, share, said in box_words.loss_rows(sheet.used):
        drawn = Text(bar(share, width=columns, ink=ink), "bright_blue")
        table.add_row(way, drawn, ink.text(said))
    return [table]


def _figures(sheet: BoxSheet, units: Units, *, ink: Charset) -> list[RenderableType]:
    rows = [
        _stack(name, value, published, ink=ink)
        for name, value, published in figure_rows(sheet, units)
    ]
    notes = [Text(ink.text(note), "dim") for note in figures_notes(sheet, units)]
    return [*rows, *notes]


def _mirror(sheet: BoxSheet, units: Units, *, ink: Charset) -> list[RenderableType]:
    if sheet.hinge is None:
        return []
    rows = _rows(box_words.hinge_rows(sheet.hinge, sheet, units), ink=ink)
    return _section("The mirror", [rows, Text(ink.text(box_words.HINGE_NOTE), "dim")], ink)


def _side_mirrors(sheet: BoxSheet, *, ink: Charset) -> list[RenderableType]:
    if sheet.sides is None:
        return []
    rows = _rows(box_words.side_rows(sheet.sides, sheet), ink=ink)
    return _section("The side mirrors", [rows, Text(ink.text(box_words.SIDE_NOTE), "dim")], ink)


def _care(sheet: BoxSheet, units: Units, *, ink: Charset) -> list[RenderableType]:
    """Return what gets too hot, what to do before the first food, and the usual cautions."""
    hot = [box_words.too_hot_words(part, units) for part in sheet.hottest.too_hot]
    usual = [words.caution_words(name) for name in sheet.cautions]
    lines = [*hot, box_words.FIRST_HEATING, *usual, box_words.FOOD_NOTE]
    head = Text(ink.text(box_words.hottest_words(sheet, units)))
    return [head, *(bulleted(line, ink=ink) for line in lines)]
