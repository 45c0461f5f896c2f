r"""The top glass with mirrors on up to three sides: the light they throw in, the shade they make.

Side mirrors are hinged along the left and right edges of the top glass, alike, and stand at
one angle from it, through the sky.  They are centred on the glass from front to back and not
longer than the box, so that no light of theirs can reach the front pane from outside: their
rays run on away from the sun, and the front pane lies below and before every mirror.

        section, facing the front          Across the box a sun straight ahead stands
      \                         /          upright, whatever its height: one angle does
       \ psi             psi   /           for all suns ahead, but for the glass, which
        o---------------------o            takes ill what comes in flat.
             top glass, W

Exact for light that meets one mirror or two (back and side, or both sides), with every
shadow of one mirror on another: see `suntrack.box.light.beams`.  Left out: three bounces and more.
Areas and angles only; glass and sky belong to `suntrack.box.light.gain`.

Lost: adding up mirrors one by one, which counts light twice that a second mirror takes, and
misses what it sends on.  They are set once and left: a sun straight ahead stands upright across
the box at any height, so one angle does.  Lost: the angle that sends the tips' light to the far
edge, which forgets that flat light hardly passes glass.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from suntrack.box.compiled import trace_cups
from suntrack.box.light.beams import FIRST, PATHS, THEN
from suntrack.box.light.mirror import sun_in_box_frame

if TYPE_CHECKING:
    from numpy.typing import ArrayLike, NDArray


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class CupLight:
    """What all mirrors do to the top glass; the last axis goes over the ways of the light."""

    normal_beam_m2: NDArray[np.float64]
    """Area square to the beam whose light perfect mirrors bring, shape (..., PATHS).  [m2]"""
    incidence_deg: NDArray[np.float64]
    """On the glass, shape (..., PATHS); 90 where nothing is thrown.  [deg]"""
    shaded_m2: NDArray[np.float64]
    """Glass in the shadow of any mirror, shape (...).  [m2]"""


@dataclass(frozen=True, slots=True, kw_only=True)
class CupSizes:
    """Glass, back mirror and side mirrors.  A mirror of no length is not there."""

    top_length_m: float
    """Of the glass, back to front.  [m]"""
    top_width_m: float
    """Of the glass.  [m]"""
    side_length_m: float
    """From hinge to tip.  [m]"""
    side_width_m: float
    """Along the edge of the glass, back to front, centred on it.  [m]"""
    side_deg: float
    """From the glass, through the sky.  [deg]"""
    side_gap_m: float = 0.0
    """From the edge of the glass to the hinge.  [m]"""
    back_length_m: float = 0.0
    """Of the mirror at the back.  [m]"""
    back_width_m: float = 0.0
    """Of the mirror at the back.  [m]"""
    back_gap_m: float = 0.0
    """From the glass to it.  [m]"""
    tilt_deg: float = 0.0
    """How far the back of the whole box is raised.  [deg]"""


def cup_light(
    sizes: CupSizes,
    *,
    sun_elevation_deg: ArrayLike,
    sun_offset_deg: ArrayLike,
    mirror_deg: ArrayLike,
) -> CupLight:
    """Return the light and shadow of all mirrors on the top glass, for any sun.

    Parameters
    ----------
    sizes : CupSizes
        As built.  [m], [deg]
    sun_elevation_deg, sun_offset_deg : array_like
        Height of the sun, and its azimuth minus the box's.  [deg]
    mirror_deg : array_like
        Angle of the back mirror from the glass; only its shape counts without one.  [deg]

    Returns
    -------
    light : CupLight
        The power on the glass is the reflectances of a way times direct normal irradiance
        times `normal_beam_m2`, summed; nan stays nan.

    Examples
    --------
    Glass of 1 m and sides of 1 m that lean out by 30 degrees double a sun overhead:

    >>> trough = CupSizes(
    ...     top_length_m=1, top_width_m=1, side_length_m=1, side_width_m=1, side_deg=120
    ... )
    >>> light = cup_light(trough, sun_elevation_deg=90, sun_offset_deg=0, mirror_deg=90)
    >>> float(light.normal_beam_m2.sum().round(4))
    1.0
    """
    elevation, offset, back = np.broadcast_arrays(
        np.asarray(sun_elevation_deg, np.float64),
        np.asarray(sun_offset_deg, np.float64),
        np.asarray(mirror_deg, np.float64),
    )
    shape = elevation.shape
    suns = np.stack(
        sun_in_box_frame(
            sun_elevation_deg=elevation, sun_offset_deg=offset, tilt_deg=sizes.tilt_deg
        ),
        axis=-1,
    ).reshape(-1, 3)
    unknown = np.isnan(elevation + offset + back)
    suns[((elevation <= 0.0) | unknown).ravel()] = 0.0
    thrown_m2, cosine = np.zeros((len(suns), PATHS)), np.zeros((len(suns), PATHS))
    shaded_m2 = np.zeros(len(suns))
    plates, lengths = _plates(sizes)
    angles = np.radians(back).ravel()
    trace_cups()(suns, angles, plates, lengths, thrown_m2, cosine, shaded_m2)
    lost = np.where(unknown, np.nan, 0.0)
    return CupLight(
        normal_beam_m2=thrown_m2.reshape(*shape, PATHS) + lost[..., None],
        incidence_deg=np.degrees(np.arccos(np.minimum(cosine, 1.0))).reshape(*shape, PATHS),
        shaded_m2=shaded_m2.reshape(shape) + lost,
    )


def path_reflectances(*, back: float, side: float) -> NDArray[np.float64]:
    """Return what is left of the light of each way after its one or two mirrors, (PATHS,).

    Parameters
    ----------
    back, side : float
        Reflectances.  [-]
    """
    of_plate = np.array([1.0, back, side, side])
    return np.asarray(of_plate[FIRST] * of_plate[THEN], np.float64)


def _plates(sizes: CupSizes) -> tuple[NDArray[np.float64], NDArray[np.float64]]:
    """Return corner, sides and normal of each plate, and its lengths, as `trace_cups` asks."""
    half_m, tip = sizes.top_width_m / 2.0, np.radians(sizes.side_deg)
    rise, run = np.sin(tip), np.cos(tip)
    begins_m = (sizes.top_length_m - sizes.side_width_m) / 2.0
    hinge_m = half_m + sizes.side_gap_m
    plates = np.array(
        [
            [[0, -half_m, 0], [1, 0, 0], [0, 1, 0], [0, 0, 1]],
            [[-sizes.back_gap_m, -sizes.back_width_m / 2.0, 0], [0, 1, 0], [0, 0, 1], [1, 0, 0]],
            [[begins_m, hinge_m, 0], [1, 0, 0], [0, -run, rise], [0, -rise, -run]],
            [[begins_m, -hinge_m, 0], [1, 0, 0], [0, run, rise], [0, rise, -run]],
        ],
        np.float64,
    )
    side = [sizes.side_width_m, sizes.side_length_m]
    lengths = np.array(
        [
            [sizes.top_length_m, sizes.top_width_m],
            [sizes.back_width_m, sizes.back_length_m],
            side,
            side,
        ],
        np.float64,
    )
    return plates, lengths
