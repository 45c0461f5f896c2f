"""How long a plan takes: run `PYTHONPATH=tests python tests/benchmarks/bench_plan.py`.

Against a planner that tries the same simulated days one at a time with LSODA.  Prints times
and ratios; nothing here is a test, because machines differ.
"""

from __future__ import annotations

from dataclasses import replace
from datetime import date, datetime, timedelta
from pathlib import Path
from tempfile import TemporaryDirectory
from time import perf_counter
from typing import TYPE_CHECKING, Any

import numpy as np
from exact_day import ExactDay

from suntrack.box.build import Pot
from suntrack.box.heat.convection import swinbank_sky_c
from suntrack.box.heat.network import thermal
from suntrack.config.reader import load_config
from suntrack.feeds.planner import day_inputs
from suntrack.plan.dishes import oven
from suntrack.plan.dishes.candidates import cooking_of
from suntrack.plan.dishes.pots import seat_dishes
from suntrack.plan.frame import frame_day
from suntrack.plan.make import plan_day
from suntrack.plan.records import Wish
from suntrack.sky.ensemble import typical_skies

if TYPE_CHECKING:
    from suntrack.box.heat.simulate import Trace
    from suntrack.plan.inputs import DayInputs

CONFIG = Path(__file__).parents[2] / "config" / "suntrack.toml"
ON = date(2026, 11, 25)
MEALS = (
    ("lentil-soup", 13), ("winter-squash", 13), ("white-rice", 18), ("root-stew", 18),
    ("chicken-pieces", 18), ("maize-porridge", 12), ("beetroot", 18), ("potatoes", 13),
)  # fmt: skip


def example(cache: str) -> DayInputs:
    """Return the example day in a box that is large enough for eight pots."""
    config = load_config(CONFIG)
    dawn = datetime(2026, 11, 25, 5, 0, tzinfo=config.site.zone)
    inputs = day_inputs(config, on=ON, now=dawn, cache_dir=Path(cache))
    pot = Pot(
        name="pot", capacity_l=3.0, mass_kg=0.9, material="enamelled steel", diameter_m=0.2,
        height_m=0.12,
    )  # fmt: skip
    return replace(
        inputs,
        box=replace(inputs.box, width_m=0.9, depth_m=0.6),
        pots=tuple(replace(pot, name=f"pot {i}") for i in range(8)),
    )


def day_of(inputs: DayInputs, *, dishes: int, skies: int) -> DayInputs:
    """Return the day with so many dishes under so many skies."""
    midnight = datetime(ON.year, ON.month, ON.day, tzinfo=inputs.site.zone)
    known = [meal for meal in MEALS if meal[0] in inputs.dishes]
    known += [("lentil-soup", 13)] * (dishes - len(known))
    wishes = tuple(
        Wish(dish=key, serve_at=midnight + timedelta(hours=hour), mass_kg=0.8)
        for key, hour in known[:dishes]
    )
    weather = typical_skies(clear=inputs.weather, sun=inputs.sun, seed=7, skies=skies)
    return replace(inputs, wishes=wishes, weather=weather)


def planned(inputs: DayInputs) -> tuple[float, int, int]:
    """Return the time of a plan, the days simulated for it, and the dishes that go in.  [s]"""
    days = [0]
    simulate = oven.DayOven.run

    def counting(*args: Any, **kwargs: Any) -> Trace:
        trace = simulate(*args, **kwargs)
        days[0] += trace.air_c.shape[0]
        return trace

    oven.DayOven.run = counting  # type: ignore[method-assign]
    begun = perf_counter()
    plan = plan_day(inputs)
    taken = perf_counter() - begun
    oven.DayOven.run = simulate  # type: ignore[method-assign]
    return taken, days[0], sum(dish.load_at is not None for dish in plan.dishes)


def lsoda_s(inputs: DayInputs) -> float:
    """Return how long LSODA takes for one such day.  [s]"""
    frame = frame_day(inputs)
    seats = seat_dishes(inputs.wishes, dishes=inputs.dishes, pots=inputs.pots, box=inputs.box)
    cookings = [cooking_of(inputs, seat, frame=frame) for seat in seats if seat.pot]
    minutes = round(frame.grid.steps * frame.grid.step_s / 60.0)
    exact = ExactDay(
        thermal=thermal(inputs.box),
        pots=[cooking.charge for cooking in cookings],
        loads=[60 + 30 * i for i in range(len(cookings))],
        inside_w=lambda s: 500.0 * max(0.0, float(np.sin(np.pi * s / (60.0 * minutes)))),
        breaks=[],
        pane_w=8.0,
        weather=(28.0, float(swinbank_sky_c(28.0)), 1.5),
        minutes=minutes,
        start_c=25.0,
        rtol=1e-4,
        atol=1e-2,
    )
    begun = perf_counter()
    exact.run()
    return perf_counter() - begun


def main() -> None:
    """Print the table."""
    with TemporaryDirectory() as cache:
        inputs = example(cache)
        planned(day_of(inputs, dishes=2, skies=10))
        for dishes in (4, 8):
            day = day_of(inputs, dishes=dishes, skies=50)
            taken, days, going = planned(day)
            naive = days * lsoda_s(day)
            print(
                f"{dishes} dishes x 50 skies: {taken:6.2f} s, {going} go in, {days} simulated days;"
                f" one at a time by LSODA {naive:9.0f} s, {naive / taken:7.0f} times"
            )
        for skies in (25, 50, 100, 200):
            taken, days, _ = planned(day_of(inputs, dishes=4, skies=skies))
            print(f"4 dishes x {skies:3d} skies: {taken:6.2f} s, {days} simulated days")


if __name__ == "__main__":
    main()
