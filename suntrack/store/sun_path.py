"""The sun of a day for one moment: read from a small file of plain numbers, at once.

The file stands beside the archive of `suntrack.store.sun_table`, which takes numpy to open,
and holds its three columns of the sun one after the other, as 8-byte floats.
"""

from __future__ import annotations

import contextlib
import math
import os
from array import array
from itertools import pairwise
from typing import TYPE_CHECKING

from suntrack.sky.moment import sun_between
from suntrack.store.paths import STEP_S, sun_file

if TYPE_CHECKING:
    from collections.abc import Sequence
    from datetime import date, datetime
    from pathlib import Path

    from suntrack.sky.site import Site

COLUMNS = 3
Rows = tuple["array[float]", "array[float]", "array[float]"]


def sun_at(site: Site, at: datetime, *, on: date, cache_dir: Path) -> tuple[float, float]:
    """Return the sun's elevation and azimuth at a moment of a day.  [deg]

    Where nothing is kept the day is computed, which takes the slow libraries.
    """
    path = sun_file(site, on=on, cache_dir=cache_dir).with_suffix(".f8")
    rows = _read(path)
    if rows is None:
        from suntrack.store.sun_table import sun_data

        sun = sun_data(site, on=on, cache_dir=cache_dir).sun
        rows = _rows((sun.at_s.tolist(), sun.elevation_deg.tolist(), sun.azimuth_deg.tolist()))
        _write(path, rows)
    at_s, elevation_deg, azimuth_deg = rows
    return sun_between(
        at.timestamp(), rows_s=at_s, elevation_deg=elevation_deg, azimuth_deg=azimuth_deg
    )


def _rows(columns: Sequence[Sequence[float]]) -> Rows:
    at_s, elevation_deg, azimuth_deg = (array("d", column) for column in columns)
    return at_s, elevation_deg, azimuth_deg


def _read(path: Path) -> Rows | None:
    """Return the kept columns; None when there are none that fit."""
    numbers = array("d")
    try:
        numbers.frombytes(path.read_bytes())
    except (OSError, ValueError):
        return None
    rows, over = divmod(len(numbers), COLUMNS)
    at_s = numbers[:rows]
    if over or rows < 2 or not all(map(math.isfinite, numbers)):
        return None
    if any(later - at != STEP_S for at, later in pairwise(at_s)):
        return None
    return at_s, numbers[rows : 2 * rows], numbers[2 * rows :]


def _write(path: Path, rows: Rows) -> None:
    """Keep the columns: whole or not at all; a folder that cannot be written is no matter."""
    part = path.with_name(f"{path.name}.{os.getpid()}.part")
    with contextlib.suppress(OSError):
        path.parent.mkdir(parents=True, exist_ok=True)
        part.write_bytes(b"".join(column.tobytes() for column in rows))
        part.replace(path)
