"""One day of one box, step by step: what drives it, what is written down.

A step is what the light and the weather come in, a minute or five.  It is walked in strides
short enough that nothing moves by more than a few degrees in one; how short, and when the
films are taken anew, is in `suntrack.box.heat.step_control`.

Everything here is compiled; `suntrack.box.compiled` does that.
"""

from __future__ import annotations

from typing import TYPE_CHECKING, NamedTuple

import numpy as np
from numpy.typing import NDArray

from suntrack.box.heat.step import take_step
from suntrack.box.heat.step_control import (
    copy_state,
    has_moved,
    largest_k,
    look_ahead,
    look_at_news,
    strides_in,
)
from suntrack.box.heat.structs import BENCH, LINKS, MINUTE, STATE, Floats

if TYPE_CHECKING:
    from suntrack.box.heat.structs import BoxNumbers, Forcing, PotNumbers, State, Workspace

JUMP = 0.1
"""Light that changes by this share of the day's most from one step to the next jumps.  [-]"""
FLOOR_LIT = 0.9
"""Most of the light that pots may catch together.  [-]"""
LIDS_COVER = 0.9
"""Most of the top glass that lids may hide from the lining.  [-]"""
TINY = 1e-9
OPENING_S = 45.0
"""The lid is up this long for each load or pull (kitchen judgement).  [s]"""


class Drive(NamedTuple):
    """What drives every run, in the first dimension of each array.

    An array may have fewer rows than there are runs, and is gone through again and again:
    one row serves all, and many plans under many skies need each sky but once.
    """

    inside_w: Floats
    """(runs, steps)."""
    inner_w: Floats
    """(runs, steps, panes)."""
    outer_w: Floats
    """(runs, steps, panes)."""
    air_c: Floats
    """(runs, steps)."""
    sky_c: Floats
    """(runs, steps)."""
    wind_m_s: Floats
    """(runs, steps)."""
    load_step: NDArray[np.intp]
    """(runs, pots)."""
    pull_step: NDArray[np.intp]
    """(runs, pots)."""
    opened: NDArray[np.bool_]
    """(runs, steps)."""
    start_c: Floats
    """(runs,)."""
    step_s: float
    """Length of a step.  [s]"""
    longest_s: float
    """Longest stride.  [s]"""


class Record(NamedTuple):
    """What is written down, at the start of each step and at the end of the last.  [C]"""

    air: Floats
    """(runs, steps + 1)."""
    lining: Floats
    """(runs, steps + 1)."""
    wall: Floats
    """(runs, steps + 1)."""
    panes: Floats
    """Inner, outer: (runs, panes, 2, steps + 1)."""
    pots: Floats
    """(runs, pots, steps + 1)."""
    cores: Floats
    """(runs, pots, steps + 1)."""
    totals: Floats
    """(runs, LOSSES), see `suntrack.box.heat.step`.  [J]"""
    stored: Floats
    """(runs,).  [J]"""


NOW, START, BEFORE, AHEAD, LOOKED = 0, 1, 2, 3, 4
"""Places in `Work.states`: now, at the start, a stride ago, half a look ahead, at the look."""


class Work(NamedTuple):
    """Records to work on, one set for each thread; all are written over."""

    states: NDArray[np.void]
    """(5,)."""
    links: NDArray[np.void]
    """(1,)."""
    bench: NDArray[np.void]
    """(1,)."""
    minute: NDArray[np.void]
    """(1,)."""


def new_work() -> Work:
    """Return records to work on."""
    return Work(np.zeros(5, STATE), np.zeros(1, LINKS), np.zeros(1, BENCH), np.zeros(1, MINUTE))


def run_days(
    first: int,
    last: int,
    box_row: NDArray[np.void],
    pot_rows: NDArray[np.void],
    drive: Drive,
    work: Work,
    record: Record,
) -> None:
    """Walk some of the runs through their day.

    Parameters
    ----------
    first, last : int
        The runs to take, the last one not among them.  [-]
    box_row : ndarray
        The box, of `suntrack.box.heat.structs.BOX`; shape (1,).
    pot_rows : ndarray
        Every pot of the day, of `suntrack.box.heat.structs.POT_ROWS`; shape (1,).
    drive : Drive
        Light, weather, loads and pulls.
    work : Work
        Written over.
    record : Record
        Written over for these runs.
    """
    for run in range(first, last):
        _run_day(run, box_row[0], pot_rows[0], drive, work, record)


def _row(run: int, rows: int) -> int:
    """Return the row of a run in an array that has fewer rows than there are runs."""
    return run % rows


def _run_day(
    run: int, box: BoxNumbers, pots: PotNumbers, drive: Drive, work: Work, record: Record
) -> None:
    """Walk one run through its day."""
    state, before, looked = work.states[NOW], work.states[BEFORE], work.states[LOOKED]
    ahead, start = work.states[AHEAD], work.states[START]
    links, bench, minute = work.links[0], work.bench[0], work.minute[0]
    _begin(run, state, bench, pots, drive)
    copy_state(start, state, pots)
    jump_w = JUMP * drive.inside_w[_row(run, drive.inside_w.shape[0])].max()
    lit_w, open_s = 0.0, 0.0
    _write(run, 0, state, box, pots, record)
    for step in range(record.air.shape[1] - 1):
        moved = _move_pots(run, step, state, minute, box, pots, drive)
        open_s = OPENING_S if moved else open_s
        lid_w_k = minute.opening_w_k
        _set_minute(run, step, minute, box, drive, min(open_s, drive.step_s) / drive.step_s)
        news = step == 0 or moved or minute.opening_w_k != lid_w_k
        news = news or abs(minute.inside_w - lit_w) > jump_w
        lit_w, open_s = minute.inside_w, max(0.0, open_s - drive.step_s)
        if news:
            look_at_news(state, before, looked, links, bench, minute, box, pots)
        strides = strides_in(drive.step_s, drive.longest_s, bench, news)
        stride_s = drive.step_s / strides
        for _ in range(strides):
            if has_moved(state, looked, bench, minute, box, pots):
                look_ahead(state, before, ahead, looked, links, bench, minute, box, pots, stride_s)
            copy_state(before, state, pots)
            take_step(state, bench, links, minute, box, pots, stride_s)
            bench.quickest_k_s = largest_k(state, before, minute, box, pots) / stride_s
        _write(run, step + 1, state, box, pots, record)
    record.totals[run, :] = bench.lost
    record.stored[run] = _stored(start, state, box, pots)


def _begin(run: int, state: State, bench: Workspace, pots: PotNumbers, drive: Drive) -> None:
    """Set the box to one temperature, its pots waiting beside it."""
    start_c = drive.start_c[_row(run, drive.start_c.size)]
    state.air = state.lining = start_c
    state.walls[:] = start_c
    state.inner[:] = start_c
    state.outer[:] = start_c
    state.boiling[:] = 0.0
    bench.lost[:] = 0.0
    for pot in range(pots.count):
        state.pots[pot] = pots.start_c[pot]
        state.shells[pot, :] = pots.start_c[pot]


def _move_pots(
    run: int,
    step: int,
    state: State,
    minute: Forcing,
    box: BoxNumbers,
    pots: PotNumbers,
    drive: Drive,
) -> bool:
    """Load and pull the pots whose time it is; return whether the lid was lifted."""
    lifted = bool(drive.opened[_row(run, drive.opened.shape[0]), step])
    loads, pulls = _row(run, drive.load_step.shape[0]), _row(run, drive.pull_step.shape[0])
    for pot in range(pots.count):
        load, pull = drive.load_step[loads, pot], drive.pull_step[pulls, pot]
        lifted = bool(lifted or load == step or (pull == step and load < step))
        minute.inside[pot] = 1.0 if load <= step < pull else 0.0
        state.boiling[pot] *= minute.inside[pot]
    if lifted or step == 0:
        _make_room(minute, box, pots)
    return lifted


def _make_room(minute: Forcing, box: BoxNumbers, pots: PotNumbers) -> None:
    """Write down how far pots that are in together have to share light and glass."""
    caught = lids_m2 = 0.0
    for pot in range(pots.count):
        caught += minute.inside[pot] * pots.light_share[pot]
        lids_m2 += minute.inside[pot] * pots.lid_m2[pot]
    minute.light_fit = min(1.0, FLOOR_LIT / max(caught, TINY))
    minute.lid_fit = min(1.0, LIDS_COVER * box.pane_m2[0] / max(lids_m2, TINY))


def _set_minute(
    run: int, step: int, minute: Forcing, box: BoxNumbers, drive: Drive, lid_up: float
) -> None:
    """Write down what drives one step."""
    minute.inside_w = drive.inside_w[_row(run, drive.inside_w.shape[0]), step]
    minute.air_c = drive.air_c[_row(run, drive.air_c.shape[0]), step]
    minute.sky_c = drive.sky_c[_row(run, drive.sky_c.shape[0]), step]
    minute.wind_m_s = drive.wind_m_s[_row(run, drive.wind_m_s.shape[0]), step]
    minute.opening_w_k = lid_up * box.opening_w_k
    row = _row(run, drive.inner_w.shape[0])
    for pane in range(box.panes):
        minute.inner_w[pane] = drive.inner_w[row, step, pane]
        minute.outer_w[pane] = drive.outer_w[row, step, pane]


def _write(
    run: int, at: int, state: State, box: BoxNumbers, pots: PotNumbers, record: Record
) -> None:
    """Write down one moment."""
    record.air[run, at] = state.air
    record.lining[run, at] = state.lining
    record.wall[run, at] = state.walls[0]
    for pane in range(box.panes):
        record.panes[run, pane, 0, at] = state.inner[pane]
        record.panes[run, pane, 1, at] = state.outer[pane]
    for pot in range(pots.count):
        record.pots[run, pot, at] = state.pots[pot]
        solid = pots.shells[pot] > 0.0
        record.cores[run, pot, at] = state.shells[pot, 0] if solid else state.pots[pot]


def _stored(start: State, last: State, box: BoxNumbers, pots: PotNumbers) -> float:
    """Return the energy that box and pots hold more than at the start.  [J]"""
    near_j_k, far_j_k = box.wall_stores_j_k[0], box.wall_stores_j_k[1]
    total: float = box.lining_j_k * (last.lining - start.lining)
    total += near_j_k * (last.walls[0] - start.walls[0])
    total += far_j_k * (last.walls[1] - start.walls[1])
    for pane in range(box.panes):
        total += box.inner_j_k[pane] * (last.inner[pane] - start.inner[pane])
        total += box.outer_j_k[pane] * (last.outer[pane] - start.outer[pane])
    for pot in range(pots.count):
        total += pots.pot_j_k[pot] * (last.pots[pot] - start.pots[pot])
        for shell in range(int(pots.shells[pot])):
            moved_k = last.shells[pot, shell] - start.shells[pot, shell]
            total += pots.shell_j_k[pot, shell] * moved_k
    return total
