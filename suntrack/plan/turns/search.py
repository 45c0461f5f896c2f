r"""Where to aim the box and when to turn it, so that few turns keep most of the light.

Everything here works on one table, the light taken in for every aim at every moment,
and knows nothing of suns or boxes.  `best_turns` is exact on that table: it is the
segmented-sum dynamic programme

    V[k, j] = max over i < j of  V[k-1, i] + S[i, j]
    S[i, j] = max over aims a of the light taken in from step i to step j at aim a

so "k turns, placed and aimed best" is not a rule of thumb.  What the table cannot know
(that the cook would rather turn when loading anyway) belongs to `suntrack.plan.make`.

Dynamic programming over time and aim, exact on its table.  Lost: half-hourly turning as the only
offer, and greedy splitting.
"""

from __future__ import annotations

from dataclasses import dataclass
from itertools import pairwise
from typing import TYPE_CHECKING

import numpy as np

if TYPE_CHECKING:
    from numpy.typing import NDArray


KEPT = -1
"""In place of a row: the aim that the box already had."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Aims:
    """A choice of turns on the table: which row holds from which column on."""

    starts: tuple[int, ...]
    """First step of each aim, ascending; the first is where the day starts."""
    rows: tuple[int, ...]
    """Row of the light table for each aim."""
    light: float
    """Sum of the table along the choice, in the table's unit times steps."""

    @property
    def turns(self) -> int:
        """How many times the cook turns the box after first aiming it."""
        return len(self.starts) - 1


def best_turns(
    light: NDArray[np.float64],
    *,
    most_turns: int,
    may_turn: NDArray[np.bool_] | None = None,
    first: NDArray[np.float64] | None = None,
    worth: NDArray[np.float64] | None = None,
) -> tuple[Aims, ...]:
    """Return the best choice of aims for 0, 1, ... `most_turns` turns.

    Parameters
    ----------
    light : ndarray, shape (aims, steps)
        Light taken in at each aim in each step, never nan.  [W]
    most_turns : int
        Largest number of turns to look at, 0 or more.  [-]
    may_turn : ndarray of bool, shape (steps,), optional
        True where a turn may happen at the start of the step.  [-]
    first : ndarray, shape (steps,), optional
        Light of the aim the box already has, which the first stretch keeps, its row being
        `KEPT`; None to choose one.  [W]
    worth : ndarray, shape (steps,), optional
        Light that a turn at the start of each step is worth on top, because the cook is at
        the box then anyway; it weighs in the choice and is not part of `Aims.light`.
        [W x steps]

    Returns
    -------
    choices : tuple of Aims
        One for each number of turns; a larger number that cannot help (or cannot be
        placed) repeats the best smaller one.

    Raises
    ------
    ValueError
        If `light` has no steps or `may_turn` does not fit it.
    """
    steps = light.shape[1]
    allowed = np.ones(steps, bool) if may_turn is None else np.asarray(may_turn, bool)
    if steps == 0 or allowed.shape != (steps,):
        raise ValueError(f"light has {steps} steps and may_turn {allowed.shape}; they have to fit")
    breaks = _break_steps(allowed)
    segment, row = _best_segments(light, breaks=breaks)
    if first is not None:
        segment[0, 1:] = np.cumsum(first)[breaks[1:] - 1]
        row[0, 1:] = KEPT
    saved = np.zeros(breaks.size)
    if worth is not None:
        saved[1:-1] = worth[breaks[1:-1]]
    value, origin = _programme(segment + saved[:, None], most_turns=most_turns)
    choices: list[Aims] = []
    worths: list[float] = []
    for turns in range(most_turns + 1):
        found = _read_back(turns, value, origin, row, breaks, segment=segment)
        reached = float(value[turns, -1])
        if choices and reached <= worths[-1]:
            found, reached = choices[-1], worths[-1]
        choices.append(found)
        worths.append(reached)
    return tuple(choices)


def light_of(
    light: NDArray[np.float64], *, starts: tuple[int, ...], rows: tuple[int, ...]
) -> float:
    """Return the light that given aims take in over the table.  [W x steps]"""
    ends = (*starts[1:], light.shape[1])
    pieces = zip(starts, ends, rows, strict=True)
    return float(sum(light[row, start:end].sum() for start, end, row in pieces))


def habit(light: NDArray[np.float64], *, every: int, row_at: NDArray[np.intp], ahead: int) -> Aims:
    """Return the fixed habit: turn every `every` steps to where `row_at` points `ahead` steps on.

    Parameters
    ----------
    light : ndarray, shape (aims, steps)
        Light taken in at each aim in each step.  [W]
    every : int
        Steps between two turns, 1 or more.  [-]
    row_at : ndarray of int, shape (steps,)
        The row that faces the sun in each step.  [-]
    ahead : int
        How many steps ahead of the sun to aim; half of `every` halves the error.  [-]
    """
    steps = light.shape[1]
    starts = tuple(range(0, steps, every))
    rows = tuple(int(row_at[min(start + ahead, steps - 1)]) for start in starts)
    return Aims(starts=starts, rows=rows, light=light_of(light, starts=starts, rows=rows))


def fewest(choices: tuple[Aims, ...], *, at_least: float) -> Aims:
    """Return the choice with the fewest turns that takes in `at_least`, else the best of all."""
    good = [choice for choice in choices if choice.light >= at_least]
    return min(good, key=lambda choice: choice.turns) if good else choices[-1]


def _break_steps(allowed: NDArray[np.bool_]) -> NDArray[np.intp]:
    """Return the steps at which an aim may start or the table ends."""
    inner = np.flatnonzero(allowed)
    return np.unique(np.concatenate(([0], inner, [allowed.size])))


def _best_segments(
    light: NDArray[np.float64], *, breaks: NDArray[np.intp]
) -> tuple[NDArray[np.float64], NDArray[np.intp]]:
    """Return S and its best row for every pair of breaks; impossible pairs are -inf."""
    running = np.concatenate((np.zeros((light.shape[0], 1)), np.cumsum(light, axis=1)), axis=1)
    at_break = running[:, breaks]
    count = breaks.size
    segment = np.full((count, count), -np.inf)
    row = np.zeros((count, count), np.intp)
    for i in range(count - 1):
        gained = at_break[:, i + 1 :] - at_break[:, i : i + 1]
        row[i, i + 1 :] = gained.argmax(axis=0)
        segment[i, i + 1 :] = gained.max(axis=0)
    return segment, row


def _programme(
    segment: NDArray[np.float64], *, most_turns: int
) -> tuple[NDArray[np.float64], NDArray[np.intp]]:
    """Return V and the break each best value came from, shape (turns + 1, breaks)."""
    count = segment.shape[0]
    value = np.full((most_turns + 1, count), -np.inf)
    origin = np.zeros((most_turns + 1, count), np.intp)
    value[0] = segment[0]
    for turns in range(1, most_turns + 1):
        reach = value[turns - 1][:, None] + segment
        origin[turns] = reach.argmax(axis=0)
        value[turns] = reach.max(axis=0)
    return value, origin


def _read_back(
    turns: int,
    value: NDArray[np.float64],
    origin: NDArray[np.intp],
    row: NDArray[np.intp],
    breaks: NDArray[np.intp],
    *,
    segment: NDArray[np.float64],
) -> Aims:
    """Follow the origins from the end of the day back to its start."""
    end = breaks.size - 1
    if not np.isfinite(value[turns, end]):
        return Aims(starts=(0,), rows=(int(row[0, end]),), light=-np.inf)
    cuts = [end]
    for left in range(turns, 0, -1):
        cuts.append(int(origin[left, cuts[-1]]))
    cuts = [0, *reversed(cuts)]
    rows = tuple(int(row[a, b]) for a, b in pairwise(cuts))
    starts = tuple(int(breaks[cut]) for cut in cuts[:-1])
    light = float(sum(segment[a, b] for a, b in pairwise(cuts)))
    return Aims(starts=starts, rows=rows, light=light)
