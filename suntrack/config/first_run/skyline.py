"""A skyline as a cook tells it: `70-110: 1.5 fists, 250-285: 18 deg`."""

from __future__ import annotations

import re
from dataclasses import dataclass

FIST_DEG = 10.0
"""A fist at arm's length covers about this much (common practice, no source).  [deg]"""
EDGE_DEG = 1.0
"""Over how much a roof or a tree falls to the level (our choice).  [deg]"""
ALLOWED = 'from-to: height in fists or deg, such as "70-110: 1.5 fists, 250-285: 18 deg", or none'
PIECE = re.compile(
    r"\s*(\d{1,3})\s*(?:-|to)\s*(\d{1,3})\s*:\s*(\d{1,2}(?:\.\d+)?)\s*(fists?|deg|°)?\s*"
)


@dataclass(frozen=True, slots=True, kw_only=True)
class Hiding:
    """One thing that hides the sun: from a bearing to a bearing, clockwise, and how high."""

    from_deg: float
    """Where it begins, clockwise from north.  [deg]"""
    to_deg: float
    """Where it ends.  [deg]"""
    height_deg: float
    """How high it stands.  [deg]"""

    def height_at(self, bearing_deg: float) -> float:
        """Return its height in a direction.  [deg]"""
        wide = (self.to_deg - self.from_deg) % 360.0
        past = (bearing_deg - self.from_deg) % 360.0
        away = 0.0 if past <= wide else min(past - wide, 360.0 - past)
        return self.height_deg * max(1.0 - away / EDGE_DEG, 0.0)


def read_skyline(text: str, *, declination_deg: float = 0.0) -> tuple[tuple[float, float], ...]:
    """Return (azimuth, height) of a skyline's points in rising order; raise ValueError.

    The bearings of the text are a compass's; `declination_deg`, east positive, makes them
    true ones.  Where two things overlap the higher one counts.  [deg]
    """
    if text.strip().lower() in ("", "none"):
        return ()
    hidings = [_hiding(piece, declination_deg) for piece in text.split(",")]
    edges = {
        round(edge % 360.0, 1)
        for one in hidings
        for edge in (one.from_deg - EDGE_DEG, one.from_deg, one.to_deg, one.to_deg + EDGE_DEG)
    }
    return tuple(
        (edge, round(max(one.height_at(edge) for one in hidings), 1)) for edge in sorted(edges)
    )


def _hiding(piece: str, declination_deg: float) -> Hiding:
    found = PIECE.fullmatch(piece)
    if found is None:
        raise ValueError(ALLOWED)
    starts, ends, high = float(found[1]), float(found[2]), float(found[3])
    height_deg = high * (FIST_DEG if (found[4] or "").startswith("fist") else 1.0)
    if max(starts, ends) > 360.0 or height_deg > 90.0:
        raise ValueError(ALLOWED)
    return Hiding(
        # To a tenth, so that an edge that was rounded is still the edge.
        from_deg=round((starts + declination_deg) % 360.0, 1),
        to_deg=round((ends + declination_deg) % 360.0, 1),
        height_deg=height_deg,
    )
