"""The day's aims: from sunlight and the cook's free hours to ways of turning.

An `Aimer` knows every way to turn through a stretch of the day: the best for each number of
turns, after the aims the journal knows already; the half-hour habit; what a shown plan asked
for.  Which of them the meal needs is decided in `suntrack.plan.turns.needed`.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from suntrack.box.light.aims import followed_gain
from suntrack.plan.records import Turn, TurnChoice
from suntrack.plan.turns.light_table import TABLE_MIN, LightTable, best_degree, light_table
from suntrack.plan.turns.search import Aims, best_turns, fewest, habit, light_of
from suntrack.sky.bearing import to_compass_deg, turn_deg

if TYPE_CHECKING:
    from collections.abc import Sequence

    from numpy.typing import NDArray

    from suntrack.box.build import Box
    from suntrack.plan.grid import Grid
    from suntrack.plan.inputs import DayInputs

MOST_TURNS = 16
HABIT_MIN = 30
"""How often the habit turns the box (common practice, no source).  [min]"""
WORTH = 0.95
"""Where no dish says what is needed: as few turns as keep this share of what the habit, or
the best that the cook's hours allow, keeps (our choice).  [-]"""
SAME = 0.02
"""Where even following the sun brings no more light than this, aiming is no use (our choice).
[-]"""
FEWEST, HABIT, ONCE = "fewest turns", "every half hour", "aimed once"


def turns_name(turns: int) -> str:
    """Return what turning so many times a day is called."""
    return f"{turns} turn{'' if turns == 1 else 's'}" if turns else ONCE


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class AimedDay:
    """One way of turning, to the degree, through a stretch of the day."""

    choice: TurnChoice
    """As a cook reads it."""
    aims: Aims
    """As the search has them."""
    face_deg: NDArray[np.float64]
    """Where the box faces in each fine step, shape (steps,).  [deg]"""
    mirror_deg: NDArray[np.float64]
    """Mirror angle in each fine step, shape (steps,); 90 without a mirror.  [deg]"""
    lit: NDArray[np.float64]
    """0 in the steps before the first aim, when the box is covered; 1 after.  [-]"""


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Aimer:
    """Every way to turn through one stretch of the day."""

    inputs: DayInputs
    """What the day is planned from."""
    grid: Grid
    """The fine grid; its first step is when the box is first aimed."""
    coarse: Grid
    """The steps that aims are searched on."""
    table: LightTable
    """The light of every aim."""
    full: float
    """Light of a box followed minute by minute.  [W x steps]"""
    lead: int
    """Fine steps before it, with the box still covered.  [-]"""
    tail: int
    """Fine steps after it, in the last aim.  [-]"""
    any_way: bool = False
    """True when the box takes in as much light whichever way it faces."""

    def best(self, worth: NDArray[np.float64] | None = None) -> tuple[Aims, ...]:
        """Return the best way for each number of turns to come, 0 to 16.

        `worth`, (coarse steps,), is light that a turn at a step saves in trips.  [W x steps]
        """
        now, past = self._past()
        if self.any_way:
            # Never turned; set out towards the noon sun, so that every plan says the same.
            return (self._counted(past or [(0, self._toward_noon())]),) * (MOST_TURNS + 1)
        may_turn = self.coarse.within(self.inputs.free)
        later = [
            best_turns(
                self.table.light_w[rows][:, now:],
                most_turns=MOST_TURNS,
                may_turn=may_turn[now:],
                first=self.table.light_w[past[-1][1], now:] if past else None,
                worth=None if worth is None else worth[now:],
            )
            for rows in self._rows(past)
        ]
        return tuple(
            self._joined(past, now, max(ways, key=lambda way: way[1].light))
            for ways in zip(*([(rows, way) for way in found] for rows, found in
                              zip(self._rows(past), later, strict=True)), strict=True)
        )  # fmt: skip

    def _toward_noon(self) -> int:
        """Return the row that faces where the sun stands at noon: due north or due south."""
        sun = self.inputs.sun
        noon_deg = float(sun.azimuth_deg[sun.elevation_deg.argmax()])
        face_deg = 0.0 if np.cos(np.radians(noon_deg)) > 0.0 else 180.0
        return int(np.flatnonzero(self.table.face_deg[: self.table.regular] == face_deg)[0])

    def _rows(self, past: Sequence[tuple[int, int]]) -> list[NDArray[np.intp]]:
        """Return the sets of rows to choose within: all, or one for each mirror angle."""
        mirror, table = self.inputs.box.mirror, self.table
        if mirror is None or not mirror.once_a_day:
            return [np.arange(table.regular)]
        if not past:
            return [table.with_mirror(place) for place in range(table.mirrors)]
        angles_deg = table.mirror_deg[: table.mirrors]
        nearest = int(np.abs(angles_deg - table.mirror_deg[past[0][1]]).argmin())
        return [table.with_mirror(nearest)]

    def _past(self) -> tuple[int, list[tuple[int, int]]]:
        """Return the coarse step it is now, and the aims the box had, (step, row)."""
        heard = self.inputs.heard.aims
        if not heard:
            return 0, []
        now = min(max(self.coarse.step_after(self.inputs.made_at), 1), self.coarse.steps - 1)
        first = self.table.regular
        known = {min(self.coarse.step(aim.at), now): first + i for i, aim in enumerate(heard)}
        past = sorted(known.items())
        past[0] = (0, past[0][1])
        return now, past

    def _joined(
        self, past: Sequence[tuple[int, int]], now: int, found: tuple[NDArray[np.intp], Aims]
    ) -> Aims:
        """Return the aims the box had, and those to come."""
        rows, ahead = found
        fresh = list(zip(ahead.starts, ahead.rows, strict=True))
        if past:
            # The first stretch to come is in the aim the box has.
            fresh = fresh[1:]
        whole = [*past, *((now + start, int(rows[row])) for start, row in fresh)]
        return self._counted(whole)

    def _counted(self, whole: Sequence[tuple[int, int]]) -> Aims:
        """Return aims, (step, row), with the light they take in."""
        starts, rows = tuple(start for start, _ in whole), tuple(row for _, row in whole)
        light = light_of(self.table.light_w, starts=starts, rows=rows)
        return Aims(starts=starts, rows=rows, light=light)

    def habit(self) -> Aims:
        """Return the half-hour habit: face the sun half an interval ahead, best mirror for it."""
        every, table = HABIT_MIN // TABLE_MIN, self.table
        mirror = self.inputs.box.mirror
        once = mirror is not None and mirror.once_a_day
        places: list[int | None] = [*range(table.mirrors)] if once else [None]
        ways = [
            habit(
                table.light_w,
                every=every,
                row_at=table.row_facing_sun(mirror_place=place),
                ahead=every // 2,
            )
            for place in places
        ]
        return max(ways, key=lambda way: way.light)

    def usual(self, best: Sequence[Aims]) -> Aims:
        """Return the fewest turns worth making when no dish says what is needed."""
        now, _ = self._past()

        def to_come(aims: Aims) -> float:
            if now == 0:
                return aims.light
            starts = tuple(start for start in aims.starts if start < now)
            until = self.table.light_w[:, :now]
            return aims.light - light_of(until, starts=starts, rows=aims.rows[: len(starts)])

        most = WORTH * min(to_come(self.habit()), to_come(best[-1]))
        return fewest(tuple(best), at_least=best[0].light - to_come(best[0]) + most)

    def shown(self) -> Aims | None:
        """Return the turns to come as the plan shown last asks for them; None without one."""
        earlier = self.inputs.earlier
        if earlier is None or not earlier.aims:
            return None
        now, past = self._past()
        first = self.table.regular + len(self.inputs.heard.aims)
        planned = [
            (self.coarse.step_after(aim.at), first + i)
            for i, aim in enumerate(earlier.aims)
            if not past or aim.at > self.inputs.made_at
        ]
        to_come = [(step, row) for step, row in planned if now <= step < self.coarse.steps]
        if not past and (not to_come or to_come[0][0] > 0):
            return None
        return self._counted([*past, *(one for one in to_come if not past or one[0] > past[-1][0])])

    def day(self, aims: Aims, *, name: str) -> AimedDay:
        """Return a way of turning to the degree."""
        trimmed = self._trimmed(aims)
        faces_deg, mirrors_deg, light = trimmed
        face_deg, mirror_deg = self._held(aims.starts, faces_deg, mirrors_deg)
        return AimedDay(
            choice=TurnChoice(
                name=name,
                turns=self._turns(aims.starts, faces_deg, mirrors_deg),
                light_kept=min(1.0, light / self.full),
            ),
            aims=aims,
            face_deg=np.pad(face_deg, (self.lead, self.tail), mode="edge"),
            mirror_deg=np.pad(mirror_deg, (self.lead, self.tail), mode="edge"),
            lit=np.pad(np.ones(self.grid.steps + self.tail), (self.lead, 0)),
        )

    def _trimmed(self, aims: Aims) -> tuple[list[float], list[float], float]:
        """Return each aim moved, within its own stretch, to the best whole degree near it."""
        ends = (*aims.starts[1:], self.table.light_w.shape[1])
        mirror, kept_deg = self.inputs.box.mirror, None
        faces, mirrors, light = [], [], 0.0
        for start, end, row in zip(aims.starts, ends, aims.rows, strict=True):
            face_deg, mirror_deg, gained = best_degree(
                self.inputs, self.table, row, slice(start, end), mirror_deg=kept_deg
            )
            if self.any_way:
                face_deg = float(self.table.face_deg[row])
            if mirror is not None and mirror.once_a_day:
                kept_deg = mirror_deg
            faces.append(face_deg)
            mirrors.append(mirror_deg)
            light += gained
        return faces, mirrors, light

    def _turns(
        self, starts: Sequence[int], faces_deg: Sequence[float], mirrors_deg: Sequence[float]
    ) -> tuple[Turn, ...]:
        """Return the turns of one way in the cook's terms."""
        turns: list[Turn] = []
        for start, face_deg, mirror_deg in zip(starts, faces_deg, mirrors_deg, strict=True):
            before_deg = turns[-1].face_true_deg if turns else face_deg
            compass_deg = to_compass_deg(face_deg, declination_deg=self.inputs.declination_deg)
            turns.append(
                Turn(
                    at=self.coarse.at(start),
                    face_true_deg=face_deg,
                    face_compass_deg=float(compass_deg),
                    mirror_deg=mirror_deg if self.inputs.box.mirror else None,
                    turn_by_deg=float(turn_deg(before_deg, face_deg)),
                    any_way=self.any_way,
                )
            )
        return tuple(turns)

    def _held(
        self, starts: Sequence[int], faces_deg: Sequence[float], mirrors_deg: Sequence[float]
    ) -> tuple[NDArray[np.float64], NDArray[np.float64]]:
        """Return face and mirror angle in each fine step."""
        times = round(self.coarse.step_s / self.grid.step_s)
        begins = np.array(starts) * times
        index = np.searchsorted(begins, np.arange(self.grid.steps), side="right") - 1
        return np.array(faces_deg)[index], np.array(mirrors_deg)[index]


def aimer_of(
    inputs: DayInputs, *, grid: Grid, first_step: int, lead: int = 0, tail: int = 0
) -> Aimer:
    """Return the ways to turn through a stretch that begins at `first_step` of the whole day.

    `grid` is the fine grid of the stretch; its first step is when the box is first aimed.
    What is made of them begins `lead` steps earlier, with the box still covered, and goes on
    for `tail` steps in its last aim.
    """
    coarse = grid.coarser(round(TABLE_MIN * 60 / grid.step_s))
    shown = () if inputs.earlier is None else inputs.earlier.aims
    table = light_table(
        inputs,
        grid=grid,
        coarse=coarse,
        first_step=first_step,
        kept=(*inputs.heard.aims, *shown),
    )
    full_w = followed_gain(inputs.box, **table.rays).inside_w
    full = max(float(full_w.sum()), float(table.light_w.max(axis=0).sum()), 1e-9)
    return Aimer(
        inputs=inputs,
        grid=grid,
        coarse=coarse,
        table=table,
        full=full,
        lead=lead,
        tail=tail,
        any_way=_lit_from_above(inputs.box) and table.spread() < SAME,
    )


def _lit_from_above(box: Box) -> bool:
    """Return True for a box that only its top lets light into."""
    return box.mirror is None and box.side_mirrors is None and box.front is None
