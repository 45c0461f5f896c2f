"""A page of sentences on terminals of any width, and as plain lines."""

from __future__ import annotations

import io

import pytest
from rich.console import Console

from suntrack.screen.charset import Charset
from suntrack.screen.page import Page, Section, page_block, page_lines

PAGE = Page(
    title="A page of a box with a rather long name",
    intro=("A sentence that is longer than the narrowest terminal we write for, by far.",),
    sections=(
        Section(
            title="Cooking days",
            drawn=("Jan  ################  31 of 31",),
            lines=("Hot means 85 °C, for half an hour or more, in a pot of two litres.",),
        ),
    ),
)


@pytest.mark.parametrize("width", [40, 80, 200])
def test_no_line_is_wider_than_the_terminal_and_no_word_is_lost(width: int) -> None:
    out = io.StringIO()
    console = Console(file=out, width=width, color_system=None)
    console.print(page_block(PAGE, width, ink=Charset(ascii=True)))
    lines = out.getvalue().splitlines()
    assert max(map(len, lines)) <= width
    words = " ".join(out.getvalue().split())
    assert "Jan ################ 31 of 31" in words
    assert "by far." in words
    assert out.getvalue().isascii()


def test_plain_lines_are_a_fact_to_a_line() -> None:
    assert page_lines(PAGE)[2:] == (
        "Cooking days:",
        "Hot means 85 °C, for half an hour or more, in a pot of two litres.",
        "Jan  ################  31 of 31",
    )
