"""How long a year of a box and its meals takes: run `python tests/benchmarks/bench_season.py`.

Prints times of the example box and its three dishes under the clear year of its site and under
a typical year that pvlib ships; and of one change weighed.  Nothing here is a test, because
machines differ.  The simulator is compiled before the clock starts.
"""

from __future__ import annotations

import sys
from functools import partial
from pathlib import Path
from time import perf_counter
from typing import TYPE_CHECKING

import pvlib

sys.path.insert(0, str(Path(__file__).parents[1]))
from planned_days import meals_in

from suntrack.bench.water_load import standard_pot
from suntrack.config.reader import load_config
from suntrack.feeds.season_sky import asked_year
from suntrack.sky.year import clear_year
from suntrack.year.compare_designs import Kitchen, weigh
from suntrack.year.meal_days import meal_year
from suntrack.year.meal_pots import cookbook
from suntrack.year.season import season, year_run
from suntrack.year.usual_changes import Change

if TYPE_CHECKING:
    from collections.abc import Callable

ROOT = Path(__file__).parents[2]
MIAMI = str(Path(pvlib.__file__).parent / "data" / "12839.tm2")
TIMES = 3


def timed(name: str, task: Callable[[], object]) -> None:
    """Print the shortest of a few runs."""
    spans = []
    for _ in range(TIMES):
        start = perf_counter()
        task()
        spans.append(perf_counter() - start)
    print(f"{name:52s} {min(spans):6.2f} s")


def main() -> None:
    """Print how long sky, days, meals and angles take."""
    config = load_config(ROOT / "config" / "suntrack.toml")
    warm = clear_year(config.site, year=2026, utc_offset_h=2.0, every=73)
    pot = standard_pot(config.pots, box=config.box, elevation_m=config.site.elevation_m)
    year_run(config.box, config.site, warm, pot=pot, threshold_c=100.0)
    for word in ("clear", "usual", MIAMI):
        name = Path(word).name
        ask = partial(asked_year, config, word, year=2026, usual="clear")
        asked = ask()
        site = asked.site
        book = cookbook(meals_in(config), box=config.box, pots=config.pots, site=site)
        timed(f"{name}: sun and sky, 365 days", ask)
        days = partial(meal_year, config.box, site, asked.sky, book=book, free=config.free)
        timed(f"{name}: three dishes, each alone and together", days)
        timed(
            f"{name}: the whole answer from this sky",
            partial(
                season, config.box, site, asked.sky, pot=pot, threshold_c=100.0, hours=2.0,
                book=book, free=config.free,
            ),
        )  # fmt: skip
    kitchen = Kitchen(
        site=config.site, pots=config.pots, meals=tuple(meals_in(config)), free=config.free
    )
    usual = asked_year(config, "usual", year=2026, usual="clear").sky.every(4)
    same = [Change(words="the same", box=config.box)]
    timed(
        "usual: the box as it is and one change, weighed",
        partial(weigh, config.box, same, kitchen=kitchen, sky=usual, clear=warm),
    )


if __name__ == "__main__":
    main()
