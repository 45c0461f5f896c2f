r"""The mirror at the back edge of the top glass: what it throws in, and what it shades.

Areas and angles only; how bright the beam is, and what the glass lets through, belongs to
`suntrack.box.light.gain`.  Everything is worked out in the box's own frame: x along the top glass
from its back edge to the front, y to the side, z square to the glass.  The mirror is a
rectangle hinged at x = -gap that stands at the angle psi from the glass, through the sky.

          mirror                    A point at height h up the mirror lands, along the
         /                          reflected ray, at x = -gap + h kx, y = y0 + h ky.
        / psi                       Both are linear in h, so the lit patch is a
    ---o-----------------> x        parallelogram and its overlap with the glass has a
      gap  top glass                closed form; the shadow of a sun behind the mirror
                                    is the same integral with the sun's own ray.

The lit patch is linear in height up the mirror, so its overlap with the glass has a closed
form.  Lost: polygon clipping (same areas, a hundred times slower on tables of aims); shapely
stays as the tests' oracle.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

if TYPE_CHECKING:
    from collections.abc import Callable

    from numpy.typing import ArrayLike, NDArray

LEVEL = 1e-9
"""Rays that fall less than this on their way meet no glass.  [m/m]"""
STRAIGHT = 1e-6
"""Sideways runs less than this are taken as this one: the patch then shifts aside by less
than the rounding of its own area.  [m/m]"""


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class MirrorLight:
    """What the mirror does to the top glass, arrays in the broadcast shape of the question."""

    lit_m2: NDArray[np.float64]
    """Area of glass that the mirror lights.  [m2]"""
    normal_beam_m2: NDArray[np.float64]
    """Area square to the beam whose light a perfect mirror brings to the glass.  [m2]"""
    incidence_deg: NDArray[np.float64]
    """Of the reflected ray on the glass; 90 where nothing is reflected.  [deg]"""
    shaded_m2: NDArray[np.float64]
    """Area of glass in the mirror's shadow.  [m2]"""


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class _Plates:
    """The rectangle of glass and the rectangle of mirror.  [m]"""

    top_length: NDArray[np.float64]
    """Of the glass, from the hinge.  [m]"""
    top_width: NDArray[np.float64]
    """Of the glass.  [m]"""
    mirror_length: NDArray[np.float64]
    """Hinge to tip.  [m]"""
    mirror_width: NDArray[np.float64]
    """Left to right.  [m]"""
    gap: NDArray[np.float64]
    """From the glass to the mirror.  [m]"""


def sun_in_box_frame(
    *, sun_elevation_deg: ArrayLike, sun_offset_deg: ArrayLike, tilt_deg: ArrayLike
) -> tuple[NDArray[np.float64], NDArray[np.float64], NDArray[np.float64]]:
    """Return the unit vector to the sun along x (front), y (side) and z (off the glass).

    Parameters
    ----------
    sun_elevation_deg : array_like
        Above the horizontal.  [deg]
    sun_offset_deg : array_like
        Sun's azimuth minus where the box faces; either sign.  [deg]
    tilt_deg : array_like
        How far the back of the box is raised.  [deg]
    """
    elevation, offset = np.radians(sun_elevation_deg), np.radians(sun_offset_deg)
    ahead, up = np.cos(elevation) * np.cos(offset), np.sin(elevation)
    tilt = np.radians(tilt_deg)
    return (
        np.cos(tilt) * ahead - np.sin(tilt) * up,
        np.cos(elevation) * np.sin(offset),
        np.sin(tilt) * ahead + np.cos(tilt) * up,
    )


def mirror_on_top(
    *,
    sun_elevation_deg: ArrayLike,
    sun_offset_deg: ArrayLike,
    mirror_deg: ArrayLike,
    top_length_m: ArrayLike,
    top_width_m: ArrayLike,
    mirror_length_m: ArrayLike,
    mirror_width_m: ArrayLike,
    hinge_gap_m: ArrayLike = 0.0,
    tilt_deg: ArrayLike = 0.0,
) -> MirrorLight:
    r"""Return the light and shadow of the mirror on the top glass, for any sun.

    All arguments broadcast together.  The mirror is flat and stands centred behind the
    glass; a sun below the horizon or below the plane of the glass gives 0.

    Parameters
    ----------
    sun_elevation_deg, sun_offset_deg : array_like
        Height of the sun, and its azimuth minus the box's.  [deg]
    mirror_deg : array_like
        Angle psi between glass and mirror, through the sky: 90 is square to the glass,
        more leans back.  [deg]
    top_length_m, top_width_m : array_like
        Of the glass, back to front and side to side.  [m]
    mirror_length_m, mirror_width_m : array_like
        Of the mirror, from hinge to tip and side to side.  [m]
    hinge_gap_m : array_like
        From the back edge of the glass to the hinge, along the glass.  [m]
    tilt_deg : array_like
        How far the back of the whole box is raised.  [deg]

    Returns
    -------
    light : MirrorLight
        The power on the glass is mirror reflectance times direct normal irradiance times
        `normal_beam_m2`; nan stays nan.

    Notes
    -----
    With the sun s and the mirror's normal :math:`n = (\sin\psi, 0, -\cos\psi)`, the
    reflected ray is :math:`r = 2 (s \cdot n) n - s`.  It falls by
    :math:`d = 2 (s \cdot n) \cos\psi + s_z`, and a point at height h lands at

    .. math:: x = -gap + h (s \cdot n) / d, \quad y = y_0 - h \sin\psi \, s_y / d

    For a sun behind the mirror, :math:`-s \cdot n` and :math:`s_z` stand for
    :math:`s \cdot n` and d: the same integral gives the shadow.  Own derivation, checked
    against a ray trace and a polygon clip.

    Examples
    --------
    A square mirror on a square glass, both 1 m, the sun 45 degrees high and straight ahead:

    >>> square = dict(top_length_m=1, top_width_m=1, mirror_length_m=1, mirror_width_m=1)
    >>> light = mirror_on_top(sun_elevation_deg=45, sun_offset_deg=0, mirror_deg=90, **square)
    >>> float(light.normal_beam_m2.round(4))
    0.7071
    """
    forward, side, up = sun_in_box_frame(
        sun_elevation_deg=sun_elevation_deg, sun_offset_deg=sun_offset_deg, tilt_deg=tilt_deg
    )
    psi = np.radians(np.asarray(mirror_deg, np.float64))
    facing = forward * np.sin(psi) - up * np.cos(psi)
    falls = 2.0 * facing * np.cos(psi) + up
    aside = np.abs(np.sin(psi) * side)
    above = (np.asarray(sun_elevation_deg) > 0.0) & (up > LEVEL)
    lights = above & (facing > LEVEL) & (falls > LEVEL)
    shades = above & (facing < -LEVEL)
    plates = _Plates(
        top_length=np.asarray(top_length_m, np.float64),
        top_width=np.asarray(top_width_m, np.float64),
        mirror_length=np.asarray(mirror_length_m, np.float64),
        mirror_width=np.asarray(mirror_width_m, np.float64),
        gap=np.asarray(hinge_gap_m, np.float64),
    )
    cosine = np.where(lights, falls, facing * 0.0)
    lit_m2 = _covered_m2(plates, ahead=facing, aside=aside, falls=falls, where=lights)
    return MirrorLight(
        lit_m2=lit_m2,
        normal_beam_m2=lit_m2 * cosine,
        incidence_deg=np.degrees(np.arccos(np.minimum(cosine, 1.0))),
        shaded_m2=_covered_m2(plates, ahead=-facing, aside=aside, falls=up, where=shades),
    )


def _covered_m2(
    plates: _Plates,
    *,
    ahead: NDArray[np.float64],
    aside: NDArray[np.float64],
    falls: NDArray[np.float64],
    where: NDArray[np.bool_],
) -> NDArray[np.float64]:
    """Return the glass that the mirror's image covers; 0 where `where` is false, nan for nan.

    The image of a metre of mirror runs `ahead / falls` to the front and `aside / falls` to
    the side.  Each height h up the mirror is a strip on the glass; strips from `low` to
    `high` land between its back and its front edge.
    """
    fall = np.where(where, falls, 1.0)
    along = np.where(where, ahead / fall, 1.0)
    shift = np.maximum(np.where(where, aside / fall, 0.0), STRAIGHT)
    low = np.minimum(plates.gap / along, plates.mirror_length)
    high = np.minimum((plates.gap + plates.top_length) / along, plates.mirror_length)
    covered = (_width_sum(plates, shift * high) - _width_sum(plates, shift * low)) / shift
    return np.where(where, along * covered, ahead * 0.0)


def _width_sum(plates: _Plates, shift_m: NDArray[np.float64]) -> NDArray[np.float64]:
    """Return the integral, from 0 to a sideways shift, of the width two strips share.  [m2]

    Strips as wide as mirror and glass share the narrower width until the shift is half
    their difference, then ever less, and nothing from half their sum on.
    """
    narrow = np.minimum(plates.top_width, plates.mirror_width)
    whole = np.abs(plates.top_width - plates.mirror_width) / 2.0
    none = (plates.top_width + plates.mirror_width) / 2.0
    slanted = np.clip(shift_m, whole, none)
    part = ((none - whole) ** 2 - (none - slanted) ** 2) / 2.0
    return narrow * np.minimum(shift_m, whole) + part


def best_mirror_deg(
    *,
    sun_elevation_deg: ArrayLike,
    sun_offset_deg: ArrayLike,
    lowest_deg: float = 30.0,
    highest_deg: float = 150.0,
    reflectance: float = 0.85,
    **sizes: float,
) -> NDArray[np.float64]:
    """Return the mirror angle that brings most light at each moment.  [deg]

    Parameters
    ----------
    sun_elevation_deg, sun_offset_deg : array_like
        As in `mirror_on_top`; the answer has their broadcast shape.  [deg]
    lowest_deg, highest_deg : float
        The angles the mirror can take.  [deg]
    reflectance : float
        Of the mirror; weighs its light against its shadow.  [-]
    **sizes : float
        Lengths, gap and tilt of `mirror_on_top`.  [m], [deg]

    Returns
    -------
    mirror_deg : ndarray
        To a hundredth; `lowest_deg` where no angle brings anything; nan stays nan.  [deg]

    Notes
    -----
    The optimum is a kink, where the reflected patch just covers the glass, so the search
    narrows a grid instead of following a slope.  Weighing by the glass's transmittance does
    not move a kink, and is left out.
    """
    elevation, offset = np.broadcast_arrays(
        np.asarray(sun_elevation_deg, np.float64), np.asarray(sun_offset_deg, np.float64)
    )

    def brought(angles_deg: NDArray[np.float64]) -> NDArray[np.float64]:
        return _brought_m2(
            elevation[..., None], offset[..., None], angles_deg, reflectance=reflectance, **sizes
        )

    best = _highest(brought, shape=elevation.shape, lowest=lowest_deg, highest=highest_deg)
    return np.where(np.isnan(elevation + offset), np.nan, best)


def best_fixed_mirror_deg(
    *,
    sun_elevation_deg: ArrayLike,
    sun_offset_deg: ArrayLike,
    weight: ArrayLike = 1.0,
    lowest_deg: float = 30.0,
    highest_deg: float = 150.0,
    reflectance: float = 0.85,
    **sizes: float,
) -> float:
    """Return the one mirror angle that brings most light over a span of suns.  [deg]

    Parameters
    ----------
    sun_elevation_deg, sun_offset_deg : array_like
        The suns of a meal, a day or a season.  [deg]
    weight : array_like
        Of each sun, such as its beam's strength times the time it stands for.  [-]
    lowest_deg, highest_deg, reflectance, **sizes : float
        As in `best_mirror_deg`.
    """

    def brought(angles_deg: NDArray[np.float64]) -> NDArray[np.float64]:
        suns = _brought_m2(
            np.ravel(sun_elevation_deg),
            np.ravel(sun_offset_deg),
            angles_deg[:, None],
            reflectance=reflectance,
            **sizes,
        )
        return np.asarray((suns * np.ravel(weight)).sum(axis=-1), np.float64)

    return float(_highest(brought, shape=(), lowest=lowest_deg, highest=highest_deg))


def _brought_m2(
    elevation_deg: NDArray[np.float64],
    offset_deg: NDArray[np.float64],
    angles_deg: NDArray[np.float64],
    *,
    reflectance: float,
    **sizes: float,
) -> NDArray[np.float64]:
    """Return what the mirror adds less what it shades, as an area square to the beam.  [m2]"""
    light = mirror_on_top(
        sun_elevation_deg=elevation_deg,
        sun_offset_deg=offset_deg,
        mirror_deg=angles_deg,
        **sizes,
    )
    _, _, up = sun_in_box_frame(
        sun_elevation_deg=elevation_deg,
        sun_offset_deg=offset_deg,
        tilt_deg=sizes.get("tilt_deg", 0.0),
    )
    return reflectance * light.normal_beam_m2 - np.maximum(up, 0.0) * light.shaded_m2


def _highest(
    gain: Callable[[NDArray[np.float64]], NDArray[np.float64]],
    *,
    shape: tuple[int, ...],
    lowest: float,
    highest: float,
) -> NDArray[np.float64]:
    """Return where a function of its last axis is highest, by a grid that narrows twice."""
    whole = np.linspace(lowest, highest, max(int(np.ceil(highest - lowest)), 0) + 1)
    best = _best_of(gain, np.broadcast_to(whole, (*shape, whole.size)))
    for grain in (0.1, 0.01):
        near = best[..., None] + grain * np.arange(-10, 11)
        best = _best_of(gain, np.clip(near, lowest, highest))
    return best


def _best_of(
    gain: Callable[[NDArray[np.float64]], NDArray[np.float64]], angles: NDArray[np.float64]
) -> NDArray[np.float64]:
    """Return the angle of the last axis whose gain is highest."""
    at = gain(angles).argmax(axis=-1)
    return np.take_along_axis(angles, at[..., None], axis=-1)[..., 0]


def sky_hidden_share(
    *, top_length_m: ArrayLike, mirror_length_m: ArrayLike, mirror_deg: ArrayLike
) -> NDArray[np.float64]:
    """Return the share of the sky's even light that the mirror hides from the glass.  [-]

    Hottel's crossed strings for two long plates that share an edge:
    F = (L + H - D)/(2 L), D the distance between their far edges.  The gap at the hinge is
    left out, and so is the sky seen past the mirror's ends: the share is a little high.

    Parameters
    ----------
    top_length_m, mirror_length_m : array_like
        Of glass and mirror, away from the hinge.  [m]
    mirror_deg : array_like
        As in `mirror_on_top`.  [deg]
    """
    glass, mirror = np.asarray(top_length_m, np.float64), np.asarray(mirror_length_m, np.float64)
    psi = np.radians(np.asarray(mirror_deg, np.float64))
    far = np.sqrt(glass**2 + mirror**2 - 2.0 * glass * mirror * np.cos(psi))
    return np.asarray((glass + mirror - far) / (2.0 * glass), np.float64)
