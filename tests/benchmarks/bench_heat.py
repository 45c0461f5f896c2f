"""How long simulated days take: run `python tests/benchmarks/bench_heat.py`.

Prints times and ratios; nothing here is a test, because machines differ.
"""

from __future__ import annotations

from time import perf_counter
from typing import TYPE_CHECKING

import numpy as np

from suntrack.box.build import Box, Glazing, Layer
from suntrack.box.film import swinbank_sky_c
from suntrack.box.gain import BoxLight
from suntrack.box.heat import Climate, PotCharge, simulate
from suntrack.box.thermal import thermal

if TYPE_CHECKING:
    from collections.abc import Callable

STEPS = 720
BOX = thermal(
    Box(
        name="bench",
        width_m=0.55,
        depth_m=0.45,
        height_m=0.28,
        top=Glazing(glasses=2),
        front=Glazing(),
        mirror=None,
        walls=(
            Layer(material="plywood", thickness_m=0.006),
            Layer(material="mineral wool", thickness_m=0.050),
            Layer(material="plywood", thickness_m=0.009),
        ),
        lining=Layer(material="aluminium", thickness_m=0.0008),
    )
)
POT = PotCharge(
    pot_j_k=6000.0,
    cells_j_k=(100.0, 400.0, 700.0, 900.0),
    links_w_k=(5.0, 9.0, 12.0, 15.0),
    side_m2=0.09,
    lid_m2=0.045,
    base_m2=0.045,
    emittance=0.9,
    absorptance=0.92,
    start_c=15.0,
    boiling_c=97.0,
    lid_leak=0.06,
    open_m2=0.04,
)


def day(*, pots: int, runs: int, longest_s: float = 120.0) -> Callable[[], object]:
    """Return a day of 12 hours in minutes, its loads every five minutes."""
    arch = 320.0 * np.sin(np.pi * (np.arange(STEPS) + 0.5) / STEPS)[None, :]
    flat = np.ones((1, STEPS))
    load = 5 * np.random.default_rng(1).integers(0, 80, (runs, pots))
    light = BoxLight(
        inside_w=arch,
        top_panes_w=np.full((1, STEPS, 2), 8.0),
        front_panes_w=np.full((1, STEPS, 1), 8.0),
        top_w=arch,
        front_w=0 * arch,
        mirror_w=0 * arch,
    )
    sky_c = float(swinbank_sky_c(28.0))
    climate = Climate(air_c=28.0 * flat, sky_c=sky_c * flat, wind_m_s=1.5 * flat)
    return lambda: simulate(
        BOX,
        light=light,
        climate=climate,
        pots=[POT] * pots,
        load_step=load if pots else 0,
        step_s=60.0,
        start_c=25.0,
        longest_s=longest_s,
    )


def best_s(task: Callable[[], object], *, rounds: int = 3) -> float:
    """Return the shortest of a few times.  [s]"""
    times = []
    for _ in range(rounds):
        start = perf_counter()
        task()
        times.append(perf_counter() - start)
    return min(times)


def main() -> None:
    """Print the table."""
    one = best_s(day(pots=3, runs=1))
    print(f"one day, 3 pots                    {1e3 * one:8.1f} ms")
    print(f"one day, empty                     {1e3 * best_s(day(pots=0, runs=1)):8.1f} ms")
    minute = best_s(day(pots=3, runs=1, longest_s=0.0))
    print(f"one day, 3 pots, every minute      {minute / one:8.2f} times as long")
    for runs in (100, 1000, 10_000):
        many = best_s(day(pots=3, runs=runs), rounds=1)
        print(f"{runs:6d} days, 3 pots  {many:8.2f} s, {runs * one / many:6.1f} times one by one")


if __name__ == "__main__":
    main()
