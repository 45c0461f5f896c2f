"""A drawing as PNG, the same on every machine: letters come from a font file brought along.

Our SVG drawn by resvg, one wheel without system libraries, with a font that comes as a package,
so that letters show where no font is installed.  Lost: plotting libraries (ten times as large,
and every chart written twice) and a browser.
"""

from __future__ import annotations

import struct
import zlib
from importlib.resources import files
from pathlib import Path

PNG_MARK = "Software\0suntrack"
"""Stands in every picture as text of its own (PNG, third edition, 11.3.3 tEXt)."""
WIDTH_PX = 1128
"""Three dots for each unit of a picture: sharp on a phone and on paper half as wide."""
FONTS = ("SourceSansPro-Regular.ttf", "SourceSansPro-Bold.ttf")
HEAD = 33
"""Bytes of the signature and of IHDR, which comes first and is always as long."""


def png_of(svg: str) -> bytes:
    """Return a drawing as PNG.

    Parameters
    ----------
    svg : str
        An SVG file with no style variables.

    Returns
    -------
    bytes
        Fonts of the system are asked only for letters that ours does not have.
    """
    import resvg_py

    folder = Path(str(files("font_source_sans_pro"))) / "files"
    drawn = resvg_py.svg_to_bytes(
        svg_string=svg,
        width=WIDTH_PX,
        background="white",
        font_files=[str(folder / name) for name in FONTS],
    )
    return _marked(bytes(drawn))


def _marked(png: bytes) -> bytes:
    """Return a PNG with our mark after its first chunk."""
    body = b"tEXt" + PNG_MARK.encode("ascii")
    chunk = struct.pack(">I", len(body) - 4) + body + struct.pack(">I", zlib.crc32(body))
    return png[:HEAD] + chunk + png[HEAD:]
