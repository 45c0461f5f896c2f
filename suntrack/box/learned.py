"""What readings have taught about one box: three factors on what its sizes say.

A builder's numbers are never quite the box: seals leak, insulation is pressed flat, mirrors
are dull.  How the factors are found is in `suntrack.box.fit`; here they are put to use.
"""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

from suntrack.box.build import Learned

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

    from suntrack.box.gain import BoxLight
    from suntrack.box.thermal import Pane, Thermal


def taught(parts: Thermal, learned: Learned) -> Thermal:
    """Return a box as conductances and stores, with what was learned.

    Parameters
    ----------
    parts : Thermal
        As its sizes have it.  [-]
    learned : Learned
        The factors.  [-]

    Returns
    -------
    thermal : Thermal
        A pane that loses a tenth more is one with a tenth more surface, for heat alone: its
        films change with temperature and cannot be scaled one by one.
    """
    if learned == Learned():
        return parts
    first, second = parts.wall_links_w_k
    inner_j_k, outer_j_k = parts.wall_stores_j_k
    return replace(
        parts,
        lining_j_k=learned.store * parts.lining_j_k,
        wall_links_w_k=(learned.loss * first, learned.loss * second),
        wall_stores_j_k=(learned.store * inner_j_k, learned.store * outer_j_k),
        skin_w_k=learned.loss * parts.skin_w_k,
        leak_w_k=learned.loss * parts.leak_w_k,
        panes=tuple(_taught_pane(pane, loss=learned.loss) for pane in parts.panes),
    )


def _taught_pane(pane: Pane, *, loss: float) -> Pane:
    return replace(pane, area_m2=loss * pane.area_m2, glass_w_k=loss * pane.glass_w_k)


def dimmed(light: BoxLight, factor: float) -> BoxLight:
    """Return light scaled as a whole.

    Parameters
    ----------
    light : BoxLight
        Of any shape.  [W]
    factor : float
        From 0.  [-]
    """
    if factor == 1.0:
        return light
    return replace(
        light,
        inside_w=factor * light.inside_w,
        top_panes_w=factor * light.top_panes_w,
        front_panes_w=factor * light.front_panes_w,
        top_w=factor * light.top_w,
        front_w=factor * light.front_w,
        mirror_w=factor * light.mirror_w,
    )


def shuttered(light: BoxLight, lit: NDArray[np.float64]) -> BoxLight:
    """Return light step by step as far as it is let in.

    Parameters
    ----------
    light : BoxLight
        Of shape (..., steps).  [W]
    lit : ndarray, shape (..., steps)
        0 for a covered box, 1 for an open one.  [-]
    """
    pane = lit[..., None]
    return replace(
        light,
        inside_w=light.inside_w * lit,
        top_panes_w=light.top_panes_w * pane,
        front_panes_w=light.front_panes_w * pane,
        top_w=light.top_w * lit,
        front_w=light.front_w * lit,
        mirror_w=light.mirror_w * lit,
    )
