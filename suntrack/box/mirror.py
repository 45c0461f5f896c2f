r"""The mirror at the back edge of the top glass: what it throws in, and what it shades.

Everything is worked out in the box's own frame: x along the top glass from its back edge
to the front, y to the side, z square to the glass.  The mirror is a rectangle hinged at
x = -gap and standing at the angle psi from the glass, through the sky.

          mirror                    A point at height h up the mirror lands, along the
         /                          reflected ray, at x = -gap + h kx, y = y0 + h ky.
        / psi                       Both are linear in h, so the lit patch is a
    ---o-----------------> x        parallelogram and its overlap with the glass has a
      gap  top glass                closed form; the shadow of a sun behind the mirror
                                    is the same integral with the sun's own ray.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

if TYPE_CHECKING:
    from numpy.typing import ArrayLike, NDArray


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class MirrorLight:
    """What the mirror does to the top glass, arrays in the broadcast shape of the question."""

    lit_m2: NDArray[np.float64]
    """Area of glass that the mirror lights.  [m2]"""
    normal_beam_m2: NDArray[np.float64]
    """Area square to the beam whose light a perfect mirror brings through.  [m2]"""
    incidence_deg: NDArray[np.float64]
    """Of the reflected ray on the glass; 90 where nothing is reflected.  [deg]"""
    shaded_m2: NDArray[np.float64]
    """Area of glass in the mirror's shadow.  [m2]"""


@dataclass(frozen=True, slots=True, kw_only=True)
class MirrorShape:
    """The rectangle of glass and the rectangle of mirror, sides in metres."""

    top_length_m: float
    top_width_m: float
    mirror_length_m: float
    mirror_width_m: float
    hinge_gap_m: float = 0.0


def sun_in_box_frame(
    *, sun_elevation_deg: ArrayLike, sun_offset_deg: ArrayLike, tilt_deg: float
) -> tuple[NDArray[np.float64], NDArray[np.float64], NDArray[np.float64]]:
    """Return the unit vector to the sun along x (front), y (side) and z (off the glass).

    Parameters
    ----------
    sun_elevation_deg : array_like
        Above the horizontal.  [deg]
    sun_offset_deg : array_like
        Sun's azimuth minus where the box faces; either sign.  [deg]
    tilt_deg : float
        How far the back of the box is raised.  [deg]
    """
    elevation, offset = np.radians(sun_elevation_deg), np.radians(sun_offset_deg)
    ahead, up = np.cos(elevation) * np.cos(offset), np.sin(elevation)
    tilt = np.radians(tilt_deg)
    side = np.cos(elevation) * np.sin(offset)
    return (
        np.cos(tilt) * ahead - np.sin(tilt) * up,
        side,
        np.sin(tilt) * ahead + np.cos(tilt) * up,
    )


def mirror_on_top(
    shape: MirrorShape,
    *,
    sun_elevation_deg: ArrayLike,
    sun_offset_deg: ArrayLike,
    mirror_deg: ArrayLike,
    tilt_deg: float = 0.0,
) -> MirrorLight:
    r"""Return the light and shadow of the mirror on the top glass, for any sun.

    Parameters
    ----------
    shape : MirrorShape
    sun_elevation_deg, sun_offset_deg : array_like
        Height of the sun, and its azimuth minus the box's; they broadcast.  [deg]
    mirror_deg : array_like
        Angle psi between glass and mirror, through the sky: 90 is square to the glass,
        more leans back.  Broadcasts with the sun.  [deg]
    tilt_deg : float
        How far the back of the whole box is raised.  [deg]

    Notes
    -----
    With the sun s and the mirror's normal n = (sin psi, 0, -cos psi), the reflected ray is
    :math:`r = 2 (s \cdot n) n - s`.  The power it carries through the glass is
    :math:`\rho \, DNI` times `normal_beam_m2`.  On the axis and for equal lengths the
    best angle is psi = 60 + 2a/3; the general case has no such form and is searched for.
    """
    east, side, up = sun_in_box_frame(
        sun_elevation_deg=sun_elevation_deg, sun_offset_deg=sun_offset_deg, tilt_deg=tilt_deg
    )
    psi = np.radians(np.asarray(mirror_deg, np.float64))
    facing = east * np.sin(psi) - up * np.cos(psi)
    ray_x = 2.0 * facing * np.sin(psi) - east
    ray_down = 2.0 * facing * np.cos(psi) + up
    lights = (facing > 0.0) & (ray_down > 1e-9)
    lit_m2 = _overlap_m2(shape, psi, slope_x=ray_x, slope_y=-side, slope_z=ray_down, where=lights)
    shades = (facing < 0.0) & (up > 1e-9)
    shaded_m2 = _overlap_m2(shape, psi, slope_x=-east, slope_y=-side, slope_z=up, where=shades)
    incidence_deg = np.degrees(np.arccos(np.clip(np.where(lights, ray_down, 0.0), 0.0, 1.0)))
    return MirrorLight(
        lit_m2=lit_m2,
        normal_beam_m2=lit_m2 * np.where(lights, ray_down, 0.0),
        incidence_deg=incidence_deg,
        shaded_m2=shaded_m2,
    )


def _overlap_m2(
    shape: MirrorShape,
    psi: NDArray[np.float64],
    *,
    slope_x: NDArray[np.float64],
    slope_y: NDArray[np.float64],
    slope_z: NDArray[np.float64],
    where: NDArray[np.bool_],
) -> NDArray[np.float64]:
    """Return the glass that the mirror's image along a ray covers; 0 where `where` is false.

    The ray falls by `slope_z` while it runs `slope_x` to the front and `slope_y` aside.
    """
    fall = np.where(where, slope_z, 1.0)
    ahead = np.cos(psi) + np.sin(psi) * slope_x / fall  # kx: metres of glass per metre of mirror
    aside = np.abs(np.sin(psi) * slope_y / fall)  # ky
    on_glass = where & (ahead > 1e-12)
    along = np.where(on_glass, ahead, 1.0)
    low = np.minimum(shape.hinge_gap_m / along, shape.mirror_length_m)
    high = np.minimum((shape.hinge_gap_m + shape.top_length_m) / along, shape.mirror_length_m)
    # Below 1e-6 the patch shifts aside by less than the rounding of its own area.
    shift = np.maximum(aside, 1e-6)
    covered = (_width_sum(shape, shift * high) - _width_sum(shape, shift * low)) / shift
    return np.where(on_glass, along * covered, 0.0)


def _width_sum(shape: MirrorShape, shift_m: NDArray[np.float64]) -> NDArray[np.float64]:
    """Return the integral, from 0 to a sideways shift, of the width two strips share.  [m2]

    Strips as wide as mirror and glass share the narrower width until the shift is half
    their difference, then ever less, and nothing from half their sum on.
    """
    narrow = min(shape.top_width_m, shape.mirror_width_m)
    whole = abs(shape.top_width_m - shape.mirror_width_m) / 2.0
    none = (shape.top_width_m + shape.mirror_width_m) / 2.0
    slanted = np.clip(shift_m, whole, none)
    part = ((none - whole) ** 2 - (none - slanted) ** 2) / 2.0
    return narrow * np.minimum(shift_m, whole) + part


def best_mirror_deg(
    shape: MirrorShape,
    *,
    sun_elevation_deg: ArrayLike,
    sun_offset_deg: ArrayLike,
    weight: ArrayLike = 1.0,
    tilt_deg: float = 0.0,
    lowest_deg: float = 30.0,
    highest_deg: float = 150.0,
) -> float:
    """Return the one mirror angle that brings most light over one or many suns.  [deg]

    Parameters
    ----------
    shape : MirrorShape
    sun_elevation_deg, sun_offset_deg : array_like, shape (suns,)
        One sun for the best angle of a moment, a day's suns for the best fixed angle.  [deg]
    weight : array_like, shape (suns,)
        Such as the beam's strength times the time it stands for.
    tilt_deg, lowest_deg, highest_deg : float
        Tilt of the box, and the angles the mirror can take.  [deg]

    Notes
    -----
    The optimum of one sun is a kink, where the reflected patch just covers the glass, so
    the search narrows a grid instead of following a slope: a hundredth of a degree.
    """
    elevation, offset = np.atleast_1d(sun_elevation_deg), np.atleast_1d(sun_offset_deg)

    def gained(angles_deg: NDArray[np.float64]) -> NDArray[np.float64]:
        light = mirror_on_top(
            shape,
            sun_elevation_deg=elevation,
            sun_offset_deg=offset,
            mirror_deg=angles_deg[:, None],
            tilt_deg=tilt_deg,
        )
        total: NDArray[np.float64] = (
            (light.normal_beam_m2 - light.shaded_m2) * np.asarray(weight, np.float64)
        ).sum(axis=-1)
        return total

    low, high = lowest_deg, highest_deg
    for grain in (1.0, 0.1, 0.01):
        angles = np.arange(low, high + grain / 2.0, grain)
        best = float(angles[int(np.argmax(gained(angles)))])
        low, high = max(lowest_deg, best - grain), min(highest_deg, best + grain)
    return best


def hidden_sky_share(shape: MirrorShape, *, mirror_deg: ArrayLike) -> NDArray[np.float64]:
    """Return the share of the sky's even light that the mirror hides from the glass.  [-]

    Hottel's crossed strings for two plates that share an edge:
    F = (L + H - D)/(2 L), D the distance between their far edges.  Long plates; the gap
    at the hinge is left out.
    """
    psi = np.radians(np.asarray(mirror_deg, np.float64))
    glass, mirror = shape.top_length_m, shape.mirror_length_m
    far = np.sqrt(glass**2 + mirror**2 - 2.0 * glass * mirror * np.cos(psi))
    return np.asarray((glass + mirror - far) / (2.0 * glass), np.float64)
