"""The box on the test stand: the noon of a day as its sun, and the standard tests in it.

The tests themselves are in `suntrack.bench.simulated_tests`; here they get a sun that the site
really has, the cook's own pots with water in them, and a box turned to the sun.

The tests take the site's own clear noon, dimmed to 800 W/m2 on level ground.  Lost: one sun for
every site, which for a northern winter would be brighter than the sun outside the air.
"""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime
from typing import TYPE_CHECKING, NamedTuple

import numpy as np

from suntrack.bench.simulated_tests import heating_span_s, power_test
from suntrack.bench.water_load import water_pots
from suntrack.box.build import without_mirrors
from suntrack.box.heat.network import as_built, thermal
from suntrack.box.light.gain import box_light
from suntrack.box.light.mirror import sun_in_box_frame
from suntrack.box.standard_figures import (
    FIRST_LOAD_KG_M2,
    POWER_LOAD_KG_M2,
    WATER_J_KGK,
    first_figure_k_m2_w,
    second_figure,
)
from suntrack.sky.clear_sky import extraterrestrial_w_m2
from suntrack.sky.surface import surface_light

if TYPE_CHECKING:
    from collections.abc import Sequence
    from zoneinfo import ZoneInfo

    from suntrack.bench.simulated_tests import Standstill
    from suntrack.box.build import Box, Pot
    from suntrack.box.heat.structs import PotCharge
    from suntrack.box.light.gain import BoxLight
    from suntrack.box.standard_figures import PowerLine
    from suntrack.sky.sun import SunTable
    from suntrack.sky.weather import Weather

TEST_LEVEL_W_M2 = 800.0
"""Sunlight on level ground in the tests, unless a clear noon has less (our choice; IS 13429
asks for 600 or more, from memory).  [W/m2]"""
TEST_WIND_M_S = 0.5
"""S580 allows less than 1 (from memory).  [m/s]"""
POWER_AIR_C = (20.0, 35.0)
"""Air outdoors that S580 allows (from memory).  [C]"""
LEAST_POWER_SUN_W_M2 = 450.0
"""Square to the sun; S580 tests in no less (from memory): what a weak sun gives cannot be
scaled to its 700.  [W/m2]"""
COLD_WATER_C = 60.0
HOT_WATER_C = (90.0, 85.0, 80.0)
"""IS 13429 heats the water from 60 to 90 C or a little less (from memory); the first that
the water reaches counts.  [C]"""


@dataclass(frozen=True, slots=True, kw_only=True)
class NoonSun:
    """One sun, kept up as long as a test lasts, with the air around the box."""

    at: datetime
    """The moment."""
    elevation_deg: float
    """Height above the level horizon.  [deg]"""
    azimuth_deg: float
    """Clockwise from true north.  [deg]"""
    level_w_m2: float
    """On level ground.  [W/m2]"""
    beam_normal_w_m2: float
    """Square to the rays.  [W/m2]"""
    diffuse_horizontal_w_m2: float
    """From the sky on level ground.  [W/m2]"""
    extraterrestrial_normal_w_m2: float
    """Outside the air.  [W/m2]"""
    clear_level_w_m2: float
    """On level ground at this moment under a clear sky, before it was dimmed.  [W/m2]"""
    air_c: float
    """Air outdoors.  [C]"""
    albedo: float
    """Share of light the ground sends back.  [-]"""

    @property
    def square_w_m2(self) -> float:
        """On a surface square to the sun, light from sky and ground included.  [W/m2]"""
        light = surface_light(
            sun_elevation_deg=self.elevation_deg,
            sun_azimuth_deg=self.azimuth_deg,
            beam_normal_w_m2=self.beam_normal_w_m2,
            diffuse_horizontal_w_m2=self.diffuse_horizontal_w_m2,
            global_horizontal_w_m2=self.level_w_m2,
            extraterrestrial_normal_w_m2=self.extraterrestrial_normal_w_m2,
            tilt_deg=90.0 - self.elevation_deg,
            azimuth_deg=self.azimuth_deg,
            albedo=self.albedo,
        )
        return float(light.beam_w_m2 + light.sky_w_m2 + light.ground_w_m2)


@dataclass(frozen=True, slots=True, kw_only=True)
class Figures:
    """What test standards say of a box; None where the water does not get there."""

    f1_k_m2_w: float
    """First figure of merit, IS 13429.  [K m2/W]"""
    f2: float | None
    """Second figure of merit; None when the water never gets there.  [-]"""
    f2_water_kg: float
    """Water it was taken with.  [kg]"""
    f2_span_c: tuple[float, float] | None
    """What the water was heated from and to.  [C]"""
    f2_heating_s: float | None
    """From 60 to 90 degrees; None when it never gets there.  [s]"""
    power: PowerLine | None
    """The cooking power line of ASAE S580.1; None without one."""
    power_water_kg: float
    """Water it was taken with.  [kg]"""
    power_air_c: float
    """Air outdoors in that test.  [C]"""
    intercept_m2: float
    """Sun caught by glass and mirrors, square to the beam.  [m2]"""


def noon_sun(sun: SunTable, weather: Weather, *, zone: ZoneInfo, albedo: float) -> NoonSun | None:
    """Return the clear noon of a day, dimmed to the level of the tests; None without a sun.

    Beam and sky are dimmed alike, so that the sun is never stronger than the site has it.
    """
    i = int(np.argmax(sun.elevation_deg))
    clear_w_m2 = float(weather.global_horizontal_w_m2[0, i])
    if not (sun.elevation_deg[i] > 0.0 and clear_w_m2 > 0.0):
        return None
    dim = min(1.0, TEST_LEVEL_W_M2 / clear_w_m2)
    return NoonSun(
        at=datetime.fromtimestamp(round(float(sun.at_s[i]) / 60.0) * 60.0, tz=zone),
        elevation_deg=float(sun.elevation_deg[i]),
        azimuth_deg=float(sun.azimuth_deg[i]),
        level_w_m2=dim * clear_w_m2,
        beam_normal_w_m2=dim * float(weather.beam_normal_w_m2[0, i]),
        diffuse_horizontal_w_m2=dim * float(weather.diffuse_horizontal_w_m2[0, i]),
        extraterrestrial_normal_w_m2=float(extraterrestrial_w_m2(sun.at_s[i])),
        clear_level_w_m2=clear_w_m2,
        air_c=float(weather.air_c[0, i]),
        albedo=albedo,
    )


def light_in(box: Box, sun: NoonSun, *, mirror_deg: float = 90.0) -> BoxLight:
    """Return the light in a box that is turned to the sun."""
    return box_light(
        box,
        sun_elevation_deg=sun.elevation_deg,
        sun_azimuth_deg=sun.azimuth_deg,
        beam_normal_w_m2=sun.beam_normal_w_m2,
        diffuse_horizontal_w_m2=sun.diffuse_horizontal_w_m2,
        global_horizontal_w_m2=sun.level_w_m2,
        extraterrestrial_normal_w_m2=sun.extraterrestrial_normal_w_m2,
        face_deg=sun.azimuth_deg,
        mirror_deg=mirror_deg,
        albedo=sun.albedo,
    )


def figures(
    box: Box,
    sun: NoonSun,
    *,
    bare: Standstill,
    mirror_deg: float | None,
    pots: Sequence[Pot],
    boiling_c: float,
) -> Figures:
    """Return F1, F2 and the power line of a box.

    Parameters
    ----------
    box : Box
        As built.  [-]
    sun : NoonSun
        The light of the tests.
    bare : Standstill
        The empty box in this sun, its mirrors not used.
    mirror_deg : float or None
        How the mirror is set while power is measured.  [deg]
    pots : sequence of Pot
        The cook's own.  [-]
    boiling_c : float
        Where water boils at the site.  [C]

    Returns
    -------
    figures : Figures
        IS 13429 without mirrors, S580 with them.
    """
    f1 = first_figure_k_m2_w(bare.lining_c, air_c=sun.air_c, level_w_m2=sun.level_w_m2)
    glass_m2 = as_built(box).panes[0].area_m2
    water, f2_kg = water_pots(
        pots,
        box=box,
        water_kg=FIRST_LOAD_KG_M2 * glass_m2,
        boiling_c=boiling_c,
        start_c=sun.air_c,
    )
    heated = _heating(without_mirrors(box), sun, f1_k_m2_w=f1, pots=water)
    power_air_c = float(np.clip(sun.air_c, *POWER_AIR_C))
    caught_m2 = intercept_m2(box, elevation_deg=sun.elevation_deg, mirror_deg=mirror_deg)
    pots_of_power, power_kg = water_pots(
        pots,
        box=box,
        water_kg=POWER_LOAD_KG_M2 * caught_m2,
        boiling_c=boiling_c,
        start_c=power_air_c,
    )
    return Figures(
        f1_k_m2_w=f1,
        f2=None
        if heated is None
        else second_figure(
            f1,
            water_j_k_m2=f2_kg * WATER_J_KGK / glass_m2,
            heating_s=heated.seconds,
            cold_c=COLD_WATER_C,
            hot_c=heated.hot_c,
            air_c=sun.air_c,
            level_w_m2=sun.level_w_m2,
        ),
        f2_water_kg=f2_kg,
        f2_span_c=(COLD_WATER_C, heated.hot_c) if heated else None,
        f2_heating_s=heated.seconds if heated else None,
        power=_power(
            box,
            sun,
            mirror_deg=mirror_deg,
            pots=pots_of_power,
            water_kg=power_kg,
            air_c=power_air_c,
        ),
        power_water_kg=power_kg,
        power_air_c=power_air_c,
        intercept_m2=caught_m2,
    )


class _Heated(NamedTuple):
    """How long the water took from 60 C, and to what."""

    hot_c: float
    """Water at the end.  [C]"""
    seconds: float
    """How long it took.  [s]"""


def _heating(
    box: Box, sun: NoonSun, *, f1_k_m2_w: float, pots: Sequence[PotCharge]
) -> _Heated | None:
    """Return how long the water takes to the hottest it reaches; None when it stays below."""
    for hot_c in HOT_WATER_C:
        # Beyond this the formula has no answer: the empty box itself stops there.
        if not pots or hot_c >= sun.air_c + f1_k_m2_w * sun.level_w_m2:
            continue
        seconds = heating_span_s(
            thermal(box),
            light=light_in(box, sun),
            pots=pots,
            span_c=(COLD_WATER_C, hot_c),
            air_c=sun.air_c,
            wind_m_s=TEST_WIND_M_S,
        )
        if seconds is not None:
            return _Heated(hot_c, seconds)
    return None


def _power(
    box: Box,
    sun: NoonSun,
    *,
    mirror_deg: float | None,
    pots: Sequence[PotCharge],
    water_kg: float,
    air_c: float,
) -> PowerLine | None:
    """Return the line of S580; None when sun or water do not do for its test."""
    if not pots or sun.square_w_m2 < LEAST_POWER_SUN_W_M2:
        return None
    try:
        return power_test(
            thermal(box),
            light=light_in(box, sun, mirror_deg=90.0 if mirror_deg is None else mirror_deg),
            normal_w_m2=sun.square_w_m2,
            pots=pots,
            water_kg=water_kg,
            air_c=air_c,
            wind_m_s=TEST_WIND_M_S,
        )
    except ValueError:
        return None


def intercept_m2(box: Box, *, elevation_deg: float, mirror_deg: float | None) -> float:
    """Return the sun that glass and mirrors catch, square to the beam, the sun ahead.

    S580 counts reflector and aperture areas projected onto the plane square to the beam
    (from memory).  [m2]
    """
    ahead, _, up = (
        float(part)
        for part in sun_in_box_frame(
            sun_elevation_deg=elevation_deg, sun_offset_deg=0.0, tilt_deg=box.tilt_deg
        )
    )
    panes = as_built(box).panes
    caught = panes[0].area_m2 * max(up, 0.0)
    caught += sum(pane.area_m2 for pane in panes[1:]) * max(ahead, 0.0)
    sides = box.side_mirrors
    if sides is not None:
        # Both lean out alike, and a sun ahead meets both at the same slant.
        facing = -up * float(np.cos(np.radians(sides.angle_deg)))
        caught += 2.0 * sides.length_m * sides.width_m * max(facing, 0.0)
    if box.mirror is None or mirror_deg is None:
        return caught
    psi = np.radians(mirror_deg)
    facing = float(ahead * np.sin(psi) - up * np.cos(psi))
    return caught + box.mirror.length_m * box.mirror.width_m * max(facing, 0.0)
