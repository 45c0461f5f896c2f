"""Households that live days with suntrack through its commands, late, forgetful and by eye.

    python tests/households/household.py --days 6 --seed 1 --places desert --out /tmp/lived.jsonl

Each household has a box of its own that is not quite the one in its config, keeps one journal over
its days, asks `today --json` every hour it is there, does what it reads in its own way, and writes
it down with `note`.  Days that were lived are read back from the file; the journals are kept beside
it.  Counted: dishes good by their meal, beside everything in early and a planner that knows the
truth; food thrown away; walks; days called off rightly and wrongly; dishes that a screen called
safe while the middle had never been so hot, or had warmed for longer than this world's clock
allows (slow); commands that were refused.
"""

from __future__ import annotations

import argparse
import io
import json
import os
import sys
import tempfile
import zlib
from collections import Counter
from collections.abc import Iterable
from contextlib import redirect_stderr, redirect_stdout
from dataclasses import dataclass, field, replace
from datetime import datetime, timedelta
from pathlib import Path
from typing import Any

import numpy as np

sys.path.insert(0, str(Path(__file__).parents[1]))

from households.judge import DISHES, SERVED, Floats, config_at, hour_step, judged
from households.truth import FOODS, STEP_S, Day, Flaws, boil_c, eaten, light_inside_w, run
from households.weather import PLACES, Sky, days_of, measured

Rng = np.random.Generator
BESIDE = ("plan", "early", "habit", "perfect")
"""Rules beside the lived day; plan: the morning's, to the minute, whatever came later."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Habits:
    """How a cook differs from a machine."""

    late_min: float = 0.0
    """Mean of how late a step is done.  [min]"""
    aim_off_deg: float = 0.0
    """Spread of a turn by eye.  [deg]"""
    forgets: float = 0.0
    """Share of the notes that are never written.  [-]"""
    thermometer_off_c: float | None = 0.0
    """What the thermometer shows too much; None: there is none.  [K]"""
    free: tuple[str, ...] = ("6:00-20:30",)
    """When somebody is there, as the config says it."""


HABITS = {
    "careful": Habits(),
    "no thermometer": Habits(thermometer_off_c=None),
    "by eye, late": Habits(late_min=12.0, aim_off_deg=10.0, thermometer_off_c=None),
    "forgetful, 8 F high": Habits(late_min=6.0, aim_off_deg=5.0, forgets=0.4,
                                  thermometer_off_c=8.0 / 1.8),
    "away at work": Habits(late_min=5.0, aim_off_deg=5.0, free=("6:00-8:30", "16:30-20:30")),
}  # fmt: skip
"""The habits of all households; invented, as plain people are."""


def drawn_flaws(rng: Rng) -> Flaws:
    """Return how far a box is from its config; plausible ranges, no source."""
    return Flaws(loss=float(rng.uniform(0.7, 1.6)), light=float(rng.uniform(0.8, 1.05)),
                 heat=float(rng.uniform(0.8, 1.5)))  # fmt: skip


def seeded(*words: object) -> Rng:
    """Return a source of chance that is the same for the same words, in every run."""
    return np.random.default_rng(zlib.crc32("/".join(map(str, words)).encode()))


@dataclass(slots=True, kw_only=True, eq=False)
class Life:
    """One day of one household while it is lived."""

    sky: Sky
    flaws: Flaws
    habits: Habits
    config: Path
    home: Path
    rng: Rng
    loads: dict[str, int] = field(default_factory=dict)
    pulls: dict[str, int] = field(default_factory=dict)
    aims: list[tuple[int, float, float]] = field(default_factory=list)
    """Step, facing and mirror of each turn.  [deg]"""
    faces_deg: float | None = None
    """Where the last turn should have brought it, from north over east.  [deg]"""
    lies: list[str] = field(default_factory=list)
    """When what was called safe, how hot it had been and was shown to be.  [C]"""
    counts: Counter[str] = field(default_factory=Counter)

    def told(self, at: datetime, *words: str) -> dict[str, Any] | None:
        """Return what a command answers; None if it was refused."""
        os.environ["SUNTRACK_HOME"] = str(self.home)
        out = io.StringIO()
        argv = [*words, "--json", "--config", str(self.config), "--at", at.isoformat()]
        from suntrack.cli import main

        with redirect_stdout(out), redirect_stderr(io.StringIO()):
            status = main(argv)
        if status != 0:
            self.counts[f"refused {words[0]}"] += 1
            return None
        answer: dict[str, Any] = json.loads(out.getvalue())
        return answer

    def note(self, at: datetime, *words: str) -> None:
        """Write something down, or forget to."""
        if self.rng.random() >= self.habits.forgets:
            self.told(at, "note", *words)
            self.counts["notes"] += 1

    def moment(self, planned: datetime, now: datetime) -> datetime:
        """Return when a step is really done: never early, seldom on time."""
        late = self.rng.exponential(self.habits.late_min) if self.habits.late_min else 0.0
        return (max(planned, now) + timedelta(minutes=late)).replace(second=0, microsecond=0)

    def day(self) -> Day:
        """Return the weather that the box had, as it stood."""
        steps = self.sky.ghi.size
        face, mirror, out = np.zeros(steps), np.full(steps, 90.0), np.zeros(steps)
        for begin, facing, angle in sorted(self.aims):
            face[begin:], mirror[begin:], out[begin:] = facing, angle, 1.0
        inside = light_inside_w(
            elevation_deg=self.sky.elevation_deg, azimuth_deg=self.sky.azimuth_deg,
            dni=self.sky.dni, dhi=self.sky.dhi, ghi=self.sky.ghi, face_deg=face, mirror_deg=mirror,
        )  # fmt: skip
        return Day(inside_w=inside * out, air_c=self.sky.air_c, wind_m_s=self.sky.wind_m_s,
                   boil_c=boil_c(self.sky.place.elevation_m))  # fmt: skip

    def truth(self, until: int) -> tuple[Floats, Floats]:
        """Return the box and the middles, (dishes, steps), up to a step.  [C]"""
        day = self.day()
        day = replace(day, inside_w=day.inside_w[: max(until, 1)])
        never = self.sky.ghi.size
        loads = np.array([[self.loads.get(key, never) for key in DISHES]])
        pulls = np.array([[self.pulls.get(key, never) for key in DISHES]])
        box_c, middles = run(day, self.flaws, [FOODS[key] for key in DISHES], loads, pulls)
        return box_c[0], middles[0]


def lived(life: Life) -> dict[str, Any]:
    """Live a day, and return what came of it."""
    called_off = False
    first: dict[str, Any] | None = None
    for now in hours(life):
        plan = life.told(now, "today")
        if plan is None:
            continue
        if first is None:
            first, called_off = plan, not plan["verdict"]["cook"]
        if called_off:
            break
        _act(life, plan, now)
        _look(life, now + timedelta(minutes=59))
    fates = _fates(life)
    return {"called off": called_off, "fates": fates, "counts": dict(life.counts),
            "loads": {key: _clock(life.sky, step) for key, step in life.loads.items()},
            "planned": {d["key"]: d["load_at"] for d in first["dishes"]} if first else {},
            "lies": life.lies,
            "morning": first}  # fmt: skip


def _clock(sky: Sky, step: int) -> str:
    return f"{sky.first_at + timedelta(seconds=step * STEP_S):%H:%M}"


def hours(life: Life) -> Iterable[datetime]:
    """Yield the hours at which somebody is there to ask."""
    for hour in range(6, 19):
        if any(_opens(span) <= hour < _shuts(span) for span in life.habits.free):
            yield life.sky.first_at + timedelta(hours=hour - 5)


def _opens(span: str) -> float:
    return _hour(span.split("-")[0])


def _shuts(span: str) -> float:
    return _hour(span.split("-")[1])


def _hour(text: str) -> float:
    hour, minute = text.split(":")
    return int(hour) + int(minute) / 60.0


def _act(life: Life, plan: dict[str, Any], now: datetime) -> None:
    """Do what the plan says of the next hour."""
    ends = now + timedelta(hours=1)
    walks = 0
    for turn in _due(life, plan, now, ends):
        done = life.moment(datetime.fromisoformat(turn["at"]), now)
        life.faces_deg = turn["face_true_deg"]
        aim = life.faces_deg + life.rng.normal(0.0, 1.0) * life.habits.aim_off_deg
        angle = 90.0 if turn["mirror_deg"] is None else turn["mirror_deg"]
        life.aims.append((life.sky.step(done), aim, angle))
        life.note(done, "turned")
        walks += 1
    for dish in plan["dishes"]:
        walks += _serve(life, dish, now, ends)
    life.counts["walks"] += walks


def _apart_deg(one: float, other: float) -> float:
    """Return the angle between two bearings.  [deg]"""
    return abs((one - other + 180.0) % 360.0 - 180.0)


def _due(life: Life, plan: dict[str, Any], now: datetime, ends: datetime) -> list[dict[str, Any]]:
    """Return the turns of this hour, and the one the box should stand at but does not."""
    begun = [turn for turn in plan["turns"] if datetime.fromisoformat(turn["at"]) < now]
    coming = [turn for turn in plan["turns"] if now <= datetime.fromisoformat(turn["at"]) < ends]
    stands = life.faces_deg
    if begun and (stands is None or _apart_deg(begun[-1]["face_true_deg"], stands) > 15.0):
        return [begun[-1], *coming]
    return coming


def _serve(life: Life, dish: dict[str, Any], now: datetime, ends: datetime) -> int:
    """Load and pull a dish within the hour; return the walks."""
    key, walks = dish["key"], 0
    if key not in life.loads and dish["load_at"] is not None:
        at = datetime.fromisoformat(dish["load_at"])
        if at < ends:
            done = life.moment(at, now)
            life.loads[key] = life.sky.step(done)
            life.note(done, "loaded", key)
            walks += 1
    if key in life.loads and key not in life.pulls:
        meal = life.sky.first_at + timedelta(hours=SERVED[key] - 5.0)
        if now <= meal < ends:
            life.pulls[key] = life.sky.step(meal)
            life.note(meal, "pulled", key)
            walks += 1
    return walks


def _look(life: Life, at: datetime) -> None:
    """Look at the screen and the thermometer at the end of the hour."""
    step = life.sky.step(at)
    box_c, middles = life.truth(step)
    screen = life.told(at, "now")
    for shown in screen["cooking"] if screen else []:
        key = shown["key"]
        load = life.loads.get(key)
        if load is None or not shown["safe"] or key in life.pulls:
            continue
        life.counts["looks at safe"] += 1
        middle = middles[DISHES.index(key)]
        hottest = float(middle[load:step].max(initial=0.0))
        if hottest < FOODS[key].safe_c - 0.05:
            life.counts["unsafe called safe"] += 1
            life.lies.append(f"{at:%H:%M} {key} {hottest:.1f} shown {shown['core_c']:.1f}")
        ate = eaten(FOODS[key], middle, load=load, pull=step, serve=step)
        life.counts["slow called safe"] += ate.thrown
    off = life.habits.thermometer_off_c
    if off is not None and life.aims and step > min(aim[0] for aim in life.aims):
        life.note(at, "reading", f"{box_c[-1] + off:.0f}C")


def _fates(life: Life) -> dict[str, str]:
    """Return what became of each dish at its meal."""
    steps = life.sky.ghi.size
    _, middles = life.truth(steps)
    fates = {}
    for j, key in enumerate(DISHES):
        meal = hour_step(life.sky, SERVED[key])
        load = life.loads.get(key)
        if load is None:
            fates[key] = "kept out"
            continue
        ate = eaten(FOODS[key], middles[j], load=load, pull=life.pulls.get(key, meal), serve=meal)
        fates[key] = "good" if ate.good else "thrown" if ate.thrown else "bad"
    return fates


def config_of(place: str, habits: Habits, folder: Path) -> Path:
    """Return the config of a household: the example box, with its own free hours."""
    folder.mkdir(parents=True, exist_ok=True)
    path = config_at(place, folder)
    text = path.read_text(encoding="utf-8")
    old = 'free = ["6:30-20:30"]'
    assert old in text
    path.write_text(text.replace(old, f"free = {json.dumps(habits.free)}"), encoding="utf-8")
    return path


def day_of(place: str, who: str, seed: int, sky: Sky, folder: Path) -> dict[str, Any]:
    """Return one lived day beside what early loading and the perfect planner get."""
    habits, flaws = HABITS[who], drawn_flaws(seeded("box", place, who, seed))
    at_home = folder / f"{place}-{who}-{seed}".replace(" ", "_").replace(",", "")
    life = Life(
        sky=sky, flaws=flaws, habits=habits, config=config_of(place, habits, at_home),
        home=at_home / "journal", rng=seeded("day", place, who, seed, sky.on),
    )  # fmt: skip
    found = lived(life)
    morning = found.pop("morning")
    beside = judged(sky, morning, flaws) if morning else {}
    return {
        "place": place, "who": who, "seed": seed, "on": sky.on.isoformat(),
        "clearness": sky.clearness, "flaws": [flaws.loss, flaws.light, flaws.heat], **found,
        "beside": {rule: beside.get(rule, {}) for rule in BESIDE},
    }  # fmt: skip


def main() -> int:
    """Live days and print the tables."""
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    parser.add_argument("--days", type=int, default=6, help="at most so many of each household")
    parser.add_argument("--seed", type=int, default=1)
    parser.add_argument("--places", nargs="*", default=list(PLACES))
    parser.add_argument("--who", nargs="*", default=list(HABITS))
    parser.add_argument("--out", type=Path, default=None, help="a file to go on from")
    args = parser.parse_args()
    rows: list[dict[str, Any]] = []
    if args.out and args.out.exists():
        rows = [json.loads(line) for line in args.out.read_text().splitlines()]
    known = {(row["place"], row["who"], row["seed"], row["on"]) for row in rows}
    with tempfile.TemporaryDirectory() as scratch:
        folder = args.out.with_suffix(".homes") if args.out else Path(scratch)
        for place in args.places:
            days = days_of(place)
            for on in days[:: max(1, len(days) // args.days)]:
                sky = measured(place, on)
                for who in args.who if sky else ():
                    if (place, who, args.seed, on.isoformat()) in known:
                        continue
                    assert sky is not None
                    rows.append(day_of(place, who, args.seed, sky, folder))
                    if args.out:
                        with args.out.open("a") as file:
                            file.write(json.dumps(rows[-1]) + "\n")
    print_tables(rows)
    return 0


def print_tables(rows: list[dict[str, Any]]) -> None:
    """Print what came, by household and by place."""
    head = ("days", "dishes", "lived", *BESIDE, "thrown", "walks", "off right",
            "off wrong", "unsafe", "slow", "refused")  # fmt: skip
    print(f"{'':22s}" + "".join(f"{word:>10s}" for word in head))
    groups = [("all", rows)]
    for kind in ("who", "place"):
        for name in dict.fromkeys(row[kind] for row in rows):
            some = [row for row in rows if row[kind] == name]
            groups += [(name, some)]
    for name, some in groups:
        print(f"{name:22s}" + "".join(f"{cell:>10}" for cell in _cells(some)))


def _cells(rows: list[dict[str, Any]]) -> list[object]:
    """Return a line of the table.

    A day is called off rightly when the perfect planner would not have had all dishes either.
    """
    good = {rule: sum(list(row["beside"][rule].values()).count("good") for row in rows)
            for rule in BESIDE}  # fmt: skip
    lived_fates = [fate for row in rows for fate in row["fates"].values()]
    off = [list(row["beside"]["perfect"].values()).count("good") < len(DISHES)
           for row in rows if row["called off"]]  # fmt: skip
    counts: Counter[str] = Counter()
    for row in rows:
        counts.update(row["counts"])
    walks = counts["walks"] / max(1, len(rows))
    refused = sum(count for key, count in counts.items() if key.startswith("refused"))
    return [len(rows), len(lived_fates), lived_fates.count("good"), *good.values(),
            lived_fates.count("thrown"), f"{walks:.1f}", sum(off), len(off) - sum(off),
            counts["unsafe called safe"], counts["slow called safe"], refused]  # fmt: skip


if __name__ == "__main__":
    sys.exit(main())
