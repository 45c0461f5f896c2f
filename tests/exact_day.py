"""A day of the box by scipy's LSODA: the oracle of the simulator, and its yardstick for speed.

Every balance is written out by hand, node by node; all that is shared with the simulator is
the conductances at given temperatures (`take_links`) and the sizes of box and pots.
"""

from __future__ import annotations

from dataclasses import dataclass
from itertools import pairwise
from typing import TYPE_CHECKING, Any

import numpy as np
from scipy.integrate import solve_ivp

from suntrack.box.build import Box, Glazing, Layer
from suntrack.box.heat.conductances import take_links
from suntrack.box.heat.network import Thermal, thermal
from suntrack.box.heat.pack_structs import box_numbers, pot_numbers
from suntrack.box.heat.structs import LINKS, MINUTE, STATE, as_record

if TYPE_CHECKING:
    from collections.abc import Callable, Sequence

    from suntrack.box.heat.structs import PotCharge

Array = np.ndarray[Any, np.dtype[np.float64]]
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
"""A box with glass on top and in front, and no mirror."""
FIRST_GLASS = 3
"""Lining and the two halves of the wall come before the glasses in the row."""


def air_in_balance(y: Array, box: Any, pots: Any, minute: Any, state: Any, links: Any) -> float:
    """Take the links where the air is in balance with the rest; return that air.  [C]"""
    panes = box.panes
    state.lining, state.walls[0], state.walls[1] = y[0], y[1], y[2]
    for pane in range(panes):
        state.inner[pane] = y[FIRST_GLASS + pane]
        state.outer[pane] = y[FIRST_GLASS + panes + pane]
    place = FIRST_GLASS + 2 * panes
    for pot in range(pots.count):
        state.pots[pot] = y[place]
        place += 1 + int(pots.shells[pot])
    state.air = 0.5 * (y[0] + y[FIRST_GLASS])
    for _ in range(60):
        take_links(links, state, minute, box, pots)
        leak = box.leak_w_k + minute.opening_w_k
        total = links.lining_air * y[0] + leak * minute.air_c
        links_w_k = links.lining_air + leak
        for pane in range(panes):
            total += links.air[pane] * y[FIRST_GLASS + pane]
            links_w_k += links.air[pane]
        for pot in range(pots.count):
            total += minute.inside[pot] * links.pot_air[pot] * state.pots[pot]
            links_w_k += minute.inside[pot] * links.pot_air[pot]
        before, state.air = state.air, total / links_w_k
        if abs(state.air - before) < 1e-8:
            break
    balanced: float = state.air
    return balanced


def rates(y: Array, gains: Array, box: Any, pots: Any, minute: Any, state: Any, links: Any) -> None:
    """Write down how fast each temperature rises.  [K/s]"""
    air = air_in_balance(y, box, pots, minute, state, links)
    gains[:] = 0.0
    gains[0] = minute.inside_w - links.lining_air * (y[0] - air)
    near = box.wall_links_w_k[0] * (y[0] - y[1])
    far = box.wall_links_w_k[1] * (y[1] - y[2])
    gains[0] -= near
    gains[1] += near - far
    gains[2] += far - links.wall_out * (y[2] - minute.air_c)
    place, hidden_m2 = FIRST_GLASS + 2 * box.panes, 0.0
    for pot in range(pots.count):
        if minute.inside[pot] > 0.0:
            hidden_m2 += pots.lid_m2[pot]
            pot_rates(y, gains, air, place, pot, box, pots, minute, links)
        place += 1 + int(pots.shells[pot])
    for pane in range(box.panes):
        pane_rates(y, gains, air, hidden_m2 if pane == 0 else 0.0, pane, box, minute, links)
    gains[0] /= box.lining_j_k
    gains[1] /= box.wall_stores_j_k[0]
    gains[2] /= box.wall_stores_j_k[1]


def pot_rates(
    y: Array, gains: Array, air: float, place: int, pot: int, box: Any, pots: Any, minute: Any,
    links: Any,
) -> None:  # fmt: skip
    """Add what a pot in the box takes from its surroundings and gives its shells."""
    lit_w = pots.light_share[pot] * minute.inside_w
    flow = links.pot_lining[pot] * (y[0] - y[place])
    gains[0] -= lit_w + flow
    own = lit_w + flow + links.pot_air[pot] * (air - y[place])
    own -= links.pot_vapour[pot] * (y[place] - minute.air_c)
    for pane in range(box.panes):
        flow = links.pot_panes[pot, pane] * (y[FIRST_GLASS + pane] - y[place])
        gains[FIRST_GLASS + pane] -= flow
        own += flow
    inward, shells = 0.0, int(pots.shells[pot])
    for shell in range(shells):
        here = place + 1 + shell
        outward = y[here + 1] if shell < shells - 1 else y[place]
        flow = pots.shell_w_k[pot, shell] * (outward - y[here])
        gains[here] = (flow - inward) / pots.shell_j_k[pot, shell]
        inward = flow
    own -= inward
    # At its boiling point a pot takes nothing more: the rest is vapour.
    boils = y[place] >= pots.boiling_c[pot]
    gains[place] = (min(own, 0.0) if boils else own) / pots.pot_j_k[pot]


def pane_rates(
    y: Array, gains: Array, air: float, hidden_m2: float, pane: int, box: Any, minute: Any,
    links: Any,
) -> None:  # fmt: skip
    """Add what the two glasses of an opening exchange."""
    inner, outer = FIRST_GLASS + pane, FIRST_GLASS + box.panes + pane
    glow = links.lining_w_m2k[pane] * (box.pane_m2[pane] - hidden_m2) * (y[0] - y[inner])
    between = links.between[pane] * (y[inner] - y[outer])
    gains[0] -= glow
    gains[inner] += minute.inner_w[pane] + glow - between
    gains[inner] -= links.air[pane] * (y[inner] - air)
    gains[outer] = minute.outer_w[pane] + between
    gains[outer] -= links.wind[pane] * (y[outer] - minute.air_c)
    gains[outer] -= links.sky[pane] * (y[outer] - minute.sky_c)
    gains[inner] /= box.inner_j_k[pane]
    gains[outer] /= box.outer_j_k[pane]


@dataclass
class ExactDay:
    """One box with its pots in steady weather, under any light, by LSODA."""

    thermal: Thermal
    pots: Sequence[PotCharge]
    loads: Sequence[int]
    """The minute in which each pot goes in."""
    inside_w: Callable[[float], float]
    """Light inside, of the seconds since the start.  [W]"""
    breaks: Sequence[int]
    """Minutes in which the light jumps."""
    pane_w: float
    """Light in each glass.  [W]"""
    weather: tuple[float, float, float]
    """Air, sky and wind.  [C], [C], [m/s]"""
    minutes: int
    start_c: float
    rtol: float = 1e-6
    atol: float = 1e-5

    def __post_init__(self) -> None:
        """Lay out the records that the balances work on."""
        self.rows = [
            box_numbers(self.thermal),
            pot_numbers(self.pots, thermal=self.thermal),
            *(np.zeros(1, layout) for layout in (MINUTE, STATE, LINKS)),
        ]
        self.box, self.pot, self.minute, self.state, self.links = map(as_record, self.rows)
        self.minute.air_c, self.minute.sky_c, self.minute.wind_m_s = self.weather
        # So few pots have all the room they need.
        self.minute.light_fit = self.minute.lid_fit = 1.0
        self.minute.inner_w[:] = self.minute.outer_w[:] = self.pane_w
        self.compiled: Callable[..., None] | None = None

    def compile(self) -> None:
        """Have the balances compiled: the quickest LSODA that Python can have."""
        from numba import njit
        from numba.extending import register_jitable

        from suntrack.box.compiled import run_days

        run_days()
        for part in (air_in_balance, pot_rates, pane_rates):
            register_jitable(part)
        quick = register_jitable(rates)

        def on_rows(y: Array, gains: Array, box: Any, pots: Any, m: Any, s: Any, k: Any) -> None:
            quick(y, gains, box[0], pots[0], m[0], s[0], k[0])

        self.compiled = njit(on_rows)

    def run(self) -> tuple[Array, Array]:
        """Return the row of temperatures at every minute, and the air.  [C]"""
        panes = len(self.thermal.panes)
        first = [self.start_c] * (FIRST_GLASS + 2 * panes)
        for pot in self.pots:
            first += [pot.start_c] * (1 + len(pot.cells_j_k))
        day = np.array(first)
        rows, air = [day], [self.start_c]
        for start, end in self._pieces():
            self._set(start)
            found = solve_ivp(
                self._rates,
                (60.0 * start, 60.0 * end),
                day,
                method="LSODA",
                t_eval=60.0 * np.arange(start + 1, end + 1),
                rtol=self.rtol,
                atol=self.atol,
            )
            rows += list(found.y.T)
            air += [self._air(row) for row in found.y.T]
            day = found.y[:, -1]
        return np.array(rows), np.array(air)

    def _pieces(self) -> list[tuple[int, int]]:
        """Return the stretches between loads, the minute with the lid up, and breaks."""
        inside = [load for load in self.loads if load < self.minutes]
        marks = {0, self.minutes, *self.breaks, *inside, *(load + 1 for load in inside)}
        ordered = sorted(mark for mark in marks if mark <= self.minutes)
        return list(pairwise(ordered))

    def _set(self, start: int) -> None:
        """Put the pots in that are in by now, and lift the lid in the minute of a load."""
        for pot, load in enumerate(self.loads):
            self.minute.inside[pot] = float(load <= start)
        self.minute.opening_w_k = 0.75 * self.thermal.opening_w_k * (start in self.loads)

    def _air(self, row: Array) -> float:
        """Return the air among these temperatures.  [C]"""
        return air_in_balance(row, self.box, self.pot, self.minute, self.state, self.links)

    def _rates(self, seconds: float, y: Array) -> Array:
        """Return how fast each temperature rises.  [K/s]"""
        self.minute.inside_w = self.inside_w(seconds)
        gains = np.zeros(y.size)
        if self.compiled is None:
            rates(y, gains, self.box, self.pot, self.minute, self.state, self.links)
        else:
            self.compiled(y, gains, *self.rows)
        return gains
