"""How long simulated days take: run `PYTHONPATH=tests python tests/benchmarks/bench_heat.py`.

Prints times and ratios; nothing here is a test, because machines differ.
"""

from __future__ import annotations

from time import perf_counter
from typing import TYPE_CHECKING

import numpy as np
from exact_day import BOX, ExactDay

from suntrack.box.heat.convection import swinbank_sky_c
from suntrack.box.heat.simulate import Climate, Trace, simulate
from suntrack.box.heat.structs import PotCharge
from suntrack.box.light.gain import BoxLight

if TYPE_CHECKING:
    from collections.abc import Callable

    from numpy.typing import NDArray

STEPS = 720
LOOSE = 1e-4
"""Relative tolerance of LSODA where its time is taken.  [-]"""
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


def loads(*, runs: int, pots: int) -> NDArray[np.int64]:
    """Return loads every five minutes, at random, the first row always the same."""
    return 5 * np.random.default_rng(1).integers(0, 80, (runs, pots))


def day(*, pots: int, runs: int) -> Callable[[], Trace]:
    """Return a day of 12 hours in minutes, its loads every five minutes."""
    arch = 320.0 * np.sin(np.pi * (np.arange(STEPS) + 0.5) / STEPS)[None, :]
    flat = np.ones((1, STEPS))
    light = BoxLight(
        inside_w=arch,
        top_panes_w=np.full((1, STEPS, 2), 8.0),
        front_panes_w=np.full((1, STEPS, 1), 16.0),
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
        load_step=loads(runs=runs, pots=pots) if pots else 0,
        step_s=60.0,
        start_c=25.0,
    )


def best_s(task: Callable[[], object], *, rounds: int = 3) -> float:
    """Return the shortest of a few times.  [s]"""
    times = []
    for _ in range(rounds):
        start = perf_counter()
        task()
        times.append(perf_counter() - start)
    return min(times)


def exact(*, compiled: bool, rtol: float = 1e-6) -> ExactDay:
    """Return the day of the first run of a batch, for LSODA."""
    made = ExactDay(
        thermal=BOX,
        pots=[POT] * 3,
        loads=loads(runs=1, pots=3)[0].tolist(),
        inside_w=lambda s: 320.0 * float(np.sin(np.pi * s / (60.0 * STEPS))),
        breaks=[],
        pane_w=8.0,
        weather=(28.0, float(swinbank_sky_c(28.0)), 1.5),
        minutes=STEPS,
        start_c=25.0,
        rtol=rtol,
        atol=100.0 * rtol,
    )
    if compiled:
        made.compile()
        made.run()
    return made


def largest_k() -> float:
    """Return how far the simulator is from LSODA in any part at any minute.  [K]"""
    trace = day(pots=3, runs=1)()
    rows, air = exact(compiled=True).run()
    pairs = [(trace.air_c[0], air), (trace.lining_c[0], rows[:, 0]), (trace.wall_c[0], rows[:, 1])]
    pairs += [(trace.top_panes_c[0, i], rows[:, 3 + 2 * i]) for i in (0, 1)]
    for pot in range(3):
        pairs += [(trace.pots_c[0, pot], rows[:, 7 + 5 * pot])]
        pairs += [(trace.core_c[0, pot], rows[:, 8 + 5 * pot])]
    return max(float(np.abs(found - right).max()) for found, right in pairs)


def main() -> None:
    """Print the table."""
    one = best_s(day(pots=3, runs=1))
    print(f"one day, 3 pots                          {1e3 * one:9.2f} ms")
    print(f"one day, empty                           {1e3 * best_s(day(pots=0, runs=1)):9.2f} ms")
    each = one
    for runs in (100, 1000, 10_000):
        whole = best_s(day(pots=3, runs=runs), rounds=2)
        each = whole / runs
        print(
            f"{runs:6d} days, 3 pots                      {whole:9.2f} s, {1e3 * each:.3f} ms each"
        )
    for compiled in (False, True):
        # As loose as it may be and still stay within half a degree.
        lsoda = best_s(exact(compiled=compiled, rtol=LOOSE).run, rounds=1)
        kind = "compiled balances" if compiled else "Python balances"
        print(f"LSODA, {kind:17s}                 {1e3 * lsoda:9.1f} ms a day")
        print(f"  a day of 10,000 is quicker by          {lsoda / each:9.0f} times")
        print(f"  a day alone is quicker by              {lsoda / one:9.0f} times")
    tight, loose = (exact(compiled=True, rtol=rtol).run()[0] for rtol in (1e-6, LOOSE))
    print(f"LSODA is off itself by                   {np.abs(tight - loose).max():9.2f} K")
    print(f"largest difference from LSODA            {largest_k():9.2f} K, any part, any minute")


if __name__ == "__main__":
    main()
