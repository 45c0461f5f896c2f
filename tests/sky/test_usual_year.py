"""The usual year: measured quantiles and pvlib's split, on the site's own sun."""

from __future__ import annotations

import numpy as np
import pytest
from pvlib import irradiance

from suntrack.sky.clear_sky import extraterrestrial_w_m2
from suntrack.sky.error_quantiles import ErrorQuantiles, hour_correlation, measured_departures
from suntrack.sky.site import Site, TypicalAir
from suntrack.sky.usual_year import clouded, usual_year
from suntrack.sky.year import YearSky, clear_year

SITE = Site(
    name="Gaborone",
    latitude_deg=-24.65,
    longitude_deg=25.91,
    elevation_m=1010.0,
    time_zone="Africa/Gaborone",
    typical_air=(TypicalAir(low_c=12.0, high_c=28.0, wind_m_s=2.0),) * 12,
)
CLEAR = clear_year(SITE, year=2026, utc_offset_h=2.0)


def hourly(values: np.ndarray) -> np.ndarray:
    return np.asarray(values.reshape(values.shape[0], 24, -1).mean(axis=2))


@pytest.fixture(scope="module")
def usual() -> YearSky:
    return usual_year(SITE, year=2026, utc_offset_h=2.0)


def index_of(sky: YearSky) -> np.ndarray:
    """Return light against the clear sky's, in hours with enough of it; nan elsewhere."""
    whole, clear = hourly(sky.global_horizontal_w_m2), hourly(CLEAR.global_horizontal_w_m2)
    return np.where(clear > 100.0, whole / np.maximum(clear, 1.0), np.nan)


def test_the_hours_have_the_measured_quantiles(usual: YearSky) -> None:
    """NOAA SURFRAD against McClear, the quantiles of `departures.toml`."""
    table = measured_departures()
    mine = np.nanquantile(index_of(usual), table.levels)
    # Some 3500 hours in 365 independent days: 0.04 is three standard errors of the median.
    np.testing.assert_allclose(mine, table.usual, atol=0.06)


def test_hours_of_a_day_go_together_and_days_do_not(usual: YearSky) -> None:
    """R(l) = 0.40 + 0.60 0.6^l of normal numbers, as fitted to the same stations."""
    index = index_of(usual)
    ranks = np.argsort(np.argsort(index[:, 9:15], axis=0), axis=0).astype(float)
    near = np.corrcoef(ranks[:, 0], ranks[:, 1])[0, 1]
    far = np.corrcoef(ranks[:, 0], ranks[:, 5])[0, 1]
    # Ranks of normal numbers correlate by 6/pi asin(r/2) (Pearson 1907).
    for measured, apart in ((near, 1.0), (far, 5.0)):
        rank = 6.0 / np.pi * np.arcsin(float(hour_correlation(apart)) / 2.0)
        assert measured == pytest.approx(rank, abs=0.12)
    assert abs(np.corrcoef(ranks[1:, 2], ranks[:-1, 2])[0, 1]) < 0.16


def test_light_is_split_as_pvlib_splits_it() -> None:
    index = np.full((365, 24), 0.6)
    sky = clouded(CLEAR, index, source="even cloud")
    whole, diffuse = hourly(sky.global_horizontal_w_m2), hourly(sky.diffuse_horizontal_w_m2)
    height, at_s = hourly(sky.elevation_deg), hourly(sky.at_s)
    high = height > 20.0
    theirs = irradiance.erbs_driesse(
        whole[high], 90.0 - height[high], dni_extra=extraterrestrial_w_m2(at_s[high])
    )["dhi"]
    np.testing.assert_allclose(diffuse[high], theirs, rtol=1e-6)


def test_beam_and_sky_make_up_the_whole(usual: YearSky) -> None:
    rise = np.maximum(np.sin(np.radians(usual.elevation_deg)), 0.0)
    np.testing.assert_allclose(
        usual.beam_normal_w_m2 * rise + usual.diffuse_horizontal_w_m2,
        usual.global_horizontal_w_m2,
        atol=1e-9,
    )
    assert (usual.diffuse_horizontal_w_m2 >= -1e-9).all()


def test_a_sky_that_never_departs_is_the_clear_one() -> None:
    never = ErrorQuantiles(
        foreseen=np.array([0.0, 2.0]),
        levels=np.array([0.1, 0.9]),
        measured=np.ones((2, 2)),
        usual=np.ones(2),
    )
    sky = usual_year(SITE, year=2026, utc_offset_h=2.0, departures=never)
    np.testing.assert_allclose(sky.global_horizontal_w_m2, CLEAR.global_horizontal_w_m2)


def test_the_same_place_has_the_same_year(usual: YearSky) -> None:
    again = usual_year(SITE, year=2026, utc_offset_h=2.0)
    np.testing.assert_array_equal(again.beam_normal_w_m2, usual.beam_normal_w_m2)


def test_days_are_dimmed_lot_by_lot() -> None:
    some = CLEAR.every(100)
    dim = some.dimmed(np.array([1.0, 0.5]))
    days = len(some.dates)
    assert dim.dates == some.dates * 2
    np.testing.assert_array_equal(dim.beam_normal_w_m2[:days], some.beam_normal_w_m2)
    np.testing.assert_allclose(dim.beam_normal_w_m2[days:], 0.5 * some.beam_normal_w_m2)
    np.testing.assert_array_equal(dim.air_c[days:], some.air_c)


def test_few_days_are_those_of_the_whole_year() -> None:
    few = clear_year(SITE, year=2026, utc_offset_h=2.0, every=73)
    assert few.dates == CLEAR.every(73).dates
    np.testing.assert_allclose(few.beam_normal_w_m2, CLEAR.every(73).beam_normal_w_m2)
