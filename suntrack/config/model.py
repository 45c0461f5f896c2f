"""The config file as it may be written: every key, its unit, its range, its default.

How a key is checked stands in `config_fields`; rules between keys in `config_check`; the
example file documents the same keys in words.
"""

from __future__ import annotations

from typing import Annotated, Any, Literal

from pydantic import BaseModel, BeforeValidator, ConfigDict, Field, ValidationInfo

from suntrack import units
from suntrack.box.materials import materials, pot_materials
from suntrack.config import fields as check
from suntrack.config.times import CLOCK_TIME, FREE, STRETCH
from suntrack.food.dishes import builtin_dishes

INSIDE = check.length(0.1, 3.0, '10 cm to 3 m, such as "55 cm" or "22 in"')
SHEET = check.length(0.0001, 0.3, '0.1 mm to 30 cm, such as "12 mm" or "1/2 in"')
SMALL = check.length(0.0, 0.2, '0 to 20 cm, such as "1 cm" or "1/2 in"')
AIR = check.quantity(
    units.parse_temperature_c, -60.0, 60.0, '-60 to 60 C, such as "12 C" or "54 F"'
)
PEOPLE = check.number(0.5, 40.0, "how many eat, such as 4")

Material = Annotated[str, check.known_name(materials)]
PotMaterial = Annotated[str, check.known_name(pot_materials)]


def _dish_key(value: Any, info: ValidationInfo) -> str:
    """Return the key of a dish, of the library or, when the context has them, the cook's own."""
    known = (info.context or {}).get("dishes") or builtin_dishes()
    return check.held_to(value, known, "a dish of the library: suntrack dishes lists them")


DishKey = Annotated[str, BeforeValidator(_dish_key)]


class Table(BaseModel):
    """A table of the file: unknown keys are mistakes."""

    model_config = ConfigDict(extra="forbid", frozen=True, strict=True)


class SiteAir(Table):
    """[site.air]: an ordinary day at the site, used when no forecast is at hand."""

    low: Annotated[list[Annotated[float, AIR]], check.one_or_twelve]
    """Its lower end."""
    high: Annotated[list[Annotated[float, AIR]], check.one_or_twelve]
    """Its upper end."""
    wind: Annotated[
        float,
        check.quantity(units.parse_speed_m_s, 0.0, 30.0, '0 to 30 m/s, such as "2 m/s" or "5 mph"'),
    ] = 2.0
    """At the height of the box."""


class SkylinePoint(Table):
    """One point of [[site.skyline]]."""

    azimuth: Annotated[float, check.angle(0.0, 360.0, "85 deg")]
    """Clockwise from true north."""
    height: Annotated[float, check.angle(0.0, 90.0, "12 deg")]
    """How tall or high it is."""


class SiteTable(Table):
    """[site]."""

    name: Annotated[str, check.name(60)]
    """What the cook calls it."""
    latitude: Annotated[float, check.number(-90.0, 90.0, "degrees, south negative, such as -24.65")]
    """North positive."""
    longitude: Annotated[
        float, check.number(-180.0, 180.0, "degrees, west negative, such as 25.91")
    ]
    """East positive."""
    elevation: Annotated[
        float, check.length(-430.0, 6000.0, '-430 to 6000 m, such as "1010 m" or "3300 ft"')
    ]
    """Above sea level."""
    time_zone: Annotated[str, BeforeValidator(check.time_zone)]
    """IANA name."""
    albedo: Annotated[float, check.number(0.0, 1.0, "the share of light the ground sends back")] = (
        0.2
    )
    """Share of light the ground sends back."""
    air: SiteAir
    """An ordinary day of each month."""
    skyline: list[SkylinePoint] = Field(default_factory=list)
    """What stands between box and sun."""


class GlassTable(Table):
    """[box.top] and [box.front]."""

    glasses: Annotated[Literal[1, 2], BeforeValidator(check.whole_number)]
    """1 or 2."""
    thickness: Annotated[
        float, check.length(0.001, 0.012, '1 to 12 mm, such as "4 mm" or "1/8 in"')
    ]
    """Across the layer or pane."""
    gap: Annotated[float, check.length(0.0, 0.1, '0 to 10 cm, such as "15 mm" or "1/2 in"')] = 0.015
    """Air between two glasses."""
    glass: Literal["extra-white", "float", "greenish"] = "float"
    """Which glass it is."""
    tempered: bool = False
    """Whether it is safety glass."""


class MirrorTable(Table):
    """[box.mirror]."""

    length: Annotated[float, INSIDE]
    """Hinge to tip, or how lengths are told."""
    width: Annotated[float, INSIDE]
    """Left to right."""
    hinge_gap: Annotated[float, SMALL] = 0.0
    """From the edge of the top to the mirror."""
    reflectance: Annotated[float, check.number(0.3, 0.98, "household glass mirror 0.85")] = 0.85
    """Share of light thrown back.  [-]"""
    fixed_angle: Annotated[float, check.angle(30.0, 170.0, "100 deg")] | None = None
    """Where it stays put; none for one that is set."""
    lowest_angle: Annotated[float, check.angle(30.0, 170.0, "60 deg")] = 60.0
    """How far it folds over the glass."""
    highest_angle: Annotated[float, check.angle(30.0, 170.0, "130 deg")] = 130.0
    """How far it leans back."""
    set: Literal["each turn", "once a day"] = "each turn"
    """How often it is set."""


class SideMirrorsTable(Table):
    """[box.side_mirrors]: at the left and right edges of the top, alike."""

    length: Annotated[float, INSIDE]
    """Hinge to tip, or how lengths are told."""
    width: Annotated[float, INSIDE] | None = None
    """Left to right."""
    hinge_gap: Annotated[float, SMALL] = 0.0
    """From the edge of the top to the mirror."""
    reflectance: Annotated[float, check.number(0.3, 0.98, "household glass mirror 0.85")] = 0.85
    """Share of light thrown back.  [-]"""
    angle: Annotated[float, check.angle(90.0, 150.0, "120 deg")] | None = None
    """From the glass, through the sky."""
    fixed: bool = False
    """Whether they stay as they are."""


class LayerTable(Table):
    """[[box.wall]] and [box.lining]."""

    material: Material
    """Its key in the library."""
    thickness: Annotated[float, SHEET]
    """Across the layer or pane."""


class BoxTable(Table):
    """[box]."""

    name: Annotated[str, check.name(60)] = "my box"
    """What the cook calls it."""
    width: Annotated[float, INSIDE]
    """Left to right."""
    depth: Annotated[float, INSIDE]
    """Front to back."""
    height: Annotated[float, INSIDE]
    """How tall or high it is."""
    top_frame: Annotated[float, SMALL] = 0.0
    """Frame that hides glass, along each edge."""
    tilt: Annotated[float, check.angle(0.0, 45.0, "10 deg")] = 0.0
    """How far the back is raised."""
    leak: Annotated[
        float,
        check.quantity(units.parse_conductance_w_k, 0.0, 5.0, '0 to 5 W/K, such as "0.15 W/K"'),
    ] = 0.15
    """Heat lost through the seals, for a degree."""
    lining_absorptance: Annotated[
        float, check.number(0.0, 1.0, "the share of light the dark inside keeps")
    ] = 0.92
    """Share of light the dark inside keeps.  [-]"""
    lining_emittance: Annotated[float, check.number(0.05, 1.0, "dull black paint 0.9")] = 0.9
    """How well the inside radiates.  [-]"""
    top: GlassTable
    """The glass on top."""
    front: GlassTable | None = None
    """The glass in front; none for a wall."""
    mirror: MirrorTable | None = None
    """The one at the back; none without."""
    side_mirrors: SideMirrorsTable | None = None
    """The ones at left and right; none without."""
    wall: list[LayerTable] = Field(min_length=1, max_length=8)
    """Its layers, inside first."""
    lining: LayerTable
    """The dark sheet inside."""


class PotTable(Table):
    """[[pot]]."""

    name: Annotated[str, check.name(40)]
    """What the cook calls it."""
    capacity: Annotated[
        float,
        check.quantity(units.parse_volume_l, 0.2, 30.0, '0.2 to 30 L, such as "4 L" or "4 qt"'),
    ]
    """To the brim."""
    mass: Annotated[float, check.mass(0.05, 20.0, '50 g to 20 kg, such as "1.4 kg" or "3 lb"')]
    """As written, or how masses are told."""
    material: PotMaterial
    """Its key in the library."""
    diameter: Annotated[float, check.length(0.05, 0.8, '5 to 80 cm, such as "24 cm" or "9 1/2 in"')]
    """At the widest."""
    height: Annotated[float, check.length(0.02, 0.6, '2 to 60 cm, such as "12 cm" or "5 in"')]
    """How tall or high it is."""
    dark: bool = True
    """Black or nearly so outside."""
    lid: Literal["tight", "loose", "none"] = "tight"
    """tight, loose or none."""


class CookTable(Table):
    """[cook]."""

    threshold: Annotated[
        float,
        check.quantity(
            units.parse_temperature_c, 60.0, 180.0, '60 to 180 C, such as "100 C" or "212 F"'
        ),
    ] = 100.0
    """From what temperature the box cooks."""
    free: list[Annotated[str, Field(pattern=FREE)]] = Field(default_factory=list)
    """When somebody is there."""
    people: Annotated[float, PEOPLE] = 4.0
    """For how many."""


class DishTable(Table):
    """[[dish]]."""

    dish: DishKey
    """Its short name in the list."""
    serve: Annotated[str, Field(pattern=CLOCK_TIME)]
    """When it should be on the table."""
    amount: (
        Annotated[float, check.mass(0.05, 20.0, '50 g to 20 kg, such as "2 kg" or "4 lb"')] | None
    ) = None
    """None for the library's, for as many people."""
    people: Annotated[float, PEOPLE] | None = None
    """For how many."""
    pot: str | None = None
    """Name of a pot; none to let the plan choose."""
    confirmed: bool = False
    """The cook's word that the dish's gate is kept."""


class ShowTable(Table):
    """[show]."""

    temperature: Literal["C", "F"] = "C"
    """Celsius or Fahrenheit."""
    length: Literal["cm", "in"] = "cm"
    """Hinge to tip, or how lengths are told."""
    mass: Literal["kg", "lb"] = "kg"
    """As written, or how masses are told."""
    clock: Literal["12", "24"] = "24"
    """12 or 24 hours."""


class NotifyTable(Table):
    """[notify]."""

    terminal: bool = True
    """Whether the terminal is used."""
    desktop: bool = True
    """Whether notices of the desktop are used."""
    bell: bool = True
    """Whether it rings."""
    player: list[Annotated[str, check.name(200)]] = Field(default_factory=list, max_length=20)
    """What plays a sound."""
    secrets: Annotated[str, check.name(300)] | None = None
    """File that passwords stand in."""


class WayTable(Table):
    """[[way]]: a phone, a mailbox or the like, beyond this computer."""

    name: Annotated[str, check.way_name]
    """What the cook calls it."""
    url: Annotated[str, check.address]
    """The address it is sent to."""
    backup: bool = False
    """Used only when those before it fail."""


class QuietTable(Table):
    """[quiet]."""

    hours: list[Annotated[str, Field(pattern=STRETCH)]] = Field(default_factory=list, max_length=8)
    """When there is peace."""
    tells: list[Literal["low", "normal", "urgent"]] = ["urgent"]
    """How urgent a call has to be to come all the same."""


class FeedTable(Table):
    """[feed]: the weather service that forecasts come from."""

    use: Literal["none", "open-meteo", "open-meteo-ensemble", "weather-gov", "met-norway"] = "none"
    """Which service."""
    contact: Annotated[str, check.contact] | None = None
    """Whom it may write to."""
    base_url: Annotated[str, check.own_server] | None = None
    """Another address, for tests."""


class IncludeTable(Table):
    """[include]: whole tables from other files, relative to this one."""

    site: str | None = None
    """Where the box stands."""
    box: str | None = None
    """The box as built."""
    day: str | None = None
    """A file with dishes and hours."""
    dishes: str | None = None
    """The folder of the cook's own dishes."""


class File(Table):
    """The whole file, includes already put in."""

    include: IncludeTable = IncludeTable()
    """Pieces in other files."""
    site: SiteTable
    """Where the box stands."""
    box: BoxTable
    """The box as built."""
    pot: list[PotTable] = Field(default_factory=list)
    """Name of a pot; none to let the plan choose."""
    cook: CookTable = CookTable()
    """When somebody is there, and what counts as hot."""
    dish: list[DishTable] = Field(default_factory=list)
    """Its short name in the list."""
    show: ShowTable = ShowTable()
    """How things are told."""
    notify: NotifyTable = NotifyTable()
    """How the cook is called."""
    way: list[WayTable] = Field(default_factory=list, max_length=8)
    """Ways that leave the machine."""
    quiet: QuietTable = QuietTable()
    """Hours of peace."""
    feed: FeedTable = FeedTable()
    """The weather service, if any."""
