"""Rules between keys: sizes that cannot be built, names twice, hours that clash.

Each rule takes the pieces that are right by themselves and passes over the rest, whose
own mistakes have been told already.
"""

from __future__ import annotations

import math
from typing import TYPE_CHECKING
from zoneinfo import ZoneInfo

from suntrack.config.feed import check_feed
from suntrack.config.notify import check_calls
from suntrack.config.text import Complaint
from suntrack.config.times import minutes_of, read_stretch
from suntrack.errors import did_you_mean
from suntrack.sky.zone_noon import ahead_of_sun_h, can_belong
from suntrack.units import Units

if TYPE_CHECKING:
    from collections.abc import Iterator, Mapping

    from suntrack.config.model import MirrorTable, PotTable, SideMirrorsTable
    from suntrack.config.pieces import Pieces

MOST_DISHES = 8
LEAST_GLASS = 0.1
"""Share of the shorter side that has to stay glass between the frames.  [-]"""


def check_pieces(pieces: Pieces) -> Iterator[Complaint]:
    """Yield every mistake that only shows when keys are seen together."""
    yield from _zone(pieces)
    yield from _skyline(pieces)
    yield from _air(pieces)
    yield from _gaps(pieces)
    yield from _frame(pieces.sizes)
    if pieces.mirror is not None:
        yield from _mirror(pieces.mirror)
    if pieces.side_mirrors is not None:
        yield from _side_mirrors(pieces.side_mirrors, depth_m=pieces.sizes.get("depth", math.inf))
    yield from _pots(pieces)
    yield from _free(pieces)
    yield from _dishes(pieces)
    yield from check_calls(pieces)
    yield from check_feed(pieces)


def _zone(pieces: Pieces) -> Iterator[Complaint]:
    """Yield the mistake of a clock that cannot be the place's: most often a forgotten zone."""
    if pieces.longitude_deg is None or pieces.time_zone is None:
        return
    zone = ZoneInfo(pieces.time_zone)
    if can_belong(zone, longitude_deg=pieces.longitude_deg):
        return
    ahead_h = ahead_of_sun_h(zone, longitude_deg=pieces.longitude_deg)
    way = "after" if ahead_h > 0.0 else "before"
    yield Complaint(
        path=("site", "time_zone"),
        found=f'"{pieces.time_zone}", by whose clock the sun is highest at longitude '
        f"{pieces.longitude_deg:g} some {abs(ahead_h):.0f} hours {way} noon",
        allowed="the zone of the place, in which the sun is highest within hours of noon",
        remedy="Name the zone of the nearest large city, or correct the longitude.",
    )


def _skyline(pieces: Pieces) -> Iterator[Complaint]:
    before = None
    for i, point in enumerate(pieces.skyline):
        if point is None:
            continue
        if before is not None and point.azimuth <= before:
            yield Complaint(
                path=("site", "skyline", i, "azimuth"),
                found=f"{point.azimuth:g} degrees after {before:g}",
                allowed="points in rising order of azimuth, each azimuth once",
                remedy="Sort them; walk once around from north by east.",
            )
        before = point.azimuth


def _air(pieces: Pieces) -> Iterator[Complaint]:
    if pieces.air is None:
        return
    for month, (low, high) in enumerate(zip(pieces.air.low, pieces.air.high, strict=True)):
        if low > high:
            yield Complaint(
                path=("site", "air", "high"),
                found=f"a high of {_both_degrees(high)} under a low of {_both_degrees(low)}"
                f" in month {month + 1}",
                allowed="highs at or above the lows",
                remedy="Exchange the two.",
            )
            return


def _gaps(pieces: Pieces) -> Iterator[Complaint]:
    for place, glass in pieces.glass.items():
        if glass is not None and glass.glasses == 2 and glass.gap <= 0.0:
            yield Complaint(
                path=("box", place, "gap"),
                found="no gap between two glasses",
                allowed="more than 0, such as 15 mm",
                remedy="Measure the air between the glasses, or set glasses = 1.",
            )


def _frame(sizes: Mapping[str, float]) -> Iterator[Complaint]:
    shorter_m = min(sizes.get("width", math.inf), sizes.get("depth", math.inf))
    frame_m = sizes.get("top_frame", 0.0)
    if shorter_m - 2.0 * frame_m <= LEAST_GLASS * shorter_m < math.inf:
        yield Complaint(
            path=("box", "top_frame"),
            found=f"{_both(frame_m)} on every side",
            allowed="a frame that leaves glass between its sides",
            remedy="Give the width of one side of the frame only.",
        )


def _mirror(mirror: MirrorTable) -> Iterator[Complaint]:
    low, high, fixed = mirror.lowest_angle, mirror.highest_angle, mirror.fixed_angle
    if low >= high:
        yield Complaint(
            path=("box", "mirror", "lowest_angle"),
            found=f"lowest {low:g}, highest {high:g} degrees",
            allowed="a lowest angle under the highest",
            remedy="Exchange the two.",
        )
        return
    # A fixed mirror needs no range; one that was written has to hold its angle all the same.
    written = mirror.model_fields_set
    is_under = "lowest_angle" in written and fixed is not None and fixed < low
    is_over = "highest_angle" in written and fixed is not None and fixed > high
    if is_under or is_over:
        yield Complaint(
            path=("box", "mirror", "fixed_angle"),
            found=f"{fixed:g} degrees, outside {low:g} to {high:g}",
            allowed="a fixed angle between lowest_angle and highest_angle",
            remedy="A fixed mirror needs neither: remove those two lines, or this one.",
        )


def _side_mirrors(sides: SideMirrorsTable, *, depth_m: float) -> Iterator[Complaint]:
    if sides.width is not None and sides.width > depth_m:
        yield Complaint(
            path=("box", "side_mirrors", "width"),
            found=f"{_both(sides.width)}, on a box {_both(depth_m)} deep inside",
            allowed="up to the depth of the box",
            remedy="Give the part beside the glass; what stands out beyond it is not counted.",
        )


def _pots(pieces: Pieces) -> Iterator[Complaint]:
    names = pieces.pot_names or ()
    for i, name in enumerate(names):
        if name is not None and name in names[:i]:
            yield Complaint(
                path=("pot", i, "name"),
                found=f'a second "{name}"',
                allowed="a name of its own for each pot",
                remedy="Rename one of them.",
            )
    for i, pot in enumerate(pieces.pots):
        if pot is not None:
            yield from _pot_fits(pieces.sizes, i, pot)


def _pot_fits(box: Mapping[str, float], i: int, pot: PotTable) -> Iterator[Complaint]:
    height_m = box.get("height", math.inf)
    if pot.height >= height_m:
        yield Complaint(
            path=("pot", i, "height"),
            found=f"{_both(pot.height)}, in a box {_both(height_m)} high inside",
            allowed="a pot lower than the box",
            remedy="Measure with the lid on; use a lower pot.",
        )
    sides_m = [box[side] for side in ("width", "depth") if side in box]
    if pot.diameter > min(sides_m, default=math.inf):
        yield Complaint(
            path=("pot", i, "diameter"),
            found=f"{_both(pot.diameter)}, on a floor of {' by '.join(map(_both, sides_m))}",
            allowed="a pot that stands on the floor of the box",
            remedy="Measure across the handles; use a narrower pot.",
        )


def _free(pieces: Pieces) -> Iterator[Complaint]:
    stretches = pieces.cook.free if pieces.cook is not None else []
    ordered = sorted(enumerate(stretches), key=lambda pair: read_stretch(pair[1]))
    before = None
    for i, stretch in ordered:
        starts_min, ends_min = minutes_of(stretch)
        if starts_min >= ends_min:
            yield Complaint(
                path=("cook", "free", i),
                found=f'"{stretch}"',
                allowed="a stretch that ends after it starts, within one day",
                remedy="Split a stretch over midnight in two.",
            )
        if before is not None and starts_min < before:
            yield Complaint(
                path=("cook", "free", i),
                found=f'"{stretch}", which starts before the last one has ended',
                allowed="stretches that do not overlap",
                remedy="Join the two.",
            )
        before = ends_min


def _dishes(pieces: Pieces) -> Iterator[Complaint]:
    keys, pots = pieces.dish_keys, pieces.pot_names
    if len(keys) > MOST_DISHES:
        yield Complaint(
            path=("dish",),
            found=f"{len(keys)} dishes",
            allowed=f"up to {MOST_DISHES}",
            remedy="Take some out.",
        )
    if keys and pots == ():
        yield Complaint(
            path=("dish",),
            found="dishes, but no pot",
            allowed="at least one [[pot]]",
            remedy="Describe your pots; config/suntrack.toml shows how.",
        )
    for i, key in enumerate(keys):
        if key is not None and key in keys[:i]:
            yield Complaint(
                path=("dish", i, "dish"),
                found=f'"{key}" a second time',
                allowed="each dish once a day",
                remedy="Make one larger amount and keep the rest hot.",
            )
    # With a pot whose own name is wrong, a dish may well name the pot that was meant.
    named = [pot for pot in pots or () if pot and pot.isprintable()]
    if pots and len(named) == len(pots):
        yield from _dish_pots(pieces.dish_pots, named)


def _dish_pots(wanted: tuple[str | None, ...], pots: list[str]) -> Iterator[Complaint]:
    for i, pot in enumerate(wanted):
        if pot is None or pot in pots:
            continue
        yield Complaint(
            path=("dish", i, "pot"),
            found=f'"{pot}"',
            allowed=", ".join(pots),
            remedy=did_you_mean(pot, pots, otherwise="Choose one of these."),
        )


def _both(metres: float) -> str:
    """Return a length in either kitchen's unit: which one was written is not known any more."""
    return f"{Units().length_text(metres)} ({Units(length='in').length_text(metres)})"


def _both_degrees(celsius: float) -> str:
    """Return a temperature in either kitchen's degrees."""
    return f"{celsius:.0f} C ({celsius * 1.8 + 32.0:.0f} F)"
