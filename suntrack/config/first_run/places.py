"""Places by name without a network: the large cities that the sun library brings along.

The 386 cities that the sun library brings; they know no heights.  Lost: a list of all towns (179
MB), and a time zone from coordinates by polygons, for a question that the cook answers with
Enter.
"""

from __future__ import annotations

import unicodedata
from dataclasses import dataclass

from astral.geocoder import all_locations, database

from suntrack.errors import near_words

NEAR = 0.72
"""How alike a name has to be to be offered (our choice): a letter or two wrong, not more."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Place:
    """One city."""

    name: str
    """What the cook calls it."""
    country: str
    """To tell places of one name apart."""
    latitude_deg: float
    """North positive.  [deg]"""
    longitude_deg: float
    """East positive.  [deg]"""
    time_zone: str
    """IANA name."""


def places() -> tuple[Place, ...]:
    """Return every city there is, 386 with the library's version 3.2; to some minutes of arc."""
    return tuple(
        Place(
            name=one.name,
            country=one.region,
            latitude_deg=round(one.latitude, 3),
            longitude_deg=round(one.longitude, 3),
            time_zone=one.timezone,
        )
        for one in all_locations(database())
    )


def find_place(text: str) -> Place:
    """Return the city of a name, or `name, country`; raise ValueError with what is near."""
    name, _, country = (_folded(part) for part in text.partition(","))
    same = [one for one in places() if _folded(one.name) == name]
    if country:
        same = [one for one in same if _folded(one.country).startswith(country)]
    if len({(one.latitude_deg, one.longitude_deg) for one in same}) == 1:
        return same[0]
    if same:
        told = " or ".join(f'"{one.name}, {one.country}"' for one in same)
        raise ValueError(f"one of several places of that name: {told}")
    near = near_words(name, sorted({_folded(one.name) for one in places()}), most=3, alike=NEAR)
    known = {_folded(one.name): one.name for one in places()}
    also = f", such as {' or '.join(known[each] for each in near)}" if near else ""
    raise ValueError(f"a large city near you{also}; or latitude, longitude such as -24.65, 25.91")


def _folded(text: str) -> str:
    """Return a name as it is compared: without accents, case and spaces around it."""
    plain = unicodedata.normalize("NFKD", text.strip().casefold())
    return "".join(sign for sign in plain if not unicodedata.combining(sign))
