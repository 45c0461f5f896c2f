"""Skies of a real ensemble: 21 members of NOAA GEFS for a point in Arizona, two runs.

The file (gefs_members_point.csv, from the MIT-licensed tests of solarforecastarbiter-core) is
a forecast, so it says how members differ and nothing of what came.  Raw ensembles are too
narrow for the first days (Schulz et al. 2021, arXiv 2101.06717); dressed ones must not be.
"""

from __future__ import annotations

from dataclasses import replace
from datetime import UTC, date, datetime, timedelta

import numpy as np
import pytest
from measured_weather import MEMBERS, rows_of
from numpy.typing import NDArray

from suntrack.sky.clear_sky import clear_weather
from suntrack.sky.ensemble import dressed_skies
from suntrack.sky.forecast import Forecast
from suntrack.sky.site import Site, TypicalAir
from suntrack.sky.sun import day_grid, sun_table

HILLS = Site(
    name="hills",
    latitude_deg=32.0,
    longitude_deg=-110.5,
    elevation_m=1200.0,
    time_zone="America/Phoenix",
    typical_air=tuple(TypicalAir(low_c=12.0, high_c=28.0) for _ in range(12)),
)
RUNS = ("2019_05_15_00", "2020_10_03_00")


def ensemble(run: str) -> Forecast:
    """Return a run in three-hour means: each second stamp is a mean of six hours."""
    rows = [row for row in rows_of(MEMBERS) if row["run"] == run]
    members = sorted({row["member"] for row in rows})
    table = np.array([
        [float(row["dswrf_Wm2"] or "nan") for row in rows if row["member"] == member]
        for member in members
    ])  # fmt: skip
    stamps = [row["valid_utc"] for row in rows if row["member"] == members[0]]
    ends = [datetime.fromisoformat(stamp).replace(tzinfo=UTC) for stamp in stamps]
    light = table[:, 1:].copy()
    six = np.array([at.hour % 6 == 0 for at in ends[1:]])
    light[:, six] = np.maximum(2.0 * light[:, six] - table[:, :-1][:, six], 0.0)
    ends_s = np.array([at.timestamp() for at in ends[1:]])
    return Forecast(
        feed="ensemble",
        kind="radiation",
        starts_at_s=ends_s - 10800.0,
        ends_at_s=ends_s,
        fetched_at=ends[0],
        issued_at=ends[0],
        global_horizontal_w_m2=light,
    )


def noon_index(given: Forecast, on: date, *, skies: int) -> NDArray[np.float64]:
    """Return the index of each sky in the hour about noon, shape (skies,)."""
    starts_s = day_grid(on, HILLS.zone, step_s=600.0)
    sun = sun_table(
        starts_s + 300.0,
        latitude_deg=HILLS.latitude_deg,
        longitude_deg=HILLS.longitude_deg,
        elevation_m=HILLS.elevation_m,
    )
    clear = clear_weather(sun, site=HILLS, step_s=600.0, on=on)
    made = dressed_skies(given, clear=clear, sun=sun, seed=3, skies=skies)
    noon = slice(12 * 6, 13 * 6)
    share = made.global_horizontal_w_m2[1:, noon] / clear.global_horizontal_w_m2[:, noon]
    return np.asarray(share.mean(axis=1))


@pytest.mark.parametrize("run", RUNS)
@pytest.mark.parametrize("ahead", [0, 1, 2])
def test_members_are_widened_to_what_one_forecast_would_get(run: str, ahead: int) -> None:
    many = ensemble(run)
    assert many.members == 21
    light = many.global_horizontal_w_m2
    assert light is not None
    mean = replace(many, global_horizontal_w_m2=light.mean(axis=0, keepdims=True))
    on = date.fromisoformat(run[:10].replace("_", "-")) + timedelta(days=ahead)
    wide, single = noon_index(many, on, skies=2100), noon_index(mean, on, skies=2100)
    assert wide.std() > 0.8 * single.std()
    assert wide.mean() == pytest.approx(single.mean(), abs=0.06)


def test_the_raw_members_alone_would_be_far_too_sure() -> None:
    """On the first day the members hardly differ; models do not err so little."""
    many = ensemble(RUNS[0])
    light = many.global_horizontal_w_m2
    assert light is not None
    first_noon = int(np.argmin(np.abs(many.mid_at_s - many.mid_at_s[0] - 18.0 * 3600.0)))
    raw = float(light[:, first_noon].std() / light[:, first_noon].mean())
    dressed = noon_index(many, date(2019, 5, 15), skies=500).std()
    assert raw < 0.02
    assert dressed > 5.0 * raw
