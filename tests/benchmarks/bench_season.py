"""How long a year of a box takes: run `python tests/benchmarks/bench_season.py`.

Prints times of the example box at its site under a clear year; nothing here is a test,
because machines differ.  The simulator is compiled before the clock starts.
"""

from __future__ import annotations

from pathlib import Path
from time import perf_counter

from suntrack.day.season import season, year_run
from suntrack.day.standard_pot import standard_pot
from suntrack.edge.config import load_config
from suntrack.sky.year import clear_year

ROOT = Path(__file__).parents[2]


def main() -> None:
    """Print how long sky, days and angles take."""
    config = load_config(ROOT / "config" / "suntrack.toml")
    pot = standard_pot(config.pots, box=config.box, elevation_m=config.site.elevation_m)
    sky = clear_year(config.site, year=2026, utc_offset_h=2.0)
    year_run(config.box, config.site, sky.every(73), pot=pot, threshold_c=100.0)
    for name, task in (
        (
            "sun and clear sky, 365 days",
            lambda: clear_year(config.site, year=2026, utc_offset_h=2.0),
        ),
        (
            "365 days, empty and with a pot",
            lambda: year_run(config.box, config.site, sky, pot=pot, threshold_c=100.0),
        ),
        (
            "the same with mirror and tilt by month",
            lambda: season(config.box, config.site, sky, pot=pot, threshold_c=100.0, hours=2.0),
        ),
    ):
        start = perf_counter()
        task()
        print(f"{name:40s} {perf_counter() - start:6.2f} s")


if __name__ == "__main__":
    main()
