"""When to look at the films anew, and how long a stride may be.

The films are taken anew whenever the box has moved by more than a degree since the last
look, at temperatures half as far ahead; just after a pot, the lid or a cloud has moved they
are taken at once, and the strides are short.  Everything here is compiled.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

from suntrack.box.heat.conductances import take_links
from suntrack.box.heat.step import air_c

if TYPE_CHECKING:
    from suntrack.box.heat.structs import (
        BoxNumbers,
        Conductances,
        Forcing,
        PotNumbers,
        State,
        Workspace,
    )

LOOK_K = 1.5
"""The films are taken anew when anything has moved by so much since the last look.  [K]"""
LOOK_M_S = 0.05
"""And when the wind has changed by so much, a film of 0.15 W/(m2 K).  [m/s]"""
STRIDE_K = 2.0
"""A stride is as long as the quickest part takes to move by so much.  [K]"""
QUICK_S = 10.0
"""The shortest stride, and the first after a pot, the lid or a cloud has moved.  [s]"""


def copy_state(target: State, source: State, pots: PotNumbers) -> None:
    """Write one moment over another."""
    target.air, target.lining = source.air, source.lining
    target.walls[:] = source.walls
    target.inner[:] = source.inner
    target.outer[:] = source.outer
    for pot in range(pots.count):
        target.pots[pot] = source.pots[pot]
        for shell in range(int(pots.shells[pot])):
            target.shells[pot, shell] = source.shells[pot, shell]


def strides_in(step_s: float, longest_s: float, bench: Workspace, news: bool) -> int:
    """Return in how many strides to walk a step."""
    fewest = int(np.ceil(step_s / longest_s))
    most = max(fewest, int(np.ceil(step_s / QUICK_S)))
    if news:
        return most
    wanted = int(np.ceil(step_s * bench.quickest_k_s / STRIDE_K))
    return min(most, max(fewest, wanted))


def look_at_news(
    state: State,
    before: State,
    looked: State,
    links: Conductances,
    bench: Workspace,
    minute: Forcing,
    box: BoxNumbers,
    pots: PotNumbers,
) -> None:
    """Take the films twice: the air jumps with the news, and its films with it."""
    for _ in range(2):
        take_links(links, state, minute, box, pots)
        state.air = air_c(state, links, minute, box, pots)
    take_links(links, state, minute, box, pots)
    copy_state(looked, state, pots)
    copy_state(before, state, pots)
    _remember(bench, minute)
    bench.quickest_k_s = 0.0


def look_ahead(
    state: State,
    before: State,
    ahead: State,
    looked: State,
    links: Conductances,
    bench: Workspace,
    minute: Forcing,
    box: BoxNumbers,
    pots: PotNumbers,
    stride_s: float,
) -> None:
    """Take the films where the box will be half a look ahead."""
    stride_k = bench.quickest_k_s * stride_s
    strides = min(3.0, max(0.5, 0.5 * LOOK_K / stride_k)) if stride_k > 0.0 else 0.0
    ahead.air = state.air + strides * (state.air - before.air)
    ahead.lining = state.lining + strides * (state.lining - before.lining)
    for pane in range(box.panes):
        ahead.inner[pane] = state.inner[pane] + strides * (state.inner[pane] - before.inner[pane])
        ahead.outer[pane] = state.outer[pane] + strides * (state.outer[pane] - before.outer[pane])
    for pot in range(pots.count):
        ahead.pots[pot] = state.pots[pot] + strides * (state.pots[pot] - before.pots[pot])
    take_links(links, ahead, minute, box, pots)
    copy_state(looked, state, pots)
    _remember(bench, minute)


def has_moved(
    state: State,
    looked: State,
    bench: Workspace,
    minute: Forcing,
    box: BoxNumbers,
    pots: PotNumbers,
) -> bool:
    """Return whether box or weather are no longer where they were at the last look."""
    if abs(minute.wind_m_s - bench.looked_wind_m_s) > LOOK_M_S:
        return True
    air_k = abs(minute.air_c - bench.looked_air_c)
    sky_k = abs(minute.sky_c - bench.looked_sky_c)
    return max(air_k, sky_k, largest_k(state, looked, minute, box, pots)) > LOOK_K


def largest_k(
    one: State, other: State, minute: Forcing, box: BoxNumbers, pots: PotNumbers
) -> float:
    """Return how far apart two moments are in the part that differs most.  [K]"""
    largest = max(abs(one.air - other.air), abs(one.lining - other.lining))
    for pane in range(box.panes):
        largest = max(largest, abs(one.inner[pane] - other.inner[pane]))
        largest = max(largest, abs(one.outer[pane] - other.outer[pane]))
    for pot in range(pots.count):
        if minute.inside[pot] > 0.0:
            largest = max(largest, abs(one.pots[pot] - other.pots[pot]))
    return largest


def _remember(bench: Workspace, minute: Forcing) -> None:
    """Write down the weather of a look."""
    bench.looked_air_c = minute.air_c
    bench.looked_sky_c = minute.sky_c
    bench.looked_wind_m_s = minute.wind_m_s
