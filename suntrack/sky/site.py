"""The place: where the box stands, and what hides the sun from it."""

from __future__ import annotations

from dataclasses import dataclass, field
from zoneinfo import ZoneInfo

from suntrack.sky.skyline import Skyline


@dataclass(frozen=True, slots=True, kw_only=True)
class TypicalAir:
    """The weather of an ordinary day at the site, used when no forecast is at hand."""

    low_c: float
    """Coolest air of the day, near sunrise.  [C]"""
    high_c: float
    """Warmest air of the day, about two hours after solar noon.  [C]"""
    wind_m_s: float = 2.0
    """Wind at the height of the box.  [m/s]"""


@dataclass(frozen=True, slots=True, kw_only=True)
class Site:
    """Where the box stands."""

    name: str
    """As the cook named it."""
    latitude_deg: float
    """North is positive.  [deg]"""
    longitude_deg: float
    """East is positive.  [deg]"""
    elevation_m: float
    """Above sea level.  [m]"""
    time_zone: str
    """IANA name, such as Africa/Gaborone."""
    typical_air: tuple[TypicalAir, ...]
    """Twelve entries, January first."""
    skyline: Skyline = field(default_factory=Skyline)
    """What stands between box and sun."""
    albedo: float = 0.2
    """Share of sunlight the ground around the box sends back up.  [-]"""

    @property
    def zone(self) -> ZoneInfo:
        """The site's time zone."""
        return ZoneInfo(self.time_zone)
