"""The step through time against an independent solver on the same films (`exact_day`)."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

import numpy as np
import pytest
from exact_day import BOX, ExactDay
from hypothesis import given, settings
from hypothesis import strategies as st

from suntrack.box.compiled import run_days
from suntrack.box.heat import integrate as march
from suntrack.box.heat.convection import swinbank_sky_c
from suntrack.box.heat.integrate import Drive, Record, Work, new_work
from suntrack.box.heat.pack_structs import box_numbers, pot_numbers
from suntrack.box.heat.simulate import Climate, Trace, blank_record, simulate
from suntrack.box.heat.step import solve
from suntrack.box.heat.structs import PotCharge
from suntrack.box.light.gain import BoxLight

Array = np.ndarray[Any, np.dtype[np.float64]]
STEPS, LOAD = 360, 90
PANE_W = 8.0
STEW = PotCharge(
    pot_j_k=5700.0,
    cells_j_k=(100.0, 400.0, 700.0, 900.0),
    links_w_k=(5.0, 9.0, 12.0, 15.0),
    side_m2=0.09,
    lid_m2=0.045,
    base_m2=0.045,
    emittance=0.9,
    absorptance=0.92,
    start_c=10.0,
    boiling_c=None,
    lid_leak=0.0,
    open_m2=0.0,
)
AIR_C, SKY_C, WIND_M_S = 28.0, float(swinbank_sky_c(28.0)), 1.5


SOUP = replace(STEW, cells_j_k=(), links_w_k=(), boiling_c=95.0, lid_leak=0.06, open_m2=0.04)


def light_w(seconds: float) -> float:
    """Return sun, a cloud from minute 240 to 300, and less sun."""
    minute = seconds / 60.0
    return 80.0 if 240 <= minute < 300 else 250.0 if minute >= 300 else 300.0


@pytest.fixture(scope="module")
def truth() -> tuple[Array, Array]:
    """Return the day by LSODA: 90 min empty, load, a cloud, sun again; and the air of it."""
    exact = ExactDay(
        thermal=BOX,
        pots=[STEW, SOUP],
        loads=[LOAD, LOAD + 40],
        inside_w=light_w,
        breaks=[240, 300],
        pane_w=PANE_W,
        weather=(AIR_C, SKY_C, WIND_M_S),
        minutes=STEPS,
        start_c=28.0,
    )
    return exact.run()


def ours(longest_s: float) -> Trace:
    """Return the same day by the simulator."""
    light = np.array([[light_w(60.0 * step + 30.0) for step in range(STEPS)]])
    flat = np.ones((1, STEPS))
    return simulate(
        BOX,
        light=BoxLight(
            inside_w=light,
            top_panes_w=np.full((1, STEPS, 2), PANE_W),
            front_panes_w=np.full((1, STEPS, 1), 2 * PANE_W),
            top_w=light,
            front_w=0.0 * light,
            mirror_w=0.0 * light,
        ),
        climate=Climate(air_c=AIR_C * flat, sky_c=SKY_C * flat, wind_m_s=WIND_M_S * flat),
        pots=[STEW, SOUP],
        load_step=[LOAD, LOAD + 40],
        step_s=60.0,
        start_c=28.0,
        longest_s=longest_s,
    )


@pytest.mark.parametrize(("longest_s", "most_k"), [(30.0, 0.15), (120.0, 0.5)])
def test_every_part_follows_the_exact_solution_at_every_minute(
    truth: tuple[Array, Array], longest_s: float, most_k: float
) -> None:
    """Cold start, load, lid, cloud and sun again among them."""
    day, air = truth
    trace = ours(longest_s)
    for name, found, exact in (
        ("lining", trace.lining_c[0], day[:, 0]),
        ("wall", trace.wall_c[0], day[:, 1]),
        ("top, inner", trace.top_panes_c[0, 0], day[:, 3]),
        ("front, inner", trace.front_panes_c[0, 0], day[:, 4]),
        ("top, outer", trace.top_panes_c[0, 1], day[:, 5]),
        ("front, outer", trace.front_panes_c[0, 1], day[:, 6]),
        ("pot", trace.pots_c[0, 0], day[:, 7]),
        ("core", trace.core_c[0, 0], day[:, 8]),
        ("soup", trace.pots_c[0, 1], day[:, 12]),
        ("air", trace.air_c[0], air),
    ):
        assert np.abs(found - exact).max() < most_k, name


@settings(max_examples=30)
@given(st.integers(2, 4), st.integers(0, 2**32 - 1))
def test_core_is_solved_as_by_numpy(size: int, seed: int) -> None:
    """A network of conductances to an outside is a symmetric, dominant matrix."""
    numbers = np.random.default_rng(seed)
    links = np.tril(numbers.uniform(0.0, 50.0, (size, size)), -1)
    links = links + links.T
    matrix = np.diag(links.sum(axis=1) + numbers.uniform(0.1, 20.0, size)) - links
    right = numbers.uniform(-1e3, 1e4, size)
    expected = np.linalg.solve(matrix, right)
    found = right.copy()
    solve(np.tril(matrix), found, size)
    assert np.allclose(found, expected, rtol=1e-9)


def test_compiled_and_plain_python_are_one() -> None:
    """The very functions that are compiled, run by Python, walk the same half hour."""
    box, pots = box_numbers(BOX), pot_numbers([STEW], thermal=BOX)
    records = []
    for walk in (run_days(), plain_run_days):
        drive, record = half_hour()
        walk(0, 1, box, pots, drive, new_work(), record)
        records.append(record)
    for compiled, plain in zip(*records, strict=True):
        assert np.allclose(compiled, plain, rtol=1e-9)


def plain_run_days(
    first: int, last: int, box: Any, pots: Any, drive: Drive, work: Work, record: Record
) -> None:
    """Do as `run_days` does, with records that plain Python can read."""
    rows = box.view(np.recarray), pots.view(np.recarray)
    own = Work(*(part.view(np.recarray) for part in work))
    march.run_days(first, last, *rows, drive, own, record)


def half_hour() -> tuple[Drive, Record]:
    """Return thirty minutes of sun with a pot that goes in after ten."""
    flat = np.ones((1, 30))
    panes = PANE_W * np.ones((1, 30, 2))
    drive = Drive(
        inside_w=300.0 * flat,
        inner_w=panes,
        outer_w=panes,
        air_c=AIR_C * flat,
        sky_c=SKY_C * flat,
        wind_m_s=WIND_M_S * flat,
        load_step=np.array([[10]]),
        pull_step=np.array([[29]]),
        opened=np.zeros((1, 30), np.bool_),
        start_c=np.array([60.0]),
        step_s=60.0,
        longest_s=30.0,
    )
    return drive, blank_record(1, panes=2, pots=1, steps=30)
