r"""The box as a network of stores and links, and one step of time through it.

The step.  Each store looks at its links at a moment inside the step, a share s of the way
from its old temperature x to its new one:

    store (new - x) / step = sum of link (m_other - m) + light,    m = x + s (new - x)

With s = 1/2 this is the implicit midpoint rule, exact to second order, but it rings when a
store is quick.  With s = 1 it never rings, but it lags.  So each store takes the smallest s
that cannot ring, s = max(1/2, 1 - store / (step x sum of its links)): then every new
temperature is a mean, with weights that are never negative, of the old ones and the
outdoors, whatever the step.  That is what makes "no hotter than ambient without light"
and "more wind is never hotter" hold to the last digit between two looks at the films.
The air has no store of its own and takes s = 1.  Both sides of a link see the same m, so
energy is neither made nor lost.

The boil.  A pot that would pass its boiling point is set back to it; the surplus is vapour.
In the steps after that it is held there, and what flows in is vapour, until more flows out
than in.  The water that boils away is not taken from the pot's store.
"""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import TYPE_CHECKING

from suntrack.box.chain import Chain
from suntrack.box.factors import (
    AIR,
    FIRST_PANE,
    HELD_W_K,
    LINING,
    Factors,
    Hold,
    Holds,
    factorise,
    find_holds,
    solve,
)
from suntrack.box.links import LIDS_COVER, Links, find_links
from suntrack.box.number import Number, flag, larger, magnitude, positive
from suntrack.box.state import State

if TYPE_CHECKING:
    from collections.abc import Sequence

    from suntrack.box.heat import PotCharge
    from suntrack.box.state import LightIn, Outdoors
    from suntrack.box.thermal import Thermal

NEVER_C = 1e6
"""The boiling point of a dry dish.  [C]"""
SIDE_LIT = 0.16
"""Share of a pot's side that catches light as its lid does: half the width times height
of a pot is half its side over pi (sun about 60 degrees high).  [-]"""
FLOOR_LIT = 0.9
"""Most of the light that pots may catch together.  [-]"""


@dataclass(slots=True)
class Totals:
    """Energy that went each way since the start.  [J]"""

    panes: list[Number]
    """Lost by each glazed opening, top first."""
    walls: Number = 0.0
    leak: Number = 0.0
    opening: Number = 0.0
    vapour: Number = 0.0


@dataclass(slots=True)
class _Pending:
    """What the parts outside the core bring along, kept for the way back out.  [W]"""

    wall_in: Number
    wall_out: Number
    outer: list[Number]
    pots: list[Number] = field(default_factory=list)
    cells: list[list[Number]] = field(default_factory=list)


def light_shares(pots: Sequence[PotCharge], *, thermal: Thermal) -> list[float]:
    """Return the share of the inside light that each pot catches, by its projected area.  [-]

    When the pots are too many for the floor their shares shrink together, whether or not
    all of them are in at the same time.
    """
    caught = [
        pot.absorptance * (pot.lid_m2 + SIDE_LIT * pot.side_m2) / thermal.floor_m2 for pot in pots
    ]
    fit = min(1.0, FLOOR_LIT / max(sum(caught), 1e-9))
    return [fit * share for share in caught]


class Network:
    """One box with its pots, stepped through time.

    The order of calls: `look` when the films are to be taken anew; `pace` after it or when
    the stride changes; `prepare` after either or when a pot or the lid has changed; `step`.
    """

    def __init__(self, thermal: Thermal, pots: Sequence[PotCharge], *, step_s: float) -> None:
        self.thermal, self.pots, self.base_s, self.step_s = thermal, pots, step_s, step_s
        self._chains: dict[int, list[Chain]] = {}
        self.chains = self._make_chains(step_s)
        self.caps = [NEVER_C if pot.boiling_c is None else pot.boiling_c for pot in pots]
        self.light_shares = light_shares(pots, thermal=thermal)
        lids_m2 = sum(pot.lid_m2 for pot in pots)
        fit = min(1.0, LIDS_COVER * thermal.panes[0].area_m2 / max(lids_m2, 1e-9))
        self.lids_m2 = [fit * pot.lid_m2 for pot in pots]
        self.boiling: list[Number] = [0.0 for _ in pots]
        """1 for a pot that is held at the boil, else 0."""
        self.totals = Totals(panes=[0.0 for _ in thermal.panes])
        self.links: Links
        self.holds: Holds
        self.factors: Factors

    def _make_chains(self, step_s: float) -> list[Chain]:
        """Return the shells of each pot, prepared for a step of this length."""
        return [Chain(pot.cells_j_k, pot.links_w_k, step_s=step_s) for pot in self.pots]

    def look(self, state: State, outdoors: Outdoors) -> None:
        """Take the films anew, at these temperatures."""
        self.links = find_links(state, outdoors=outdoors, thermal=self.thermal, pots=self.pots)

    def pace(self, steps: int) -> None:
        """Go on in strides of so many steps, with the films last taken."""
        self.step_s = steps * self.base_s
        if steps not in self._chains:
            self._chains[steps] = self._make_chains(self.step_s)
        self.chains = self._chains[steps]
        self.holds = find_holds(
            self.links, thermal=self.thermal, pots=self.pots, step_s=self.step_s
        )

    def prepare(self, *, inside: Sequence[Number], opening: Number) -> None:
        """Eliminate anew, for the pots that are in the box and the share with the lid up."""
        self.factors = factorise(
            self.links,
            holds=self.holds,
            thermal=self.thermal,
            grips_w_k=[chain.grip_w_k for chain in self.chains],
            lids_m2=self.lids_m2,
            inside=inside,
            boiling=self.boiling,
            opening=opening,
        )

    def step(
        self, state: State, *, light: LightIn, outdoors: Outdoors, inside: Sequence[Number]
    ) -> State:
        """Return the state a step later; mark the pots that boil and add to the totals."""
        core, pending = self._gather(state, light, outdoors)
        self._gather_pots(core, pending, state, light, outdoors, inside)
        solve(self.factors.core, core)
        factors, holds = self.factors, self.holds
        wall_in = pending.wall_in / factors.wall_in.pivot + factors.wall_in.onto * core[LINING]
        wall_out = pending.wall_out / factors.wall_out.pivot + factors.wall_out.onto * wall_in
        inner = core[FIRST_PANE:]
        outer = [
            total / limb.pivot + limb.onto * glass
            for total, limb, glass in zip(pending.outer, factors.outer, inner, strict=True)
        ]
        self._count(core[AIR], wall_out, outer, outdoors)
        pots, cells = self._step_pots(core, pending, state, outdoors, inside)
        after = State(
            air=core[AIR],
            lining=_reach(state.lining, core[LINING], holds.lining),
            wall_in=_reach(state.wall_in, wall_in, holds.wall_in),
            wall_out=_reach(state.wall_out, wall_out, holds.wall_out),
            inner=list(map(_reach, state.inner, inner, holds.inner)),
            outer=list(map(_reach, state.outer, outer, holds.outer)),
            pots=pots,
            cells=cells,
        )
        after.air = self.air(after, outdoors)
        return after

    def cores(self, before: State, after: State) -> list[Number]:
        """Return the innermost shells at the end of a step, or the pots without shells.

        A quick shell shows where its neighbours were inside the step, not at its end; it
        is carried on by as much as it lags, though never past its pot.
        """
        cores: list[Number] = []
        for i, (cells, pot) in enumerate(zip(after.cells, after.pots, strict=True)):
            if not cells:
                cores.append(pot)
                continue
            lag = self.chains[i].share[0] - 0.5
            carried = lag * (cells[0] - before.cells[i][0])
            room = magnitude(pot - cells[0])
            cores.append(cells[0] + larger(-room, -larger(-room, -carried)))
        return cores

    def stored_j(self, start: State, last: State) -> Number:
        """Return the energy that box and pots hold more than at the start.  [J]"""
        box = self.thermal
        total = box.lining_j_k * (last.lining - start.lining)
        total = total + box.wall_stores_j_k[0] * (last.wall_in - start.wall_in)
        total = total + box.wall_stores_j_k[1] * (last.wall_out - start.wall_out)
        for i, pane in enumerate(box.panes):
            total = total + pane.inner_j_k * (last.inner[i] - start.inner[i])
            total = total + pane.outer_j_k * (last.outer[i] - start.outer[i])
        for i, pot in enumerate(self.pots):
            total = total + pot.pot_j_k * (last.pots[i] - start.pots[i])
            for j, cell_j_k in enumerate(pot.cells_j_k):
                total = total + cell_j_k * (last.cells[i][j] - start.cells[i][j])
        return total

    def _gather(
        self, state: State, light: LightIn, outdoors: Outdoors
    ) -> tuple[list[Number], _Pending]:
        """Sum what reaches the core from glasses, walls and outdoors.  [W]"""
        factors, holds, air_c = self.factors, self.holds, outdoors.air
        far = holds.wall_out.w_k * state.wall_out + self.links.wall_out * air_c
        near = holds.wall_in.w_k * state.wall_in + factors.wall_out.onto * far
        lining = holds.lining.w_k * state.lining + light.inside + factors.wall_in.onto * near
        core: list[Number] = [lining, (self.thermal.leak_w_k + factors.opening_w_k) * air_c]
        outer: list[Number] = []
        for i, link in enumerate(self.links.panes):
            total = holds.outer[i].w_k * state.outer[i] + light.outer[i]
            total = total + link.wind * air_c + link.sky * outdoors.sky
            glass = holds.inner[i].w_k * state.inner[i] + light.inner[i]
            core.append(glass + factors.outer[i].onto * total)
            outer.append(total)
        return core, _Pending(wall_in=near, wall_out=far, outer=outer)

    def _gather_pots(
        self,
        core: list[Number],
        pending: _Pending,
        state: State,
        light: LightIn,
        outdoors: Outdoors,
        inside: Sequence[Number],
    ) -> None:
        """Sum what reaches the pots and hand on their share to the core.  [W]"""
        for i, there in enumerate(inside):
            lit = there * self.light_shares[i] * light.inside
            core[LINING] = core[LINING] - lit
            sums, carried = self.chains[i].forward(state.cells[i])
            own = self.holds.pots[i].w_k * state.pots[i] + lit + carried
            own = own + there * self.links.pots[i].vapour * outdoors.air
            pending.pots.append(own)
            pending.cells.append(sums)
            shown = own + HELD_W_K * self.boiling[i] * self.caps[i]
            for j, share in enumerate(self.factors.pots[i].shares):
                core[j] = core[j] + share * shown

    def _step_pots(
        self,
        core: list[Number],
        pending: _Pending,
        state: State,
        outdoors: Outdoors,
        inside: Sequence[Number],
    ) -> tuple[list[Number], list[list[Number]]]:
        """Return pots and shells a step later."""
        pots: list[Number] = []
        cells: list[list[Number]] = []
        for i, there in enumerate(inside):
            middle, after = self._step_pot(i, core, pending.pots[i], state.pots[i], there)
            lost = there * self.links.pots[i].vapour * (middle - outdoors.air)
            self.totals.vapour = self.totals.vapour + self.step_s * lost
            pots.append(after)
            cells.append(
                self.chains[i].backward(
                    state.cells[i], sums=pending.cells[i], pot=middle, inside=there
                )
            )
        return pots, cells

    def _step_pot(
        self, place: int, core: list[Number], own: Number, before: Number, there: Number
    ) -> tuple[Number, Number]:
        """Return a pot inside the step and after it; boil away what is too much.  [C]"""
        limb, cap_c, held = self.factors.pots[place], self.caps[place], self.boiling[place]
        reached, drawn = own / limb.pivot, own - limb.diagonal * cap_c
        for tie, share, value in zip(limb.ties, limb.shares, core, strict=True):
            reached, drawn = reached + share * value, drawn + tie * value
        # Free of the boil: go there, and turn back what passes the boiling point.
        store_j_k = self.pots[place].pot_j_k
        after = _reach(before, reached, self.holds.pots[place])
        over_k = positive(after - cap_c)
        # Held at it: what is drawn in is vapour; what is drawn out cools the pot.
        vapour_w = positive(drawn)
        cooled_k = (drawn - vapour_w) * self.step_s / store_j_k
        free = 1.0 - held
        steam_j = there * (free * over_k * store_j_k + held * vapour_w * self.step_s)
        self.totals.vapour = self.totals.vapour + steam_j
        self.boiling[place] = there * (free * flag(over_k > 0.0) + held * flag(drawn >= 0.0))
        middle = free * reached + held * cap_c
        end = free * (after - over_k) + held * (cap_c + cooled_k)
        return middle, before + there * (end - before)

    def air(self, state: State, outdoors: Outdoors) -> Number:
        """Return the air in the box among these temperatures; it has no store of its own."""
        leak_w_k = self.thermal.leak_w_k + self.factors.opening_w_k
        total_w = self.links.lining_air * state.lining + leak_w_k * outdoors.air
        for link, glass in zip(self.links.panes, state.inner, strict=True):
            total_w = total_w + link.air * glass
        for limb, pot in zip(self.factors.pots, state.pots, strict=True):
            total_w = total_w + limb.ties[AIR] * pot
        return total_w / self.factors.air_w_k

    def _count(
        self, air: Number, wall_out: Number, outer: Sequence[Number], outdoors: Outdoors
    ) -> None:
        """Add to the totals what this step lost to the outdoors.  [J]"""
        totals, step_s, warmer_k = self.totals, self.step_s, air - outdoors.air
        for i, (link, glass) in enumerate(zip(self.links.panes, outer, strict=True)):
            lost = link.wind * (glass - outdoors.air) + link.sky * (glass - outdoors.sky)
            totals.panes[i] = totals.panes[i] + step_s * lost
        walls_w = self.links.wall_out * (wall_out - outdoors.air)
        totals.walls = totals.walls + step_s * walls_w
        totals.leak = totals.leak + step_s * self.thermal.leak_w_k * warmer_k
        totals.opening = totals.opening + step_s * self.factors.opening_w_k * warmer_k


def _reach(before: Number, middle: Number, hold: Hold) -> Number:
    """Return the end of the step from its start and the moment inside it.  [C]"""
    return before + (middle - before) / hold.share
