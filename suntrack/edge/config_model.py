"""The config file as it may be written: every key, its unit, its range, its default.

This module is the only one that knows the checking library.  A key's `description` is
what the cook is told is allowed; the example file documents the same keys in words.
"""

from __future__ import annotations

from collections.abc import Callable
from typing import Annotated, Any, Literal
from zoneinfo import available_timezones

from pydantic import BaseModel, BeforeValidator, ConfigDict, Field

from suntrack import units


def quantity(
    parse: Callable[[str], float], low: float, high: float, allowed: str
) -> BeforeValidator:
    """Return a check that reads a text with a unit and holds it to a range.

    `allowed` says the range in the cook's words and is what every mistake is answered with.
    """

    def read(value: Any) -> float:
        if not isinstance(value, str):
            raise ValueError(f"{allowed}, in quotation marks and with its unit")
        try:
            number = parse(value)
        except ValueError as error:
            raise ValueError(f"{allowed} ({error})") from None
        if not low - 1e-9 <= number <= high + 1e-9:
            raise ValueError(allowed)
        return number

    return BeforeValidator(read)


def length(low_m: float, high_m: float, allowed: str) -> BeforeValidator:
    """Return the check of a length."""
    return quantity(units.parse_length_m, low_m, high_m, allowed)


INSIDE = length(0.1, 3.0, '10 cm to 3 m, such as "55 cm" or "22 in"')
SHEET = length(0.0001, 0.3, '0.1 mm to 30 cm, such as "12 mm" or "1/2 in"')
SMALL = length(0.0, 0.2, '0 to 20 cm, such as "1 cm" or "1/2 in"')
AIR = quantity(units.parse_temperature_c, -60.0, 60.0, '-60 to 60 C, such as "12 C" or "54 F"')
CLOCK_TIME = r"^([01]?\d|2[0-3]):[0-5]\d$"
STRETCH = r"^([01]?\d|2[0-3]):[0-5]\d\s*-\s*(([01]?\d|2[0-3]):[0-5]\d|24:00)$"

Share = Annotated[float, Field(ge=0.0, le=1.0, strict=False)]


class Table(BaseModel):
    """A table of the file: unknown keys are mistakes."""

    model_config = ConfigDict(extra="forbid", frozen=True, strict=True)


def _one_or_twelve(value: Any) -> Any:
    """Return twelve values, whether one was written or twelve."""
    if isinstance(value, list) and len(value) != 12:
        raise ValueError("one value, or a list of twelve, January first")
    return value if isinstance(value, list) else [value] * 12


class SiteAir(Table):
    """[site.air]: an ordinary day at the site, used when no forecast is at hand."""

    low: Annotated[list[Annotated[float, AIR]], BeforeValidator(_one_or_twelve)]
    high: Annotated[list[Annotated[float, AIR]], BeforeValidator(_one_or_twelve)]
    wind: Annotated[
        float,
        quantity(units.parse_speed_m_s, 0.0, 30.0, '0 to 30 m/s, such as "2 m/s" or "5 mph"'),
    ] = 2.0


class SkylinePoint(Table):
    """One point of [[site.skyline]]."""

    azimuth: Annotated[
        float, quantity(units.parse_angle_deg, 0.0, 360.0, '0 to 360 degrees, such as "85 deg"')
    ]
    height: Annotated[
        float, quantity(units.parse_angle_deg, 0.0, 90.0, '0 to 90 degrees, such as "12 deg"')
    ]


def _time_zone(value: Any) -> Any:
    """Return a time zone the system knows."""
    if value not in available_timezones():
        raise ValueError("an IANA time zone, such as Africa/Gaborone")
    return value


class SiteTable(Table):
    """[site]."""

    name: str = Field(min_length=1, max_length=60)
    latitude: Annotated[float, Field(ge=-90.0, le=90.0, strict=False)]
    longitude: Annotated[float, Field(ge=-180.0, le=180.0, strict=False)]
    elevation: Annotated[
        float, length(-430.0, 6000.0, '-430 to 6000 m, such as "1010 m" or "3300 ft"')
    ]
    time_zone: Annotated[str, BeforeValidator(_time_zone)]
    albedo: Share = 0.2
    air: SiteAir
    skyline: list[SkylinePoint] = Field(default_factory=list)


class GlassTable(Table):
    """[box.top] and [box.front]."""

    glasses: Literal[1, 2]
    thickness: Annotated[float, length(0.001, 0.012, '1 to 12 mm, such as "4 mm" or "1/8 in"')]
    gap: Annotated[float, length(0.0, 0.1, '0 to 10 cm, such as "15 mm" or "1/2 in"')] = 0.015
    glass: Literal["extra-white", "float", "greenish"] = "float"
    tempered: bool = False


class MirrorTable(Table):
    """[box.mirror]."""

    length: Annotated[float, INSIDE]
    width: Annotated[float, INSIDE]
    hinge_gap: Annotated[float, SMALL] = 0.0
    reflectance: Annotated[float, Field(ge=0.3, le=0.98, strict=False)] = 0.85
    fixed_angle: (
        Annotated[
            float, quantity(units.parse_angle_deg, 30.0, 170.0, '30 to 170 degrees, as "100 deg"')
        ]
        | None
    ) = None
    lowest_angle: Annotated[
        float, quantity(units.parse_angle_deg, 30.0, 170.0, '30 to 170 degrees, as "60 deg"')
    ] = 60.0
    highest_angle: Annotated[
        float, quantity(units.parse_angle_deg, 30.0, 170.0, '30 to 170 degrees, as "130 deg"')
    ] = 130.0


class LayerTable(Table):
    """[[box.wall]] and [box.lining]."""

    material: str
    thickness: Annotated[float, SHEET]


class BoxTable(Table):
    """[box]."""

    name: str = "my box"
    width: Annotated[float, INSIDE]
    depth: Annotated[float, INSIDE]
    height: Annotated[float, INSIDE]
    tilt: Annotated[
        float, quantity(units.parse_angle_deg, 0.0, 45.0, '0 to 45 degrees, such as "10 deg"')
    ] = 0.0
    top_frame: Annotated[float, SMALL] = 0.0
    leak: Annotated[
        float, quantity(units.parse_conductance_w_k, 0.0, 5.0, '0 to 5 W/K, such as "0.15 W/K"')
    ] = 0.15
    lining_absorptance: Share = 0.92
    lining_emittance: Annotated[float, Field(ge=0.05, le=1.0, strict=False)] = 0.9
    top: GlassTable
    front: GlassTable | None = None
    mirror: MirrorTable | None = None
    wall: list[LayerTable] = Field(min_length=1, max_length=8)
    lining: LayerTable


class PotTable(Table):
    """[[pot]]."""

    name: str = Field(min_length=1, max_length=40)
    capacity: Annotated[
        float, quantity(units.parse_volume_l, 0.2, 30.0, '0.2 to 30 L, such as "4 L" or "4 qt"')
    ]
    mass: Annotated[
        float, quantity(units.parse_mass_kg, 0.05, 20.0, '50 g to 20 kg, such as "1.4 kg"')
    ]
    material: str
    diameter: Annotated[float, length(0.05, 0.8, '5 to 80 cm, such as "24 cm" or "9 1/2 in"')]
    height: Annotated[float, length(0.02, 0.6, '2 to 60 cm, such as "12 cm" or "5 in"')]
    dark: bool = True
    lid: Literal["tight", "loose", "none"] = "tight"


class CookTable(Table):
    """[cook]."""

    threshold: Annotated[
        float,
        quantity(units.parse_temperature_c, 60.0, 180.0, '60 to 180 C, such as "100 C" or "212 F"'),
    ] = 100.0
    free: list[Annotated[str, Field(pattern=STRETCH)]] = Field(default_factory=list)


class DishTable(Table):
    """[[dish]]."""

    dish: str
    serve: Annotated[str, Field(pattern=CLOCK_TIME)]
    amount: (
        Annotated[float, quantity(units.parse_mass_kg, 0.05, 20.0, '50 g to 20 kg, such as "2 kg"')]
        | None
    ) = None
    pot: str | None = None
    confirmed: bool = False


class ShowTable(Table):
    """[show]."""

    temperature: Literal["C", "F"] = "C"
    length: Literal["cm", "in"] = "cm"
    mass: Literal["kg", "lb"] = "kg"
    clock: Literal["12", "24"] = "24"


class NotifyTable(Table):
    """[notify]."""

    terminal: bool = True
    desktop: bool = True


class IncludeTable(Table):
    """[include]: whole tables from other files, relative to this one."""

    site: str | None = None
    box: str | None = None
    day: str | None = None


class File(Table):
    """The whole file, includes already put in."""

    include: IncludeTable = IncludeTable()
    site: SiteTable
    box: BoxTable
    pot: list[PotTable] = Field(default_factory=list)
    cook: CookTable = CookTable()
    dish: list[DishTable] = Field(default_factory=list)
    show: ShowTable = ShowTable()
    notify: NotifyTable = NotifyTable()
