"""The box's sheet: what a builder wants to know of it, for one site and day.

Sizes, where the empty box stops and what it loses, the figures of test standards, how to
set the mirrors, and what gets too hot.  All of it is simulated; nothing is measured.
"""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date, datetime
from typing import TYPE_CHECKING

from suntrack.bench.hinge import hinge_advice, rays_at, side_advice, span_light
from suntrack.bench.simulated_tests import Standstill, standstill
from suntrack.bench.standard_tests import figures, light_in, noon_sun
from suntrack.box.build import without_mirrors
from suntrack.box.heat.network import thermal
from suntrack.box.light.gain import box_light
from suntrack.box.light.mirror_setting import set_mirror_deg
from suntrack.box.sizes import box_sizes
from suntrack.box.warnings import Peaks, layer_peaks_c, too_hot
from suntrack.food.properties import boiling_c
from suntrack.plan.cautions import usual_cautions
from suntrack.sky.air import air_of
from suntrack.sky.sun import position_at

if TYPE_CHECKING:
    from suntrack.bench.hinge import HingeAdvice, SideAdvice, SpanLight
    from suntrack.bench.standard_tests import Figures, NoonSun
    from suntrack.box.build import Box, Pot
    from suntrack.box.sizes import BoxSizes
    from suntrack.box.warnings import TooHot
    from suntrack.sky.clear_sky import ClearSky
    from suntrack.sky.site import Site
    from suntrack.sky.sun import SunTable
    from suntrack.sky.weather import Weather

STAND_WIND_M_S = 1.0
"""Wind at the empty box (our choice: a sheltered courtyard).  [m/s]"""


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class SheetInputs:
    """Everything a sheet is made from."""

    date: date
    """The day the sheet is for."""
    at: datetime | None
    """The moment that is asked about; None when it is not on this day."""
    site: Site
    """Where the box stands."""
    box: Box
    """The box, with what was learned of it."""
    pots: tuple[Pot, ...]
    """The cook's own pots."""
    sun: SunTable
    """The day, at the middle of each step of `weather`."""
    weather: Weather
    """Clear sky and ordinary air."""
    span_sun: SunTable
    """This day and the days to come, in equal steps."""
    span_sky: ClearSky
    """The clear sky of the days after it."""
    span_days: int
    """How many days those are."""
    first_day_ends_s: float
    """End of this day, seconds since 1970 UTC.  [s]"""


@dataclass(frozen=True, slots=True, kw_only=True)
class Hottest:
    """The strongest light of the span, kept up until the empty box stops, in still air."""

    at: datetime
    """When the strongest light falls in."""
    still: Standstill
    """The empty box, left in that light."""
    outdoors_c: float
    """Air outdoors then.  [C]"""
    layers_c: tuple[float, ...]
    """Inner face of each layer of the wall, inside first.  [C]"""
    too_hot: tuple[TooHot, ...]
    """What gets hotter than it should."""


@dataclass(frozen=True, slots=True, kw_only=True)
class BoxSheet:
    """What a builder wants to know of a box."""

    date: date
    """The day the sheet is for."""
    at: datetime | None
    """Noon of that day; None without a sun."""
    site_name: str
    """As the cook named it."""
    box_name: str
    """As the cook named it."""
    sizes: BoxSizes
    """Areas, layers and stores."""
    sun: NoonSun
    """The noon that the tests take."""
    wind_m_s: float
    """Wind of the tests.  [m/s]"""
    mirror_deg: float | None
    """How the mirror at the back stands in `used`; None without one.  [deg]"""
    used: Standstill
    """The empty box in `sun`, as it is used."""
    bare: Standstill
    """The same with no mirror used, as test standards have it."""
    figures: Figures
    """What the standards' tests give."""
    hinge: HingeAdvice | None
    """How to set the mirror; None without one."""
    sides: SideAdvice | None
    """None without side mirrors."""
    span_days: int
    """Days that the fixed angles are for."""
    hottest: Hottest
    """The empty box in the strongest light of the span."""
    cautions: tuple[str, ...]
    """Names of the cautions that belong beside it."""


def box_sheet(inputs: SheetInputs) -> BoxSheet | None:
    """Return the sheet of a box; None on a day on which the sun does not rise.

    Parameters
    ----------
    inputs : SheetInputs
        The box, the site, its sun and sky.

    Returns
    -------
    sheet : BoxSheet or None
        See the fields for units.
    """
    box, site = inputs.box, inputs.site
    sun = noon_sun(inputs.sun, inputs.weather, zone=site.zone, albedo=site.albedo)
    if sun is None:
        return None
    mirror_deg = set_mirror_deg(box, elevation_deg=sun.elevation_deg)
    plain = without_mirrors(box)
    bare = _stopped(plain, sun, mirror_deg=None)
    span = span_light(
        box,
        site,
        sun=inputs.span_sun,
        sky=inputs.span_sky,
        first_day_ends_s=inputs.first_day_ends_s,
    )
    return BoxSheet(
        date=inputs.date,
        at=inputs.at,
        site_name=site.name,
        box_name=box.name,
        sizes=box_sizes(box),
        sun=sun,
        wind_m_s=STAND_WIND_M_S,
        mirror_deg=mirror_deg,
        used=bare if box == plain else _stopped(box, sun, mirror_deg=mirror_deg),
        bare=bare,
        figures=figures(
            box,
            sun,
            bare=bare,
            mirror_deg=mirror_deg,
            pots=inputs.pots,
            boiling_c=boiling_c(elevation_m=site.elevation_m),
        ),
        hinge=hinge_advice(
            box,
            span,
            now_elevation_deg=_seen_elevation_deg(inputs),
            noon_elevation_deg=sun.elevation_deg,
        ),
        sides=side_advice(box, span.rays),
        span_days=inputs.span_days,
        hottest=_hottest(inputs, span),
        cautions=usual_cautions(box),
    )


def _stopped(box: Box, sun: NoonSun, *, mirror_deg: float | None) -> Standstill:
    """Return where the empty box stops in the sun of the tests."""
    light = light_in(box, sun, mirror_deg=90.0 if mirror_deg is None else mirror_deg)
    return standstill(thermal(box), light=light, air_c=sun.air_c, wind_m_s=STAND_WIND_M_S)


def _seen_elevation_deg(inputs: SheetInputs) -> float | None:
    """Return the height of the sun of the moment; None while the site does not see it."""
    if inputs.at is None:
        return None
    elevation_deg, azimuth_deg = position_at(inputs.sun, inputs.at.timestamp())
    skyline_deg = max(float(inputs.site.skyline.height_at(azimuth_deg)), 0.0)
    return float(elevation_deg) if elevation_deg > skyline_deg else None


def _hottest(inputs: SheetInputs, span: SpanLight) -> Hottest:
    """Return the box in the strongest light of the span, on its warmest air, without wind."""
    step, mirror_deg = span.brightest(inputs.box)
    rays = rays_at(span, step)
    light = box_light(inputs.box, **rays, face_deg=rays["sun_azimuth_deg"], mirror_deg=mirror_deg)
    _, outdoors_c, _ = air_of(inputs.site.typical_air, inputs.date)
    still = standstill(thermal(inputs.box), light=light, air_c=outdoors_c, wind_m_s=0.0)
    peaks = Peaks(
        lining_c=still.lining_c,
        top_glass_c=still.top_panes_c[0],
        front_glass_c=still.front_panes_c[0] if still.front_panes_c else None,
        air_c=outdoors_c,
    )
    return Hottest(
        at=datetime.fromtimestamp(float(span.at_s[step]), tz=inputs.site.zone),
        still=still,
        outdoors_c=outdoors_c,
        layers_c=layer_peaks_c(inputs.box, peaks=peaks),
        too_hot=too_hot(inputs.box, peaks=peaks),
    )
