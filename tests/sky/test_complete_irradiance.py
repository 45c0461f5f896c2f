"""A forecast's light made whole: what a feed gives is kept, the rest is worked out."""

from __future__ import annotations

from datetime import UTC, datetime
from typing import Any

import numpy as np
import pytest

from suntrack.sky.clear_sky import clear_sky
from suntrack.sky.complete_irradiance import clear_global_w_m2, interval_light
from suntrack.sky.forecast import Forecast
from suntrack.sky.site import Site, TypicalAir
from suntrack.sky.sun import sun_table

HOUR_S = 3600.0
DAWN = datetime(2026, 11, 25, 2, tzinfo=UTC)
STARTS_S = DAWN.timestamp() + HOUR_S * np.arange(17, dtype=np.float64)
SITE = Site(
    name="courtyard",
    latitude_deg=-24.65,
    longitude_deg=25.91,
    elevation_m=1010.0,
    time_zone="Africa/Gaborone",
    typical_air=(TypicalAir(low_c=19.0, high_c=32.0),) * 12,
)


def forecast(**fields: Any) -> Forecast:
    return Forecast(
        feed="made up",
        kind="radiation" if "global_horizontal_w_m2" in fields else "cloud only",
        starts_at_s=STARTS_S,
        ends_at_s=STARTS_S + HOUR_S,
        fetched_at=DAWN,
        **fields,
    )


@pytest.mark.parametrize(("cloud", "share"), [(0.0, 1.0), (1.0, 0.25)])
def test_cloud_leaves_its_share_of_the_clear_sky(cloud: float, share: float) -> None:
    """1 - 0.75 n^3.4 at its two ends (Kasten and Czeplak 1980, from memory)."""
    light = interval_light(forecast(cloud=np.full((1, 17), cloud)), site=SITE)
    np.testing.assert_allclose(light.global_horizontal_w_m2[0], share * light.clear_global_w_m2)


def test_the_mean_of_an_interval_is_that_of_its_minutes() -> None:
    """Means over twelve moments against the same sky minute by minute."""
    minutes_s = STARTS_S[0] + 60.0 * (np.arange(17 * 60, dtype=np.float64) + 0.5)
    table = sun_table(minutes_s, latitude_deg=-24.65, longitude_deg=25.91, elevation_m=1010.0)
    minutes = clear_sky(table, site=SITE).global_horizontal_w_m2.reshape(17, 60).mean(axis=1)
    found = clear_global_w_m2(STARTS_S, STARTS_S + HOUR_S, site=SITE)
    np.testing.assert_allclose(found, minutes, atol=1.0)


def test_the_feeds_own_beam_is_kept_but_not_near_sunrise() -> None:
    total, beam = np.full((1, 17), 400.0), np.full((1, 17), 123.0)
    light = interval_light(
        forecast(
            global_horizontal_w_m2=total,
            beam_normal_w_m2=beam,
            diffuse_horizontal_w_m2=np.full((1, 17), 77.0),
        ),
        site=SITE,
    )
    high = light.sun_elevation_deg >= 5.0
    assert 10 < np.count_nonzero(high) < 17
    assert set(light.beam_normal_w_m2[0, high]) == {123.0}
    assert set(light.diffuse_horizontal_w_m2[0, high]) == {77.0}
    assert 123.0 not in light.beam_normal_w_m2[0, ~high]


def test_one_missing_hour_of_beam_is_split_from_the_global_light() -> None:
    beam = np.full((1, 17), 123.0)
    beam[0, 8] = np.nan
    light = interval_light(
        forecast(
            global_horizontal_w_m2=np.full((1, 17), 400.0),
            beam_normal_w_m2=beam,
            diffuse_horizontal_w_m2=np.full((1, 17), 77.0),
        ),
        site=SITE,
    )
    up = np.sin(np.radians(light.sun_elevation_deg[8]))
    together = light.diffuse_horizontal_w_m2[0, 8] + light.beam_normal_w_m2[0, 8] * up
    assert together == pytest.approx(400.0)


def test_unknown_light_stays_unknown() -> None:
    light = interval_light(forecast(cloud=np.full((1, 17), np.nan)), site=SITE)
    assert np.isnan(light.global_horizontal_w_m2).all()


def test_a_forecast_without_sun_or_cloud_is_refused() -> None:
    with pytest.raises(ValueError, match="neither"):
        interval_light(forecast(air_c=np.full((1, 17), 20.0)), site=SITE)
