"""The step through time against an independent solver on the same films.

The oracle writes each node's balance out by hand and hands it to scipy's LSODA; the only
thing it shares with the simulator is `find_links`, the conductances at given temperatures.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

import numpy as np
import pytest
from scipy.integrate import solve_ivp

from suntrack.box.build import Box, Glazing, Layer
from suntrack.box.film import swinbank_sky_c
from suntrack.box.gain import BoxLight
from suntrack.box.heat import Climate, PotCharge, Trace, simulate
from suntrack.box.links import Links, find_links
from suntrack.box.network import light_shares
from suntrack.box.state import Outdoors, State
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
OUTDOORS = Outdoors(air=28.0, sky=float(swinbank_sky_c(28.0)), wind=1.5)


@dataclass
class Oracle:
    """The balances of one box and one pot: lining, wall 2, inner 2, outer 2, pot, shells."""

    box: Thermal
    light_w: float
    inside: bool
    opening: float

    def air_and_links(self, y: list[float]) -> tuple[float, Links]:
        """Return the air in balance with the rest, and the links at that moment."""
        air = 0.5 * (y[0] + y[3])
        for _ in range(60):
            state = State(air, y[0], y[1], y[2], [*y[3:5]], [*y[5:7]], [y[7]], [[*y[8:]]])
            links = find_links(state, outdoors=OUTDOORS, thermal=self.box, pots=[STEW])
            leak = self.box.leak_w_k + self.opening * self.box.opening_w_k
            ends = [(float(links.lining_air), y[0]), (leak, OUTDOORS.air)]
            ends += [(float(p.air), c) for p, c in zip(links.panes, y[3:5], strict=True)]
            ends += [(float(links.pots[0].air) * self.inside, y[7])]
            before, air = air, float(sum(g * c for g, c in ends) / sum(g for g, _ in ends))
            if abs(air - before) < 1e-8:
                break
        return air, links

    def rates(self, _: float, values: Array) -> Array:
        """Return how fast each temperature rises.  [K/s]"""
        y: list[float] = values.tolist()
        air, links = self.air_and_links(y)
        first, second = self.box.wall_links_w_k
        share = light_shares([STEW], thermal=self.box)[0] * self.inside
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
        gains[2] -= float(links.wall_out) * (y[2] - OUTDOORS.air)
        gains[0] -= float(links.lining_air) * (y[0] - air)
        for i, (pane, link) in enumerate(zip(self.box.panes, links.panes, strict=True)):
            hidden = STEW.lid_m2 * self.inside if i == 0 else 0.0
            join(0, 3 + i, link.lining_w_m2k * (pane.area_m2 - hidden))
            join(3 + i, 5 + i, link.between)
            join(7, 3 + i, links.pots[0].panes[i] * self.inside)
            gains[3 + i] -= float(link.air) * (y[3 + i] - air)
            gains[5 + i] -= float(link.wind) * (y[5 + i] - OUTDOORS.air)
            gains[5 + i] -= float(link.sky) * (y[5 + i] - OUTDOORS.sky)
        join(7, 0, links.pots[0].lining * self.inside)
        gains[7] -= float(links.pots[0].air) * (y[7] - air) * self.inside
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
        air += [oracle.air_and_links(row.tolist())[0] for row in found.y.T]
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
        climate=Climate(
            air_c=OUTDOORS.air * flat, sky_c=OUTDOORS.sky * flat, wind_m_s=OUTDOORS.wind * flat
        ),
        pots=[STEW],
        load_step=LOAD,
        step_s=60.0,
        start_c=28.0,
        longest_s=longest_s,
    )


@pytest.mark.parametrize(("longest_s", "food_k"), [(0.0, 0.15), (120.0, 0.6)])
def test_food_follows_the_exact_solution(
    truth: tuple[Array, Array], longest_s: float, food_k: float
) -> None:
    """Pot and core at every minute of the day."""
    day, _ = truth
    trace = ours(longest_s)
    assert np.abs(trace.pots_c[0, 0] - day[:, 7]).max() < food_k
    assert np.abs(trace.core_c[0, 0] - day[:, 8]).max() < food_k


def test_box_follows_the_exact_solution(truth: tuple[Array, Array]) -> None:
    """Lining, glass, walls and air, but for the minutes around the start, lid and clouds."""
    day, air = truth
    trace = ours(120.0)
    calm = np.ones(STEPS + 1, np.bool_)
    for at in (0, LOAD, 240, 300):
        calm[at : at + 20] = False
    for found, exact in (
        (trace.wall_c[0], day[:, 1]),
        (trace.top_panes_c[0, 0], day[:, 3]),
        (trace.top_panes_c[0, 1], day[:, 5]),
    ):
        assert np.abs(found - exact)[calm].max() < 0.5
    for found, exact in ((trace.lining_c[0], day[:, 0]), (trace.air_c[0], air)):
        assert np.abs(found - exact)[calm].mean() < 0.5
        assert np.abs(found - exact)[calm].max() < 1.5
