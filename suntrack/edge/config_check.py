"""Checks between keys: sizes that cannot be built, names that do not exist, hours that clash."""

from __future__ import annotations

import difflib
from dataclasses import dataclass
from typing import TYPE_CHECKING

from suntrack.box.materials import materials
from suntrack.edge.config_times import read_stretch
from suntrack.errors import Problem
from suntrack.food.dishes import builtin_dishes

if TYPE_CHECKING:
    from collections.abc import Collection, Iterator

    from suntrack.edge.config_model import File, MirrorTable, PotTable
    from suntrack.edge.config_text import ConfigText

MOST_DISHES = 8


@dataclass(frozen=True, slots=True, kw_only=True)
class _Complaint:
    """A problem before its place is known."""

    path: tuple[str | int, ...]
    found: str
    allowed: str
    remedy: str


def check_config(parsed: File, text: ConfigText) -> list[Problem]:
    """Return every mistake that only shows when keys are seen together."""
    checks = (_site(parsed), _box(parsed), _pots(parsed), _cook(parsed), _dishes(parsed))
    return [
        Problem(
            where=text.where(complaint.path),
            found=complaint.found,
            allowed=complaint.allowed,
            remedy=complaint.remedy,
        )
        for check in checks
        for complaint in check
    ]


def _near(name: str, known: Collection[str]) -> str:
    """Return the hint for a name that does not exist."""
    near = difflib.get_close_matches(name, known, n=1, cutoff=0.5)
    return f"Did you mean {near[0]}?" if near else "Choose one of these."


def _site(parsed: File) -> Iterator[_Complaint]:
    azimuths = [point.azimuth for point in parsed.site.skyline]
    if azimuths != sorted(set(azimuths)):
        yield _Complaint(
            path=("site", "skyline"),
            found=f"azimuths {', '.join(f'{azimuth:g}' for azimuth in azimuths)}",
            allowed="points in rising order of azimuth, each azimuth once",
            remedy="Sort them; walk once around from north by east.",
        )
    air = parsed.site.air
    for month, (low, high) in enumerate(zip(air.low, air.high, strict=True), start=1):
        if low > high:
            yield _Complaint(
                path=("site", "air", "high"),
                found=f"a high of {high:.0f} C under a low of {low:.0f} C in month {month}",
                allowed="highs at or above the lows",
                remedy="Exchange the two.",
            )
            break


def _box(parsed: File) -> Iterator[_Complaint]:
    box = parsed.box
    for name in ("top", "front"):
        glass = getattr(box, name)
        if glass is not None and glass.glasses == 2 and glass.gap <= 0.0:
            yield _Complaint(
                path=("box", name, "gap"),
                found="no gap between two glasses",
                allowed="more than 0, such as 15 mm",
                remedy="Measure the air between the glasses, or set glasses = 1.",
            )
    if 2.0 * box.top_frame >= 0.9 * min(box.width, box.depth):
        yield _Complaint(
            path=("box", "top_frame"),
            found=f"{box.top_frame * 100:.0f} cm on every side",
            allowed="a frame that leaves glass between its sides",
            remedy="Give the width of one side of the frame only.",
        )
    if box.mirror is not None:
        yield from _mirror(box.mirror)
    known = materials()
    layers: list[tuple[tuple[str | int, ...], str]]
    layers = [(("box", "lining", "material"), box.lining.material)]
    layers += [(("box", "wall", i, "material"), layer.material) for i, layer in enumerate(box.wall)]
    for path, material in layers:
        if material not in known:
            yield _unknown_material(path, material)


def _mirror(mirror: MirrorTable) -> Iterator[_Complaint]:
    low, high = mirror.lowest_angle, mirror.highest_angle
    if low >= high:
        yield _Complaint(
            path=("box", "mirror", "lowest_angle"),
            found=f"lowest {low:g}, highest {high:g} degrees",
            allowed="a lowest angle under the highest",
            remedy="Exchange the two.",
        )


def _unknown_material(path: tuple[str | int, ...], material: str) -> _Complaint:
    known = sorted(materials())
    return _Complaint(
        path=path, found=repr(material), allowed=", ".join(known), remedy=_near(material, known)
    )


def _pots(parsed: File) -> Iterator[_Complaint]:
    names = [pot.name for pot in parsed.pot]
    for i, pot in enumerate(parsed.pot):
        if pot.name in names[:i]:
            yield _Complaint(
                path=("pot", i, "name"),
                found=f"a second {pot.name!r}",
                allowed="a name of its own for each pot",
                remedy="Rename one of them.",
            )
        if pot.material not in materials():
            yield _unknown_material(("pot", i, "material"), pot.material)
        yield from _pot_fits(parsed, i, pot)


def _pot_fits(parsed: File, i: int, pot: PotTable) -> Iterator[_Complaint]:
    box = parsed.box
    if pot.height >= box.height:
        yield _Complaint(
            path=("pot", i, "height"),
            found=f"{pot.height * 100:.0f} cm, in a box {box.height * 100:.0f} cm high inside",
            allowed="a pot lower than the box",
            remedy="Measure with the lid on; use a lower pot.",
        )
    if pot.diameter > min(box.width, box.depth):
        yield _Complaint(
            path=("pot", i, "diameter"),
            found=f"{pot.diameter * 100:.0f} cm, on a floor {box.width * 100:.0f} by "
            f"{box.depth * 100:.0f} cm",
            allowed="a pot that stands on the floor of the box",
            remedy="Measure across the handles; use a narrower pot.",
        )


def _cook(parsed: File) -> Iterator[_Complaint]:
    stretches = sorted(read_stretch(text) for text in parsed.cook.free)
    before = None
    for starts, ends in stretches:
        until = (ends.hour * 60 + ends.minute) or 24 * 60
        if starts.hour * 60 + starts.minute >= until:
            yield _Complaint(
                path=("cook", "free"),
                found=f"a stretch from {starts:%H:%M} to {ends:%H:%M}",
                allowed="stretches that end after they start, within one day",
                remedy="Split a stretch over midnight in two.",
            )
        if before is not None and starts.hour * 60 + starts.minute < before:
            yield _Complaint(
                path=("cook", "free"),
                found=f"a stretch that starts at {starts:%H:%M}, before the last one ended",
                allowed="stretches that do not overlap",
                remedy="Join the two.",
            )
        before = until


def _dishes(parsed: File) -> Iterator[_Complaint]:
    known, pots = builtin_dishes(), [pot.name for pot in parsed.pot]
    if len(parsed.dish) > MOST_DISHES:
        yield _Complaint(
            path=("dish",),
            found=f"{len(parsed.dish)} dishes",
            allowed=f"up to {MOST_DISHES}",
            remedy="Take some out.",
        )
    if parsed.dish and not parsed.pot:
        yield _Complaint(
            path=("dish",),
            found="dishes, but no pot",
            allowed="at least one [[pot]]",
            remedy="Describe your pots; config/suntrack.toml shows how.",
        )
    names = [dish.dish for dish in parsed.dish]
    for i, dish in enumerate(parsed.dish):
        if dish.dish in names[:i]:
            yield _Complaint(
                path=("dish", i, "dish"),
                found=f"{dish.dish!r} a second time",
                allowed="each dish once a day",
                remedy="Make one larger amount and keep the rest hot.",
            )
        if dish.dish not in known:
            yield _Complaint(
                path=("dish", i, "dish"),
                found=repr(dish.dish),
                allowed="a dish of the library: suntrack dishes lists them",
                remedy=_near(dish.dish, list(known)),
            )
        if dish.pot is not None and dish.pot not in pots:
            yield _Complaint(
                path=("dish", i, "pot"),
                found=repr(dish.pot),
                allowed=", ".join(pots) or "a pot that is described",
                remedy=_near(dish.pot, pots),
            )
