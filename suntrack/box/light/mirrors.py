"""What a box's mirrors do to its top glass: the back one alone, or with one at each side.

Geometry is in `suntrack.box.light.mirror` and `suntrack.box.light.side_mirrors`; here it meets
the box as built, its glass and the sky.  A mirror hides a share F of the even sky from the top
and shows it the sky's image instead, a loss of (1 - rho) F; shares of several mirrors are
added.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache
from typing import TYPE_CHECKING

import numpy as np

from suntrack.box.light.glass import stack_shares
from suntrack.box.light.mirror import mirror_on_top, sky_hidden_share

if TYPE_CHECKING:
    from numpy.typing import ArrayLike, NDArray

    from suntrack.box.build import Box, Glazing, Mirror, SideMirrors
    from suntrack.box.light.glass import StackShares
    from suntrack.box.light.side_mirrors import CupSizes


SIDE_RANGE_DEG = (90.0, 150.0)
"""Angles that side mirrors can have; leaning over the glass they would only shade it.  [deg]"""
SIDE_SUNS_DEG = (30.0, 45.0, 60.0, 75.0, 90.0)
"""Suns ahead that side mirrors are set for, unless they are told otherwise (our choice).  [deg]"""


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class MirrorWork:
    """What the mirrors do to the top, glass and reflectance counted, in the question's shape."""

    inside_m2: NDArray[np.float64]
    """Area square to the beam whose light the mirrors bring through the glass.  [m2]"""
    panes_m2: NDArray[np.float64]
    """The same for what each glass keeps of it, outermost first, shape (..., glasses).  [m2]"""
    shaded_m2: NDArray[np.float64]
    """Glass in the shadow of any mirror.  [m2]"""
    dimmed: NDArray[np.float64]
    """Share of the sky's even light that is lost on the mirrors.  [-]"""


def glazed_top_m(box: Box) -> tuple[float, float]:
    """Return length (front to back) and width of the glass of the top inside its frame.  [m]"""
    return box.depth_m - 2.0 * box.top_frame_m, box.width_m - 2.0 * box.top_frame_m


def glazing_shares(glazing: Glazing, incidence_deg: ArrayLike) -> StackShares:
    """Return where light goes that meets an opening at some angle.  [-]"""
    return stack_shares(
        incidence_deg,
        panes=glazing.glasses,
        refractive_index=glazing.refractive_index,
        extinction_per_m=glazing.extinction_per_m,
        thickness_m=glazing.thickness_m,
    )


@lru_cache(maxsize=256)
def even_shares(glazing: Glazing, incidence_deg: float) -> StackShares:
    """Return where light goes that meets an opening at one effective angle, reckoned once.  [-]

    The sky's and the ground's light do so at every aim and moment.
    """
    return glazing_shares(glazing, incidence_deg)


def mirror_sizes(box: Box, mirror: Mirror) -> dict[str, float]:
    """Return the lengths and tilt that `mirror_on_top` asks for, by its names.

    The frame behind the glass counts into the hinge's gap.
    """
    length_m, width_m = glazed_top_m(box)
    return {
        "top_length_m": length_m,
        "top_width_m": width_m,
        "mirror_length_m": mirror.length_m,
        "mirror_width_m": mirror.width_m,
        "hinge_gap_m": mirror.hinge_gap_m + box.top_frame_m,
        "tilt_deg": box.tilt_deg,
    }


def cup_sizes(box: Box, sides: SideMirrors) -> CupSizes:
    """Return the sizes of glass and mirrors that `cup_light` asks for.

    The frame around the glass counts into the hinges' gaps.
    """
    from suntrack.box.light.side_mirrors import CupSizes

    length_m, width_m = glazed_top_m(box)
    back = box.mirror
    return CupSizes(
        top_length_m=length_m,
        top_width_m=width_m,
        side_length_m=sides.length_m,
        side_width_m=sides.width_m,
        side_deg=sides.angle_deg,
        side_gap_m=sides.hinge_gap_m + box.top_frame_m,
        back_length_m=back.length_m if back else 0.0,
        back_width_m=back.width_m if back else 0.0,
        back_gap_m=(back.hinge_gap_m if back else 0.0) + box.top_frame_m,
        tilt_deg=box.tilt_deg,
    )


def best_side_deg(box: Box, sides: SideMirrors, *, heights_deg: ArrayLike = SIDE_SUNS_DEG) -> float:
    """Return the whole angle of side mirrors that brings most light through the glass.  [deg]

    Parameters
    ----------
    box : Box
        As built.  [-]
    sides : SideMirrors
        Its side mirrors; how they stand does not count.  [-]
    heights_deg : array_like, shape (suns,)
        Suns straight ahead, by their height over the glass.  [deg]

    Notes
    -----
    To a side mirror a sun straight ahead is one that stands beside it, so that it is one
    mirror at a time in `mirror_on_top`.  The tips would reach the far edge of the glass at
    H cos psi = (W + gap) cos 2 psi, 120 for H = W; short mirrors stand steeper than that,
    because flat light hardly passes the glass.
    """
    length_m, width_m = glazed_top_m(box)
    angles = np.arange(SIDE_RANGE_DEG[0], SIDE_RANGE_DEG[1] + 1.0)
    light = mirror_on_top(
        sun_elevation_deg=np.asarray(heights_deg, np.float64)[:, None],
        sun_offset_deg=90.0,
        mirror_deg=angles,
        top_length_m=width_m,
        top_width_m=length_m,
        mirror_length_m=sides.length_m,
        mirror_width_m=sides.width_m,
        hinge_gap_m=sides.hinge_gap_m + box.top_frame_m,
    )
    passed = light.normal_beam_m2 * glazing_shares(box.top, light.incidence_deg).transmittance
    return float(angles[passed.sum(axis=0).argmax()])


def mirror_work(
    box: Box, elevation_deg: ArrayLike, offset_deg: NDArray[np.float64], mirror_deg: ArrayLike
) -> MirrorWork:
    """Return what the mirrors do; nothing at all, in the right shape, without any.

    Parameters
    ----------
    box : Box
        As built.  [-]
    elevation_deg : array_like
        Height of the sun.  [deg]
    offset_deg : ndarray
        Its azimuth minus where the box faces.  [deg]
    mirror_deg : array_like
        Angle of the back mirror from the glass; only its shape counts without one.  [deg]
    """
    if box.side_mirrors is not None:
        return _with_sides(box, box.side_mirrors, elevation_deg, offset_deg, mirror_deg)
    if box.mirror is None:
        nothing = np.zeros(np.broadcast(elevation_deg, offset_deg, mirror_deg).shape)
        panes_m2 = np.zeros((*nothing.shape, box.top.glasses))
        return MirrorWork(inside_m2=nothing, panes_m2=panes_m2, shaded_m2=nothing, dimmed=nothing)
    light = mirror_on_top(
        sun_elevation_deg=elevation_deg,
        sun_offset_deg=offset_deg,
        mirror_deg=mirror_deg,
        **mirror_sizes(box, box.mirror),
    )
    thrown_m2 = light.normal_beam_m2 * box.mirror.reflectance
    shares = glazing_shares(box.top, light.incidence_deg)
    return MirrorWork(
        inside_m2=thrown_m2 * shares.transmittance,
        panes_m2=thrown_m2[..., None] * shares.absorptance,
        shaded_m2=light.shaded_m2,
        dimmed=_lost_on_back(box, box.mirror, mirror_deg),
    )


def _with_sides(
    box: Box,
    sides: SideMirrors,
    elevation_deg: ArrayLike,
    offset_deg: NDArray[np.float64],
    mirror_deg: ArrayLike,
) -> MirrorWork:
    """Return what side mirrors do, with the one at the back if there is one."""
    # Here and not above: a box without side mirrors does not wait for what is compiled.
    from suntrack.box.light.side_mirrors import cup_light, path_reflectances

    back = box.mirror
    light = cup_light(
        cup_sizes(box, sides),
        sun_elevation_deg=elevation_deg,
        sun_offset_deg=offset_deg,
        mirror_deg=mirror_deg,
    )
    left = path_reflectances(back=back.reflectance if back else 0.0, side=sides.reflectance)
    thrown_m2 = light.normal_beam_m2 * left
    inside_m2, panes_m2 = _through(box.top, thrown_m2, light.incidence_deg)
    on_back = _lost_on_back(box, back, mirror_deg) if back else np.zeros(np.shape(mirror_deg))
    return MirrorWork(
        inside_m2=inside_m2,
        panes_m2=panes_m2,
        shaded_m2=light.shaded_m2,
        dimmed=np.minimum(on_back + _lost_on_sides(box, sides), 1.0),
    )


def _through(
    glazing: Glazing, thrown_m2: NDArray[np.float64], incidence_deg: NDArray[np.float64]
) -> tuple[NDArray[np.float64], NDArray[np.float64]]:
    """Return what gets through the glass and what its panes keep, all ways together.  [m2]"""
    # Most ways bring nothing at most moments, and glass is slow to work out.
    some = ~(thrown_m2 == 0.0)
    shares = glazing_shares(glazing, incidence_deg[some])
    passed = np.zeros((*thrown_m2.shape, 1 + glazing.glasses))
    passed[some, 0] = thrown_m2[some] * shares.transmittance
    passed[some, 1:] = thrown_m2[some][:, None] * shares.absorptance
    together = passed.sum(axis=-2)
    return together[..., 0], together[..., 1:]


def _lost_on_back(box: Box, mirror: Mirror, mirror_deg: ArrayLike) -> NDArray[np.float64]:
    """Return the share of the even sky that is lost on the back mirror.  [-]"""
    hidden = sky_hidden_share(
        top_length_m=glazed_top_m(box)[0], mirror_length_m=mirror.length_m, mirror_deg=mirror_deg
    )
    return hidden * (1.0 - mirror.reflectance)


def _lost_on_sides(box: Box, sides: SideMirrors) -> float:
    """Return the share of the even sky that is lost on both side mirrors.  [-]"""
    hidden = sky_hidden_share(
        top_length_m=glazed_top_m(box)[1],
        mirror_length_m=sides.length_m,
        mirror_deg=sides.angle_deg,
    )
    return 2.0 * float(hidden) * (1.0 - sides.reflectance)
