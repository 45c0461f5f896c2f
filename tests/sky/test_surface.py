"""Light on tilted surfaces against handbook angles and the reference library."""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from suntrack.sky.surface import incidence_cosine, surface_light

if TYPE_CHECKING:
    from numpy.typing import NDArray


def solar_position(
    latitude_deg: float, declination_deg: float, hour_angle_deg: float
) -> tuple[float, float]:
    """Elevation and azimuth from the textbook triangle, to feed handbook cases in."""
    lat, dec, hour = np.radians([latitude_deg, declination_deg, hour_angle_deg])
    up = np.sin(lat) * np.sin(dec) + np.cos(lat) * np.cos(dec) * np.cos(hour)
    east = -np.cos(dec) * np.sin(hour)
    north = np.cos(lat) * np.sin(dec) - np.sin(lat) * np.cos(dec) * np.cos(hour)
    return float(np.degrees(np.arcsin(up))), float(np.degrees(np.arctan2(east, north)) % 360.0)


@pytest.mark.parametrize(("latitude_deg", "expected"), [(43.0, 0.817), (38.54, 0.8319)])
def test_incidence_of_the_handbook_collector(latitude_deg: float, expected: float) -> None:
    """Duffie and Beckman example 1.6.1: 13 Feb, 10:30 solar, tilt 45, 15 degrees west of south.

    0.817 found at transtutors.com; 0.8319 for latitude 38.54 found at wizedu.com 1570412.
    """
    elevation, azimuth = solar_position(latitude_deg, -13.95, -22.5)
    cosine = incidence_cosine(
        sun_elevation_deg=elevation, sun_azimuth_deg=azimuth, tilt_deg=45.0, azimuth_deg=195.0
    )
    assert float(cosine) == pytest.approx(expected, abs=0.002)


@pytest.mark.parametrize(
    ("latitude_deg", "declination_deg", "hour", "tilt_deg", "faces_deg", "expected", "digits"),
    [
        # Duffie and Beckman, case of example 1.6.1 (memory, recomputed 1.666).
        (43.0, -13.95, 10.5, 45.0, 195.0, 1.67, 0.01),
        # Example 1.7.3: 1.80 found as a test of ASCEND (code.ascend4.org, inputs inferred).
        (40.0, -13.0, 9.5, 60.0, 180.0, 1.80, 0.01),
        # The same at 30 degrees (recomputed 1.614).
        (40.0, -13.0, 9.5, 30.0, 180.0, 1.61, 0.01),
    ],
)
def test_beam_on_a_tilted_surface_to_that_on_level_ground(
    latitude_deg: float,
    declination_deg: float,
    hour: float,
    tilt_deg: float,
    faces_deg: float,
    expected: float,
    digits: float,
) -> None:
    """R_b of the handbook."""
    elevation, azimuth = solar_position(latitude_deg, declination_deg, 15.0 * (hour - 12.0))
    tilted, level = (
        incidence_cosine(
            sun_elevation_deg=elevation,
            sun_azimuth_deg=azimuth,
            tilt_deg=tilt,
            azimuth_deg=faces_deg,
        )
        for tilt in (tilt_deg, 0.0)
    )
    assert float(tilted / level) == pytest.approx(expected, abs=digits)


def test_beam_of_the_handbook_wall_in_february() -> None:
    """ASHRAE 1967, 21 Feb, sun 25.2 high, tilt 40, 48.3 off: 0.7131, 44.5 degrees, 594.3 W/m2.

    coursehero.com/file/6100400 (found); its beam is 833.46 W/m2.
    """
    light = surface_light(
        sun_elevation_deg=25.2,
        sun_azimuth_deg=180.0 + 48.3,
        beam_normal_w_m2=833.46,
        diffuse_horizontal_w_m2=0.0,
        global_horizontal_w_m2=0.0,
        extraterrestrial_normal_w_m2=1361.0,
        tilt_deg=40.0,
        azimuth_deg=180.0,
        albedo=0.0,
    )
    assert float(light.incidence_deg) == pytest.approx(44.5, abs=0.05)
    assert float(np.cos(np.radians(light.incidence_deg))) == pytest.approx(0.7131, abs=1e-4)
    assert float(light.beam_w_m2) == pytest.approx(594.3, abs=0.3)


def test_incidence_of_the_spa_worked_example() -> None:
    """NREL/TP-560-34302: slope 30, surface azimuth rotation -10 (170 from north): 25.187."""
    cosine = incidence_cosine(
        sun_elevation_deg=90.0 - 50.111622,
        sun_azimuth_deg=194.340241,
        tilt_deg=30.0,
        azimuth_deg=170.0,
    )
    assert float(np.degrees(np.arccos(cosine))) == pytest.approx(25.187, abs=1e-3)


sun_high = st.floats(10.0, 89.0)
bearing = st.floats(0.0, 360.0)


@settings(deadline=None)
@given(
    elevation=sun_high, azimuth=bearing, tilt=st.floats(0.0, 120.0), faces=bearing,
    beam=st.floats(0.0, 1000.0), diffuse=st.floats(0.0, 400.0),
)  # fmt: skip
def test_light_agrees_with_the_reference_library(
    elevation: float, azimuth: float, tilt: float, faces: float, beam: float, diffuse: float
) -> None:
    """pvlib.irradiance.haydavies is the reference for beam + sky on the surface."""
    from pvlib import irradiance

    found = surface_light(
        sun_elevation_deg=elevation,
        sun_azimuth_deg=azimuth,
        beam_normal_w_m2=beam,
        diffuse_horizontal_w_m2=diffuse,
        global_horizontal_w_m2=diffuse + beam * np.sin(np.radians(elevation)),
        extraterrestrial_normal_w_m2=1361.0,
        tilt_deg=tilt,
        azimuth_deg=faces,
        albedo=0.2,
    )
    sky = irradiance.haydavies(
        tilt, faces, diffuse, beam, 1361.0, solar_zenith=90.0 - elevation, solar_azimuth=azimuth
    )
    direct = beam * max(
        np.cos(np.radians(irradiance.aoi(tilt, faces, 90.0 - elevation, azimuth))), 0
    )
    assert float(found.beam_w_m2 + found.sky_w_m2) == pytest.approx(sky + direct, abs=0.01)


@settings(deadline=None)
@given(elevation=sun_high, azimuth=bearing, beam=st.floats(0.0, 1000.0), diffuse=st.floats(0, 400))
def test_level_ground_gets_back_the_whole_of_its_light(
    elevation: float, azimuth: float, beam: float, diffuse: float
) -> None:
    """Identity: on level ground beam and sky sum to the global light, and no ground is seen."""
    global_w_m2 = diffuse + beam * np.sin(np.radians(elevation))
    found = surface_light(
        sun_elevation_deg=elevation,
        sun_azimuth_deg=azimuth,
        beam_normal_w_m2=beam,
        diffuse_horizontal_w_m2=diffuse,
        global_horizontal_w_m2=global_w_m2,
        extraterrestrial_normal_w_m2=1361.0,
        tilt_deg=0.0,
        azimuth_deg=0.0,
        albedo=0.2,
    )
    assert float(found.beam_w_m2 + found.sky_w_m2) == pytest.approx(global_w_m2, abs=1e-6)
    assert float(found.ground_w_m2) == pytest.approx(0.0, abs=1e-9)


MORNING = {
    "sun_elevation_deg": 20.0,
    "sun_azimuth_deg": 90.0,
    "beam_normal_w_m2": 700.0,
    "diffuse_horizontal_w_m2": 80.0,
    "global_horizontal_w_m2": 80.0 + 700.0 * np.sin(np.radians(20.0)),
    "extraterrestrial_normal_w_m2": 1400.0,
    "tilt_deg": 0.0,
    "azimuth_deg": 0.0,
    "albedo": 0.2,
}


def test_a_skyline_takes_the_beam_and_its_ring_but_leaves_the_even_sky() -> None:
    """Half of outer space's light as beam: half of the sky's light stands around the sun."""
    free = surface_light(**MORNING)
    hidden = surface_light(**MORNING, skyline_height_deg=25.0)
    assert float(free.beam_w_m2) == pytest.approx(40.0 + 700.0 * np.sin(np.radians(20.0)))
    assert float(free.sky_w_m2) == pytest.approx(40.0)
    assert float(hidden.beam_w_m2) == 0.0
    assert float(hidden.beam_normal_w_m2) == 0.0
    assert float(hidden.sky_w_m2) == pytest.approx(40.0)


@pytest.mark.parametrize(
    ("skyline_deg", "lit"), [(0.0, True), (19.9, True), (20.0, False), (45.0, False), (-5.0, True)]
)
def test_the_sun_is_seen_only_above_the_skyline(skyline_deg: float, lit: bool) -> None:
    found = surface_light(**MORNING, skyline_height_deg=skyline_deg)
    assert (float(found.beam_w_m2) > 0.0) is lit


def test_a_valley_does_not_lift_a_sun_that_is_down() -> None:
    """Light that a feed still gives to the step of sunset has no direction left."""
    down = MORNING | {"sun_elevation_deg": -2.0, "tilt_deg": 90.0, "azimuth_deg": 90.0}
    found = surface_light(**down, skyline_height_deg=-5.0)
    assert float(found.beam_w_m2) == 0.0
    assert float(found.beam_normal_w_m2) == 0.0


def test_the_ground_before_a_pane_lies_in_the_same_shade() -> None:
    """Behind a wall the ground sees the even sky only: here 40 of 319 W/m2 (closed form)."""
    upright = MORNING | {"tilt_deg": 90.0}
    free = surface_light(**upright)
    hidden = surface_light(**upright, skyline_height_deg=25.0)
    assert float(free.ground_w_m2) == pytest.approx(0.1 * MORNING["global_horizontal_w_m2"])
    assert float(hidden.ground_w_m2) == pytest.approx(0.1 * 40.0)


def test_half_a_sky_gives_half_its_light() -> None:
    whole, half = (surface_light(**MORNING, sky_share=share) for share in (1.0, 0.5))
    assert float(half.sky_w_m2) == pytest.approx(0.5 * float(whole.sky_w_m2))
    assert float(half.beam_w_m2) == float(whole.beam_w_m2)


def test_a_pane_facing_down_sees_ground_alone() -> None:
    """Limit: tilt 180 is the underside of a board; albedo 0.2 of the global light."""
    found = surface_light(**(MORNING | {"tilt_deg": 180.0}))
    assert float(found.beam_w_m2) == 0.0
    assert float(found.sky_w_m2) == pytest.approx(0.0, abs=1e-9)
    assert float(found.ground_w_m2) == pytest.approx(0.2 * MORNING["global_horizontal_w_m2"])


def test_a_pane_turned_away_gets_no_beam() -> None:
    found = surface_light(**(MORNING | {"tilt_deg": 90.0, "azimuth_deg": 270.0}))
    assert float(found.beam_w_m2) == 0.0
    assert float(found.incidence_deg) == pytest.approx(160.0)


def test_a_pane_held_square_to_the_sun_gets_the_whole_beam() -> None:
    found = surface_light(**(MORNING | {"tilt_deg": 70.0, "azimuth_deg": 90.0}))
    assert float(found.incidence_deg) == pytest.approx(0.0, abs=1e-5)
    assert float(found.beam_w_m2) == pytest.approx(float(found.beam_normal_w_m2))


@pytest.mark.parametrize("elevation_deg", [0.0, -0.2, -30.0])
def test_a_sun_that_is_down_gives_no_beam_and_no_nan(elevation_deg: float) -> None:
    night = MORNING | {"sun_elevation_deg": elevation_deg, "beam_normal_w_m2": 0.0}
    found = surface_light(**(night | {"global_horizontal_w_m2": 3.0, "diffuse_horizontal_w_m2": 3}))
    assert float(found.beam_w_m2) == 0.0
    assert float(found.sky_w_m2) == pytest.approx(3.0)


def test_a_meter_that_reads_below_zero_counts_as_dark() -> None:
    """Common practice, no source: thermopile meters read a few W/m2 under zero at night."""
    lights = ("beam_normal_w_m2", "diffuse_horizontal_w_m2", "global_horizontal_w_m2")
    found = surface_light(**(MORNING | dict.fromkeys(lights, -4.0) | {"tilt_deg": 45.0}))
    assert float(found.beam_w_m2) == 0.0
    assert float(found.sky_w_m2) == 0.0
    assert float(found.ground_w_m2) == 0.0


@settings(deadline=None)
@given(elevation=st.floats(0.05, 10.0), beam=st.floats(0.0, 900.0), diffuse=st.floats(0.0, 300.0))
def test_a_low_sun_makes_no_light_and_loses_none(
    elevation: float, beam: float, diffuse: float
) -> None:
    """Identity on level ground, and a limit: the ring on a pane is at most D / sin 3 degrees."""
    low = MORNING | {
        "sun_elevation_deg": elevation,
        "beam_normal_w_m2": beam,
        "diffuse_horizontal_w_m2": diffuse,
    }
    level = surface_light(**low)
    total = diffuse + beam * np.sin(np.radians(elevation))
    assert float(level.beam_w_m2 + level.sky_w_m2) == pytest.approx(total, abs=1e-6)
    square = surface_light(**(low | {"tilt_deg": 90.0, "azimuth_deg": 90.0}))
    assert float(square.beam_w_m2) <= beam + diffuse / np.sin(np.radians(3.0)) + 1e-6


@settings(deadline=None)
@given(tilt=st.floats(0.0, 180.0), albedo=st.floats(0.0, 1.0), light=st.floats(0.0, 1200.0))
def test_ground_light_agrees_with_the_reference_library(
    tilt: float, albedo: float, light: float
) -> None:
    """pvlib.irradiance.get_ground_diffuse is the reference."""
    from pvlib import irradiance

    found = surface_light(
        **(MORNING | {"tilt_deg": tilt, "albedo": albedo, "global_horizontal_w_m2": light})
    )
    expected = irradiance.get_ground_diffuse(tilt, light, albedo=albedo)
    assert float(found.ground_w_m2) == pytest.approx(float(expected), abs=1e-9)


@settings(deadline=None)
@given(elevation=st.floats(-5.0, 90.0), azimuth=bearing, tilt=st.floats(0.0, 180.0), faces=bearing)
def test_incidence_is_the_angle_between_two_arrows(
    elevation: float, azimuth: float, tilt: float, faces: float
) -> None:
    """Identity: the cosine is the dot product of sun and normal in east, north, up."""

    def arrow(up_deg: float, azimuth_deg: float) -> NDArray[np.float64]:
        up, around = np.radians([up_deg, azimuth_deg])
        return np.array([np.cos(up) * np.sin(around), np.cos(up) * np.cos(around), np.sin(up)])

    cosine = incidence_cosine(
        sun_elevation_deg=elevation, sun_azimuth_deg=azimuth, tilt_deg=tilt, azimuth_deg=faces
    )
    expected = float(arrow(elevation, azimuth) @ arrow(90.0 - tilt, faces))
    assert float(cosine) == pytest.approx(expected, abs=1e-12)


def test_many_skies_and_aims_come_out_in_one_shape() -> None:
    """Two skies, three aims, five suns: (2, 3, 5)."""
    found = surface_light(
        **(
            MORNING
            | {
                "sun_elevation_deg": np.linspace(10.0, 60.0, 5),
                "beam_normal_w_m2": np.full((2, 1, 5), 700.0),
                "azimuth_deg": np.array([[60.0], [90.0], [120.0]]),
                "tilt_deg": 90.0,
            }
        )
    )
    assert found.beam_w_m2.shape == (2, 3, 5)
    assert found.sky_w_m2.shape == (2, 3, 5)
    assert found.ground_w_m2.shape == (2, 3, 5)
    assert np.broadcast_shapes(found.incidence_deg.shape, (2, 3, 5)) == (2, 3, 5)
    assert np.broadcast_shapes(found.beam_normal_w_m2.shape, (2, 3, 5)) == (2, 3, 5)


@pytest.mark.parametrize(
    "name",
    ["sun_elevation_deg", "beam_normal_w_m2", "diffuse_horizontal_w_m2", "skyline_height_deg"],
)
def test_what_is_not_known_is_not_made_up(name: str) -> None:
    """An unknown sun, beam, sky or skyline leaves the sum of the light unknown."""
    found = surface_light(**(MORNING | {name: np.nan, "tilt_deg": 45.0}))
    assert np.isnan(found.beam_w_m2 + found.sky_w_m2 + found.ground_w_m2)


def test_shape_is_kept_and_nan_stays_nan() -> None:
    found = surface_light(
        sun_elevation_deg=np.array([[10.0, np.nan], [30.0, 40.0]]),
        sun_azimuth_deg=90.0,
        beam_normal_w_m2=700.0,
        diffuse_horizontal_w_m2=80.0,
        global_horizontal_w_m2=320.0,
        extraterrestrial_normal_w_m2=1361.0,
        tilt_deg=45.0,
        azimuth_deg=0.0,
        albedo=0.2,
    )
    assert found.sky_w_m2.shape == (2, 2)
    assert np.isnan(found.incidence_deg[0, 1])
