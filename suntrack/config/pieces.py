"""The tables of a config that are right by themselves, whatever is wrong beside them.

A rule between keys is asked of these pieces, so that one mistake does not hide another.
"""

from __future__ import annotations

from contextlib import suppress
from dataclasses import dataclass
from typing import TYPE_CHECKING, Annotated, Any, TypeVar

from pydantic import TypeAdapter, ValidationError

from suntrack.config import model

if TYPE_CHECKING:
    from collections.abc import Collection

    from suntrack.config.text import ConfigText

T = TypeVar("T", bound=model.Table)
R = TypeVar("R")

SIZES = ("width", "depth", "height", "top_frame")
"""The keys of [box] that other keys are held against."""
_LONGITUDE: TypeAdapter[float] = TypeAdapter(
    Annotated[(float, *model.SiteTable.model_fields["longitude"].metadata)]
)
_ZONE: TypeAdapter[str] = TypeAdapter(
    Annotated[(str, *model.SiteTable.model_fields["time_zone"].metadata)]
)
_READ: dict[str, TypeAdapter[float]] = {
    key: TypeAdapter(Annotated[(float, *model.BoxTable.model_fields[key].metadata)])
    for key in SIZES
}


@dataclass(frozen=True, slots=True, kw_only=True)
class Pieces:
    """What can be trusted of each table; None where it cannot."""

    longitude_deg: float | None
    """East positive; None where it is missing or wrong by itself.  [deg]"""
    time_zone: str | None
    """Its name; None where it is missing or wrong by itself."""
    air: model.SiteAir | None
    """An ordinary day of each month; None where it cannot be read."""
    skyline: tuple[model.SkylinePoint | None, ...]
    """What stands between box and sun."""
    sizes: dict[str, float]
    """Of the box, by key: width, depth, height, top_frame.  [m]"""
    glass: dict[str, model.GlassTable | None]
    """By place: top and front."""
    mirror: model.MirrorTable | None
    """The one at the back; none without."""
    side_mirrors: model.SideMirrorsTable | None
    """The ones at left and right; none without."""
    pots: tuple[model.PotTable | None, ...]
    """Each, or None where it cannot be read."""
    cook: model.CookTable | None
    """When somebody is there, and what counts as hot."""
    pot_names: tuple[str | None, ...] | None
    """As written, in order; None when the file that has the pots could not be read."""
    dish_keys: tuple[str | None, ...]
    """What each dish is called; None where there is no text."""
    dish_pots: tuple[str | None, ...]
    """Its pot; None where none is named."""
    way_names: tuple[str | None, ...] = ()
    """What each way is called."""
    quiet: model.QuietTable | None = None
    """Hours of peace."""
    feed: model.FeedTable | None = None
    """The weather service, if any."""


def read_file(
    data: dict[str, Any], *, dishes: Collection[str]
) -> tuple[model.File | None, list[dict[str, Any]]]:
    """Return the checked file, or None and what the checking library complains about.

    `dishes` are the keys that a dish may have.
    """
    try:
        return model.File.model_validate(data, context={"dishes": dishes}), []
    except ValidationError as error:
        complaints = error.errors(include_url=False)
        return None, [{**complaint} for complaint in complaints]


def take_pieces(text: ConfigText) -> Pieces:
    """Return the pieces of a file."""
    data = text.data
    return Pieces(
        longitude_deg=_read(_LONGITUDE, _at(data, "site", "longitude")),
        time_zone=_read(_ZONE, _at(data, "site", "time_zone")),
        air=_piece(model.SiteAir, _at(data, "site", "air")),
        skyline=_pieces(model.SkylinePoint, _at(data, "site", "skyline")),
        sizes=_sizes(_at(data, "box")),
        glass={
            place: _piece(model.GlassTable, _at(data, "box", place)) for place in ("top", "front")
        },
        mirror=_piece(model.MirrorTable, _at(data, "box", "mirror")),
        side_mirrors=_piece(model.SideMirrorsTable, _at(data, "box", "side_mirrors")),
        pots=_pieces(model.PotTable, data.get("pot")),
        cook=_piece(model.CookTable, data.get("cook", {})),
        pot_names=None if "pot" in text.unread else _texts(data.get("pot"), "name"),
        dish_keys=_texts(data.get("dish"), "dish"),
        dish_pots=_texts(data.get("dish"), "pot"),
        way_names=_texts(data.get("way"), "name"),
        quiet=_piece(model.QuietTable, data.get("quiet", {})),
        feed=_piece(model.FeedTable, data.get("feed", {})),
    )


def _at(data: Any, *path: str) -> Any:
    """Return what stands at a path; None when there is nothing."""
    for part in path:
        data = data.get(part) if isinstance(data, dict) else None
    return data


def _sizes(box: Any) -> dict[str, float]:
    """Return the sizes of a box that are right by themselves, whatever the rest is."""
    sizes: dict[str, float] = {}
    for key in SIZES:
        value = _at(box, key)
        if value is not None:
            with suppress(ValidationError):
                sizes[key] = _READ[key].validate_python(value)
    return sizes


def _read(adapter: TypeAdapter[R], value: Any) -> R | None:
    """Return a value as the model reads it; None where it is missing or wrong by itself."""
    with suppress(ValidationError):
        return adapter.validate_python(value)
    return None


def _piece(table: type[T], data: Any) -> T | None:
    try:
        return table.model_validate(data)
    except ValidationError:
        return None


def _pieces(table: type[T], data: Any) -> tuple[T | None, ...]:
    return tuple(_piece(table, part) for part in _listed(data))


def _texts(data: Any, key: str) -> tuple[str | None, ...]:
    """Return the text under a key of each table in a list; None where there is no text."""
    found = (_at(part, key) for part in _listed(data))
    return tuple(value if isinstance(value, str) else None for value in found)


def _listed(data: Any) -> list[Any]:
    return data if isinstance(data, list) else []
