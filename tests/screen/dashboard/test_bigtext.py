"""Large figures, read back dot by dot."""

from __future__ import annotations

import pytest

from suntrack.screen.charset import Charset
from suntrack.screen.dashboard.bigtext import DOTS, big_figures, big_words

INK, ASCII = Charset(), Charset(ascii=True)
UPPER, LOWER = "▀█", "▄█"


@pytest.mark.parametrize("figure", [f for f in DOTS if f != " "])
def test_half_blocks_hold_every_dot(figure: str) -> None:
    rows = big_figures(figure, ink=INK)
    dots = [[text in half for text in row] for row in rows for half in (UPPER, LOWER)]
    assert dots[:5] == [[dot == "#" for dot in row] for row in DOTS[figure]]
    assert not any(dots[5])


def test_figures_can_be_told_apart() -> None:
    assert len({big_figures(figure, ink=INK) for figure in DOTS}) == len(DOTS)


def test_small_words_stand_on_the_foot() -> None:
    rows = big_words("1 h 12 min", ink=INK)
    assert len(rows) == 3
    assert "h" in rows[-1]
    assert rows[-1].endswith("min")
    assert "h" not in rows[0] + rows[1]


def test_ascii_figures_are_five_rows_of_ascii() -> None:
    rows = big_words("28 min", ink=ASCII)
    assert len(rows) == 5
    assert "".join(rows).isascii()
    assert rows[0].startswith("### ###")
