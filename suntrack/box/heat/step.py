r"""One step of the box through time: every balance of heat solved at once.

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

The order.  Walls, outer glasses and pots (with their shells) hang on a core of lining, air
and inner glasses; they are eliminated onto it from the outside in, the core is solved, and
the way back out gives everything else.

The boil.  A pot that would pass its boiling point is set back to it; the surplus is vapour.
In the steps after that it is held there, and what flows in is vapour, until more flows out
than in.  The water that boils away is not taken from the pot's store.

Everything here is compiled into the simulator.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from suntrack.box.heat.solid_nodes import hang_shells, move_shells, share_of_step

if TYPE_CHECKING:
    from suntrack.box.heat.structs import (
        BoxNumbers,
        Conductances,
        Floats,
        Forcing,
        PotNumbers,
        State,
        Workspace,
    )

LINING, AIR, FIRST_PANE = 0, 1, 2
"""Places in the core; inner glasses follow."""
WALLS, LEAK, OPENING, VAPOUR, FIRST_LOSS = 0, 1, 2, 3, 4
"""Places in `Workspace.lost`; the glazed openings follow."""
NEAR, FAR = 0, 1
"""Inner and outer half of the wall."""


def take_step(
    state: State,
    bench: Workspace,
    links: Conductances,
    minute: Forcing,
    box: BoxNumbers,
    pots: PotNumbers,
    step_s: float,
) -> None:
    """Move a box on by a step, in place.

    Parameters
    ----------
    state : State
        Before, and then after.  [C]
    bench : Workspace
        Room to work in.  [-]
    links : Links
        Good for this step.  [W/K]
    minute : Minute
        Light and weather.  [W], [C]
    box : BoxNumbers
        The box.  [-]
    pots : PotNumbers
        Every pot of the day.  [-]
    step_s : float
        Length of the step.  [s]
    """
    for pot in range(pots.count):
        if minute.inside[pot] > 0.0:
            hang_shells(state, bench, pots, pot, step_s)
    _begin_core(state, bench, links, minute, box, pots, step_s)
    _hang_walls(state, bench, links, minute, box, step_s)
    for pane in range(box.panes):
        _hang_pane(state, bench, links, minute, box, pots, pane, step_s)
    for pot in range(pots.count):
        if minute.inside[pot] > 0.0:
            _hang_pot(state, bench, links, minute, box, pots, pot, step_s)
    solve(bench.core, bench.right, FIRST_PANE + box.panes)
    _count(bench, minute, box, step_s)
    _move_box(state, bench, links, minute, box, step_s)
    for pot in range(pots.count):
        if minute.inside[pot] > 0.0:
            _move_pot(state, bench, links, minute, box, pots, pot, step_s)
            move_shells(state, bench, pots, pot)
    state.air = air_c(state, links, minute, box, pots)


def air_c(
    state: State,
    links: Conductances,
    minute: Forcing,
    box: BoxNumbers,
    pots: PotNumbers,
) -> float:
    """Return the air in the box among these temperatures; it has no store of its own.  [C]"""
    leak_w_k = box.leak_w_k + minute.opening_w_k
    link_w_k = links.lining_air + leak_w_k
    total_w = links.lining_air * state.lining + leak_w_k * minute.air_c
    for pane in range(box.panes):
        link_w_k += links.air[pane]
        total_w += links.air[pane] * state.inner[pane]
    for pot in range(pots.count):
        if minute.inside[pot] > 0.0:
            link_w_k += links.pot_air[pot]
            total_w += links.pot_air[pot] * state.pots[pot]
    return total_w / link_w_k


def _begin_core(
    state: State,
    bench: Workspace,
    links: Conductances,
    minute: Forcing,
    box: BoxNumbers,
    pots: PotNumbers,
    step_s: float,
) -> None:
    """Lay out lining and air with all that is theirs alone."""
    core, right = bench.core, bench.right
    core[:, :] = 0.0
    own_w_k = links.lining_air
    around_w_k = own_w_k + box.wall_links_w_k[0]
    lit = 1.0
    for pane in range(box.panes):
        around_w_k += links.lining_w_m2k[pane] * box.pane_m2[pane]
    for pot in range(pots.count):
        if minute.inside[pot] > 0.0:
            around_w_k += links.pot_lining[pot]
            lit -= minute.light_fit * pots.light_share[pot]
    share = share_of_step(box.lining_j_k, around_w_k, step_s)
    hold = box.lining_j_k / (share * step_s)
    bench.shares.lining = share
    leak_w_k = box.leak_w_k + minute.opening_w_k
    core[LINING, LINING] = hold + own_w_k
    core[AIR, LINING] = -own_w_k
    core[AIR, AIR] = own_w_k + leak_w_k
    right[LINING] = hold * state.lining + lit * minute.inside_w
    right[AIR] = leak_w_k * minute.air_c


def _hang_walls(
    state: State,
    bench: Workspace,
    links: Conductances,
    minute: Forcing,
    box: BoxNumbers,
    step_s: float,
) -> None:
    """Eliminate the wall onto the lining."""
    near_w_k, far_w_k = box.wall_links_w_k[0], box.wall_links_w_k[1]
    out_w_k = links.wall_out
    shares, pivots, sums = bench.shares.walls, bench.pivots.walls, bench.moments.walls
    shares[FAR] = share_of_step(box.wall_stores_j_k[FAR], far_w_k + out_w_k, step_s)
    hold = box.wall_stores_j_k[FAR] / (shares[FAR] * step_s)
    pivots[FAR] = hold + far_w_k + out_w_k
    sums[FAR] = hold * state.walls[FAR] + out_w_k * minute.air_c
    onto = far_w_k / pivots[FAR]
    shares[NEAR] = share_of_step(box.wall_stores_j_k[NEAR], near_w_k + far_w_k, step_s)
    hold = box.wall_stores_j_k[NEAR] / (shares[NEAR] * step_s)
    pivots[NEAR] = hold + near_w_k + far_w_k * (1.0 - onto)
    sums[NEAR] = hold * state.walls[NEAR] + onto * sums[FAR]
    onto = near_w_k / pivots[NEAR]
    bench.core[LINING, LINING] += near_w_k * (1.0 - onto)
    bench.right[LINING] += onto * sums[NEAR]


def _hang_pane(
    state: State,
    bench: Workspace,
    links: Conductances,
    minute: Forcing,
    box: BoxNumbers,
    pots: PotNumbers,
    pane: int,
    step_s: float,
) -> None:
    """Eliminate an outer glass onto its inner one, and lay that out in the core."""
    core, right, place = bench.core, bench.right, FIRST_PANE + pane
    between, wind, sky = links.between[pane], links.wind[pane], links.sky[pane]
    share = share_of_step(box.outer_j_k[pane], between + wind + sky, step_s)
    hold = box.outer_j_k[pane] / (share * step_s)
    pivot = hold + between + wind + sky
    total = hold * state.outer[pane] + minute.outer_w[pane]
    total += wind * minute.air_c + sky * minute.sky_c
    bench.shares.outer[pane], bench.pivots.outer[pane] = share, pivot
    bench.moments.outer[pane] = total
    onto = between / pivot
    around = links.lining_w_m2k[pane] * box.pane_m2[pane] + links.air[pane] + between
    seen_m2 = box.pane_m2[pane]
    for pot in range(pots.count):
        if minute.inside[pot] > 0.0:
            around += links.pot_panes[pot, pane]
            seen_m2 -= minute.lid_fit * pots.lid_m2[pot] if pane == 0 else 0.0
    glow = links.lining_w_m2k[pane] * seen_m2
    share = share_of_step(box.inner_j_k[pane], around, step_s)
    hold = box.inner_j_k[pane] / (share * step_s)
    bench.shares.inner[pane] = share
    core[LINING, LINING] += glow
    core[AIR, AIR] += links.air[pane]
    core[place, LINING] = -glow
    core[place, AIR] = -links.air[pane]
    core[place, place] = hold + glow + links.air[pane] + between * (1.0 - onto)
    right[place] = hold * state.inner[pane] + minute.inner_w[pane] + onto * total


def _hang_pot(
    state: State,
    bench: Workspace,
    links: Conductances,
    minute: Forcing,
    box: BoxNumbers,
    pots: PotNumbers,
    pot: int,
    step_s: float,
) -> None:
    """Eliminate a pot onto the core, or hang it there at its boiling point."""
    core, right, ties = bench.core, bench.right, bench.ties
    ties[pot, LINING], ties[pot, AIR] = links.pot_lining[pot], links.pot_air[pot]
    size = FIRST_PANE + box.panes
    ties[pot, FIRST_PANE:size] = links.pot_panes[pot, : box.panes]
    loose = ties[pot, :size].sum() + links.pot_vapour[pot]
    shells = int(pots.shells[pot])
    around = loose + (pots.shell_w_k[pot, shells - 1] if shells else 0.0)
    share = share_of_step(pots.pot_j_k[pot], around, step_s)
    hold = pots.pot_j_k[pot] / (share * step_s)
    total = bench.moments.pots[pot] + hold * state.pots[pot]
    total += minute.light_fit * pots.light_share[pot] * minute.inside_w
    total += links.pot_vapour[pot] * minute.air_c
    pivot = bench.pivots.pots[pot] + hold + loose
    bench.shares.pots[pot], bench.pivots.pots[pot] = share, pivot
    bench.moments.pots[pot] = total
    for place in range(size):
        tie = ties[pot, place]
        core[place, place] += tie
        if state.boiling[pot] > 0.0:
            right[place] += tie * pots.boiling_c[pot]
            continue
        right[place] += tie / pivot * total
        for other in range(place + 1):
            core[place, other] -= tie / pivot * ties[pot, other]


def solve(core: Floats, right: Floats, size: int) -> None:
    """Turn the right-hand side of a symmetric core into its temperatures, in place.

    Parameters
    ----------
    core : ndarray
        Lower triangle, written over; shape (places, places).  [W/K]
    right : ndarray
        Shape (places,).  [W] to [C]
    size : int
        How many places are used.  [-]
    """
    for last in range(size - 1, 0, -1):
        for row in range(last):
            share = core[last, row] / core[last, last]
            right[row] -= share * right[last]
            for column in range(row + 1):
                core[row, column] -= share * core[last, column]
    for row in range(size):
        for column in range(row):
            right[row] -= core[row, column] * right[column]
        right[row] /= core[row, row]


def _count(bench: Workspace, minute: Forcing, box: BoxNumbers, step_s: float) -> None:
    """Add what the air lost in this step."""
    warmer_k = bench.right[AIR] - minute.air_c
    bench.lost[LEAK] += step_s * box.leak_w_k * warmer_k
    bench.lost[OPENING] += step_s * minute.opening_w_k * warmer_k


def _move_box(
    state: State,
    bench: Workspace,
    links: Conductances,
    minute: Forcing,
    box: BoxNumbers,
    step_s: float,
) -> None:
    """Move lining, walls and glasses on, and count what left by them."""
    near_w_k, far_w_k = box.wall_links_w_k[0], box.wall_links_w_k[1]
    shares, pivots, sums, moment = bench.shares, bench.pivots, bench.moments, bench.right
    outdoor_c, sky_c = minute.air_c, minute.sky_c
    near = (sums.walls[NEAR] + near_w_k * moment[LINING]) / pivots.walls[NEAR]
    far = (sums.walls[FAR] + far_w_k * near) / pivots.walls[FAR]
    bench.lost[WALLS] += step_s * links.wall_out * (far - outdoor_c)
    state.lining += (moment[LINING] - state.lining) / shares.lining
    state.walls[NEAR] += (near - state.walls[NEAR]) / shares.walls[NEAR]
    state.walls[FAR] += (far - state.walls[FAR]) / shares.walls[FAR]
    for pane in range(box.panes):
        inner = moment[FIRST_PANE + pane]
        outer = (sums.outer[pane] + links.between[pane] * inner) / pivots.outer[pane]
        lost_w = links.wind[pane] * (outer - outdoor_c) + links.sky[pane] * (outer - sky_c)
        bench.lost[FIRST_LOSS + pane] += step_s * lost_w
        state.inner[pane] += (inner - state.inner[pane]) / shares.inner[pane]
        state.outer[pane] += (outer - state.outer[pane]) / shares.outer[pane]


def _move_pot(
    state: State,
    bench: Workspace,
    links: Conductances,
    minute: Forcing,
    box: BoxNumbers,
    pots: PotNumbers,
    pot: int,
    step_s: float,
) -> None:
    """Move a pot on and boil away what is too much."""
    store_j_k, cap_c = pots.pot_j_k[pot], pots.boiling_c[pot]
    drawn = bench.moments.pots[pot]
    for place in range(FIRST_PANE + box.panes):
        drawn += bench.ties[pot, place] * bench.right[place]
    moment = drawn / bench.pivots.pots[pot]
    if state.boiling[pot] > 0.0:
        moment = cap_c
        surplus_j = step_s * (drawn - bench.pivots.pots[pot] * cap_c)
        state.boiling[pot] = 1.0 if surplus_j >= 0.0 else 0.0
        after = cap_c + min(surplus_j, 0.0) / store_j_k
    else:
        after = state.pots[pot] + (moment - state.pots[pot]) / bench.shares.pots[pot]
        surplus_j = (after - cap_c) * store_j_k
        state.boiling[pot] = 1.0 if surplus_j > 0.0 else 0.0
        after = min(after, cap_c)
    bench.lost[VAPOUR] += max(surplus_j, 0.0)
    bench.lost[VAPOUR] += step_s * links.pot_vapour[pot] * (moment - minute.air_c)
    state.pots[pot] = after
    bench.moments.pots[pot] = moment
