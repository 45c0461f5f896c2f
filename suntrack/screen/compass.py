"""The box and the sun from above, in characters: north up, 27 columns by 13 rows.

The ring is the horizon.  The box stands in the middle and a trail of dots leads from it
the way it faces; the sun and the next aim sit on the ring.

           N
        .  .  .
     .     ^     o   <- where to face next
    .      :      *  <- the sun
    W      #      E
"""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

from suntrack.screen.runs import Cell, Role, Row, runs_of
from suntrack.screen.text.directions import (
    STRAIGHT_DEG,
    bearing_words,
    degrees,
    face_words,
    side,
    turn_words,
)

if TYPE_CHECKING:
    from suntrack.screen.charset import Charset
    from suntrack.screen.moment import NowView
    from suntrack.units import Units

RADIUS = 5
"""Of the ring, in rows; a character is taken as twice as high as wide."""
MIDDLE_ROW, MIDDLE_COLUMN = RADIUS + 1, 2 * RADIUS + 3
ROWS, COLUMNS = 2 * MIDDLE_ROW + 1, 2 * MIDDLE_COLUMN + 1
ARROWS, ASCII_ARROWS = "↑↗→↘↓↙←↖", "^>>>v<<<"

Canvas = list[list[Cell]]


def place(bearing_deg: float, radius: float) -> tuple[int, int]:
    """Return the row and column of a point seen from above, north up."""
    angle = math.radians(bearing_deg)
    row = MIDDLE_ROW - _whole(radius * math.cos(angle))
    column = MIDDLE_COLUMN + _whole(2.0 * radius * math.sin(angle))
    return row, column


def _whole(offset: float) -> int:
    """Return the nearest whole number, halves outward, so that the picture is symmetric."""
    return int(math.copysign(math.floor(abs(offset) + 0.5 + 1e-9), offset))


def compass_rows(view: NowView, *, ink: Charset) -> tuple[Row, ...]:
    """Return the picture, top row first."""
    canvas: Canvas = [[(" ", "blank")] * COLUMNS for _ in range(ROWS)]
    for bearing in range(0, 360, 15):
        _put(canvas, bearing, RADIUS, ink.mark("ring"), "ring")
    for letter, bearing in (("N", 0), ("E", 90), ("S", 180), ("W", 270)):
        _put(canvas, bearing, RADIUS + 1, letter, "letter")
    if view.face_true_deg is not None:
        _draw_face(canvas, view.face_true_deg, ink)
    next_turn = view.next_step.turn if view.next_step else None
    if next_turn is not None:
        _put(canvas, next_turn.face_true_deg, RADIUS, ink.mark("aim"), "aim")
    if view.sun_elevation_deg > 0.0:
        _put(canvas, view.sun_azimuth_deg, RADIUS, ink.mark("sun"), "sun")
    canvas[MIDDLE_ROW][MIDDLE_COLUMN] = (ink.mark("box"), "box")
    return tuple(runs_of(row) for row in canvas)


def _put(canvas: Canvas, bearing_deg: float, radius: float, text: str, role: Role) -> None:
    """Put one character on the canvas."""
    row, column = place(bearing_deg, radius)
    canvas[row][column] = (text, role)


def _draw_face(canvas: Canvas, face_deg: float, ink: Charset) -> None:
    """Draw the trail from the box to where it faces."""
    for radius in range(1, RADIUS - 1):
        _put(canvas, face_deg, radius, ":" if ink.ascii else "∙", "box")
    arrows = ASCII_ARROWS if ink.ascii else ARROWS
    _put(canvas, face_deg, RADIUS - 1, arrows[round(face_deg / 45.0) % 8], "box")


def legend(view: NowView, *, units: Units) -> tuple[tuple[str, Role, str], ...]:
    """Return what the marks mean, as (name of the mark, role, words)."""
    lines: list[tuple[str, Role, str]] = []
    if view.face_true_deg is not None and view.face_compass_deg is not None:
        facing = face_words(view.face_true_deg, view.face_compass_deg)
        lines.append(("box", "box", f"the box faces {facing}"))
    if view.sun_elevation_deg > 0.0:
        lines.append(("sun", "sun", f"the sun is {_sun(view)}"))
    step = view.next_step
    if step is not None and step.turn is not None:
        word = "set out" if step.kind == "preheat" else turn_words(step.turn).lower()
        lines.append(("aim", "aim", f"next aim at {units.time_text(step.at)}: {word}"))
    return tuple(lines)


def _sun(view: NowView) -> str:
    """Return where the sun is, seen from the box."""
    high = f"{degrees(view.sun_elevation_deg)} high"
    aside_deg = view.sun_to_face_deg
    if aside_deg is None:
        return f"in the {bearing_words(view.sun_azimuth_deg)}, {high}"
    if abs(aside_deg) < STRAIGHT_DEG:
        return f"straight ahead, {high}"
    return f"{degrees(abs(aside_deg))} to the {side(aside_deg)} of that, {high}"
