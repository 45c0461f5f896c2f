"""Light on tilted surfaces against handbook angles and the reference library."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from suntrack.sky.surface import incidence_cosine, surface_light


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


def test_a_skyline_takes_the_beam_and_its_ring_but_leaves_the_sky() -> None:
    arguments = {
        "sun_elevation_deg": 20.0,
        "sun_azimuth_deg": 90.0,
        "beam_normal_w_m2": 700.0,
        "diffuse_horizontal_w_m2": 80.0,
        "global_horizontal_w_m2": 320.0,
        "extraterrestrial_normal_w_m2": 1361.0,
        "tilt_deg": 0.0,
        "azimuth_deg": 0.0,
        "albedo": 0.2,
    }
    free = surface_light(**arguments)
    hidden = surface_light(**arguments, skyline_height_deg=25.0)
    assert float(free.beam_w_m2) > 200.0
    assert float(hidden.beam_w_m2) == 0.0
    assert float(hidden.sky_w_m2) == pytest.approx(80.0)


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
