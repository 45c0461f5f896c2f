"""A box, its pots and its weather as flat numbers, the way the compiled simulator reads them.

A compiled function cannot read our records of records; plain ones it can.  Nothing is
decided here but how much light pots take and how much of the glass they hide.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

from suntrack.box.heat.structs import BOX, POT_ROWS, POTS, SHELLS

if TYPE_CHECKING:
    from collections.abc import Sequence

    from numpy.typing import NDArray

    from suntrack.box.heat.network import Thermal
    from suntrack.box.heat.structs import PotCharge

NEVER_C = 1e6
"""The boiling point of a dry dish.  [C]"""
SIDE_LIT = 0.16
"""Share of a pot's side that catches light as its lid does: half the width times height
of a pot is half its side over pi (sun about 60 degrees high).  [-]"""


def box_numbers(thermal: Thermal) -> NDArray[np.void]:
    """Return a box as one plain record.

    Parameters
    ----------
    thermal : Thermal
        The box, with at most `suntrack.box.heat.structs.PANES` openings.

    Returns
    -------
    box : ndarray
        Shape (1,), of `suntrack.box.heat.structs.BOX`.
    """
    box = np.zeros(1, BOX)
    for name in BOX.names or ():
        if hasattr(thermal, name) and name != "panes":
            box[name] = getattr(thermal, name)
    box["panes"] = len(thermal.panes)
    for place, pane in enumerate(thermal.panes):
        for name in ("inner_j_k", "outer_j_k", "gap_m", "glass_w_k", "upright"):
            box[name][0, place] = getattr(pane, name)
        box["pane_m2"][0, place] = pane.area_m2
        box["pane_height_m"][0, place] = pane.height_m
    return box


def pot_numbers(pots: Sequence[PotCharge], *, thermal: Thermal) -> NDArray[np.void]:
    """Return the pots of a day as one plain record.

    Parameters
    ----------
    pots : sequence of PotCharge
        At most `suntrack.box.heat.structs.POTS`, each of at most `SHELLS` shells.
    thermal : Thermal
        The box they stand in.

    Returns
    -------
    rows : ndarray
        Shape (1,), of `suntrack.box.heat.structs.POT_ROWS`.

    Raises
    ------
    ValueError
        If there are more pots or shells than there are places.
    """
    most = max((len(pot.cells_j_k) for pot in pots), default=0)
    if len(pots) > POTS or most > SHELLS:
        msg = f"{len(pots)} pots of up to {most} shells; there are places for {POTS} of {SHELLS}"
        raise ValueError(msg)
    rows = np.zeros(1, POT_ROWS)
    rows["count"] = len(pots)
    for place, pot in enumerate(pots):
        for name in ("pot_j_k", "side_m2", "lid_m2", "base_m2", "emittance", "start_c"):
            rows[name][0, place] = getattr(pot, name)
        dry = pot.boiling_c is None
        rows["boiling_c"][0, place] = NEVER_C if dry else pot.boiling_c
        rows["wet_m2"][0, place] = 0.0 if dry else pot.lid_leak * pot.open_m2
        shells = len(pot.cells_j_k)
        rows["shells"][0, place] = shells
        rows["shell_j_k"][0, place, :shells] = pot.cells_j_k
        rows["shell_w_k"][0, place, :shells] = pot.links_w_k
        rows["light_share"][0, place] = light_share(pot, thermal=thermal)
    return rows


def light_share(pot: PotCharge, *, thermal: Thermal) -> float:
    """Return the share of the inside light that a pot catches, by its projected area.  [-]"""
    return pot.absorptance * (pot.lid_m2 + SIDE_LIT * pot.side_m2) / thermal.floor_m2
