"""What drives the simulator, brought into one shape and cut into pieces of a few runs.

Everything that varies from run to run may be given for one run only; it then stays a
plain float through the whole simulation, which is the quicker for it.
"""

from __future__ import annotations

from dataclasses import dataclass
from itertools import pairwise
from typing import TYPE_CHECKING, TypeVar

import numpy as np

from suntrack.box.state import LightIn, Outdoors

if TYPE_CHECKING:
    from numpy.typing import ArrayLike, NDArray

    from suntrack.box.number import Number

JUMP = 0.1
"""Light that changes by this share of the day's most from one step to the next jumps.  [-]"""
Kind = TypeVar("Kind", bound=np.generic)
OPENING_S = 45.0
"""The lid is up this long for each load or pull (kitchen judgement).  [s]"""


@dataclass(slots=True, kw_only=True)
class Hours:
    """What drives a piece of the runs, one entry of each list for each stride."""

    counts: list[int]
    """Steps in each stride."""
    light: list[LightIn]
    outdoors: list[Outdoors]
    inside: list[list[Number]]
    """For each stride, 1 or 0 for each pot."""
    opening: list[Number]
    """Share of the stride with the lid up."""
    changes: list[bool]
    """True when `inside` or `opening` is not what it was a stride before."""
    news: list[bool]
    """True when that is so or the light has jumped."""


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Drive:
    """What drives every run: arrays of shape (runs or 1, steps) unless said otherwise."""

    inside_w: NDArray[np.float64]
    inner_w: tuple[NDArray[np.float64], ...]
    """In the inner glass, or inner half, of each opening.  [W]"""
    outer_w: tuple[NDArray[np.float64], ...]
    air_c: NDArray[np.float64]
    sky_c: NDArray[np.float64]
    wind_m_s: NDArray[np.float64]
    load_step: NDArray[np.intp]
    """Shape (runs or 1, pots).  [-]"""
    pull_step: NDArray[np.intp]
    opened: NDArray[np.bool_]
    """Further steps in which the lid is lifted."""
    start_c: NDArray[np.float64]
    """Shape (runs or 1,).  [C]"""
    step_s: float

    def __post_init__(self) -> None:
        """Refuse shapes that do not fit together."""
        if not self.step_s > 0:
            msg = f"step_s is {self.step_s}; it has to be above 0"
            raise ValueError(msg)
        rows = {array.shape[0] for array in self._every()} | {self.runs}
        steps = {array.shape[1] for array in self._every() if array.ndim == 2} - {1}
        if rows - {1, self.runs} or steps - {self.steps}:
            msg = f"runs {sorted(rows)} and steps {sorted(steps)} do not fit together"
            raise ValueError(msg)

    def _every(self) -> list[NDArray[np.float64]]:
        """Return every array but those of the pots."""
        weather = [self.air_c, self.sky_c, self.wind_m_s, self.start_c]
        return [self.inside_w, *self.inner_w, *self.outer_w, *weather]

    @property
    def steps(self) -> int:
        """Number of steps."""
        return int(self.inside_w.shape[1])

    @property
    def runs(self) -> int:
        """Number of runs."""
        pots = (self.load_step, self.pull_step, self.opened)
        return max(int(array.shape[0]) for array in (*self._every(), *pots))

    def light_in_j(self) -> NDArray[np.float64]:
        """Return all light absorbed, shape (runs,).  [J]"""
        parts = (self.inside_w, *self.inner_w, *self.outer_w)
        total = sum((part.sum(axis=1) for part in parts), np.zeros(self.runs))
        return np.broadcast_to(total * self.step_s, (self.runs,))

    def start(self, rows: slice) -> Number:
        """Return the box's temperature at the start of some of the runs.  [C]"""
        return series(_rows(self.start_c[:, None], rows))[0]

    def like(self, rows: slice) -> Number:
        """Return a zero in the shape of some of the runs: a float for one."""
        runs = rows.stop - rows.start
        return 0.0 if runs == 1 else np.zeros(runs)

    def piece(self, rows: slice, *, longest_s: float) -> Hours:
        """Return what drives some of the runs, stride by stride."""
        there, opened = self._inside(rows), self._opened(rows)
        opening = opening_shares(opened, step_s=self.step_s)
        moves = (np.diff(part, axis=1, prepend=np.nan) != 0 for part in (*there, opening))
        changes = np.logical_or.reduce([move.any(axis=0) for move in moves])
        news = changes | _jumps(_rows(self.inside_w, rows))
        counts = stride_counts(news, longest=max(1, int(longest_s / self.step_s)))
        starts = np.cumsum([0, *counts[:-1]])

        def mean(part: NDArray[np.float64]) -> list[Number]:
            sums = np.add.reduceat(_rows(part, rows), starts, axis=1)
            return series(sums / np.array(counts))

        inner, outer = map(mean, self.inner_w), map(mean, self.outer_w)
        light = zip(
            mean(self.inside_w), zip(*inner, strict=True), zip(*outer, strict=True), strict=True
        )
        weather = zip(*map(mean, (self.air_c, self.sky_c, self.wind_m_s)), strict=True)
        flags = [series(part[:, starts]) for part in there]
        return Hours(
            counts=counts,
            light=[LightIn(w, list(a), list(b)) for w, a, b in light],
            outdoors=[Outdoors(*values) for values in weather],
            inside=[[flag[i] for flag in flags] for i in range(len(counts))],
            opening=series(opening[:, starts]),
            changes=changes[starts].tolist(),
            news=news[starts].tolist(),
        )

    def _inside(self, rows: slice) -> list[NDArray[np.float64]]:
        """Return for each pot when it is in the box, 1 or 0, one row when all agree."""
        step = np.arange(self.steps)
        load, pull = (_rows(a, rows)[:, :, None] for a in (self.load_step, self.pull_step))
        there = ((load <= step) & (step < pull)).astype(np.float64)
        return [_one_row(there[:, i]) for i in range(there.shape[1])]

    def _opened(self, rows: slice) -> NDArray[np.bool_]:
        """Return the steps in which the lid is lifted, one row when all runs agree."""
        step = np.arange(self.steps)
        load, pull = (_rows(a, rows)[:, :, None] for a in (self.load_step, self.pull_step))
        moved = ((load == step) | ((pull == step) & (load < pull))).any(axis=1)
        return _one_row(moved | _rows(self.opened, rows))


def _rows(array: NDArray[Kind], rows: slice) -> NDArray[Kind]:
    """Return some of the runs of an array, or its one row."""
    return array if array.shape[0] == 1 else array[rows]


def _one_row(array: NDArray[Kind]) -> NDArray[Kind]:
    """Return one row of an array whose rows all agree, else the array."""
    return array[:1] if (array == array[:1]).all() else array


def series(array: NDArray[np.float64]) -> list[Number]:
    """Return one entry for each step: a float where there is one run, else an array."""
    if array.shape[0] == 1:
        return list(array[0].tolist())
    return list(np.ascontiguousarray(array.T))


def _jumps(inside_w: NDArray[np.float64]) -> NDArray[np.bool_]:
    """Return the steps in which the light of any run jumps, as when a cloud comes."""
    step_w = np.abs(np.diff(inside_w, axis=1, prepend=inside_w[:, :1]))
    jumps: NDArray[np.bool_] = (step_w > JUMP * inside_w.max(axis=1, keepdims=True)).any(axis=0)
    return jumps


def stride_counts(breaks: NDArray[np.bool_], *, longest: int) -> list[int]:
    """Return how many steps to take at once, from the steps that something new happens in.

    A stride begins wherever there is something new; the first step after that is taken
    alone, because everything quick happens in it, and then at most `longest` at once.
    """
    counts: list[int] = []
    for start, end in pairwise([0, *(np.flatnonzero(breaks[1:]) + 1).tolist(), breaks.size]):
        rest = end - start - 1
        counts += [1, *[longest] * (rest // longest), *([rest % longest] if rest % longest else [])]
    return counts


def opening_shares(opened: NDArray[np.bool_], *, step_s: float) -> NDArray[np.float64]:
    """Return the share of each step with the lid up, from the steps it is lifted in.

    A short step passes the rest of the 45 seconds on to the steps after it.
    """
    shares = np.zeros(opened.shape)
    left_s = OPENING_S
    for later in range(opened.shape[-1]):
        if left_s <= 0:
            break
        part = min(left_s, step_s) / step_s
        shares[..., later:] += part * opened[..., : opened.shape[-1] - later]
        left_s -= step_s
    return np.minimum(shares, 1.0)


def glass_halves(
    panes_w: ArrayLike, *, steps: int
) -> tuple[NDArray[np.float64], NDArray[np.float64]]:
    """Return the light in the inner and the outer glass; one glass is cut in half.

    `panes_w` has the shape (..., steps, glasses), outermost glass first.  [W]
    """
    panes = np.asarray(panes_w, np.float64)
    panes = panes.reshape(-1, steps, panes.shape[-1])
    if panes.shape[-1] == 1:
        half = 0.5 * panes[..., 0]
        return half, half
    return panes[..., 1], panes[..., 0]


def pot_steps(value: ArrayLike, *, pots: int) -> NDArray[np.intp]:
    """Return load or pull steps in the shape (runs or 1, pots)."""
    steps = np.atleast_1d(np.asarray(value, np.intp))
    if steps.ndim == 1:
        steps = steps[None, :]
    return np.broadcast_to(steps, (steps.shape[0], pots))
