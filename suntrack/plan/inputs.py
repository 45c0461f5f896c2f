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
    """When it was so."""
    face_true_deg: float
    """Where the front points, from true north.  [deg]"""
    mirror_deg: float | None
    """Angle from the glass; None without a mirror.  [deg]"""


@dataclass(frozen=True, slots=True, kw_only=True)
class ObservedReading:
    """The journal says the oven thermometer showed this."""

    at: datetime
    """When it was read."""
    box_c: float
    """What it showed.  [C]"""


@dataclass(frozen=True, slots=True, kw_only=True)
class Observations:
    """What the journal knows of the day so far; empty at dawn."""

    aims: tuple[ObservedAim, ...] = ()
    """In order of time."""
    readings: tuple[ObservedReading, ...] = ()
    """In order of time."""
    skipped: bool = False
    """True when the cook does not cook that day."""


@dataclass(frozen=True, slots=True, kw_only=True)
class PreviousPlan:
    """What the plan that was shown last asks for."""

    aims: tuple[ObservedAim, ...]
    """In order of time."""
    loads: Mapping[str, datetime]
    """When each dish goes in, by its key."""
    made_at: datetime
    """When it was made."""
    cause: RevisionCause = "time"
    """What is new since it was shown."""


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class DayInputs:
    """Everything a plan is made from."""

    date: date
    """The day, at the site."""
    made_at: datetime
    """The moment of planning: nothing is planned before it, unless the sun is down."""
    site: Site
    """Where the box stands."""
    box: Box
    """The box, with what was learned of it."""
    pots: tuple[Pot, ...]
    """The cook's own."""
    dishes: Mapping[str, Dish]
    """The library, by key."""
    wishes: tuple[Wish, ...]
    """What is wanted, with what is known of each so far."""
    free: tuple[FreeHours, ...]
    """When the cook is there; empty means always."""
    weather: Weather
    """The sky planned for, first, and what else it may be."""
    sun: SunTable
    """At the middle of each step of `weather`."""
    threshold_c: float
    """From what temperature the box cooks.  [C]"""
    declination_deg: float
    """How far a compass points east of true north.  [deg]"""
    heard: Observations = field(default_factory=Observations)
    """What the journal knows of the day so far."""
    earlier: PreviousPlan | None = None
    """What the cook was told last for this day; None for a first plan."""
    sky: SkyNote | None = None
    """Where the weather came from; None for what the weather itself says."""
    forecast: Forecast | None = None
    """The forecast behind the weather, for gusts and rain; None for none."""
