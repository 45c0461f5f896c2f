r"""Heat into solid pieces: a piece as shells, and the core of a piece in given surroundings.

A piece is cut into shells of equal thickness, core first.  Their stores and the links
between them are all the box's heat model needs; here they can also be run on their own,
exactly, for surroundings that change step by step.  What a piece is made of is in
`suntrack.food.properties`; the pot around it in `suntrack.food.charge`.

        core  | shell | shell | film
        T0 -G0- T1 -G1- T2 -G2- surroundings
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

if TYPE_CHECKING:
    from numpy.typing import ArrayLike, NDArray

    from suntrack.food.dish import Shape
    from suntrack.food.properties import FoodProperties

POWER = {"slab": 1, "cylinder": 2, "sphere": 3}
"""Power of the radius that volume grows with."""


@dataclass(frozen=True, slots=True, kw_only=True)
class SolidNodes:
    """All pieces of a dish together, as shells from the core outwards."""

    cells_j_k: tuple[float, ...]
    """Each node, core first.  [J/K]"""
    links_w_k: tuple[float, ...]
    """From each shell to the next; the last to the surroundings, film included.  [W/K]"""


def shells(
    shape: Shape,
    *,
    thickness_m: float,
    mass_kg: float,
    properties: FoodProperties,
    film_w_m2k: float,
    cells: int = 6,
) -> SolidNodes:
    """Return the shells of all pieces of a dish.

    Parameters
    ----------
    shape : "slab", "cylinder" or "sphere"
        A slab is heated on both faces, a cylinder on its side.
    thickness_m : float
        Full thickness or diameter, above 0.  [m]
    mass_kg : float
        Of all pieces together.  [kg]
    properties : FoodProperties
        What it is made of.  [-]
    film_w_m2k : float
        Between a piece and its surroundings.  [W/(m2 K)]
    cells : int
        Number of shells, 2 or more.  [-]

    Returns
    -------
    parts : Shells
        Stores and links, core first.

    Raises
    ------
    ValueError
        For a liquid, which has no shells, or when something is not in its range.

    Notes
    -----
    Between the middles of two shells the heat flows as through a wall, a pipe or a hollow
    ball (closed forms of steady conduction), so the only error is that each shell is
    taken at one temperature.
    """
    if shape not in POWER or not thickness_m > 0.0:
        msg = f"{shape} of thickness {thickness_m} m has no shells"
        raise ValueError(msg)
    if not (mass_kg > 0.0 and film_w_m2k > 0.0 and cells >= 2):
        msg = f"{mass_kg} kg, {film_w_m2k} W/(m2 K) and {cells} shells: above 0, and 2 or more"
        raise ValueError(msg)
    power, radius = POWER[shape], thickness_m / 2.0
    volume = mass_kg / properties.density_kg_m3
    edges = np.linspace(0.0, radius, cells + 1)
    stores = mass_kg * properties.specific_heat_j_kgk * np.diff((edges / radius) ** power)
    middles = (edges[:-1] + edges[1:]) / 2.0
    points = np.append(middles, radius)
    through = properties.conductivity_w_mk * volume / _resistance(points, power, radius)
    skin = film_w_m2k * power * volume / radius
    through[-1] = 1.0 / (1.0 / through[-1] + 1.0 / skin)
    return SolidNodes(
        cells_j_k=tuple(float(store) for store in stores),
        links_w_k=tuple(float(link) for link in through),
    )


def _resistance(points: NDArray[np.float64], power: int, radius: float) -> NDArray[np.float64]:
    r"""Return :math:`\int dr / (p\, r^{p-1}/R^p)` between points, per unit volume.  [m2]"""
    inner, outer = points[:-1], points[1:]
    if power == 1:
        return (outer - inner) * radius
    if power == 2:
        return np.log(outer / inner) * radius**2 / 2.0
    return (1.0 / inner - 1.0 / outer) * radius**3 / 3.0


def core_history(
    surroundings_c: ArrayLike, *, parts: SolidNodes, start_c: float, step_s: float
) -> NDArray[np.float64]:
    """Return the core of pieces in surroundings that change step by step.

    Parameters
    ----------
    surroundings_c : array_like, shape (..., steps)
        Constant within each step.  [C]
    parts : Shells
        The pieces.  [-]
    start_c : float
        Of the whole piece.  [C]
    step_s : float
        Length of a step.  [s]

    Returns
    -------
    core_c : ndarray, shape (..., steps + 1)
        At the start and after each step.  [C]

    Notes
    -----
    Exact for the shells, by the matrix exponential of their (symmetric) heat balance; the
    only error is that of cutting the piece into shells.
    """
    return np.asarray(
        piece_history(surroundings_c, parts=parts, start_c=start_c, step_s=step_s)[..., 0]
    )


def piece_history(
    surroundings_c: ArrayLike, *, parts: SolidNodes, start_c: ArrayLike, step_s: float
) -> NDArray[np.float64]:
    """Return every shell of pieces in surroundings that change step by step.

    Parameters
    ----------
    surroundings_c, parts, step_s
        As for `core_history`.  [C], [-], [s]
    start_c : array_like, shape () or (shells,)
        Of the whole piece, or of each shell from the core outwards.  [C]

    Returns
    -------
    shells_c : ndarray, shape (..., steps + 1, shells)
        At the start and after each step, core first.  [C]
    """
    around_c = np.asarray(surroundings_c, np.float64)
    one_step = _one_step(parts, step_s=step_s)
    count = one_step.shape[0]
    shells_c = np.empty((*around_c.shape[:-1], around_c.shape[-1] + 1, count))
    shells_c[..., 0, :] = start_c
    for step in range(around_c.shape[-1]):
        around = around_c[..., step, None]
        shells_c[..., step + 1, :] = around + (shells_c[..., step, :] - around) @ one_step.T
    return shells_c


def _one_step(parts: SolidNodes, *, step_s: float) -> NDArray[np.float64]:
    """Return the matrix that takes the shells' distance to their surroundings a step on."""
    stores, links = np.array(parts.cells_j_k), np.array(parts.links_w_k)
    balance = np.diag(links) - np.diag(links[:-1], 1) - np.diag(links[:-1], -1)
    balance[1:, 1:] += np.diag(links[:-1])
    # Scaled by the roots of the stores the balance is symmetric, and eigh is exact for it.
    root = np.sqrt(stores)
    rates, modes = np.linalg.eigh(balance / np.outer(root, root))
    decay = (modes * np.exp(-rates * step_s)) @ modes.T
    return np.asarray(decay * root[None, :] / root[:, None])
