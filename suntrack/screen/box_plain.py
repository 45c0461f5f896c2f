"""The box's sheet as plain lines: one fact to a line, in the order of the screen."""

from __future__ import annotations

from typing import TYPE_CHECKING

from suntrack.screen.charset import Charset
from suntrack.screen.text import box as box_words
from suntrack.screen.text import day as words
from suntrack.screen.text.figures import figure_rows, figures_notes

if TYPE_CHECKING:
    from suntrack.bench.box_report import BoxSheet
    from suntrack.units import Units

PLAIN = Charset()


def box_lines(sheet: BoxSheet, units: Units, *, ink: Charset = PLAIN) -> tuple[str, ...]:
    """Return the sheet, a fact to a line."""
    lines = [
        f"{sheet.box_name}, {sheet.site_name}, {words.date_words(sheet.date)}.",
        box_words.INTRO,
        *(f"Size, {what}: {value}." for what, value in box_words.size_rows(sheet, units)),
        *(f"Wall, {what}: {value}." for what, value in box_words.layer_rows(sheet, units)),
        *(f"Whole, {what}: {value}." for what, value in box_words.store_rows(sheet)),
        *box_words.sun_lines(sheet, units),
        *_state_lines(sheet, units),
        *(f"Heat lost, {way}: {said}." for way, _, said in box_words.loss_rows(sheet.used)),
        box_words.cooling_words(sheet.used),
        *_figure_lines(sheet, units),
        *_mirror_lines(sheet, units),
        *_side_lines(sheet),
        f"Take care: {box_words.hottest_words(sheet, units)}",
        *(f"Take care: {box_words.too_hot_words(part, units)}" for part in sheet.hottest.too_hot),
        f"Take care: {box_words.FIRST_HEATING}",
        *(f"Take care: {words.caution_words(name)}" for name in sheet.cautions),
        f"Take care: {box_words.FOOD_NOTE}",
    ]
    return tuple(ink.text(line) for line in lines)


def _state_lines(sheet: BoxSheet, units: Units) -> list[str]:
    """Return the temperatures of the empty box, with its mirrors and without."""
    states = [("no mirror", sheet.bare)]
    if head := box_words.used_head(sheet):
        states.insert(0, (head, sheet.used))
    return [
        f"Empty, {which}, {what}: {value}."
        for which, still in states
        for what, value in box_words.state_rows(still, units)
    ]


def _figure_lines(sheet: BoxSheet, units: Units) -> list[str]:
    lines = [
        f"{name}: {value}. {published}" for name, value, published in figure_rows(sheet, units)
    ]
    return [*lines, *figures_notes(sheet, units)]


def _mirror_lines(sheet: BoxSheet, units: Units) -> list[str]:
    if sheet.hinge is None:
        return []
    rows = box_words.hinge_rows(sheet.hinge, sheet, units)
    return [*(f"Mirror, {what}: {value}." for what, value in rows), box_words.HINGE_NOTE]


def _side_lines(sheet: BoxSheet) -> list[str]:
    if sheet.sides is None:
        return []
    rows = box_words.side_rows(sheet.sides, sheet)
    return [*(f"Side mirrors, {what}: {value}." for what, value in rows), box_words.SIDE_NOTE]
