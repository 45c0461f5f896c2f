"""The light of the day for every aim: the table that turns are chosen from.

A row for each pair of face and mirror angle on a coarse grid, a column for each ten
minutes.  Aims that are kept to the degree, because the box has them already or a shown plan
asks for them, are rows of their own at the end.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from suntrack.box.light.aims import gain_matrix
from suntrack.plan.rays import Rays, part_of, rays_of

if TYPE_CHECKING:
    from collections.abc import Sequence

    from numpy.typing import NDArray

    from suntrack.box.build import Mirror
    from suntrack.plan.grid import Grid
    from suntrack.plan.inputs import DayInputs, ObservedAim

TABLE_MIN = 10
"""Length of a step of the light table, and so the grain of turn times.  [min]"""
FACE_GRAIN_DEG, MIRROR_GRAIN_DEG = 5.0, 5.0
"""Grain of the light table; chosen aims are trimmed to the degree afterwards.  [deg]"""


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class LightTable:
    """Light for every pair of face and mirror angle (a row) in every coarse step."""

    light_w: NDArray[np.float64]
    """Shape (rows, steps).  [W]"""
    face_deg: NDArray[np.float64]
    """Shape (rows,).  [deg]"""
    mirror_deg: NDArray[np.float64]
    """Shape (rows,).  [deg]"""
    mirrors: int
    """Mirror angles for each face in the regular rows.  [-]"""
    kept: int
    """How many rows at the end are aims that are kept to the degree.  [-]"""
    rays: Rays
    """The light they were made from."""

    @property
    def regular(self) -> int:
        """How many rows make up the regular grid of aims."""
        return self.face_deg.size - self.kept

    def row_facing_sun(self, *, mirror_place: int | None = None) -> NDArray[np.intp]:
        """Return in each step the row that faces the sun, with the best mirror or one, (steps,)."""
        azimuth_deg = self.rays["sun_azimuth_deg"]
        faces = self.regular // self.mirrors
        face = np.rint(azimuth_deg / FACE_GRAIN_DEG).astype(np.intp) % faces
        by_face = self.light_w[: self.regular].reshape(faces, self.mirrors, -1)
        mirror = by_face[face, :, np.arange(face.size)].argmax(axis=1)
        if mirror_place is not None:
            mirror = np.full(face.size, mirror_place)
        return np.asarray(face * self.mirrors + mirror)

    def spread(self) -> float:
        """Return how much of the light of following the best row the worst one misses.  [-]"""
        light_w = self.light_w[: self.regular]
        followed = float(light_w.max(axis=0).sum())
        return 1.0 - float(light_w.sum(axis=1).min()) / followed if followed else 0.0

    def with_mirror(self, place: int) -> NDArray[np.intp]:
        """Return the regular rows of one of the mirror angles."""
        return np.arange(place, self.regular, self.mirrors)


def mirror_choices_deg(mirror: Mirror | None, *, grain_deg: float) -> NDArray[np.float64]:
    """Return the mirror angles to choose from; one placeholder without a mirror.  [deg]"""
    if mirror is None:
        return np.array([90.0])
    if mirror.fixed_angle_deg is not None:
        return np.array([mirror.fixed_angle_deg])
    low, high = mirror.lowest_angle_deg, mirror.highest_angle_deg
    count = int((high - low) // grain_deg) + 1
    return low + grain_deg * np.arange(count, dtype=np.float64)


def mirrors_near_deg(mirror: Mirror | None, angle_deg: float) -> NDArray[np.float64]:
    """Return whole degrees near an angle that the mirror can take.  [deg]"""
    if mirror is None or mirror.fixed_angle_deg is not None:
        return np.array([angle_deg])
    near = angle_deg + np.arange(-4.0, 5.0)
    return near[(near >= mirror.lowest_angle_deg) & (near <= mirror.highest_angle_deg)]


def light_table(
    inputs: DayInputs, *, grid: Grid, coarse: Grid, first_step: int, kept: Sequence[ObservedAim]
) -> LightTable:
    """Build the table from the middle of each coarse step.

    Parameters
    ----------
    inputs : DayInputs
        Box, site and sky.
    grid, coarse : Grid
        The stretch in fine and in coarse steps.
    first_step : int
        The fine step of the whole day at which the stretch begins.
    kept : sequence of HeardAim
        Aims that get rows of their own.
    """
    times = round(coarse.step_s / grid.step_s)
    start = first_step + times // 2
    rays = rays_of(inputs, steps=slice(start, start + coarse.steps * times, times))
    faces_deg = np.arange(0.0, 360.0, FACE_GRAIN_DEG)
    mirrors_deg = mirror_choices_deg(inputs.box.mirror, grain_deg=MIRROR_GRAIN_DEG)
    gain_w = gain_matrix(inputs.box, **rays, faces_deg=faces_deg, mirrors_deg=mirrors_deg)
    known = [(aim.face_true_deg, aim.mirror_deg or float(mirrors_deg[0])) for aim in kept]
    known_w = [
        gain_matrix(inputs.box, **rays, faces_deg=np.array([face]), mirrors_deg=np.array([mirror]))
        for face, mirror in known
    ]
    rows_w = [part.reshape(-1, coarse.steps) for part in (gain_w, *known_w)]
    return LightTable(
        light_w=np.concatenate(rows_w),
        face_deg=np.append(np.repeat(faces_deg, mirrors_deg.size), [face for face, _ in known]),
        mirror_deg=np.append(np.tile(mirrors_deg, faces_deg.size), [angle for _, angle in known]),
        mirrors=mirrors_deg.size,
        kept=len(known),
        rays=rays,
    )


def best_degree(
    inputs: DayInputs,
    table: LightTable,
    row: int,
    steps: slice,
    *,
    mirror_deg: float | None = None,
) -> tuple[float, float, float]:
    """Return the best whole degrees around one row for a stretch of steps, and their light.

    Parameters
    ----------
    inputs : DayInputs
        The box.
    table : LightTable
        Where the row is.
    row : int
        A kept row stays as it is.
    steps : slice
        Of the table.
    mirror_deg : float, optional
        A mirror angle that is to be kept; None to search it.  [deg]

    Returns
    -------
    face_deg, mirror_deg, light : float
        Degrees, and watts times steps.
    """
    face_deg, angle_deg = float(table.face_deg[row]), float(table.mirror_deg[row])
    if row >= table.regular:
        return face_deg, angle_deg, float(table.light_w[row, steps].sum())
    faces_deg = face_deg + np.arange(-4.0, 5.0)
    mirrors_deg = (
        mirrors_near_deg(inputs.box.mirror, angle_deg)
        if mirror_deg is None
        else np.array([mirror_deg])
    )
    gain_w = gain_matrix(
        inputs.box, **part_of(table.rays, steps), faces_deg=faces_deg, mirrors_deg=mirrors_deg
    )
    total = gain_w.sum(axis=-1)
    face, mirror = np.unravel_index(int(total.argmax()), total.shape)
    return float(faces_deg[face] % 360.0), float(mirrors_deg[mirror]), float(total.max())
