"""The weather of one day as data: what falls on the site, minute by minute.

A record here is already in the project's units and in UTC; how a feed's words become
this record is the business of `suntrack.edge`.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, Literal

if TYPE_CHECKING:
    from datetime import datetime

    import numpy as np
    from numpy.typing import NDArray

SkySource = Literal["clear sky", "typical sky", "forecast", "measured"]


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Weather:
    """Sunlight and air over a day, for one or more possible skies.

    Every array has the shape (skies, steps); step i covers
    [at_s[i], at_s[i] + step_s) and holds the value at the middle of that interval.  The
    first sky is the one that is planned for; where there are others, chances are counted
    over those.
    """

    at_s: NDArray[np.float64]
    """Start of each step, seconds since 1970 UTC, shape (steps,).  [s]"""
    step_s: float
    """Length of a step.  [s]"""
    global_horizontal_w_m2: NDArray[np.float64]
    """On level ground.  [W/m2]"""
    beam_normal_w_m2: NDArray[np.float64]
    """Square to the rays.  [W/m2]"""
    diffuse_horizontal_w_m2: NDArray[np.float64]
    """From the sky on level ground.  [W/m2]"""
    air_c: NDArray[np.float64]
    """Air outdoors.  [C]"""
    wind_m_s: NDArray[np.float64]
    """Wind at the height of the box.  [m/s]"""
    source: SkySource
    """Where it comes from."""
    issued_at: datetime | None = None
    """When the forecast was issued; None for the clear sky.  Aware."""
