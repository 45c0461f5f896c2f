"""What the box has to be kept from: gusts and rain that a forecast speaks of."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, Literal

import numpy as np

if TYPE_CHECKING:
    from numpy.typing import NDArray

    from suntrack.sky.forecast import Forecast

GuardKind = Literal["gust", "rain"]
GUSTY_M_S = 10.8
"""Gusts from here on shake a hinged mirror: the lower edge of Beaufort force 6, strong breeze,
10.8 m/s (WMO scale, from memory); that a mirror wants closing there is our choice.  [m/s]"""
RAINY = 0.4
"""Chance of rain in an hour from which on the box wants its cover at hand (our choice).  [-]"""


@dataclass(frozen=True, slots=True, kw_only=True)
class Guard:
    """A stretch in which the box has to be kept from something."""

    kind: GuardKind
    """Gusts or rain."""
    starts_at_s: float
    """Seconds since 1970 UTC.  [s]"""
    ends_at_s: float
    """When it is over.  [s]"""
    most: float
    """The strongest gust [m/s], or the greatest chance of rain [-], in it."""


def guards_of(
    forecast: Forecast, *, starts_s: float, ends_s: float, gusty_m_s: float = GUSTY_M_S
) -> tuple[Guard, ...]:
    """Return the stretches of a span of time with gusts or rain, in order of time.

    Parameters
    ----------
    forecast : Forecast
        Gusts and the chance of rain may be missing; then nothing is said of them.
    starts_s, ends_s : float
        The span, seconds since 1970 UTC.  [s]
    gusty_m_s : float
        Gusts that count; less where a box has more than one mirror to shake.  [m/s]

    Returns
    -------
    guards : tuple of Guard
        Neighbouring intervals are one stretch, cut to the span.  Of members, gusts count as
        nine tenths of them stay under, chances of rain as their mean.
    """
    found = [
        *_stretches("gust", _gusts(forecast), gusty_m_s, forecast, (starts_s, ends_s)),
        *_stretches("rain", _rain(forecast), RAINY, forecast, (starts_s, ends_s)),
    ]
    return tuple(sorted(found, key=lambda guard: (guard.starts_at_s, guard.kind)))


def _gusts(forecast: Forecast) -> NDArray[np.float64] | None:
    values = forecast.gust_m_s
    return None if values is None else np.quantile(np.nan_to_num(values), 0.9, axis=0)


def _rain(forecast: Forecast) -> NDArray[np.float64] | None:
    values = forecast.rain_chance
    return None if values is None else np.nan_to_num(values).mean(axis=0)


def _stretches(
    kind: GuardKind,
    values: NDArray[np.float64] | None,
    level: float,
    forecast: Forecast,
    span_s: tuple[float, float],
) -> list[Guard]:
    """Return where values reach a level, neighbours joined."""
    if values is None:
        return []
    found: list[Guard] = []
    rows = zip(forecast.starts_at_s, forecast.ends_at_s, values.tolist(), strict=True)
    for first, last, value in rows:
        first_s, last_s = max(float(first), span_s[0]), min(float(last), span_s[1])
        if value < level or first_s >= last_s:
            continue
        if found and found[-1].ends_at_s == first_s:
            before = found.pop()
            first_s, value = before.starts_at_s, max(before.most, value)
        found.append(Guard(kind=kind, starts_at_s=first_s, ends_at_s=last_s, most=value))
    return found
