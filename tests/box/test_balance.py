"""The step through time against an independent solver on the same films.

The oracle writes each node's balance out by hand and hands it to scipy's LSODA; the only
thing it shares with the simulator is `take_links`, the conductances at given temperatures.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.integrate import solve_ivp

from suntrack.box import march
from suntrack.box.balance import solve
from suntrack.box.build import Box, Glazing, Layer
from suntrack.box.compiled import run_days
from suntrack.box.film import swinbank_sky_c
from suntrack.box.gain import BoxLight
from suntrack.box.heat import Climate, PotCharge, Trace, blank_record, simulate
from suntrack.box.layout import box_numbers, light_shares, pot_numbers
from suntrack.box.links import take_links
from suntrack.box.march import Drive, Record, Work, new_work
from suntrack.box.records import (
    LINKS,
    MINUTE,
    STATE,
    BoxNumbers,
    Links,
    PotNumbers,
    as_record,
    blank,
)
from suntrack.box.thermal import Thermal, thermal

Array = np.ndarray[Any, np.dtype[np.float64]]
STEPS, LOAD = 360, 90
PANE_W = 8.0
BOX = thermal(
    Box(
        name="courtyard",
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


@dataclass
class Oracle:
    """The balances of one box and one pot: lining, wall 2, inner 2, outer 2, pot, shells."""

    box: Thermal
    light_w: float
    inside: bool
    opening: float

    def __post_init__(self) -> None:
        """Bring box and pot into the form that `take_links` reads."""
        self.row: BoxNumbers = as_record(box_numbers(self.box))
        self.pots: PotNumbers = as_record(pot_numbers([STEW], thermal=self.box))

    def air_and_links(self, y: Array) -> tuple[float, Links]:
        """Return the air in balance with the rest, and the links at that moment."""
        air = 0.5 * (y[0] + y[3])
        links, state, minute = blank(LINKS), blank(STATE), blank(MINUTE)
        minute.air_c, minute.sky_c, minute.wind_m_s = AIR_C, SKY_C, WIND_M_S
        minute.inside[0] = 1.0
        state.lining, state.walls[:], state.inner[:], state.outer[:] = y[0], y[1:3], y[3:5], y[5:7]
        state.pots[0], state.shells[0, :4] = y[7], y[8:]
        for _ in range(60):
            state.air = air
            take_links(links, state, minute, self.row, self.pots)
            leak = self.box.leak_w_k + self.opening * self.box.opening_w_k
            ends = [(links.lining_air, y[0]), (leak, AIR_C)]
            ends += list(zip(links.air.tolist(), y[3:5].tolist(), strict=True))
            ends += [(links.pot_air[0] * self.inside, y[7])]
            before, air = air, float(sum(g * c for g, c in ends) / sum(g for g, _ in ends))
            if abs(air - before) < 1e-8:
                break
        return air, links

    def rates(self, _: float, y: Array) -> Array:
        """Return how fast each temperature rises.  [K/s]"""
        air, links = self.air_and_links(y)
        first, second = self.box.wall_links_w_k
        share = float(light_shares([STEW], thermal=self.box)[0]) * self.inside
        gains = np.zeros(len(y))
        gains[0] += (1.0 - share) * self.light_w
        gains[7] += share * self.light_w
        gains[3:7] += PANE_W

        def join(i: int, j: int, conductance: Any) -> None:
            flow = float(conductance) * (y[i] - y[j])
            gains[i] -= flow
            gains[j] += flow

        join(0, 1, first)
        join(1, 2, second)
        gains[2] -= links.wall_out * (y[2] - AIR_C)
        gains[0] -= links.lining_air * (y[0] - air)
        for i, pane in enumerate(self.box.panes):
            hidden = STEW.lid_m2 * self.inside if i == 0 else 0.0
            join(0, 3 + i, links.lining_w_m2k[i] * (pane.area_m2 - hidden))
            join(3 + i, 5 + i, links.between[i])
            join(7, 3 + i, links.pot_panes[0, i] * self.inside)
            gains[3 + i] -= links.air[i] * (y[3 + i] - air)
            gains[5 + i] -= links.wind[i] * (y[5 + i] - AIR_C)
            gains[5 + i] -= links.sky[i] * (y[5 + i] - SKY_C)
        join(7, 0, links.pot_lining[0] * self.inside)
        gains[7] -= links.pot_air[0] * (y[7] - air) * self.inside
        for k, shell in enumerate(STEW.links_w_k):
            join(8 + k, 9 + k if k < 3 else 7, shell * self.inside)
        return gains / self.stores()

    def stores(self) -> Array:
        """Return the stores in the order of the temperatures.  [J/K]"""
        top, front = self.box.panes
        panes = [top.inner_j_k, front.inner_j_k, top.outer_j_k, front.outer_j_k]
        rest = [*panes, STEW.pot_j_k, *STEW.cells_j_k]
        return np.array([self.box.lining_j_k, *self.box.wall_stores_j_k, *rest])


@pytest.fixture(scope="module")
def truth() -> tuple[Array, Array]:
    """Return the day by LSODA: 90 min empty, load, a cloud, sun again; and the air of it."""
    day = np.array([28.0] * 7 + [10.0] * 5)
    rows, air = [day], [28.0]
    pieces = [
        (0, LOAD, 300.0, False, 0.0),
        (LOAD, LOAD + 1, 300.0, True, 0.75),
        (LOAD + 1, 240, 300.0, True, 0.0),
        (240, 300, 80.0, True, 0.0),
        (300, STEPS, 250.0, True, 0.0),
    ]
    for start, end, light_w, inside, opening in pieces:
        oracle = Oracle(BOX, light_w, inside, opening)
        span = (60.0 * start, 60.0 * end)
        times = 60.0 * np.arange(start + 1, end + 1)
        found = solve_ivp(
            oracle.rates, span, day, method="LSODA", t_eval=times, rtol=1e-6, atol=1e-5
        )
        rows += list(found.y.T)
        air += [oracle.air_and_links(row)[0] for row in found.y.T]
        day = found.y[:, -1]
    return np.array(rows), np.array(air)


def ours(longest_s: float) -> Trace:
    """Return the same day by the simulator."""
    light = np.full((1, STEPS), 300.0)
    light[0, 240:300], light[0, 300:] = 80.0, 250.0
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
        pots=[STEW],
        load_step=LOAD,
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
