"""What glass does to sunlight: reflection at every face, absorption on the way through.

A pane is flat, in air, and lit by unpolarised light.  The two polarisations are carried
separately through the whole stack and averaged at the end, because the first pane
polarises what the second one gets.  Shares only: how much light meets the glass belongs to
`suntrack.box.light.gain`, what the panes' heat does to `suntrack.box.heat.simulate`.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

if TYPE_CHECKING:
    from numpy.typing import ArrayLike, NDArray

GRAZING_DEG = 89.9
"""Angles past this are treated as this one; the sun is then all but edge-on.  [deg]"""


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class PaneShares:
    """Where light that falls on one pane goes; the shares sum to 1."""

    transmittance: NDArray[np.float64]
    """Share of light let through.  [-]"""
    reflectance: NDArray[np.float64]
    """Share of light thrown back.  [-]"""
    absorptance: NDArray[np.float64]
    """Share of light kept.  [-]"""


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class StackShares:
    """Where light that falls on a stack of panes goes; the shares sum to 1."""

    transmittance: NDArray[np.float64]
    """Share of light let through.  [-]"""
    reflectance: NDArray[np.float64]
    """Share of light thrown back.  [-]"""
    absorptance: NDArray[np.float64]
    """Of each pane, outermost first, shape (..., panes)."""


def pane_shares(
    incidence_deg: ArrayLike,
    *,
    refractive_index: float = 1.526,
    extinction_per_m: float = 16.0,
    thickness_m: float = 0.004,
) -> PaneShares:
    """Return where beam sunlight on one pane goes: `stack_shares` without the last axis.

    Parameters
    ----------
    incidence_deg : array_like
        Between the sun's rays and the outward normal.  [deg]
    refractive_index : float
        Relative to air, above 1.  [-]
    extinction_per_m : float
        0 or more.  [1/m]
    thickness_m : float
        0 or more.  [m]

    Returns
    -------
    shares : PaneShares
        In the shape of `incidence_deg`; nan stays nan.

    Examples
    --------
    >>> float(pane_shares(0.0, extinction_per_m=0.0).transmittance.round(4))
    0.9169
    """
    stack = stack_shares(
        incidence_deg,
        panes=1,
        refractive_index=refractive_index,
        extinction_per_m=extinction_per_m,
        thickness_m=thickness_m,
    )
    return PaneShares(
        transmittance=stack.transmittance,
        reflectance=stack.reflectance,
        absorptance=stack.absorptance[..., 0],
    )


def stack_shares(
    incidence_deg: ArrayLike,
    *,
    panes: int = 1,
    refractive_index: float = 1.526,
    extinction_per_m: float = 16.0,
    thickness_m: float = 0.004,
) -> StackShares:
    r"""Return where beam sunlight on a stack of equal panes goes.

    Parameters
    ----------
    incidence_deg : array_like
        Between the sun's rays and the outward normal; 90 or more is a sun behind the
        glass, of which nothing enters.  [deg]
    panes : int
        How many, 1 or more.  [-]
    refractive_index : float
        Relative to air, above 1.  [-]
    extinction_per_m : float
        About 4 for extra-white glass, 16 for usual float, 32 for greenish.  [1/m]
    thickness_m : float
        Of one pane, 0 or more.  [m]

    Returns
    -------
    shares : StackShares
        In the shape of `incidence_deg`; nan stays nan.

    Raises
    ------
    ValueError
        If a property of the glass is outside the range given above.

    Notes
    -----
    For each polarisation, with face reflectance :math:`r` and one-pass absorption factor
    :math:`\tau_a = \exp(-K L / \cos\theta_2)`, one pane has [1]_

    .. math::
        \tau = \tau_a \frac{1-r}{1+r} \frac{1-r^2}{1-(r\tau_a)^2}, \quad
        \rho = r (1 + \tau_a \tau), \quad
        \alpha = (1-\tau_a) \frac{1-r}{1-r\tau_a}

    Panes are then added from the innermost outwards, counting every bounce between them.

    References
    ----------
    .. [1] J. A. Duffie and W. A. Beckman, "Solar Engineering of Thermal Processes",
       sections 5.1 to 5.3.  Equations from memory, checked against the book's examples.

    Examples
    --------
    >>> stack_shares([0.0, 60.0, 95.0], panes=2, extinction_per_m=0.0).transmittance.round(2)
    array([0.85, 0.76, 0.  ])
    """
    if panes < 1 or refractive_index <= 1.0 or extinction_per_m < 0.0 or thickness_m < 0.0:
        raise ValueError(
            f"panes {panes}, refractive_index {refractive_index}, extinction_per_m "
            f"{extinction_per_m}, thickness_m {thickness_m}: allowed are 1 or more, above 1, "
            "0 or more, 0 or more"
        )
    incidence = np.asarray(incidence_deg, np.float64)
    faces = face_reflectances(incidence, refractive_index=refractive_index)
    one_pass = np.exp(
        -extinction_per_m * thickness_m / _cos_inside(incidence, refractive_index=refractive_index)
    )
    stacks = [_add_panes(*_one_pane(face, one_pass), panes=panes) for face in faces]
    behind = np.abs(incidence) >= 90.0
    shares = [(a + b) / 2.0 for a, b in zip(*stacks, strict=True)]
    return StackShares(
        transmittance=np.where(behind, 0.0, shares[0]),
        reflectance=np.where(behind, 1.0, shares[1]),
        absorptance=np.where(behind[..., None], 0.0, shares[2]),
    )


def face_reflectances(
    incidence_deg: ArrayLike, *, refractive_index: float
) -> tuple[NDArray[np.float64], NDArray[np.float64]]:
    """Return what one face between air and glass reflects: perpendicular, parallel.  [-]

    Fresnel's equations, for light polarised square to and along the plane of incidence.

    Parameters
    ----------
    incidence_deg : array_like
        In the air, 0 to 90.  [deg]
    refractive_index : float
        Of the glass relative to air.  [-]
    """
    cos_out = np.cos(_outside_rad(incidence_deg))
    cos_in = _cos_inside(incidence_deg, refractive_index=refractive_index)
    # Fresnel in cosines: no 0/0 head-on, where the textbook's sin and tan forms have one.
    perpendicular = (cos_out - refractive_index * cos_in) / (cos_out + refractive_index * cos_in)
    parallel = (refractive_index * cos_out - cos_in) / (refractive_index * cos_out + cos_in)
    return perpendicular**2, parallel**2


def _outside_rad(incidence_deg: ArrayLike) -> NDArray[np.float64]:
    """Return the angle in the air, either sign, grazing light held off the plane of the pane."""
    return np.radians(np.minimum(np.abs(np.asarray(incidence_deg, np.float64)), GRAZING_DEG))


def _cos_inside(incidence_deg: ArrayLike, *, refractive_index: float) -> NDArray[np.float64]:
    """Return the cosine of the angle inside the glass, by Snell's law."""
    sine = np.sin(_outside_rad(incidence_deg)) / refractive_index
    return np.asarray(np.sqrt(1.0 - sine**2), np.float64)


def _one_pane(
    face: NDArray[np.float64], one_pass: NDArray[np.float64]
) -> tuple[NDArray[np.float64], NDArray[np.float64], NDArray[np.float64]]:
    """Return transmittance, reflectance and absorptance of one pane in one polarisation."""
    through = one_pass * (1 - face) ** 2 / (1 - (face * one_pass) ** 2)
    back = face * (1.0 + one_pass * through)
    return through, back, (1.0 - one_pass) * (1.0 - face) / (1.0 - face * one_pass)


def _add_panes(
    through: NDArray[np.float64],
    back: NDArray[np.float64],
    kept: NDArray[np.float64],
    *,
    panes: int,
) -> tuple[NDArray[np.float64], NDArray[np.float64], NDArray[np.float64]]:
    """Return the shares of a stack, by adding panes from the innermost outwards."""
    below = [np.zeros_like(back)]  # what the stack under each pane reflects, innermost last
    for _ in range(panes):
        below.insert(0, back + through**2 * below[0] / (1.0 - back * below[0]))
    down = np.ones_like(back)
    absorbed = []
    for pane in range(panes):
        under = down * through / (1.0 - back * below[pane + 1])
        absorbed.append(kept * (down + under * below[pane + 1]))
        down = under
    return down, below[0], np.stack(absorbed, axis=-1)


def diffuse_incidence_deg(*, tilt_deg: ArrayLike) -> NDArray[np.float64]:
    """Return the beam angle that stands for the sky's even light on a tilted pane.  [deg]

    Brandemuehl and Beckman 1980 (from memory), as in Duffie and Beckman section 5.4.

    Parameters
    ----------
    tilt_deg : array_like
        Of the pane, 0 lying flat; over 90 is taken as 90.  [deg]
    """
    tilt = np.clip(np.asarray(tilt_deg, np.float64), 0.0, 90.0)
    return np.asarray(59.7 - 0.1388 * tilt + 0.001497 * tilt**2, np.float64)


def ground_incidence_deg(*, tilt_deg: ArrayLike) -> NDArray[np.float64]:
    """Return the beam angle that stands for light from the ground.  [deg]

    Same source as `diffuse_incidence_deg`.

    Parameters
    ----------
    tilt_deg : array_like
        Of the pane, 0 lying flat; over 90 is taken as 90.  [deg]
    """
    tilt = np.clip(np.asarray(tilt_deg, np.float64), 0.0, 90.0)
    return np.asarray(90.0 - 0.5788 * tilt + 0.002693 * tilt**2, np.float64)


def hemispherical_transmittance(
    *, panes: int, refractive_index: float, extinction_per_m: float, thickness_m: float
) -> float:
    """Return the transmittance for even light from the whole hemisphere, by quadrature.  [-]

    For tests and reports; the light model uses `diffuse_incidence_deg`.  Parameters are
    those of `stack_shares`.
    """
    middle = (np.arange(900) + 0.5) / 10.0
    shares = stack_shares(
        middle,
        panes=panes,
        refractive_index=refractive_index,
        extinction_per_m=extinction_per_m,
        thickness_m=thickness_m,
    )
    weight = np.sin(np.radians(2.0 * middle))
    return float((shares.transmittance * weight).sum() / weight.sum())


def cavity_absorptance(
    *,
    lining_absorptance: ArrayLike,
    transmittance_diffuse: ArrayLike,
    aperture_m2: ArrayLike,
    inner_m2: ArrayLike,
) -> NDArray[np.float64]:
    r"""Return the share of light inside the box that stays: the rest leaves by the glass.  [-]

    Parameters
    ----------
    lining_absorptance : array_like
        Of the dark inside.  [-]
    transmittance_diffuse : array_like
        Of the glass, for even light on its way out.  [-]
    aperture_m2, inner_m2 : array_like
        Glazed area, and area of the dark inside.  [m2]

    Notes
    -----
    Light that the lining reflects goes evenly everywhere, so that the share
    :math:`\tau_d A_a / A_i` of it leaves and the rest gets another chance [1]_:

    .. math:: \alpha_{eff} = \frac{\alpha}{\alpha + (1 - \alpha) \tau_d A_a / A_i}

    References
    ----------
    .. [1] J. A. Duffie and W. A. Beckman, "Solar Engineering of Thermal Processes",
       section 5.11.  From memory.
    """
    absorbed = np.asarray(lining_absorptance, np.float64)
    window = np.asarray(transmittance_diffuse) * np.asarray(aperture_m2) / np.asarray(inner_m2)
    return np.asarray(absorbed / (absorbed + (1.0 - absorbed) * window), np.float64)
