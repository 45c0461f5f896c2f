"""How high a place is, roughly, without a network: the map of heights that comes with pvlib."""

from __future__ import annotations

LOWEST_M, HIGHEST_M = -430.0, 6000.0
ROUND_M = 10.0


def map_height_m(*, latitude_deg: float, longitude_deg: float) -> float:
    """Return the height of a place above the sea, to ten metres.  [m]

    The map has a point every five minutes of arc, nine kilometres on the equator; by its
    makers it may be 100 m and more off, and in the mountains it is.

    References
    ----------
    .. [1] pvlib, `location.lookup_altitude`: terrain tiles put together by Mapzen from open
       data of many countries.
    """
    # A second of import, for one question of the first run.
    from pvlib.location import lookup_altitude

    found_m = float(lookup_altitude(latitude_deg, longitude_deg))
    return min(max(ROUND_M * round(found_m / ROUND_M), LOWEST_M), HIGHEST_M)
