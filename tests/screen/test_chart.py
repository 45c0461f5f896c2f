"""Charts, by the arithmetic of filled cells."""

from __future__ import annotations

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from suntrack.screen.charset import Charset
from suntrack.screen.chart import BLOCKS, Scale, Series, bar, curve, framed, value_at
from suntrack.screen.runs import row_text

INK, ASCII = Charset(), Charset(ascii=True)


def scale(columns: int = 8, rows: int = 4) -> Scale:
    """Return a scale from 0 to 1 in time and from 0 to 100 in value."""
    return Scale(starts_s=0.0, ends_s=1.0, low=0.0, high=100.0, columns=columns, rows=rows)


def eighths_in(rows: list[str], column: int) -> int:
    """Return how much of a column is filled, counted back from the characters."""
    return sum(BLOCKS.index(row[column]) if row[column] in BLOCKS else 0 for row in rows)


@given(share=st.floats(0.0, 1.0), width=st.integers(1, 60))
def test_bar_is_filled_to_its_share(share: float, width: int) -> None:
    """Counted back from the characters to within half of the finest step."""
    parts = "░▏▎▍▌▋▊▉█"
    drawn = bar(share, width=width, ink=INK)
    assert len(drawn) == width
    assert abs(sum(parts.index(c) for c in drawn) / 8.0 - share * width) <= 1.0 / 16.0 + 1e-9
    plain = bar(share, width=width, ink=ASCII)
    assert len(plain) == width
    assert abs(plain.count("#") - share * width) <= 0.5 + 1e-9


@pytest.mark.parametrize(("share", "drawn"), [(-1.0, "...."), (0.5, "##.."), (7.0, "####")])
def test_bar_keeps_to_its_ends(share: float, drawn: str) -> None:
    assert bar(share, width=4, ink=ASCII) == drawn


@given(st.lists(st.floats(0.0, 100.0), min_size=2, max_size=12))
def test_columns_are_as_high_as_the_straight_line_between_points(values: list[float]) -> None:
    last = len(values) - 1
    series = Series(at_s=[i / last for i in range(len(values))], values=values)
    look = scale()
    rows = [
        "".join(run.text for run in row)
        for row in curve(series, over=None, threshold=0.0, scale=look, ink=INK)
    ]
    for column in range(look.columns):
        place = (column + 0.5) / look.columns * last
        left = min(math.floor(place), last - 1)
        height = values[left] + (values[left + 1] - values[left]) * (place - left)
        assert abs(eighths_in(rows, column) - height / 100.0 * 32) <= 0.5 + 1e-6


def test_value_outside_the_points_is_not_a_number() -> None:
    series = Series(at_s=[0.0, 1.0], values=[10.0, 20.0])
    assert value_at(series, 0.25) == pytest.approx(12.5)
    assert math.isnan(value_at(series, 1.5))


def test_curve_in_ascii_reads_as_drawn() -> None:
    """A ramp: each column a quarter higher than the one before; the line at half height."""
    series = Series(at_s=[0.0, 1.0], values=[0.0, 100.0])
    rows = curve(series, over=None, threshold=50.0, scale=scale(columns=4, rows=4), ink=ASCII)
    # Middles of the columns at 12.5, 37.5, 62.5 and 87.5, so each ends in half a cell.
    assert [row_text(row) for row in rows] == ["   :", "  :#", "-:##", ":###"]


def test_cells_from_the_threshold_up_are_hot() -> None:
    series = Series(at_s=[0.0, 1.0], values=[100.0, 100.0])
    rows = curve(series, over=None, threshold=50.0, scale=scale(), ink=INK)
    assert [{run.role for run in row} for row in rows] == [{"hot"}, {"hot"}, {"hot"}, {"warm"}]


def test_second_series_is_points_above_the_first() -> None:
    low = Series(at_s=[0.0, 1.0], values=[25.0, 25.0])
    high = Series(at_s=[0.0, 1.0], values=[100.0, 100.0])
    rows = curve(low, over=high, threshold=60.0, scale=scale(columns=3), ink=ASCII)
    assert [row_text(row) for row in rows] == ["'''", "---", "", "###"]


def test_frame_puts_ticks_under_their_columns() -> None:
    series = Series(at_s=[0.0, 1.0], values=[100.0, 100.0])
    plot = curve(series, over=None, threshold=0.0, scale=scale(columns=20), ink=ASCII)
    ticks = [(0, "6:00"), (3, "7:00"), (8, "8:00"), (18, "9:00")]
    rows = [row_text(r) for r in framed(plot, labels={0: "99 C"}, ticks=ticks, ink=ASCII)]
    assert rows[0].startswith("99 C |#")
    assert rows[-1][6:] == "6:00    8:00", "7:00 would touch 6:00, 9:00 would stick out"
    assert {len(row) for row in rows[:5]} == {26}
