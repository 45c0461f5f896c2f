"""The day's aims: from sunlight and the cook's free hours to a list of turns.

The light table that `suntrack.day.turns` works on is built here on a coarse grid of aims
and ten-minute steps; the chosen aims are then trimmed to the degree.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from suntrack.box.aim import followed_gain, gain_matrix
from suntrack.day.rays import Rays, part_of, rays_of
from suntrack.day.records import Turn, TurnChoice
from suntrack.day.turns import Aims, best_turns, fewest, habit, light_of
from suntrack.sky.bearing import to_compass_deg, turn_deg

if TYPE_CHECKING:
    from numpy.typing import NDArray

    from suntrack.box.build import Mirror
    from suntrack.day.grid import Grid
    from suntrack.day.inputs import DayInputs

TABLE_MIN = 10
"""Length of a step of the light table, and so the grain of turn times.  [min]"""
FACE_GRAIN_DEG, MIRROR_GRAIN_DEG = 5.0, 5.0
"""Grain of the light table; chosen aims are trimmed to the degree afterwards.  [deg]"""
MOST_TURNS = 16
HABIT_MIN = 30
"""How often the habit turns the box (common practice, no source).  [min]"""
WORTH = 0.95
"""Fewest turns: as few as keep this share of what the habit, or the best that the cook's
hours allow, keeps (our choice).  [-]"""


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class AimedDay:
    """The aims to follow, and the others for comparison."""

    follow: TurnChoice
    choices: tuple[TurnChoice, ...]
    face_deg: NDArray[np.float64]
    """Where the box faces in each fine step, shape (steps,).  [deg]"""
    mirror_deg: NDArray[np.float64]
    """Mirror angle in each fine step, shape (steps,); 90 without a mirror.  [deg]"""
    lit: NDArray[np.float64]
    """0 in the steps before the first aim, when the box is covered; 1 after.  [-]"""


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class _Table:
    """Light for every pair of face and mirror angle (a row) in every coarse step."""

    light_w: NDArray[np.float64]
    """Shape (rows, steps).  [W]"""
    face_deg: NDArray[np.float64]
    """Shape (rows,).  [deg]"""
    mirror_deg: NDArray[np.float64]
    """Shape (rows,).  [deg]"""
    mirrors: int
    """Mirror angles for each face in the regular rows.  [-]"""
    heard: int
    """How many rows at the end are aims the journal knows, kept to the degree.  [-]"""
    rays: Rays

    @property
    def regular(self) -> int:
        """How many rows make up the regular grid of aims."""
        return self.face_deg.size - self.heard


def mirror_choices_deg(mirror: Mirror | None, *, grain_deg: float) -> NDArray[np.float64]:
    """Return the mirror angles to choose from; one placeholder without a mirror.  [deg]"""
    if mirror is None:
        return np.array([90.0])
    if mirror.fixed_angle_deg is not None:
        return np.array([mirror.fixed_angle_deg])
    low, high = mirror.lowest_angle_deg, mirror.highest_angle_deg
    count = int((high - low) // grain_deg) + 1
    return low + grain_deg * np.arange(count, dtype=np.float64)


def aim_day(
    inputs: DayInputs, *, grid: Grid, first_step: int, lead: int = 0, tail: int = 0
) -> AimedDay:
    """Return the turns of a stretch of the day that begins at `first_step` of the whole day.

    `grid` is the fine grid of the stretch; its first step is when the box is first aimed.
    The answer's arrays begin `lead` steps earlier, with the box still covered, and go on
    for `tail` steps in its last aim.
    """
    coarse = grid.coarser(round(TABLE_MIN * 60 / grid.step_s))
    table = _table(inputs, grid=grid, coarse=coarse, first_step=first_step)
    full_w = followed_gain(inputs.box, **table.rays).inside_w
    full = max(float(full_w.sum()), float(table.light_w.max(axis=0).sum()), 1e-9)
    half_hourly = _habit(table)
    named = [
        ("fewest turns", _follow(inputs, table, coarse=coarse, half_hourly=half_hourly)),
        ("every half hour", half_hourly),
        ("aimed once", best_turns(table.light_w, most_turns=0)[0]),
    ]
    trimmed = [(name, _trim(inputs, aims, table)) for name, aims in named]
    choices = tuple(
        _choice(name, aims, full=full, coarse=coarse, inputs=inputs) for name, aims in trimmed
    )
    face_deg, mirror_deg = _held(trimmed[0][1], coarse=coarse, grid=grid)
    return AimedDay(
        follow=choices[0],
        choices=choices,
        face_deg=np.pad(face_deg, (lead, tail), mode="edge"),
        mirror_deg=np.pad(mirror_deg, (lead, tail), mode="edge"),
        lit=np.pad(np.ones(grid.steps + tail), (lead, 0)),
    )


def _follow(inputs: DayInputs, table: _Table, *, coarse: Grid, half_hourly: Aims) -> Aims:
    """Return the fewest turns worth making, after the aims the journal already knows."""
    may_turn = coarse.within(inputs.free)
    heard = inputs.heard.aims
    if not heard:
        best = best_turns(table.light_w, most_turns=MOST_TURNS, may_turn=may_turn)
        return fewest(best, at_least=WORTH * min(half_hourly.light, best[-1].light))
    now = min(max(coarse.step_after(inputs.made_at), 1), coarse.steps - 1)
    known = {min(coarse.step(aim.at), now): table.regular + i for i, aim in enumerate(heard)}
    past = sorted(known.items())
    past[0] = (0, past[0][1])
    later = best_turns(
        table.light_w[:, now:],
        most_turns=MOST_TURNS,
        may_turn=may_turn[now:],
        first_row=past[-1][1],
    )
    habit_ahead = half_hourly.light - _light_until(table, half_hourly, now)
    ahead = fewest(later, at_least=WORTH * min(habit_ahead, later[-1].light))
    starts = tuple(start for start, _ in past) + tuple(now + start for start in ahead.starts[1:])
    rows = tuple(row for _, row in past) + ahead.rows[1:]
    return Aims(starts=starts, rows=rows, light=light_of(table.light_w, starts=starts, rows=rows))


def _light_until(table: _Table, aims: Aims, step: int) -> float:
    """Return the light that aims take in before a step.  [W x steps]"""
    starts = tuple(start for start in aims.starts if start < step)
    return light_of(table.light_w[:, :step], starts=starts, rows=aims.rows[: len(starts)])


def _table(inputs: DayInputs, *, grid: Grid, coarse: Grid, first_step: int) -> _Table:
    """Build the light table from the middle of each coarse step."""
    times = round(coarse.step_s / grid.step_s)
    start = first_step + times // 2
    rays = rays_of(inputs, steps=slice(start, start + coarse.steps * times, times))
    faces_deg = np.arange(0.0, 360.0, FACE_GRAIN_DEG)
    mirrors_deg = mirror_choices_deg(inputs.box.mirror, grain_deg=MIRROR_GRAIN_DEG)
    gain_w = gain_matrix(inputs.box, **rays, faces_deg=faces_deg, mirrors_deg=mirrors_deg)
    known = [(aim.face_true_deg, aim.mirror_deg or mirrors_deg[0]) for aim in inputs.heard.aims]
    known_w = [
        gain_matrix(inputs.box, **rays, faces_deg=np.array([face]), mirrors_deg=np.array([mirror]))
        for face, mirror in known
    ]
    rows_w = [part.reshape(-1, coarse.steps) for part in (gain_w, *known_w)]
    return _Table(
        light_w=np.concatenate(rows_w),
        face_deg=np.append(np.repeat(faces_deg, mirrors_deg.size), [face for face, _ in known]),
        mirror_deg=np.append(np.tile(mirrors_deg, faces_deg.size), [angle for _, angle in known]),
        mirrors=mirrors_deg.size,
        heard=len(known),
        rays=rays,
    )


def _habit(table: _Table) -> Aims:
    """Return the half-hour habit: face the sun half an interval ahead, best mirror for it."""
    every = HABIT_MIN // TABLE_MIN
    azimuth_deg = table.rays["sun_azimuth_deg"]
    faces = table.regular // table.mirrors
    face = np.rint(azimuth_deg / FACE_GRAIN_DEG).astype(np.intp) % faces
    by_face = table.light_w[: table.regular].reshape(faces, table.mirrors, -1)
    mirror = by_face[face, :, np.arange(face.size)].argmax(axis=1)
    row_at = face * table.mirrors + mirror
    return habit(table.light_w, every=every, row_at=row_at, ahead=every // 2)


@dataclass(frozen=True, slots=True, kw_only=True)
class _Trimmed:
    """Aims to the degree: parallel tuples."""

    starts: tuple[int, ...]
    faces_deg: tuple[float, ...]
    mirrors_deg: tuple[float, ...]
    light: float


def _trim(inputs: DayInputs, aims: Aims, table: _Table) -> _Trimmed:
    """Return the aims moved, each within its own stretch, to the best whole degree near it."""
    ends = (*aims.starts[1:], table.light_w.shape[1])
    faces, mirrors, light = [], [], 0.0
    for start, end, row in zip(aims.starts, ends, aims.rows, strict=True):
        face_deg, mirror_deg, gained = _best_degree(inputs, table, row, slice(start, end))
        faces.append(face_deg)
        mirrors.append(mirror_deg)
        light += gained
    return _Trimmed(
        starts=aims.starts, faces_deg=tuple(faces), mirrors_deg=tuple(mirrors), light=light
    )


def _best_degree(
    inputs: DayInputs, table: _Table, row: int, steps: slice
) -> tuple[float, float, float]:
    """Search whole degrees around one row of the table for one stretch of steps."""
    face_deg, mirror_deg = float(table.face_deg[row]), float(table.mirror_deg[row])
    if row >= table.regular:
        return face_deg, mirror_deg, float(table.light_w[row, steps].sum())
    faces_deg = face_deg + np.arange(-4.0, 5.0)
    mirrors_deg = _mirrors_near(inputs.box.mirror, mirror_deg)
    gain_w = gain_matrix(
        inputs.box, **part_of(table.rays, steps), faces_deg=faces_deg, mirrors_deg=mirrors_deg
    )
    total = gain_w.sum(axis=-1)
    face, mirror = np.unravel_index(int(total.argmax()), total.shape)
    return float(faces_deg[face] % 360.0), float(mirrors_deg[mirror]), float(total.max())


def _mirrors_near(mirror: Mirror | None, angle_deg: float) -> NDArray[np.float64]:
    """Return whole degrees near an angle that the mirror can take.  [deg]"""
    if mirror is None or mirror.fixed_angle_deg is not None:
        return np.array([angle_deg])
    near = angle_deg + np.arange(-4.0, 5.0)
    return near[(near >= mirror.lowest_angle_deg) & (near <= mirror.highest_angle_deg)]


def _choice(
    name: str, aims: _Trimmed, *, full: float, coarse: Grid, inputs: DayInputs
) -> TurnChoice:
    """Return the turns of one choice in the cook's terms."""
    turns: list[Turn] = []
    for start, face_deg, mirror_deg in zip(
        aims.starts, aims.faces_deg, aims.mirrors_deg, strict=True
    ):
        before_deg = turns[-1].face_true_deg if turns else face_deg
        compass_deg = to_compass_deg(face_deg, declination_deg=inputs.declination_deg)
        turns.append(
            Turn(
                at=coarse.at(start),
                face_true_deg=face_deg,
                face_compass_deg=float(compass_deg),
                mirror_deg=mirror_deg if inputs.box.mirror else None,
                turn_by_deg=float(turn_deg(before_deg, face_deg)),
            )
        )
    return TurnChoice(name=name, turns=tuple(turns), light_kept=min(1.0, aims.light / full))


def _held(
    aims: _Trimmed, *, coarse: Grid, grid: Grid
) -> tuple[NDArray[np.float64], NDArray[np.float64]]:
    """Return face and mirror angle in each fine step."""
    times = round(coarse.step_s / grid.step_s)
    starts = np.array(aims.starts) * times
    index = np.searchsorted(starts, np.arange(grid.steps), side="right") - 1
    return np.array(aims.faces_deg)[index], np.array(aims.mirrors_deg)[index]
