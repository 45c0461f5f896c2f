"""Pictures as PNG: read dot by dot by `png_reader`, which is written from the standard."""

from __future__ import annotations

import os
import subprocess
import sys
from pathlib import Path

import numpy as np
import pytest
from numpy.typing import NDArray
from png_reader import Png, read_png

from suntrack.screen.sheet.png import PNG_MARK, WIDTH_PX, png_of

SQUARE = (
    '<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 40 20">'
    '<rect x="10" y="5" width="20" height="10" fill="#a8400a"/>{}</svg>'
)
WORD = '<text x="1" y="14" font-family="Source Sans Pro" font-size="14">{}</text>'
PAPER = '<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 20 20">{}</svg>'


def ink(png: Png) -> NDArray[np.bool_]:
    """Return where a dot is clearly not white."""
    return np.asarray(png.dots[:, :, :3].min(axis=2) < 160)


def test_a_square_is_where_it_was_drawn_and_as_red_as_it_was() -> None:
    png = read_png(png_of(SQUARE.format("")))
    high, wide, _ = png.dots.shape
    assert (wide, high) == (WIDTH_PX, WIDTH_PX // 2)
    rows, columns = np.nonzero(ink(png))
    scale = WIDTH_PX / 40.0
    found = [columns.min(), columns.max() + 1, rows.min(), rows.max() + 1]
    assert found == pytest.approx([10 * scale, 30 * scale, 5 * scale, 15 * scale], abs=1.0)
    assert png.dots[high // 2, wide // 2, :3].tolist() == [0xA8, 0x40, 0x0A]
    assert png.dots[2, 2, :3].tolist() == [255, 255, 255], "the ground is white"


def test_it_says_who_made_it() -> None:
    assert PNG_MARK.encode() in read_png(png_of(SQUARE.format(""))).texts


def test_letters_show_on_a_machine_without_a_font(tmp_path: Path) -> None:
    """Each letter has a shape of its own, with every folder of fonts empty."""
    empty = tmp_path / "fonts.conf"
    empty.write_text("<fontconfig></fontconfig>", encoding="utf-8")
    env = dict(os.environ, FONTCONFIG_FILE=str(empty), HOME=str(tmp_path))
    code = (
        "import sys, resvg_py; from suntrack.screen.sheet.png import png_of;"
        "draw = resvg_py.svg_to_bytes;"
        "resvg_py.svg_to_bytes = lambda **how: draw(skip_system_fonts=True, **how);"
        "sys.stdout.buffer.write(png_of(sys.argv[1]))"
    )
    shapes = []
    for letter in ("B", "°", "ł", "Ж", ""):
        svg = PAPER.format(WORD.format(letter))
        run = subprocess.run(
            [sys.executable, "-c", code, svg], env=env, capture_output=True, check=True
        )
        shapes.append(ink(read_png(run.stdout)))
    *letters, nothing = shapes
    assert not nothing.any()
    assert all(shape.sum() > 500 for shape in letters)
    assert len({shape.tobytes() for shape in letters}) == len(letters), "no box for every letter"
