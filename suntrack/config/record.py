"""The config as records: everything the cook has set, and from which files.

Apart from how it is read (`suntrack.config.reader`), so that a command which finds it kept
loads nothing of the reading.
"""

from __future__ import annotations

import hashlib
from dataclasses import dataclass
from datetime import date, datetime, time, timedelta
from pathlib import Path
from typing import TYPE_CHECKING

from suntrack.plan.records import FreeHours, Wish

if TYPE_CHECKING:
    from collections.abc import Iterable, Mapping

    from suntrack.box.build import Box, Pot
    from suntrack.config.feed_settings import FeedSettings
    from suntrack.config.ways import Calls
    from suntrack.food.dish import Dish
    from suntrack.sky.site import Site
    from suntrack.units import Units


@dataclass(frozen=True, slots=True, kw_only=True)
class MealRequest:
    """One dish of the day as the file has it; the date is put in by `Config.wishes_on`."""

    dish: str
    """Its short name in the list."""
    serve: time
    """When it should be on the table."""
    mass_kg: float | None
    """None for the library's amount.  [kg]"""
    pot: str | None
    """Name of a pot; none to let the plan choose."""
    confirmed: bool
    """The cook's word that the dish's gate is kept."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Config:
    """Everything the cook has set."""

    path: Path
    """The main file."""
    site: Site
    """Where the box stands."""
    box: Box
    """The box as built."""
    pots: tuple[Pot, ...]
    """The cook's own."""
    units: Units
    """As the cook reads and writes them."""
    threshold_c: float
    """Box temperature that counts as cooking.  [C]"""
    dishes: tuple[MealRequest, ...]
    """What is wanted on a day."""
    library: Mapping[str, Dish]
    """Every dish there is, the cook's own among them, as it is at the site."""
    free: tuple[tuple[time, time], ...]
    """Stretches of the day when the cook is there; midnight as an end is the next one."""
    calls: Calls
    """How the cook is called."""
    feed: FeedSettings
    """The weather service, if any."""
    fingerprint: str
    """Digest of every byte that was read."""
    files: tuple[Path, ...] = ()
    """What was read, in order: the file, what it includes, the cook's own dishes."""
    folders: tuple[Path, ...] = ()
    """Where the cook's own dishes were looked for."""

    def wishes_on(self, on: date) -> tuple[Wish, ...]:
        """Return the dishes wanted on a date."""
        return tuple(
            Wish(
                dish=wish.dish,
                serve_at=datetime.combine(on, wish.serve, tzinfo=self.site.zone),
                mass_kg=wish.mass_kg,
                pot=wish.pot,
                confirmed=wish.confirmed,
            )
            for wish in self.dishes
        )

    def free_on(self, on: date) -> tuple[FreeHours, ...]:
        """Return when the cook is there on a date; empty means always."""
        zone = self.site.zone
        return tuple(
            FreeHours(
                starts_at=datetime.combine(on, starts, tzinfo=zone),
                ends_at=datetime.combine(
                    on + timedelta(days=1) if ends == time(0, 0) else on, ends, tzinfo=zone
                ),
            )
            for starts, ends in self.free
        )


def fingerprint_of(texts: Iterable[bytes]) -> str:
    """Return the digest of what was read."""
    return hashlib.sha256(b"\0".join(texts)).hexdigest()
