"""Light into the box: every pane and all mirrors together, for any aim.

Left out, and said so in DEVELOPERS.md: the shadow of the frame, the shadow one pot throws
on another, and mirror light on the front pane (from mirrors behind and beside the top glass
it cannot get there from outside; what crosses the box inside is already counted as inside).
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from suntrack.box.light.glass import (
    cavity_absorptance,
    diffuse_incidence_deg,
    ground_incidence_deg,
)
from suntrack.box.light.mirrors import (
    MirrorWork,
    even_shares,
    glazed_top_m,
    glazing_shares,
    mirror_work,
)
from suntrack.sky.surface import SurfaceLight, surface_light

if TYPE_CHECKING:
    from collections.abc import Callable
    from typing import Any

    from numpy.typing import ArrayLike, NDArray

    from suntrack.box.build import Box, Glazing
    from suntrack.box.light.glass import StackShares

    Change = Callable[[Any], Any]


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class BoxLight:
    """Light taken in by the box, arrays in the broadcast shape of the question."""

    inside_w: NDArray[np.float64]
    """Absorbed inside, by lining and pots.  [W]"""
    top_panes_w: NDArray[np.float64]
    """Absorbed in each glass of the top, outermost first, shape (..., glasses).  [W]"""
    front_panes_w: NDArray[np.float64]
    """The same for the front; a last axis of 0 without a front pane.  [W]"""
    top_w: NDArray[np.float64]
    """Part of `inside_w` that came straight through the top.  [W]"""
    front_w: NDArray[np.float64]
    """Part of `inside_w` that came through the front.  [W]"""
    mirror_w: NDArray[np.float64]
    """Part of `inside_w` that came by any mirror.  [W]"""

    def scaled(self, factor: float) -> BoxLight:
        """Return all of the light times a factor, from 0.  [-]"""
        return self if factor == 1.0 else self._each(lambda light: factor * light)

    def masked(self, lit: NDArray[np.float64]) -> BoxLight:
        """Return the light step by step as far as it is let in.

        Parameters
        ----------
        lit : ndarray, shape (..., steps)
            0 for a covered box, 1 for an open one.  [-]
        """
        pane = lit[..., None]
        return self._each(lambda light: light * lit, of_glass=lambda light: light * pane)

    def taken(self, pick: object) -> BoxLight:
        """Return the light of some days and steps, picked as arrays are.  [W]"""
        return self._each(lambda light: light[pick])

    def _each(self, change: Change, *, of_glass: Change | None = None) -> BoxLight:
        """Return the light with every array changed; those of the panes have one axis more."""
        glass = of_glass or change
        return BoxLight(
            inside_w=change(self.inside_w),
            top_panes_w=glass(self.top_panes_w),
            front_panes_w=glass(self.front_panes_w),
            top_w=change(self.top_w),
            front_w=change(self.front_w),
            mirror_w=change(self.mirror_w),
        )


def box_light(
    box: Box,
    *,
    sun_elevation_deg: ArrayLike,
    sun_azimuth_deg: ArrayLike,
    beam_normal_w_m2: ArrayLike,
    diffuse_horizontal_w_m2: ArrayLike,
    global_horizontal_w_m2: ArrayLike,
    extraterrestrial_normal_w_m2: ArrayLike,
    face_deg: ArrayLike,
    mirror_deg: ArrayLike,
    albedo: ArrayLike = 0.2,
    skyline_height_deg: ArrayLike = 0.0,
    sky_share: ArrayLike = 1.0,
) -> BoxLight:
    """Return the light a box takes in.

    All arrays broadcast together: one moment, a day, or every aim against every step.

    Parameters
    ----------
    box : Box
    sun_elevation_deg, sun_azimuth_deg : array_like
        Where the sun stands; azimuth clockwise from true north.  [deg]
    beam_normal_w_m2, diffuse_horizontal_w_m2, global_horizontal_w_m2 : array_like
        The sky's light.  [W/m2]
    extraterrestrial_normal_w_m2 : array_like
        Sunlight outside the air.  [W/m2]
    face_deg : array_like
        Where the front of the box points, clockwise from true north.  [deg]
    mirror_deg : array_like
        Angle of the mirror at the back from the glass, through the sky; without one only
        its shape counts.  [deg]
    albedo : array_like
        Share of light that the ground sends back.  [-]
    skyline_height_deg, sky_share : array_like
        Height of the skyline under the sun, and the share of even sky above it.
        [deg], [-]

    Returns
    -------
    light : BoxLight
        All zero with the sun down and no light in the sky; nan stays nan.

    Notes
    -----
    Beam, sky, ground and mirror light pass each stack of panes at their own (effective)
    angle.  What gets through is absorbed inside but for the share that the lining reflects
    out again: see `suntrack.box.light.glass.cavity_absorptance`.  What mirrors do to beam and sky
    is in `suntrack.box.light.mirrors`.
    """

    def light_on(tilt_deg: float) -> SurfaceLight:
        return surface_light(
            sun_elevation_deg=sun_elevation_deg,
            sun_azimuth_deg=sun_azimuth_deg,
            beam_normal_w_m2=beam_normal_w_m2,
            diffuse_horizontal_w_m2=diffuse_horizontal_w_m2,
            global_horizontal_w_m2=global_horizontal_w_m2,
            extraterrestrial_normal_w_m2=extraterrestrial_normal_w_m2,
            tilt_deg=tilt_deg,
            azimuth_deg=face_deg,
            albedo=albedo,
            skyline_height_deg=skyline_height_deg,
            sky_share=sky_share,
        )

    offset_deg = np.asarray(sun_azimuth_deg, np.float64) - np.asarray(face_deg, np.float64)
    mirror = mirror_work(box, sun_elevation_deg, offset_deg, mirror_deg)
    on_top = light_on(box.tilt_deg)
    top, mirrored = _through_top(box, on_top, mirror), _by_mirrors(on_top, mirror)
    front = _through_front(box, light_on(90.0 + box.tilt_deg))
    stays = _stays(box)
    shape = np.broadcast_shapes(top.inside.shape, mirrored.inside.shape, front.inside.shape)
    light = BoxLight(
        inside_w=np.broadcast_to((top.inside + mirrored.inside + front.inside) * stays, shape),
        top_panes_w=_spread(top.panes + mirrored.panes, shape),
        front_panes_w=_spread(front.panes, shape),
        top_w=np.broadcast_to(top.inside * stays, shape),
        front_w=np.broadcast_to(front.inside * stays, shape),
        mirror_w=np.broadcast_to(mirrored.inside * stays, shape),
    )
    return light.scaled(box.learned.light)


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class _Through:
    """Light through one opening, and what its panes keep.  [W]"""

    inside: NDArray[np.float64]
    """What gets inside."""
    panes: NDArray[np.float64]
    """What the glass keeps."""


def _pass(light_w: NDArray[np.float64], shares: StackShares) -> _Through:
    """Send light with one incidence through a stack."""
    return _Through(
        inside=light_w * shares.transmittance, panes=light_w[..., None] * shares.absorptance
    )


def _even(glazing: Glazing, light: SurfaceLight, *, tilt_deg: float, area_m2: float) -> _Through:
    """Send the sky's and the ground's even light through a stack."""
    sky_deg = float(diffuse_incidence_deg(tilt_deg=tilt_deg))
    ground_deg = float(ground_incidence_deg(tilt_deg=tilt_deg))
    sky = _pass(light.sky_w_m2 * area_m2, even_shares(glazing, sky_deg))
    ground = _pass(light.ground_w_m2 * area_m2, even_shares(glazing, ground_deg))
    return _Through(inside=sky.inside + ground.inside, panes=sky.panes + ground.panes)


def _through_top(box: Box, light: SurfaceLight, mirror: MirrorWork) -> _Through:
    """Return what comes straight through the top, past the mirror's shadow."""
    length_m, width_m = glazed_top_m(box)
    area_m2 = length_m * width_m
    even = _even(box.top, light, tilt_deg=box.tilt_deg, area_m2=area_m2)
    beam = _pass(
        light.beam_w_m2 * (area_m2 - mirror.shaded_m2), glazing_shares(box.top, light.incidence_deg)
    )
    seen = 1.0 - mirror.dimmed
    return _Through(
        inside=beam.inside + even.inside * seen, panes=beam.panes + even.panes * seen[..., None]
    )


def _by_mirrors(light: SurfaceLight, mirror: MirrorWork) -> _Through:
    """Return what the mirrors throw through the top."""
    beam_w_m2 = light.beam_normal_w_m2
    return _Through(
        inside=beam_w_m2 * mirror.inside_m2, panes=beam_w_m2[..., None] * mirror.panes_m2
    )


def _through_front(box: Box, light: SurfaceLight) -> _Through:
    """Return what comes through the front pane; nothing without one."""
    if box.front is None:
        nothing = np.zeros_like(light.beam_w_m2)
        return _Through(inside=nothing, panes=np.zeros((*nothing.shape, 0)))
    area_m2 = box.width_m * box.height_m
    beam = _pass(light.beam_w_m2 * area_m2, glazing_shares(box.front, light.incidence_deg))
    even = _even(box.front, light, tilt_deg=90.0 + box.tilt_deg, area_m2=area_m2)
    return _Through(inside=beam.inside + even.inside, panes=beam.panes + even.panes)


def _stays(box: Box) -> NDArray[np.float64]:
    """Return the share of the light inside that stays inside.

    Top and front count as one window of their mean transmittance; pots are part of the
    dark inside and are not counted extra.
    """
    length_m, width_m = glazed_top_m(box)
    glass = [(box.top, length_m * width_m)]
    dark_m2 = box.width_m * box.depth_m + 2.0 * (box.width_m + box.depth_m) * box.height_m
    if box.front is not None:
        front_m2 = box.width_m * box.height_m
        glass.append((box.front, front_m2))
        dark_m2 -= front_m2
    aperture_m2 = sum(area for _, area in glass)
    even_deg = float(diffuse_incidence_deg(tilt_deg=0.0))
    passed_m2 = sum(
        float(even_shares(glazing, even_deg).transmittance) * m2 for glazing, m2 in glass
    )
    return cavity_absorptance(
        lining_absorptance=box.lining_absorptance,
        transmittance_diffuse=passed_m2 / aperture_m2,
        aperture_m2=aperture_m2,
        inner_m2=dark_m2,
    )


def _spread(panes_w: NDArray[np.float64], shape: tuple[int, ...]) -> NDArray[np.float64]:
    """Return pane light broadcast to the whole question, the panes last."""
    return np.broadcast_to(panes_w, (*shape, panes_w.shape[-1]))
