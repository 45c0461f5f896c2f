"""How often the year and the planner agree on a day: `python tests/benchmarks/agree_season.py`.

Days of the typical years that pvlib ships, the example's dishes each alone and all together.
Twice: against the planner's kitchen under its half-hour habit, which is how the year turns the
box, and against the plan as it is made, which turns as seldom as the meal allows.  One day in
fourteen (`--every 14`); the plans take some minutes.
"""

from __future__ import annotations

import argparse
import sys
from dataclasses import replace
from datetime import time
from pathlib import Path

import pvlib

sys.path.insert(0, str(Path(__file__).parents[1]))
from planned_days import all_ready, all_ready_by_habit, meals_in, plan_inputs

from suntrack.config.reader import load_config
from suntrack.feeds.season_sky import asked_year
from suntrack.year.meal_days import meal_year
from suntrack.year.meal_pots import cookbook

ROOT = Path(__file__).parents[2]
DATA = Path(pvlib.__file__).parent / "data"
AWAY = ((time(0), time(9)), (time(12, 30), time(20, 30)))
RUNS = (("723170TYA.CSV", None), ("12839.tm2", None), ("703165TY.csv", None),
        ("723170TYA.CSV", AWAY))  # fmt: skip


def main() -> None:
    """Print for each file how many days agree, and which way the others go."""
    parser = argparse.ArgumentParser()
    parser.add_argument("--every", type=int, default=14)
    parser.add_argument("--habit", action="store_true", help="leave the plans out")
    args = parser.parse_args()
    config = load_config(ROOT / "config" / "suntrack.toml")
    meals = meals_in(config)
    ways = {"half-hour habit": all_ready_by_habit}
    if not args.habit:
        ways["plan as made"] = all_ready
    sums = {name: [0, 0, 0, 0] for name in ways}
    for file, free in RUNS:
        here = config if free is None else replace(config, free=free)
        asked = asked_year(here, str(DATA / file), year=2026, usual="clear")
        sky = asked.sky.every(args.every)
        book = cookbook(meals, box=here.box, pots=here.pots, site=asked.site)
        found = meal_year(here.box, asked.site, sky, book=book, free=here.free)
        asks = [*((i,) for i in range(len(meals))), tuple(range(len(meals)))]
        for place, picked in enumerate(asks):
            mine = found.good[place] if place < len(meals) else found.together
            for day in range(len(sky.dates)):
                inputs = plan_inputs(here, asked, sky, day, picked)
                for name, judge in ways.items():
                    theirs = judge(inputs)
                    sums[name][2 * int(mine[day]) + int(theirs)] += 1
        print(f"{file}, {'away at noon' if free else 'as the config says'}:")
        for name, (neither, planned, year, both) in sums.items():
            count = neither + planned + year + both
            print(f"  {name:16s} {neither + both} of {count} agree so far,"
                  f" good for the year only {year}, for the planner only {planned}")  # fmt: skip


if __name__ == "__main__":
    main()
