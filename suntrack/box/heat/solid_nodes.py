"""Solid pieces in a pot: a row of shells from the core out to the liquid.

What the shells are made of is the business of `suntrack.food`.  Everything here is compiled
into the simulator.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from suntrack.box.heat.structs import PotNumbers, State, Workspace


def share_of_step(store_j_k: float, link_w_k: float, step_s: float) -> float:
    """Return how far into the step a store looks: a half, or more when it is quick.

    See `suntrack.box.heat.step` for why.  [-]
    """
    return max(0.5, 1.0 - store_j_k / (step_s * link_w_k))


def hang_shells(state: State, bench: Workspace, pots: PotNumbers, pot: int, step_s: float) -> None:
    """Eliminate the shells of a pot from the core out; leave what reaches the pot.

    Parameters
    ----------
    state : State
        Before the step.  [C]
    bench : Workspace
        Room to work in; what the shells hand on to the pot and hold it by stands at the
        pot's own places.  [W], [W/K]
    pots : PotNumbers
        Every pot of the day.  [-]
    pot : int
        Which.  [-]
    step_s : float
        Length of the step.  [s]
    """
    carried = grip = inward = 0.0
    for shell in range(int(pots.shells[pot])):
        store, outward = pots.shell_j_k[pot, shell], pots.shell_w_k[pot, shell]
        share = share_of_step(store, inward + outward, step_s)
        hold = store / (share * step_s)
        pivot = hold + grip + outward
        total = hold * state.shells[pot, shell] + carried
        bench.shares.shells[pot, shell], bench.pivots.shells[pot, shell] = share, pivot
        bench.moments.shells[pot, shell] = total
        carried = outward / pivot * total
        grip = outward * (1.0 - outward / pivot)
        inward = outward
    bench.moments.pots[pot] = carried
    bench.pivots.pots[pot] = grip


def move_shells(state: State, bench: Workspace, pots: PotNumbers, pot: int) -> None:
    """Move the shells of a pot on, from the pot in.

    Parameters
    ----------
    state : State
        The shells before, and then after.  [C]
    bench : Workspace
        As `hang_shells` left it, with the pot's temperature inside the step.  [C]
    pots : PotNumbers
        Every pot of the day.  [-]
    pot : int
        Which.  [-]
    """
    neighbour = bench.moments.pots[pot]
    for shell in range(int(pots.shells[pot]) - 1, -1, -1):
        total = bench.moments.shells[pot, shell] + pots.shell_w_k[pot, shell] * neighbour
        neighbour = total / bench.pivots.shells[pot, shell]
        moved = neighbour - state.shells[pot, shell]
        state.shells[pot, shell] += moved / bench.shares.shells[pot, shell]
