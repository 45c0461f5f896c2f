"""Typical weather from a file on disk: EPW, TMY3 (.csv) or TMY2 (.tm2).

The files are read by the light library; here its names and units become ours, and gaps and
strange files become one clear message.  Nothing is ever fetched.
"""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING, Any

import numpy as np

from suntrack.errors import InputError, Problem
from suntrack.sky.year import TypicalHours

if TYPE_CHECKING:
    from collections.abc import Callable, Mapping

    from numpy.typing import NDArray

HOURS = 8760
LONGEST_GAP_H = 24
"""A straight line over more than a day could hold a noon's light through every day of the gap
(our choice).  [h]"""
ALLOWED = "a file of typical weather: .epw, TMY3 as .csv, or TMY2 as .tm2"
LIKELY = {
    "global_horizontal_w_m2": (0.0, 1500.0),
    "beam_normal_w_m2": (0.0, 1400.0),
    "diffuse_horizontal_w_m2": (0.0, 1000.0),
    "air_c": (-70.0, 60.0),
    "wind_10m_m_s": (0.0, 60.0),
}
"""What an hour can be; anything else, such as EPW's 9999, is a gap (our choice)."""
PLACE = {
    "latitude_deg": ("latitude", -90.0, 90.0),
    "longitude_deg": ("longitude", -180.0, 180.0),
    "elevation_m": ("altitude", -450.0, 6000.0),
    "utc_offset_h": ("TZ", -12.0, 14.0),
}
"""What the library calls the numbers of a place, and what they can be on land where people
cook: from the Dead Sea up, by the clocks there are (common practice, no source)."""
WHOLE = "Another year of the place may be whole."


@dataclass(frozen=True, slots=True, kw_only=True)
class _Form:
    """One form of file: what its columns are called, and their size in our units."""

    columns: Mapping[str, str]
    """Our name of each column by the file's."""
    tenths: tuple[str, ...] = ()
    """Columns that are in tenths of our unit."""


EPW = _Form(
    columns={
        "global_horizontal_w_m2": "ghi",
        "beam_normal_w_m2": "dni",
        "diffuse_horizontal_w_m2": "dhi",
        "air_c": "temp_air",
        "wind_10m_m_s": "wind_speed",
    }
)
TMY2 = _Form(
    columns={
        "global_horizontal_w_m2": "GHI",
        "beam_normal_w_m2": "DNI",
        "diffuse_horizontal_w_m2": "DHI",
        "air_c": "DryBulb",
        "wind_10m_m_s": "Wspd",
    },
    tenths=("air_c", "wind_10m_m_s"),
)


def read_typical(path: Path) -> TypicalHours:
    """Return the typical year of a file; raise InputError when there is none in it."""
    if not path.is_file():
        raise _mistake(path, "no such file", "Check the path; the file has to be on this computer.")
    form, found, about = _read(path)
    if len(found) != HOURS:
        raise _mistake(path, f"{len(found)} hours", f"A typical year has {HOURS}.")
    values = {
        name: _filled(path, name, _numbers(path, name, found[column]) * _unit(form, name))
        for name, column in form.columns.items()
    }
    return TypicalHours(
        place=_place(about),
        latitude_deg=_of_place(path, about, "latitude_deg"),
        longitude_deg=_of_place(path, about, "longitude_deg"),
        elevation_m=_of_place(path, about, "elevation_m"),
        utc_offset_h=_of_place(path, about, "utc_offset_h"),
        **values,
    )


def _read(path: Path) -> tuple[_Form, Any, dict[str, Any]]:
    """Return the form of a file, its table and what it says of its place.

    In all three each row is the mean of one hour, the first from midnight to one; only the
    library's stamps differ, and these are not used.
    """
    from pvlib import iotools

    readers: dict[str, tuple[_Form, Callable[[], Any]]] = {
        ".epw": (EPW, lambda: iotools.read_epw(path)),
        ".csv": (EPW, lambda: iotools.read_tmy3(path, map_variables=True, coerce_year=2001)),
        ".tm2": (TMY2, lambda: iotools.read_tmy2(path)),
    }
    kind = path.suffix.lower()
    if kind not in readers:
        raise _mistake(path, repr(path.name), "Give one of these.")
    form, read = readers[kind]
    try:
        table, about = read()
        table[list(form.columns.values())]
    # The library raises whatever it stumbles over in a file that is something else.
    except (ValueError, LookupError, TypeError, AttributeError, NameError, OSError) as error:
        raise _mistake(path, "a file that cannot be read so", "Is it another kind?") from error
    return form, table, dict(about)


def _of_place(path: Path, about: Mapping[str, Any], name: str) -> float:
    """Return a number of the file's place; raise InputError for one that no place has."""
    key, low, high = PLACE[name]
    try:
        value = float(about[key])
    except (LookupError, ValueError, TypeError):
        value = np.nan
    if not low <= value <= high:
        raise _mistake(
            path,
            f"{key} {about.get(key)!r} in the head",
            f"It has to be a number from {low:g} to {high:g}; correct the head.",
        )
    return value


def _numbers(path: Path, name: str, column: Any) -> NDArray[np.float64]:
    """Return a column; raise InputError for words in it."""
    try:
        return np.asarray(column, np.float64)
    except (ValueError, TypeError) as error:
        raise _mistake(
            path, f"{error} in {name}", "Correct it, or mark that hour as missing."
        ) from None


def _unit(form: _Form, name: str) -> float:
    return 0.1 if name in form.tenths else 1.0


def _filled(path: Path, name: str, values: NDArray[np.float64]) -> NDArray[np.float64]:
    """Return a row with its gaps closed by straight lines; refuse many gaps, and long ones."""
    low, high = LIKELY[name]
    good = (values >= low) & (values <= high)
    if good.mean() < 0.9:
        raise _mistake(path, f"gaps in {name}", WHOLE)
    hour = np.arange(values.size)
    gap_h = int(np.diff(hour[good], prepend=-1, append=values.size).max()) - 1
    if gap_h > LONGEST_GAP_H:
        raise _mistake(path, f"a gap of {gap_h} hours in {name}", WHOLE)
    return np.interp(hour, hour[good], values[good])


def _place(about: Mapping[str, Any]) -> str:
    """Return the name of the file's place."""
    name = about.get("city") or about.get("Name") or about.get("City") or "typical weather"
    return str(name).strip(' "').title()


def _mistake(path: Path, found: str, remedy: str) -> InputError:
    return InputError(Problem(where=str(path), found=found, allowed=ALLOWED, remedy=remedy))
