"""The simulator: light and weather in, temperatures of box and dishes out.

One function, `simulate`, runs one day or ten thousand at once.  What happens in a step is
in `suntrack.box.network`; here are the records that go in and come out, and the splitting
of many runs into pieces that fit the processor.  Light comes from `suntrack.box.gain`,
pots from `suntrack.food`.
"""

from __future__ import annotations

from dataclasses import dataclass, fields
from typing import TYPE_CHECKING

import numpy as np

from suntrack.box.hours import Drive, glass_halves, pot_steps
from suntrack.box.march import cold_start, march
from suntrack.box.network import Network

if TYPE_CHECKING:
    from collections.abc import Sequence

    from numpy.typing import ArrayLike, NDArray

    from suntrack.box.gain import BoxLight
    from suntrack.box.march import Written
    from suntrack.box.number import Number
    from suntrack.box.state import State
    from suntrack.box.thermal import Thermal

_NEVER = np.iinfo(np.intp).max
"""The step at which a pot is pulled that never is.  [-]"""
CHUNK = 4096
"""Runs stepped together: enough to make numpy's calls cheap, few enough for the cache.  [-]"""
ALONE = 6
"""Fewer runs than this are stepped one by one on floats, which is quicker.  [-]"""


@dataclass(frozen=True, slots=True, kw_only=True)
class PotCharge:
    """A pot with its food, as stores and links."""

    pot_j_k: float
    """The pot itself and the free liquid in it.  [J/K]"""
    cells_j_k: tuple[float, ...] = ()
    """Shells of the solid pieces, core first; empty when all is liquid.  [J/K]"""
    links_w_k: tuple[float, ...] = ()
    """From each shell to the next, the last one to the pot.  [W/K]"""
    side_m2: float
    lid_m2: float
    base_m2: float
    emittance: float
    absorptance: float
    start_c: float
    boiling_c: float | None
    """None for a dry dish.  [C]"""
    lid_leak: float
    """Share of the vapour an open pot would lose.  [-]"""
    open_m2: float
    """Water surface.  [m2]"""


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Climate:
    """The air around the box, each of shape (runs or 1, steps)."""

    air_c: NDArray[np.float64]
    sky_c: NDArray[np.float64]
    wind_m_s: NDArray[np.float64]


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Ledger:
    """Where the energy of the day went, each of shape (runs,).  [J]

    Light in equals everything lost, evaporated and stored.
    """

    light_in_j: NDArray[np.float64]
    lost_top_j: NDArray[np.float64]
    lost_front_j: NDArray[np.float64]
    lost_walls_j: NDArray[np.float64]
    lost_leak_j: NDArray[np.float64]
    lost_opening_j: NDArray[np.float64]
    evaporated_j: NDArray[np.float64]
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
    longest_s: float = 120.0,
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
        Steps in which nothing new happens are taken together up to this time and the
        temperatures between are drawn as straight lines; 0 takes each step alone.  [s]

    Returns
    -------
    trace : Trace
        Temperatures and a ledger of energy.

    Raises
    ------
    ValueError
        If the step is not above 0, or the shapes do not fit together.

    Notes
    -----
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
        fronts=len(thermal.panes) - 1,
    )
    width = 1 if drive.runs < ALONE else CHUNK
    pieces = []
    for first in range(0, drive.runs, width):
        rows = slice(first, min(first + width, drive.runs))
        network = Network(thermal, pots, step_s=step_s)
        start = cold_start(network, start_c=drive.start(rows), like=drive.like(rows))
        hours = drive.piece(rows, longest_s=longest_s)
        last, written = march(network, start=start, hours=hours)
        pieces.append(_piece(network, start=start, last=last, written=written, counts=hours.counts))
    return _join(pieces, light_in_j=drive.light_in_j())


def _drive(
    light: BoxLight,
    climate: Climate,
    *,
    load_step: NDArray[np.intp],
    pull_step: NDArray[np.intp],
    opening_steps: NDArray[np.bool_] | None,
    start_c: NDArray[np.float64],
    step_s: float,
    fronts: int,
) -> Drive:
    """Return what drives the runs, every array in two dimensions."""
    inside_w = np.atleast_2d(light.inside_w)
    steps = inside_w.shape[1]
    openings = (light.top_panes_w, light.front_panes_w)[: 1 + fronts]
    halves = [glass_halves(panes_w, steps=steps) for panes_w in openings]
    opened = np.zeros((1, steps), np.bool_) if opening_steps is None else opening_steps
    weather = (climate.air_c, climate.sky_c, climate.wind_m_s)
    air_c, sky_c, wind_m_s = (
        np.broadcast_to(part, (part.shape[0], steps)) for part in map(np.atleast_2d, weather)
    )
    return Drive(
        inside_w=inside_w,
        inner_w=tuple(inner for inner, _ in halves),
        outer_w=tuple(outer for _, outer in halves),
        air_c=air_c,
        sky_c=sky_c,
        wind_m_s=wind_m_s,
        load_step=load_step,
        pull_step=pull_step,
        opened=np.atleast_2d(opened),
        start_c=start_c,
        step_s=step_s,
    )


def _piece(
    network: Network, *, start: State, last: State, written: Written, counts: Sequence[int]
) -> Trace:
    """Return the trace of a piece of the runs, the light still missing from its ledger."""
    between = _Between(counts)
    panes = [
        np.stack([between(_over(side, i)) for side in (written.inner, written.outer)], axis=1)
        for i in range(len(network.thermal.panes))
    ]
    runs, _, times = panes[0].shape
    none = np.empty((runs, 0, times))
    pots, cores = (
        np.stack([between(_over(part, i)) for i in range(len(network.pots))], axis=1)
        if network.pots
        else none
        for part in (written.pots, written.cores)
    )
    return Trace(
        air_c=between(written.air),
        lining_c=between(written.lining),
        wall_c=between(written.wall),
        top_panes_c=panes[0],
        front_panes_c=panes[1] if len(panes) > 1 else none,
        pots_c=pots,
        core_c=cores,
        ledger=_ledger(network, start=start, last=last, runs=runs),
    )


class _Between:
    """From values at the ends of strides to values at the ends of steps, by straight lines."""

    def __init__(self, counts: Sequence[int]) -> None:
        steps = np.array(counts)
        stride = np.repeat(np.arange(steps.size), steps)
        begins = np.cumsum(steps) - steps
        self.before = np.append(stride, steps.size - 1)
        done = np.append(np.arange(stride.size), stride.size) - begins[self.before]
        self.share = done / steps[self.before]

    def __call__(self, values: Sequence[Number]) -> NDArray[np.float64]:
        """Return an array of shape (runs, steps + 1)."""
        ends = np.asarray(values, np.float64).reshape(len(values), -1)
        share = self.share[:, None]
        line = (1.0 - share) * ends[self.before] + share * ends[self.before + 1]
        return np.ascontiguousarray(line.T)


def _over(written: Sequence[Sequence[Number]], place: int) -> list[Number]:
    """Return the values of one place over time."""
    return [moment[place] for moment in written]


def _ledger(network: Network, *, start: State, last: State, runs: int) -> Ledger:
    """Return where the energy of a piece of the runs went."""
    totals = network.totals

    def each(value: Number) -> NDArray[np.float64]:
        return np.array(np.broadcast_to(np.asarray(value, np.float64), (runs,)))

    return Ledger(
        light_in_j=each(0.0),
        lost_top_j=each(totals.panes[0]),
        lost_front_j=each(totals.panes[1] if len(totals.panes) > 1 else 0.0),
        lost_walls_j=each(totals.walls),
        lost_leak_j=each(totals.leak),
        lost_opening_j=each(totals.opening),
        evaporated_j=each(totals.vapour),
        stored_j=each(network.stored_j(start, last)),
    )


def _join(pieces: Sequence[Trace], *, light_in_j: NDArray[np.float64]) -> Trace:
    """Return the pieces one below the other, with the light that came in."""
    ledger = {
        field.name: np.concatenate([getattr(piece.ledger, field.name) for piece in pieces])
        for field in fields(Ledger)
    }
    ledger["light_in_j"] = light_in_j
    lines = {
        field.name: np.concatenate([getattr(piece, field.name) for piece in pieces])
        for field in fields(Trace)
        if field.name != "ledger"
    }
    return Trace(**lines, ledger=Ledger(**ledger))
