"""Marks and letters for terminals with and without UTF-8."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st
from rich.cells import cell_len

from suntrack.screen.charset import MARKS, Charset, to_ascii


@pytest.mark.parametrize("name", MARKS)
def test_marks_and_their_twins_are_one_column_wide(name: str) -> None:
    """Rich's table of cell widths, made from Unicode's, is the reference."""
    drawn, twin = Charset().mark(name), Charset(ascii=True).mark(name)
    assert (cell_len(drawn), cell_len(twin)) == (1, 1)
    assert twin.isascii()


@pytest.mark.parametrize(
    ("words", "ascii_words"),
    [
        ("118 °C", "118 C"),
        ("244 °F", "244 F"),
        ("Turn 20° to the left", "Turn 20 deg to the left"),
        ("Crème brûlée", "Creme brulee"),
        ("1½ cups", "1 1/2 cups"),
        ("½ cup", "1/2 cup"),
        ("豆", "?"),
    ],
)
def test_signs_are_spelled_out(words: str, ascii_words: str) -> None:
    assert to_ascii(words) == ascii_words


@given(st.text())
def test_any_words_become_ascii(words: str) -> None:
    assert to_ascii(words).isascii()


@given(st.text(st.characters(max_codepoint=127)))
def test_ascii_words_stay_as_they_are(words: str) -> None:
    assert to_ascii(words) == words
