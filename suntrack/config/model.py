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
    high: Annotated[list[Annotated[float, AIR]], check.one_or_twelve]
    wind: Annotated[
        float,
        check.quantity(units.parse_speed_m_s, 0.0, 30.0, '0 to 30 m/s, such as "2 m/s" or "5 mph"'),
    ] = 2.0


class SkylinePoint(Table):
    """One point of [[site.skyline]]."""

    azimuth: Annotated[float, check.angle(0.0, 360.0, "85 deg")]
    height: Annotated[float, check.angle(0.0, 90.0, "12 deg")]


class SiteTable(Table):
    """[site]."""

    name: Annotated[str, check.name(60)]
    latitude: Annotated[float, check.number(-90.0, 90.0, "degrees, south negative, such as -24.65")]
    longitude: Annotated[
        float, check.number(-180.0, 180.0, "degrees, west negative, such as 25.91")
    ]
    elevation: Annotated[
        float, check.length(-430.0, 6000.0, '-430 to 6000 m, such as "1010 m" or "3300 ft"')
    ]
    time_zone: Annotated[str, BeforeValidator(check.time_zone)]
    albedo: Annotated[float, check.number(0.0, 1.0, "the share of light the ground sends back")] = (
        0.2
    )
    air: SiteAir
    skyline: list[SkylinePoint] = Field(default_factory=list)


class GlassTable(Table):
    """[box.top] and [box.front]."""

    glasses: Annotated[Literal[1, 2], BeforeValidator(check.whole_number)]
    thickness: Annotated[
        float, check.length(0.001, 0.012, '1 to 12 mm, such as "4 mm" or "1/8 in"')
    ]
    gap: Annotated[float, check.length(0.0, 0.1, '0 to 10 cm, such as "15 mm" or "1/2 in"')] = 0.015
    glass: Literal["extra-white", "float", "greenish"] = "float"
    tempered: bool = False


class MirrorTable(Table):
    """[box.mirror]."""

    length: Annotated[float, INSIDE]
    width: Annotated[float, INSIDE]
    hinge_gap: Annotated[float, SMALL] = 0.0
    reflectance: Annotated[float, check.number(0.3, 0.98, "household glass mirror 0.85")] = 0.85
    fixed_angle: Annotated[float, check.angle(30.0, 170.0, "100 deg")] | None = None
    lowest_angle: Annotated[float, check.angle(30.0, 170.0, "60 deg")] = 60.0
    highest_angle: Annotated[float, check.angle(30.0, 170.0, "130 deg")] = 130.0
    set: Literal["each turn", "once a day"] = "each turn"


class SideMirrorsTable(Table):
    """[box.side_mirrors]: at the left and right edges of the top, alike."""

    length: Annotated[float, INSIDE]
    width: Annotated[float, INSIDE] | None = None
    hinge_gap: Annotated[float, SMALL] = 0.0
    reflectance: Annotated[float, check.number(0.3, 0.98, "household glass mirror 0.85")] = 0.85
    angle: Annotated[float, check.angle(90.0, 150.0, "120 deg")] | None = None
    fixed: bool = False


class LayerTable(Table):
    """[[box.wall]] and [box.lining]."""

    material: Material
    thickness: Annotated[float, SHEET]


class BoxTable(Table):
    """[box]."""

    name: Annotated[str, check.name(60)] = "my box"
    width: Annotated[float, INSIDE]
    depth: Annotated[float, INSIDE]
    height: Annotated[float, INSIDE]
    top_frame: Annotated[float, SMALL] = 0.0
    tilt: Annotated[float, check.angle(0.0, 45.0, "10 deg")] = 0.0
    leak: Annotated[
        float,
        check.quantity(units.parse_conductance_w_k, 0.0, 5.0, '0 to 5 W/K, such as "0.15 W/K"'),
    ] = 0.15
    lining_absorptance: Annotated[
        float, check.number(0.0, 1.0, "the share of light the dark inside keeps")
    ] = 0.92
    lining_emittance: Annotated[float, check.number(0.05, 1.0, "dull black paint 0.9")] = 0.9
    top: GlassTable
    front: GlassTable | None = None
    mirror: MirrorTable | None = None
    side_mirrors: SideMirrorsTable | None = None
    wall: list[LayerTable] = Field(min_length=1, max_length=8)
    lining: LayerTable


class PotTable(Table):
    """[[pot]]."""

    name: Annotated[str, check.name(40)]
    capacity: Annotated[
        float,
        check.quantity(units.parse_volume_l, 0.2, 30.0, '0.2 to 30 L, such as "4 L" or "4 qt"'),
    ]
    mass: Annotated[float, check.mass(0.05, 20.0, '50 g to 20 kg, such as "1.4 kg" or "3 lb"')]
    material: PotMaterial
    diameter: Annotated[float, check.length(0.05, 0.8, '5 to 80 cm, such as "24 cm" or "9 1/2 in"')]
    height: Annotated[float, check.length(0.02, 0.6, '2 to 60 cm, such as "12 cm" or "5 in"')]
    dark: bool = True
    lid: Literal["tight", "loose", "none"] = "tight"


class CookTable(Table):
    """[cook]."""

    threshold: Annotated[
        float,
        check.quantity(
            units.parse_temperature_c, 60.0, 180.0, '60 to 180 C, such as "100 C" or "212 F"'
        ),
    ] = 100.0
    free: list[Annotated[str, Field(pattern=FREE)]] = Field(default_factory=list)
    people: Annotated[float, PEOPLE] = 4.0


class DishTable(Table):
    """[[dish]]."""

    dish: DishKey
    serve: Annotated[str, Field(pattern=CLOCK_TIME)]
    amount: (
        Annotated[float, check.mass(0.05, 20.0, '50 g to 20 kg, such as "2 kg" or "4 lb"')] | None
    ) = None
    people: Annotated[float, PEOPLE] | None = None
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
    bell: bool = True
    player: list[Annotated[str, check.name(200)]] = Field(default_factory=list, max_length=20)
    secrets: Annotated[str, check.name(300)] | None = None


class WayTable(Table):
    """[[way]]: a phone, a mailbox or the like, beyond this computer."""

    name: Annotated[str, check.way_name]
    url: Annotated[str, check.address]
    backup: bool = False


class QuietTable(Table):
    """[quiet]."""

    hours: list[Annotated[str, Field(pattern=STRETCH)]] = Field(default_factory=list, max_length=8)
    tells: list[Literal["low", "normal", "urgent"]] = ["urgent"]


class FeedTable(Table):
    """[feed]: the weather service that forecasts come from."""

    use: Literal["none", "open-meteo", "open-meteo-ensemble", "weather-gov", "met-norway"] = "none"
    contact: Annotated[str, check.contact] | None = None
    base_url: Annotated[str, check.own_server] | None = None


class IncludeTable(Table):
    """[include]: whole tables from other files, relative to this one."""

    site: str | None = None
    box: str | None = None
    day: str | None = None
    dishes: str | None = None


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
    way: list[WayTable] = Field(default_factory=list, max_length=8)
    quiet: QuietTable = QuietTable()
    feed: FeedTable = FeedTable()
