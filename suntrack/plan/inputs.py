"""What a day is planned from: everything the plan may know, in one frozen record."""

from __future__ import annotations

from dataclasses import dataclass, field
from datetime import date, datetime
from typing import TYPE_CHECKING

from suntrack.box.build import Box, Pot
from suntrack.plan.records import FreeHours, RevisionCause, SkyNote, Wish
from suntrack.sky.forecast import Forecast
from suntrack.sky.site import Site
from suntrack.sky.sun import SunTable
from suntrack.sky.weather import Weather

if TYPE_CHECKING:
    from collections.abc import Mapping

    from suntrack.food.dish import Dish


@dataclass(frozen=True, slots=True, kw_only=True)
class ObservedAim:
    """The journal says the box was turned to this aim at this moment."""

    at: datetime
    face_true_deg: float
    mirror_deg: float | None


@dataclass(frozen=True, slots=True, kw_only=True)
class ObservedReading:
    """The journal says the oven thermometer showed this."""

    at: datetime
    box_c: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Observations:
    """What the journal knows of the day so far; empty at dawn."""

    aims: tuple[ObservedAim, ...] = ()
    """In order of time."""
    readings: tuple[ObservedReading, ...] = ()
    """In order of time."""
    skipped: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class PreviousPlan:
    """What the plan that was shown last asks for."""

    aims: tuple[ObservedAim, ...]
    """In order of time."""
    loads: Mapping[str, datetime]
    """When each dish goes in, by its key."""
    made_at: datetime
    cause: RevisionCause = "time"
    """What is new since it was shown."""


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class DayInputs:
    """Everything a plan is made from."""

    date: date
    made_at: datetime
    """The moment of planning: nothing is planned before it, unless the sun is down."""
    site: Site
    box: Box
    pots: tuple[Pot, ...]
    dishes: Mapping[str, Dish]
    """The library, by key."""
    wishes: tuple[Wish, ...]
    free: tuple[FreeHours, ...]
    """When the cook is there; empty means always."""
    weather: Weather
    sun: SunTable
    """At the middle of each step of `weather`."""
    threshold_c: float
    declination_deg: float
    heard: Observations = field(default_factory=Observations)
    earlier: PreviousPlan | None = None
    """What the cook was told last for this day; None for a first plan."""
    sky: SkyNote | None = None
    """Where the weather came from; None for what the weather itself says."""
    forecast: Forecast | None = None
    """The forecast behind the weather, for gusts and rain; None for none."""
