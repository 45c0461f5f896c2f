"""The picture from above: marks stand where trigonometry puts them."""

from __future__ import annotations

import math
from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from suntrack.screen.charset import MARKS, Charset
from suntrack.screen.compass import (
    COLUMNS,
    MIDDLE_COLUMN,
    MIDDLE_ROW,
    RADIUS,
    ROWS,
    compass_rows,
    legend,
)
from suntrack.screen.moment import NowView
from suntrack.units import Units

INK, ASCII = Charset(), Charset(ascii=True)


def picture(view: NowView, ink: Charset = INK) -> list[str]:
    """Return the picture as full rows of text."""
    return ["".join(run.text for run in row) for row in compass_rows(view, ink=ink)]


def find(rows: list[str], mark: str) -> tuple[int, int]:
    """Return the row and column of the only such mark."""
    found = [(r, c) for r, row in enumerate(rows) for c, text in enumerate(row) if text == mark]
    assert len(found) == 1, found
    return found[0]


def alone(view: NowView, **changes: float | None) -> NowView:
    """Return a view with nothing but what the test sets."""
    return replace(
        replace(view, face_true_deg=None, sun_elevation_deg=-1.0, next_step=None),
        **changes,  # type: ignore[arg-type]
    )


@given(bearing_deg=st.floats(0.0, 360.0))
def test_sun_stands_in_its_direction(view: NowView, bearing_deg: float) -> None:
    """Within half a cell, which is what rounding to cells can cost."""
    rows = picture(alone(view, sun_azimuth_deg=bearing_deg, sun_elevation_deg=30.0))
    row, column = find(rows, MARKS["sun"][0])
    angle = math.radians(bearing_deg)
    assert abs((column - MIDDLE_COLUMN) - 2 * RADIUS * math.sin(angle)) <= 0.5 + 1e-6
    assert abs((MIDDLE_ROW - row) - RADIUS * math.cos(angle)) <= 0.5 + 1e-6


@pytest.mark.parametrize(
    ("face_deg", "arrow", "ascii_arrow"),
    [(0.0, "↑", "^"), (90.0, "→", ">"), (135.0, "↘", ">"), (180.0, "↓", "v"), (270.0, "←", "<")],
)
def test_arrow_points_where_the_box_faces(
    view: NowView, face_deg: float, arrow: str, ascii_arrow: str
) -> None:
    shown = alone(view, face_true_deg=face_deg)
    assert find(picture(shown), arrow) == find(picture(shown, ASCII), ascii_arrow)


def test_ring_is_the_same_mirrored(view: NowView) -> None:
    rows = picture(alone(view))
    ring = [[text == MARKS["ring"][0] for text in row] for row in rows]
    assert ring == ring[::-1]
    assert ring == [row[::-1] for row in ring]
    assert (len(rows), {len(row) for row in rows}) == (ROWS, {COLUMNS})
    assert COLUMNS < 40, "it has to fit the narrowest screen"


def test_sun_below_the_horizon_is_not_drawn(view: NowView) -> None:
    down = replace(view, sun_elevation_deg=-0.1)
    assert MARKS["sun"][0] not in "".join(picture(down))
    assert all(name != "sun" for name, _, _ in legend(down, units=Units()))


def test_ascii_picture_is_ascii(view: NowView) -> None:
    assert "".join(picture(view, ASCII)).isascii()


def test_legend_says_which_way_and_how_far(view: NowView) -> None:
    said = {name: words for name, _, words in legend(view, units=Units())}
    assert said["box"] == "the box faces east, 113° on a compass"
    assert said["sun"] == "the sun is 13° to the left of that, 63° high"
    assert said["aim"] == "next aim at 10:40: turn 25° to the left"


def test_letters_stand_at_the_four_winds(view: NowView) -> None:
    rows = picture(alone(view))
    assert find(rows, "N")[1] == find(rows, "S")[1] == MIDDLE_COLUMN
    assert find(rows, "W")[0] == find(rows, "E")[0] == MIDDLE_ROW
    assert find(rows, "N")[0] < find(rows, "S")[0]
    assert find(rows, "W")[1] < find(rows, "E")[1], "east is right of west on a map"
