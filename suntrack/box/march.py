"""Many steps in a row, for a handful of runs at once.

Here is decided when the films are taken anew and what is written down.  One run is
stepped on plain floats, more on arrays; `suntrack.box.heat` chooses.
"""

from __future__ import annotations

from dataclasses import dataclass, field, replace
from typing import TYPE_CHECKING

import numpy as np

from suntrack.box.state import State

if TYPE_CHECKING:
    from collections.abc import Sequence

    from suntrack.box.hours import Hours
    from suntrack.box.network import Network
    from suntrack.box.number import Number

LOOK_S = 600.0
"""The films are taken anew this often, at the temperatures half as far ahead.  [s]"""
NEWS_S = 300.0
"""And in every stride for so long after a pot, the lid or a cloud has moved.  [s]"""


@dataclass(slots=True)
class Written:
    """Temperatures at the start of each step and at the end of the last."""

    air: list[Number] = field(default_factory=list)
    lining: list[Number] = field(default_factory=list)
    wall: list[Number] = field(default_factory=list)
    inner: list[list[Number]] = field(default_factory=list)
    outer: list[list[Number]] = field(default_factory=list)
    pots: list[list[Number]] = field(default_factory=list)
    cores: list[list[Number]] = field(default_factory=list)

    def write(self, state: State, *, cores: list[Number]) -> None:
        """Write down one moment."""
        self.air.append(state.air)
        self.lining.append(state.lining)
        self.wall.append(state.wall_in)
        self.inner.append(state.inner)
        self.outer.append(state.outer)
        self.pots.append(state.pots)
        self.cores.append(cores)


def cold_start(network: Network, *, start_c: Number, like: Number) -> State:
    """Return a box at one temperature, its pots waiting beside it; `like` gives the shape."""
    box = start_c + like
    at: list[Number] = [pot.start_c + like for pot in network.pots]
    panes = network.thermal.panes
    return State(
        air=box,
        lining=box,
        wall_in=box,
        wall_out=box,
        inner=[box for _ in panes],
        outer=[box for _ in panes],
        pots=at,
        cells=[[c for _ in pot.cells_j_k] for pot, c in zip(network.pots, at, strict=True)],
    )


def march(network: Network, *, start: State, hours: Hours) -> tuple[State, Written]:
    """Stride through the hours; return the last state and everything in between."""
    before, state, written = start, start, Written()
    written.write(state, cores=network.cores(state, state))
    held: list[Number] = []
    look_s, new_s = LOOK_S, NEWS_S
    count = 0
    for i, steps in enumerate(hours.counts):
        outdoors, inside = hours.outdoors[i], hours.inside[i]
        new_s = 0.0 if hours.news[i] else new_s
        looks = look_s >= LOOK_S or new_s < NEWS_S
        if looks:
            span_s = steps * network.base_s if new_s < NEWS_S else LOOK_S
            # Straight after news the last rise is no guide to the next.
            strides = 0.5 * span_s / network.step_s if new_s > network.step_s else 0.0
            network.look(_ahead(before, state, strides), outdoors)
            look_s = 0.0
        if hours.news[i]:
            # The air jumps with the news, and its films with it; all else has a store.
            network.pace(steps)
            network.prepare(inside=inside, opening=hours.opening[i])
            network.look(replace(state, air=network.air(state, outdoors)), outdoors)
        if looks or steps != count:
            network.pace(steps)
        if looks or steps != count or hours.changes[i] or _differ(held, network.boiling):
            network.prepare(inside=inside, opening=hours.opening[i])
            held = list(network.boiling)
        before, state = (
            state,
            network.step(state, light=hours.light[i], outdoors=outdoors, inside=inside),
        )
        written.write(state, cores=network.cores(before, state))
        count = steps
        look_s, new_s = look_s + network.step_s, new_s + network.step_s
    return state, written


def _ahead(before: State, state: State, strides: float) -> State:
    """Return where box and pots are going: so many strides on, the shells left out."""

    def on(old: Number, new: Number) -> Number:
        return new + strides * (new - old)

    return State(
        air=on(before.air, state.air),
        lining=on(before.lining, state.lining),
        wall_in=state.wall_in,
        wall_out=on(before.wall_out, state.wall_out),
        inner=list(map(on, before.inner, state.inner)),
        outer=list(map(on, before.outer, state.outer)),
        pots=list(map(on, before.pots, state.pots)),
        cells=state.cells,
    )


def _differ(before: Sequence[Number], after: Sequence[Number]) -> bool:
    """Return whether any pot began or stopped to boil in any run."""
    pairs = zip(before, after, strict=True)
    return any(bool(np.any(old != new)) if _many(new) else old != new for old, new in pairs)


def _many(value: Number) -> bool:
    """Return whether a number is an array over runs."""
    return not isinstance(value, float)
