"""A reader of PNG files that is not the maker's: dots, row by row, by the standard.

"Portable Network Graphics (PNG) Specification (Third Edition)", W3C: sections 5 (chunks),
9.2 (filter types) and 11.3.3 (text).  Eight bits a channel, not interlaced; nothing else.
"""

from __future__ import annotations

import struct
import zlib
from collections.abc import Iterator
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

CHANNELS = {0: 1, 2: 3, 4: 2, 6: 4}
"""Values for a dot, by colour type (table 8 of the standard)."""


@dataclass(frozen=True)
class Png:
    """A picture as it was read."""

    dots: NDArray[np.int64]
    texts: list[bytes]


def chunks(data: bytes) -> Iterator[tuple[bytes, bytes]]:
    """Yield the chunks; each has to check."""
    assert data[:8] == b"\x89PNG\r\n\x1a\n"
    at = 8
    while at < len(data):
        (size,) = struct.unpack(">I", data[at : at + 4])
        kind, body = data[at + 4 : at + 8], data[at + 8 : at + 8 + size]
        (check,) = struct.unpack(">I", data[at + 8 + size : at + 12 + size])
        assert zlib.crc32(kind + body) == check, kind
        yield kind, body
        at += 12 + size


def read_png(data: bytes) -> Png:
    """Return the dots as (row, column, channel)."""
    parts = list(chunks(data))
    assert [parts[0][0], parts[-1][0]] == [b"IHDR", b"IEND"]
    wide, high, depth, colour, _, _, laced = struct.unpack(">IIBBBBB", parts[0][1])
    assert (depth, laced) == (8, 0)
    each = CHANNELS[colour]
    raw = zlib.decompress(b"".join(body for kind, body in parts if kind == b"IDAT"))
    lines = np.frombuffer(raw, dtype=np.uint8).reshape(high, 1 + wide * each)
    rows, above = [], [0] * (wide * each)
    for line in lines.tolist():
        above = unfiltered(line[0], line[1:], above, each)
        rows.append(above)
    dots = np.array(rows, dtype=np.int64).reshape(high, wide, each)
    return Png(dots=dots, texts=[body for kind, body in parts if kind == b"tEXt"])


def unfiltered(kind: int, line: list[int], above: list[int], each: int) -> list[int]:
    """Return a row without its filter (section 9.2)."""
    done: list[int] = []
    for i, value in enumerate(line):
        left = done[i - each] if i >= each else 0
        corner = above[i - each] if i >= each else 0
        add = (0, left, above[i], (left + above[i]) // 2, paeth(left, above[i], corner))[kind]
        done.append((value + add) & 255)
    return done


def paeth(left: int, above: int, corner: int) -> int:
    """Return whichever of the three is nearest to left + above - corner (section 9.4)."""
    guess = left + above - corner
    return min((left, above, corner), key=lambda each: abs(guess - each))
