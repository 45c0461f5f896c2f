"""How many good days the year's search misses: `python tests/benchmarks/search_season.py`.

Eight dishes by themselves in the three typical years that pvlib ships, against the same judge
with every ten-minute mark of every day tried.  Takes a minute or two.
"""

from __future__ import annotations

import sys
from datetime import time
from pathlib import Path

import pvlib

sys.path.insert(0, str(Path(__file__).parents[1]))
from planned_days import good_at_any_mark

from suntrack.config.reader import load_config
from suntrack.feeds.season_sky import asked_year
from suntrack.year.meal_days import meal_year
from suntrack.year.meal_pots import Meal, cookbook

ROOT = Path(__file__).parents[2]
DATA = Path(pvlib.__file__).parent / "data"
NOON, EVENING = time(13), time(18)
DISHES = {
    "lentil-soup": NOON,
    "winter-squash": NOON,
    "yeast-loaf": NOON,
    "fish-fillets": NOON,
    "egg-bake": NOON,
    "goat-stew": NOON,
    "chicken-pieces": EVENING,
    "beef-stew": EVENING,
}


def main() -> None:
    """Print good days found, missed, and found that no mark makes good."""
    config = load_config(ROOT / "config" / "suntrack.toml")
    sums = [0, 0, 0]
    for file in ("723170TYA.CSV", "12839.tm2", "703165TY.csv"):
        asked = asked_year(config, str(DATA / file), year=2026, usual="clear")
        for key, serve in DISHES.items():
            meal = Meal(dish=config.library[key], serve=serve)
            book = cookbook([meal], box=config.box, pots=config.pots, site=asked.site)
            run = meal_year(config.box, asked.site, asked.sky, book=book, free=config.free)
            every = good_at_any_mark(config, asked, asked.sky, meal)
            mine = run.good[0]
            counts = [int((mine & every).sum()), int((every & ~mine).sum()),
                      int((mine & ~every).sum())]  # fmt: skip
            sums = [a + b for a, b in zip(sums, counts, strict=True)]
            print(f"{file:14s} {key:15s} {counts[0]:4d} found, {counts[1]} missed,"
                  f" {counts[2]} too many", flush=True)  # fmt: skip
    print(f"in all {sums[0]} found, {sums[1]} missed, {sums[2]} too many")


if __name__ == "__main__":
    main()
