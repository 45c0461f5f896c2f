"""Solid pieces in a pot: a row of shells from the core out to the liquid.

The shells' stores and links never change, so a step for them is prepared once and then
costs two sweeps.  What the shells are made of is the business of `suntrack.food`.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from collections.abc import Sequence

    from suntrack.box.number import Number


def implicitness(store_j_k: float, conductance_w_k: float, *, step_s: float) -> float:
    """Return how far into the step a constant store looks: a half, or more when it is quick.

    See `suntrack.box.network` for why.  [-]
    """
    return max(0.5, 1.0 - store_j_k / (step_s * conductance_w_k))


class Chain:
    """The shells of one pot, solved for one step at a time."""

    def __init__(
        self, cells_j_k: Sequence[float], links_w_k: Sequence[float], *, step_s: float
    ) -> None:
        inward = [0.0, *links_w_k][: len(links_w_k)]
        pairs = list(zip(cells_j_k, inward, links_w_k, strict=True))
        self.step_s = step_s
        self.share = [implicitness(c, a + b, step_s=step_s) for c, a, b in pairs]
        self.hold = [c / (share * step_s) for c, share in zip(cells_j_k, self.share, strict=True)]
        self.links = list(links_w_k)
        self.pass_on: list[float] = []
        self.diagonal: list[float] = []
        self.grip_w_k = 0.0
        """What the row of shells adds to the pot's own equation.  [W/K]"""
        for hold, (_, link_in, link_out) in zip(self.hold, pairs, strict=True):
            carried = link_in * self.pass_on[-1] if self.pass_on else 0.0
            self.diagonal.append(hold + link_in + link_out - carried)
            self.pass_on.append(link_out / self.diagonal[-1])
            self.grip_w_k = link_out * (1.0 - self.pass_on[-1])

    def forward(self, cells: Sequence[Number]) -> tuple[list[Number], Number]:
        """Sweep from the core out: return partial sums and what reaches the pot.  [W]"""
        sums: list[Number] = []
        carried: Number = 0.0
        for hold, cell, pass_on in zip(self.hold, cells, self.pass_on, strict=True):
            total = hold * cell + carried
            sums.append(total)
            carried = pass_on * total
        return sums, carried

    def backward(
        self, cells: Sequence[Number], *, sums: Sequence[Number], pot: Number, inside: Number
    ) -> list[Number]:
        """Sweep from the pot in: return the shells at the end of the step.  [C]"""
        after: list[Number] = []
        neighbour = pot
        for i in range(len(self.links) - 1, -1, -1):
            neighbour = (sums[i] + self.links[i] * neighbour) / self.diagonal[i]
            after.append(cells[i] + inside * (neighbour - cells[i]) / self.share[i])
        after.reverse()
        return after
