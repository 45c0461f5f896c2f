"""A household that follows suntrack, beside households that follow rules of thumb.

    python tests/households/judge.py --days 12 --places high-plain desert --out /tmp/judge.jsonl

Every morning the plan is asked for at the real command line (`today --json`), in faked time and
without a forecast, for the example box, pots and dishes; then the day is lived in the world of
`households.truth`, which is not ours, under measured light.  Against it: everything in early with
the plan's turns, the half-hour habit, the box aimed once at noon, and a planner that knows the
truth.  Days that were judged are read back from the file, so that a run can be stopped and go on.
Counted: dishes that are done and safe on the table by their meal.
"""

from __future__ import annotations

import argparse
import io
import json
import os
import sys
import tempfile
from collections.abc import Callable
from contextlib import redirect_stderr, redirect_stdout
from datetime import datetime, timedelta
from functools import partial
from itertools import product
from pathlib import Path
from typing import Any

import numpy as np
from numpy.typing import NDArray

sys.path.insert(0, str(Path(__file__).parents[1]))

from households.truth import (
    FOODS,
    STEP_S,
    Day,
    Flaws,
    boil_c,
    eaten,
    light_inside_w,
    run,
)
from households.weather import PLACES, Sky, days_of, measured

ROOT = Path(__file__).parents[2]
DISHES = ("lentil-soup", "winter-squash", "chicken-pieces")
SERVED = {"lentil-soup": 13.0, "winter-squash": 13.0, "chicken-pieces": 18.0}
EARLY = {"lentil-soup": 9.0, "winter-squash": 9.0, "chicken-pieces": 12.0}
"""Everything in at nine, what spoils at noon (common practice, no source)."""
BOXES = {
    "as told": Flaws(),
    "leaky": Flaws(loss=1.3, light=0.85),
    "heavy": Flaws(loss=1.1, light=0.95, heat=1.5),
}
Floats = NDArray[np.float64]
RULES = ("plan", "early", "habit", "aimed once", "perfect")


def config_at(place_name: str, folder: Path) -> Path:
    """Return a config of the example box, moved to a place; nothing hides the sun there."""
    place = PLACES[place_name]
    text = (ROOT / "config" / "suntrack.toml").read_text(encoding="utf-8")
    head, rest = text.split("[[site.skyline]]", 1)
    rest = "[box]" + rest.split("[box]", 1)[1]
    swaps = {
        'name = "Gaborone courtyard"': f'name = "{place.name}"',
        "latitude = -24.65": f"latitude = {place.latitude_deg}",
        "longitude = 25.91": f"longitude = {place.longitude_deg}",
        'elevation = "1010 m"': f'elevation = "{place.elevation_m} m"',
        'time_zone = "Africa/Gaborone"': f'time_zone = "{place.zone}"',
    }
    for old, new in swaps.items():
        assert old in head, old
        head = head.replace(old, new)
    # The air of a northern half of the year.
    months = [
        "0 C",
        "2 C",
        "6 C",
        "10 C",
        "14 C",
        "18 C",
        "20 C",
        "19 C",
        "15 C",
        "9 C",
        "4 C",
        "1 C",
    ]
    highs = [
        "8 C",
        "10 C",
        "15 C",
        "19 C",
        "24 C",
        "29 C",
        "32 C",
        "31 C",
        "27 C",
        "20 C",
        "13 C",
        "9 C",
    ]
    lines = [
        f"low = {json.dumps(months)}" if line.startswith("low =")
        else f"high = {json.dumps(highs)}" if line.startswith("high =") else line
        for line in head.splitlines()
    ]  # fmt: skip
    path = folder / f"{place_name}.toml"
    path.write_text("\n".join(lines) + "\n" + rest, encoding="utf-8")
    return path


def asked(config: Path, home: Path, at: datetime) -> dict[str, Any]:
    """Return what `today --json` answers."""
    from suntrack.cli import main

    os.environ["SUNTRACK_HOME"] = str(home)
    out = io.StringIO()
    with redirect_stdout(out), redirect_stderr(io.StringIO()):
        status = main(["today", "--json", "--config", str(config), "--at", at.isoformat()])
    assert status == 0
    answer: dict[str, Any] = json.loads(out.getvalue())
    return answer


def aims_by(sky: Sky, rule: str, plan: dict[str, Any]) -> tuple[Floats, Floats, Floats]:
    """Return where the box faces at each step, its mirror, and whether it is out.  [deg]"""
    steps = sky.ghi.size
    if rule in ("plan", "early"):
        turns = [
            (sky.step(datetime.fromisoformat(t["at"])), t["face_true_deg"], t["mirror_deg"])
            for t in plan["turns"]
        ]
    else:
        every = int((1800 if rule != "aimed once" else 12 * 3600) / STEP_S)
        first = sky.step(sky.first_at + timedelta(hours=3))
        turns = []
        for begin in range(first, steps, every):
            middle = min(begin + every // 2, steps - 1)
            turns.append(
                (begin, float(sky.azimuth_deg[middle]), _mirror(sky.elevation_deg[middle]))
            )
    face, mirror, out = np.zeros(steps), np.full(steps, 90.0), np.zeros(steps)
    for begin, facing, angle in turns:
        face[begin:], mirror[begin:], out[begin:] = facing, 90.0 if angle is None else angle, 1.0
    return face, mirror, out


def _mirror(elevation_deg: float) -> float:
    """Return the angle at which light from the mirror's middle lands on the glass's middle."""
    return float(np.clip(45.0 + elevation_deg * 0.5 + 22.0, 60.0, 130.0))


def world(sky: Sky, rule: str, plan: dict[str, Any]) -> Day:
    """Return the day as the box has it."""
    face, mirror, out = aims_by(sky, rule, plan)
    inside = light_inside_w(
        elevation_deg=sky.elevation_deg, azimuth_deg=sky.azimuth_deg, dni=sky.dni, dhi=sky.dhi,
        ghi=sky.ghi, face_deg=face, mirror_deg=mirror,
    )  # fmt: skip
    return Day(inside_w=inside * out, air_c=sky.air_c, wind_m_s=sky.wind_m_s,
               boil_c=boil_c(sky.place.elevation_m))  # fmt: skip


def hour_step(sky: Sky, hour: float) -> int:
    """Return the step of an hour of the day."""
    return sky.step(sky.first_at + timedelta(hours=hour - 5.0))


def judged(sky: Sky, plan: dict[str, Any], flaws: Flaws) -> dict[str, dict[str, str]]:
    """Return for each rule what became of each dish: good, bad, thrown or kept out."""
    foods = [FOODS[key] for key in DISHES]
    serve = [hour_step(sky, SERVED[key]) for key in DISHES]
    found: dict[str, dict[str, str]] = {}
    never = sky.ghi.size
    planned = {d["key"]: d["load_at"] for d in plan["dishes"]}
    for rule in RULES:
        day = world(sky, rule, plan)
        if rule == "perfect":
            grids = [
                np.arange(6.5, 12.1, 0.5),
                np.arange(6.5, 12.1, 1.0),
                np.arange(7.0, 16.6, 0.5),
            ]
            # The meals at one share the box: together; supper with the best of those.
            loads = np.array(
                [[hour_step(sky, h) for h in row] for row in product(grids[0], grids[1], [12.0])]
            )
            first = _fates(day, flaws, foods, loads, serve)
            best = max(range(len(loads)), key=lambda i: sum(f == "good" for f in first[i][:2]))
            loads = np.array([[*loads[best][:2], hour_step(sky, h)] for h in grids[2]])
            fates = _fates(day, flaws, foods, loads, serve)
            pick = max(fates, key=lambda row: sum(f == "good" for f in row))
        elif rule == "plan":
            row = [never if planned[k] is None else sky.step(datetime.fromisoformat(planned[k]))
                   for k in DISHES]  # fmt: skip
            pick = _fates(day, flaws, foods, np.array([row]), serve)[0]
        else:
            pick = _fates(
                day, flaws, foods, np.array([[hour_step(sky, EARLY[k]) for k in DISHES]]), serve
            )[0]
        found[rule] = dict(zip(DISHES, pick, strict=True))
    return found


def _fates(
    day: Day, flaws: Flaws, foods: list[Any], loads: NDArray[np.intp], serve: list[int]
) -> list[list[str]]:
    """Return what became of each dish for each row of loads."""
    pulls = np.tile(serve, (len(loads), 1))
    _, middles = run(day, flaws, foods, loads, pulls)
    rows = []
    for i in range(len(loads)):
        row = []
        for j, food in enumerate(foods):
            ate = eaten(
                food, middles[i, j], load=int(loads[i, j]), pull=int(pulls[i, j]), serve=serve[j]
            )
            kept_out = loads[i, j] >= day.inside_w.size
            row.append(
                "kept out"
                if kept_out
                else "good"
                if ate.good
                else "thrown"
                if ate.thrown
                else "bad"
            )
        rows.append(row)
    return rows


def main() -> int:
    """Judge days and print the table."""
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    parser.add_argument("--days", type=int, default=1000, help="at most so many of each place")
    parser.add_argument("--places", nargs="*", default=list(PLACES))
    parser.add_argument("--out", type=Path, default=None, help="a file to go on from")
    args = parser.parse_args()
    rows: list[dict[str, Any]] = []
    if args.out and args.out.exists():
        rows = [json.loads(line) for line in args.out.read_text().splitlines()]
    known = {(row["place"], row["on"]) for row in rows}
    with tempfile.TemporaryDirectory() as folder:
        for name in args.places:
            config = config_at(name, Path(folder))
            days = days_of(name)
            for on in days[:: max(1, len(days) // args.days)]:
                if (name, on.isoformat()) in known:
                    continue
                sky = measured(name, on)
                if sky is None:
                    continue
                plan = asked(config, Path(folder) / "home", sky.first_at)
                row = {
                    "place": name, "on": on.isoformat(), "clearness": sky.clearness,
                    "turns": len(plan["turns"]) - 1,
                    "loads": [d["load_at"] for d in plan["dishes"]],
                    "found": {box: judged(sky, plan, flaws) for box, flaws in BOXES.items()},
                }  # fmt: skip
                rows.append(row)
                if args.out:
                    with args.out.open("a") as file:
                        file.write(json.dumps(row) + "\n")
    print_table(rows)
    return 0


KINDS: dict[str, Callable[[dict[str, Any]], bool]] = {
    "all days": lambda row: True,
    "clear, above 90 %": lambda row: row["clearness"] >= 0.9,
    "hazy, 75 to 90 %": lambda row: 0.75 <= row["clearness"] < 0.9,
    "dull, below 75 %": lambda row: row["clearness"] < 0.75,
}


def print_table(rows: list[dict[str, Any]]) -> None:
    """Print dishes done and safe by their meal, for each rule, box, place and kind of day."""
    kinds = KINDS | {place: partial(_is_at, place=place) for place in PLACES}
    for box in BOXES:
        print(f"\nbox {box}: dishes good of all; thrown away in brackets")
        print(f"{'':22s}" + "".join(f"{rule:>14s}" for rule in RULES))
        for kind, takes in kinds.items():
            some = [row["found"][box] for row in rows if takes(row)]
            if some:
                cells = []
                for rule in RULES:
                    fates = [fate for day in some for fate in day[rule].values()]
                    cells.append(f"{fates.count('good'):4d}/{len(fates)} ({fates.count('thrown')})")
                print(f"{kind:22s}" + "".join(f"{cell:>14s}" for cell in cells))
    if rows:
        print(f"\nturns a day: {np.mean([row['turns'] for row in rows]):.1f}")


def _is_at(row: dict[str, Any], *, place: str) -> bool:
    return bool(row["place"] == place)


if __name__ == "__main__":
    sys.exit(main())
