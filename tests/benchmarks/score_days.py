"""How often a plan proves right that says so: run `python tests/benchmarks/score_days.py`.

For days of a year at seven stations (see `score_skies.py`) the example box and dishes are
planned under the skies made of "as yesterday", each station with tables made from the six
others; then the same plan is run under the light that was measured.  Box and kitchen are the
same model both times: what is scored are the skies and their counting, nothing else.
`--every 12` takes every twelfth day (the default), `--every 1` all, which takes an hour.
"""

from __future__ import annotations

import argparse
import sys
import tempfile
from dataclasses import replace
from datetime import UTC, datetime, timedelta
from pathlib import Path
from typing import TYPE_CHECKING

import numpy as np

sys.path.insert(0, str(Path(__file__).parents[1]))
from benchmarks.score_skies import DAY_S, Station, read_year, table_of

from suntrack.config.reader import Config, load_config
from suntrack.feeds.planner import day_inputs
from suntrack.plan.make import plan_day
from suntrack.sky.clear_sky_index import interval_means
from suntrack.sky.ensemble import day_seed, dressed_skies
from suntrack.sky.error_quantiles import ErrorQuantiles
from suntrack.sky.forecast import Forecast
from suntrack.sky.scores import brier, reliability
from suntrack.sky.weather import Weather

if TYPE_CHECKING:
    from numpy.typing import NDArray

    from suntrack.plan.inputs import DayInputs
    from suntrack.plan.records import Chances

EXAMPLE = Path(__file__).parents[2] / "config" / "suntrack.toml"
SITES = {
    # Latitude, longitude, elevation: NOAA SURFRAD station list, from memory, to 0.01 degree.
    "Bondville_IL": (40.05, -88.37, 230.0, "America/Chicago"),
    "Boulder_CO": (40.13, -105.24, 1689.0, "America/Denver"),
    "Desert_Rock_NV": (36.62, -116.02, 1007.0, "America/Los_Angeles"),
    "Fort_Peck_MT": (48.31, -105.10, 634.0, "America/Denver"),
    "Goodwin_Creek_MS": (34.25, -89.87, 98.0, "America/Chicago"),
    "Penn_State_PA": (40.72, -77.93, 376.0, "America/New_York"),
    "Sioux_Falls_SD": (43.73, -96.62, 473.0, "America/Chicago"),
}
AS_FORESEEN = ErrorQuantiles(
    foreseen=np.array([0.0, 2.0]),
    levels=np.array([0.1, 0.9]),
    measured=np.array([[0.0, 0.0], [2.0, 2.0]]),
    usual=np.array([0.7, 0.7]),
)
"""A table in which everything comes as it was foreseen: it turns measured light into a sky."""
OLD = timedelta(days=10)
"""So old a forecast takes the whole of each departure, as "as yesterday" has to."""


def site_config(config: Config, station: Station) -> Config:
    """Return the example at a station, its typical air shifted by half a year in the north."""
    latitude, longitude, elevation, zone = SITES[station.name]
    months = config.site.typical_air
    return replace(
        config,
        site=replace(
            config.site,
            latitude_deg=latitude,
            longitude_deg=longitude,
            elevation_m=elevation,
            time_zone=zone,
            typical_air=months[6:] + months[:6],
        ),
    )


def forecast_of(station: Station, index: NDArray[np.float64], clear: Weather) -> Forecast:
    """Return an index of days and hours as the forecast of the day of `clear`."""
    count = index.size
    starts_s = station.starts_at_s + 3600.0 * np.arange(count, dtype=np.float64)
    near = np.abs(starts_s - clear.at_s.mean()) < DAY_S
    starts_s = starts_s[near]
    light = interval_means(clear.global_horizontal_w_m2[0], clear, starts_s, starts_s + 3600.0)
    made_at = datetime.fromtimestamp(float(clear.at_s[0]), tz=UTC) - OLD
    return Forecast(
        feed="measured",
        kind="radiation",
        starts_at_s=starts_s,
        ends_at_s=starts_s + 3600.0,
        fetched_at=made_at,
        issued_at=made_at,
        global_horizontal_w_m2=(index.ravel()[near] * light)[None],
    )


def under(inputs: DayInputs, skies: Weather, *, first: Weather | None = None) -> Chances:
    """Return what skies make of the plan for the first of them, or for that of others."""
    if first is not None:
        skies = after(first, skies)
    chances = plan_day(replace(inputs, weather=skies)).chances
    assert chances is not None
    return chances


def after(first: Weather, skies: Weather) -> Weather:
    """Return skies with the first one of others in the place of their own."""

    def joined(one: NDArray[np.float64], many: NDArray[np.float64]) -> NDArray[np.float64]:
        return np.concatenate([one[:1], many[1:]])

    return replace(
        skies,
        global_horizontal_w_m2=joined(first.global_horizontal_w_m2, skies.global_horizontal_w_m2),
        beam_normal_w_m2=joined(first.beam_normal_w_m2, skies.beam_normal_w_m2),
        diffuse_horizontal_w_m2=joined(
            first.diffuse_horizontal_w_m2, skies.diffuse_horizontal_w_m2
        ),
    )


def main() -> None:
    """Print scores and reliability of the chances of whole plans."""
    arguments = argparse.ArgumentParser()
    arguments.add_argument("--every", type=int, default=12)
    every = arguments.parse_args().every
    stations, example = read_year(), load_config(EXAMPLE)
    rows: list[tuple[float, float, float, float]] = []
    with tempfile.TemporaryDirectory() as cache:
        for i, station in enumerate(stations):
            table = table_of(stations[:i] + stations[i + 1 :])
            config = site_config(example, station)
            found = station_rows(config, station, table, every=every, cache=Path(cache))
            said, came = np.nanmean(np.array(found), axis=0)[2:]
            print(
                f"{station.name}: good on {said:.2f} by the plan, {came:.2f} in truth", flush=True
            )
            rows += found
    report(np.array(rows))


def station_rows(
    config: Config, station: Station, table: ErrorQuantiles, *, every: int, cache: Path
) -> list[tuple[float, float, float, float]]:
    """Return chance and outcome for the box and for the dishes, on some days of a station."""
    index = station.index
    yesterday = np.vstack([np.full((1, 24), np.nan), index[:-1]])
    rows = []
    for day in range(2, index.shape[0] - 2, every):
        noon_s = station.starts_at_s + DAY_S * day + DAY_S / 2.0
        noon = datetime.fromtimestamp(noon_s, tz=config.site.zone)
        lit = slice(8, 16)
        if np.isnan(index[day, lit]).any() or np.isnan(yesterday[day, lit]).any():
            continue
        inputs = day_inputs(
            config, on=noon.date(), now=noon.replace(hour=1, minute=0), cache_dir=cache
        )
        clear, sun = inputs.weather, inputs.sun
        seed = day_seed(config.site, noon.date())
        foreseen = forecast_of(station, yesterday, clear)
        skies = dressed_skies(foreseen, clear=clear, sun=sun, seed=seed, departures=table)
        came = dressed_skies(
            forecast_of(station, index, clear),
            clear=clear,
            sun=sun,
            seed=seed,
            skies=1,
            departures=AS_FORESEEN,
        )
        said, true = under(inputs, skies), under(inputs, came, first=skies)
        rows.append((said.holds, true.holds, _known(said.good), _known(true.good)))
    return rows


def _known(chance: float | None) -> float:
    """Return a chance; nan on a day on which nothing goes in."""
    return np.nan if chance is None else chance


def report(rows: NDArray[np.float64]) -> None:
    """Print what came of the chances."""
    for name, said, came in (
        ("box holds the threshold", rows[:, 0], rows[:, 1]),
        ("all that goes in is good", rows[:, 2], rows[:, 3]),
    ):
        known = ~np.isnan(said)
        said, came = said[known], came[known]
        base = float(came.mean())
        print(f"{name}: {said.size} days, came true on {100 * base:.0f} %")
        print(f"  Brier {brier(said, came):.3f}; base rate {base * (1 - base):.3f}; ", end="")
        print(f"always yes {brier(np.ones(said.size), came):.3f}")
        for one in reliability(said, came):
            print(f"  said {one.foretold:.2f}, came {one.came:.2f}, {one.count:4d} days")


if __name__ == "__main__":
    main()
