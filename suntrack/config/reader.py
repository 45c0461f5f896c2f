"""The config: from the cook's file to the project's records, all mistakes at once.

    read the text -> check every key -> build the records -> check them against each other

A mistake at one stop is collected; the next stop runs as far as it can, so that the cook
sees everything in one report.
"""

from __future__ import annotations

from contextlib import suppress
from dataclasses import replace
from pathlib import Path
from typing import TYPE_CHECKING
from zoneinfo import ZoneInfo

from suntrack.box.build import Box, Glazing, Layer, Mirror, Pot, SideMirrors
from suntrack.config.feed import build_feed
from suntrack.config.notify import build_calls
from suntrack.config.own_dishes import library_with, no_such_folder, read_own_files
from suntrack.config.problems import model_complaints
from suntrack.config.record import Config, MealRequest, fingerprint_of
from suntrack.config.rules import check_pieces
from suntrack.config.text import Complaint, ConfigText, read_config_text
from suntrack.config.times import read_stretch, read_time
from suntrack.errors import InputError
from suntrack.food.dishes import builtin_dishes
from suntrack.food.properties import boiling_c
from suntrack.sky.site import Site, TypicalAir
from suntrack.sky.skyline import Skyline
from suntrack.units import Units

if TYPE_CHECKING:
    from collections.abc import Mapping

    from suntrack.config import model
    from suntrack.food.dish import Dish

__all__ = ["Config", "box_of", "load_config"]

EXTINCTION_PER_M = {"extra-white": 4.0, "float": 16.0, "greenish": 32.0}
"""Duffie and Beckman, section 5.2 (from memory): 4 for water-white, 32 for greenish edges;
16 for usual float.  [1/m]"""


LIBRARY_PEOPLE = 4.0
"""For how many the library's amounts are meant (kitchen judgement)."""


def load_config(path: Path, *, dishes_dir: Path | None = None) -> Config:
    """Return the config of a file; raise InputError with every mistake in it.

    `dishes_dir` is the folder in which the cook's own dishes are looked for, beside the one
    that the file names; their mistakes are told together with the file's.
    """
    # The checking library is slow to import, and `--help` does without it.
    from suntrack.config.pieces import read_file, take_pieces

    text = read_config_text(path)
    if not text.data and text.problems:
        raise InputError(*text.problems)
    folder, complaints = _named_folder(text)
    folders = tuple(each for each in (dishes_dir, folder) if each is not None)
    own = read_own_files(folders)
    parsed, errors = read_file(text.data, dishes={*builtin_dishes(), *own.keys})
    complaints += [*model_complaints(errors, text), *check_pieces(take_pieces(text))]
    height_m = 0.0 if parsed is None else parsed.site.elevation
    library, mistakes = library_with(own, boiling_c=boiling_c(elevation_m=height_m))
    problems = [*text.problems, *text.report(complaints), *mistakes]
    if problems or parsed is None:
        raise InputError(*problems)
    text.texts |= own.texts
    return _build(parsed, text, library=library, folders=folders)


def _named_folder(text: ConfigText) -> tuple[Path | None, list[Complaint]]:
    """Return the folder of dishes that the file names; None and a complaint for none."""
    include = text.data.get("include")
    value = include.get("dishes") if isinstance(include, dict) else None
    if not isinstance(value, str):
        return None, []
    folder = text.main.parent / Path(value).expanduser()
    # A path with a NUL in it is a ValueError, and no folder.
    with suppress(OSError, ValueError, RuntimeError):
        if folder.is_dir():
            return folder, []
    return None, [no_such_folder(value)]


def _build(
    parsed: model.File, text: ConfigText, *, library: Mapping[str, Dish], folders: tuple[Path, ...]
) -> Config:
    """Return the records of a file that has been checked."""
    return Config(
        path=text.main,
        site=_site(parsed.site),
        box=box_of(parsed.box),
        pots=tuple(_pot(pot) for pot in parsed.pot),
        units=Units(**parsed.show.model_dump()),
        threshold_c=parsed.cook.threshold,
        dishes=tuple(_wish(dish, parsed.cook, library=library) for dish in parsed.dish),
        library=library,
        free=tuple(sorted(read_stretch(stretch) for stretch in parsed.cook.free)),
        calls=build_calls(parsed, folder=text.main.parent, zone=ZoneInfo(parsed.site.time_zone)),
        feed=build_feed(parsed.feed),
        fingerprint=fingerprint_of(text.texts.values()),
        files=tuple(text.texts),
        folders=folders,
    )


def _site(table: model.SiteTable) -> Site:
    return Site(
        name=table.name,
        latitude_deg=table.latitude,
        longitude_deg=table.longitude,
        elevation_m=table.elevation,
        time_zone=table.time_zone,
        typical_air=tuple(
            TypicalAir(low_c=low, high_c=high, wind_m_s=table.air.wind)
            for low, high in zip(table.air.low, table.air.high, strict=True)
        ),
        skyline=Skyline(
            azimuth_deg=tuple(point.azimuth for point in table.skyline),
            height_deg=tuple(point.height for point in table.skyline),
        ),
        albedo=table.albedo,
    )


def box_of(table: model.BoxTable) -> Box:
    """Return the box of a table that has been checked."""
    box = _bare_box(table)
    return box if table.side_mirrors is None else _with_sides(box, table.side_mirrors)


def _bare_box(table: model.BoxTable) -> Box:
    """Return the box without its side mirrors."""
    return Box(
        name=table.name,
        width_m=table.width,
        depth_m=table.depth,
        height_m=table.height,
        top=_glazing(table.top),
        front=_glazing(table.front) if table.front else None,
        mirror=_mirror(table.mirror) if table.mirror else None,
        walls=tuple(_layer(layer) for layer in table.wall),
        lining=_layer(table.lining),
        lining_absorptance=table.lining_absorptance,
        lining_emittance=table.lining_emittance,
        tilt_deg=table.tilt,
        leak_w_k=table.leak,
        top_frame_m=table.top_frame,
    )


def _glazing(table: model.GlassTable) -> Glazing:
    return Glazing(
        glasses=table.glasses,
        thickness_m=table.thickness,
        gap_m=table.gap,
        extinction_per_m=EXTINCTION_PER_M[table.glass],
        tempered=table.tempered,
    )


def _mirror(table: model.MirrorTable) -> Mirror:
    return Mirror(
        length_m=table.length,
        width_m=table.width,
        hinge_gap_m=table.hinge_gap,
        reflectance=table.reflectance,
        fixed_angle_deg=table.fixed_angle,
        once_a_day=table.set == "once a day",
        lowest_angle_deg=table.lowest_angle,
        highest_angle_deg=table.highest_angle,
    )


def _with_sides(box: Box, table: model.SideMirrorsTable) -> Box:
    """Return a box with side mirrors; left to us, they stand best for suns straight ahead."""
    from suntrack.box.light.mirrors import best_side_deg

    sides = SideMirrors(
        length_m=table.length,
        width_m=box.depth_m if table.width is None else table.width,
        angle_deg=90.0 if table.angle is None else table.angle,
        hinge_gap_m=table.hinge_gap,
        reflectance=table.reflectance,
        fixed=table.fixed,
    )
    if table.angle is None:
        sides = replace(sides, angle_deg=best_side_deg(box, sides))
    return replace(box, side_mirrors=sides)


def _layer(table: model.LayerTable) -> Layer:
    return Layer(material=table.material, thickness_m=table.thickness)


def _pot(table: model.PotTable) -> Pot:
    return Pot(
        name=table.name,
        capacity_l=table.capacity,
        mass_kg=table.mass,
        material=table.material,
        diameter_m=table.diameter,
        height_m=table.height,
        dark=table.dark,
        lid=table.lid,
    )


def _wish(
    table: model.DishTable, cook: model.CookTable, *, library: Mapping[str, Dish]
) -> MealRequest:
    people = cook.people if table.people is None else table.people
    # The library's amounts are for four; what is said in so many kilograms counts first.
    mass_kg = table.amount
    if mass_kg is None and people != LIBRARY_PEOPLE:
        mass_kg = library[table.dish].mass_kg * people / LIBRARY_PEOPLE
    return MealRequest(
        dish=table.dish,
        serve=read_time(table.serve),
        mass_kg=mass_kg,
        pot=table.pot,
        confirmed=table.confirmed,
    )
