"""The simulator: light and weather in, temperatures of box and dishes out.

One function, `simulate`, runs one day or ten thousand at once.  What happens in a day is in
`suntrack.box.heat.integrate`, in a step in `suntrack.box.heat.step`; here are the records that
go in and come out, and the sharing of many runs among the processors.  Light comes from
`suntrack.box.light.gain`, pots from `suntrack.food`.
"""

from __future__ import annotations

from concurrent.futures import ThreadPoolExecutor
from dataclasses import dataclass
from functools import cache
from typing import TYPE_CHECKING

import numpy as np

from suntrack.box.compiled import run_days
from suntrack.box.heat.forcing import check_shapes, glass_halves, light_in_j, pot_steps
from suntrack.box.heat.integrate import Drive, Record, new_work
from suntrack.box.heat.pack_structs import box_numbers, pot_numbers
from suntrack.box.heat.step import FIRST_LOSS, LEAK, OPENING, VAPOUR, WALLS
from suntrack.box.heat.structs import LOSSES, PotCharge

if TYPE_CHECKING:
    from collections.abc import Sequence

    from numpy.typing import ArrayLike, NDArray

    from suntrack.box.heat.network import Thermal
    from suntrack.box.light.gain import BoxLight

_NEVER = np.iinfo(np.intp).max
"""The step at which a pot is pulled that never is.  [-]"""
CROWD = 32
"""Fewer runs than this are not worth a second thread; more are shared in such pieces.  [-]"""


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Climate:
    """The air around the box, each of shape (runs or 1, steps)."""

    air_c: NDArray[np.float64]
    """Air outdoors.  [C]"""
    sky_c: NDArray[np.float64]
    """What the sky radiates as.  [C]"""
    wind_m_s: NDArray[np.float64]
    """Wind at the box.  [m/s]"""


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Ledger:
    """Where the energy of the day went, each of shape (runs,).  [J]

    Light in equals everything lost, evaporated and stored.
    """

    light_in_j: NDArray[np.float64]
    """Taken in.  [J]"""
    lost_top_j: NDArray[np.float64]
    """Through the top.  [J]"""
    lost_front_j: NDArray[np.float64]
    """Through the front.  [J]"""
    lost_walls_j: NDArray[np.float64]
    """Through the walls.  [J]"""
    lost_leak_j: NDArray[np.float64]
    """Through the seals.  [J]"""
    lost_opening_j: NDArray[np.float64]
    """While the lid was open.  [J]"""
    evaporated_j: NDArray[np.float64]
    """With vapour.  [J]"""
    stored_j: NDArray[np.float64]
    """In the box and in every pot, counted from each one's own start."""


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Trace:
    """Temperatures at the start of each step and at the end of the last.  [C]"""

    air_c: NDArray[np.float64]
    """Air in the box, shape (runs, steps + 1).  [C]"""
    lining_c: NDArray[np.float64]
    """Shape (runs, steps + 1).  [C]"""
    wall_c: NDArray[np.float64]
    """Inner half of the wall, shape (runs, steps + 1).  [C]"""
    top_panes_c: NDArray[np.float64]
    """Inner glass, outer glass (or the two faces of one), shape (runs, 2, steps + 1).  [C]"""
    front_panes_c: NDArray[np.float64]
    """The same in front, shape (runs, 2 or 0, steps + 1).  [C]"""
    pots_c: NDArray[np.float64]
    """Pot and liquid, shape (runs, pots, steps + 1).  A pot waits at its start temperature
    and, once pulled, keeps its last one.  [C]"""
    core_c: NDArray[np.float64]
    """Innermost shell, or the liquid without shells, shape (runs, pots, steps + 1).  [C]"""
    ledger: Ledger
    """Where the energy went."""

    @property
    def oven_c(self) -> NDArray[np.float64]:
        """What an oven thermometer in the box shows, shape (runs, steps + 1).  [C]

        It feels the air and the glow of the lining about alike: films of convection and
        of radiation are both near 8 W/(m2 K) there.
        """
        return 0.5 * (self.air_c + self.lining_c)


def simulate(
    thermal: Thermal,
    *,
    light: BoxLight,
    climate: Climate,
    pots: Sequence[PotCharge] = (),
    load_step: ArrayLike = 0,
    pull_step: ArrayLike | None = None,
    step_s: float,
    start_c: ArrayLike,
    opening_steps: NDArray[np.bool_] | None = None,
    longest_s: float = 30.0,
) -> Trace:
    """Return the temperatures of a box and its pots through one or many days.

    Parameters
    ----------
    thermal : Thermal
        The box.  [-]
    light : BoxLight
        Light absorbed in each step, shape (runs or 1, steps) or (steps,).  [W]
    climate : Climate
        Air, sky and wind of each step, the same shapes.  [C], [m/s]
    pots : sequence of PotCharge
        Every pot of the day.  [-]
    load_step : array_like
        Step at whose start each pot goes in, shape (runs or 1, pots), (pots,) or ().  At
        or past the last step means never; below 0 means it was in before.  [-]
    pull_step : array_like, optional
        Step at whose start each pot comes out, the same shapes; None for never.  [-]
    step_s : float
        Length of a step, above 0.  [s]
    start_c : array_like
        The whole box at the start, shape (runs,) or ().  [C]
    opening_steps : ndarray of bool, optional
        Further steps in which the lid is lifted, shape (runs or 1, steps).  [-]
    longest_s : float
        A step is walked in strides no longer than this, above 0.  [s]

    Returns
    -------
    trace : Trace
        Temperatures and a ledger of energy.

    Raises
    ------
    ValueError
        If a length of time is not above 0, or the shapes do not fit together.

    Notes
    -----
    Every array may have fewer rows than there are runs, so long as their number divides
    that of the runs; it is then gone through again and again.  D plans under S skies are
    D x S runs with S rows of light, and each plan's loads repeated S times.

    Each load or pull lifts the lid for 45 s, in which the air loses heat through the
    opening.  A pot that boils is held at its boiling point and the surplus is vapour.
    """
    drive = _drive(
        light,
        climate,
        load_step=pot_steps(load_step, pots=len(pots)),
        pull_step=pot_steps(_NEVER if pull_step is None else pull_step, pots=len(pots)),
        opening_steps=opening_steps,
        start_c=np.atleast_1d(np.asarray(start_c, np.float64)),
        step_s=step_s,
        longest_s=longest_s,
        panes=len(thermal.panes),
    )
    runs = check_shapes(drive)
    record = blank_record(
        runs, panes=len(thermal.panes), pots=len(pots), steps=drive.air_c.shape[1]
    )
    _walk(box_numbers(thermal), pot_numbers(pots, thermal=thermal), drive, record)
    return _trace(record, light_in_j=light_in_j(drive, runs=runs))


def _walk(box: NDArray[np.void], pots: NDArray[np.void], drive: Drive, record: Record) -> None:
    """Walk every run through its day, on every processor when there are many."""
    runs, walk = record.air.shape[0], run_days()
    if runs < CROWD:
        walk(0, runs, box, pots, drive, new_work(), record)
        return
    pieces = [(first, min(first + CROWD, runs)) for first in range(0, runs, CROWD)]
    # The compiled days hold no lock, so threads share the work; each writes its own rows.
    for done in [
        _threads().submit(walk, *piece, box, pots, drive, new_work(), record) for piece in pieces
    ]:
        done.result()


@cache
def _threads() -> ThreadPoolExecutor:
    """Return threads that are kept: a plan has dozens of crowds to walk."""
    return ThreadPoolExecutor(thread_name_prefix="days")


def _drive(
    light: BoxLight,
    climate: Climate,
    *,
    load_step: NDArray[np.intp],
    pull_step: NDArray[np.intp],
    opening_steps: NDArray[np.bool_] | None,
    start_c: NDArray[np.float64],
    step_s: float,
    longest_s: float,
    panes: int,
) -> Drive:
    """Return what drives the runs, every array with runs in its first dimension."""
    inside_w = np.atleast_2d(light.inside_w)
    steps = inside_w.shape[1]
    openings = (light.top_panes_w, light.front_panes_w)[:panes]
    inner_w, outer_w = glass_halves(openings, steps=steps)
    opened = np.zeros((1, steps), np.bool_) if opening_steps is None else opening_steps
    weather = (climate.air_c, climate.sky_c, climate.wind_m_s)
    air_c, sky_c, wind_m_s = (
        np.ascontiguousarray(np.broadcast_to(part, (part.shape[0], steps)), np.float64)
        for part in map(np.atleast_2d, weather)
    )
    return Drive(
        inside_w=np.ascontiguousarray(inside_w, np.float64),
        inner_w=inner_w,
        outer_w=outer_w,
        air_c=air_c,
        sky_c=sky_c,
        wind_m_s=wind_m_s,
        load_step=load_step,
        pull_step=pull_step,
        opened=np.ascontiguousarray(np.atleast_2d(opened)),
        start_c=start_c,
        step_s=float(step_s),
        longest_s=float(longest_s),
    )


def blank_record(runs: int, *, panes: int, pots: int, steps: int) -> Record:
    """Return room for what is written down, see the fields for the shapes."""
    return Record(
        air=np.empty((runs, steps + 1)),
        lining=np.empty((runs, steps + 1)),
        wall=np.empty((runs, steps + 1)),
        panes=np.empty((runs, panes, 2, steps + 1)),
        pots=np.empty((runs, pots, steps + 1)),
        cores=np.empty((runs, pots, steps + 1)),
        totals=np.zeros((runs, LOSSES)),
        stored=np.empty(runs),
    )


def _trace(record: Record, *, light_in_j: NDArray[np.float64]) -> Trace:
    """Return what was written down by its names."""
    totals, front = record.totals, record.panes.shape[1] > 1
    return Trace(
        air_c=record.air,
        lining_c=record.lining,
        wall_c=record.wall,
        top_panes_c=record.panes[:, 0],
        front_panes_c=record.panes[:, 1] if front else record.panes[:, 0, :0],
        pots_c=record.pots,
        core_c=record.cores,
        ledger=Ledger(
            light_in_j=light_in_j,
            lost_top_j=totals[:, FIRST_LOSS],
            lost_front_j=totals[:, FIRST_LOSS + 1] if front else 0.0 * totals[:, FIRST_LOSS],
            lost_walls_j=totals[:, WALLS],
            lost_leak_j=totals[:, LEAK],
            lost_opening_j=totals[:, OPENING],
            evaporated_j=totals[:, VAPOUR],
            stored_j=record.stored,
        ),
    )
