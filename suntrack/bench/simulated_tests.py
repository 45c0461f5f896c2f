"""Tests of a box, run on the simulator in the steady light of one moment.

The cooking power line of ASAE S580.1, the heating of water as in IS 13429, and the empty box:
where it stops, what it loses, how it cools.  The formulas are in
`suntrack.box.standard_figures`.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from suntrack.box.heat.convection import swinbank_sky_c
from suntrack.box.heat.simulate import Climate, Trace, simulate
from suntrack.box.light.gain import BoxLight
from suntrack.box.standard_figures import (
    INTERVAL_S,
    PowerLine,
    cooking_power_w,
    power_line,
    standard_power_w,
)

if TYPE_CHECKING:
    from collections.abc import Sequence

    from numpy.typing import NDArray

    from suntrack.box.heat.network import Thermal
    from suntrack.box.heat.simulate import Ledger
    from suntrack.box.heat.structs import PotCharge

STEP_S = 60.0
WATER_SPAN_C = (40.0, 90.0)
"""Temperatures of the water that S580's intervals may lie between (from memory).  [C]"""


def power_test(
    thermal: Thermal,
    *,
    light: BoxLight,
    normal_w_m2: float,
    pots: Sequence[PotCharge],
    water_kg: float,
    air_c: float = 27.5,
    wind_m_s: float = 0.5,
) -> PowerLine:
    """Return the power line of S580, the test run on the simulator.

    Parameters
    ----------
    thermal : Thermal
        The box.  [-]
    light : BoxLight
        What it takes in at one moment; that moment is kept up.  [W]
    normal_w_m2 : float
        Sunlight square to the sun at that moment.  [W/m2]
    pots : sequence of PotCharge
        With the water in them; S580 takes 7 kg for each square metre of sun caught.  [-]
    water_kg : float
        Water in all pots.  [kg]
    air_c : float
        Outdoors; S580 allows 20 to 35.  [C]
    wind_m_s : float
        S580 allows less than 1.  [m/s]

    Returns
    -------
    line : PowerLine
        From the intervals in which the water is between 40 and 90 C.

    Raises
    ------
    ValueError
        If the water passes through fewer than three intervals in eight hours.
    """
    trace = _steady(thermal, light=light, air_c=air_c, wind_m_s=wind_m_s, pots=pots, hours=8)
    water = _water_c(trace, pots)[:: int(INTERVAL_S / STEP_S)]
    cold, hot = water[:-1], water[1:]
    used = (cold >= WATER_SPAN_C[0]) & (hot <= WATER_SPAN_C[1])
    power = cooking_power_w((hot - cold)[used], water_kg=water_kg)
    standard = standard_power_w(power, normal_w_m2=normal_w_m2)
    return power_line(standard, difference_k=((cold + hot) / 2)[used] - air_c)


def heating_span_s(
    thermal: Thermal,
    *,
    light: BoxLight,
    pots: Sequence[PotCharge],
    span_c: tuple[float, float],
    air_c: float = 27.5,
    wind_m_s: float = 0.5,
) -> float | None:
    """Return how long the water takes between two temperatures; None when it stops before.

    Parameters
    ----------
    thermal : Thermal
        The box.  [-]
    light : BoxLight
        What it takes in at one moment; that moment is kept up.  [W]
    pots : sequence of PotCharge
        With the water in them; IS 13429 takes 8 kg for each square metre of glass.  [-]
    span_c : tuple of float
        From and to, as the mean of all pots; IS 13429 takes 60 and 90.  [C]
    air_c : float
        Outdoors.  [C]
    wind_m_s : float
        At the box.  [m/s]

    Returns
    -------
    heating_s : float or None
        None when the water does not get there in twelve hours.  [s]
    """
    trace = _steady(thermal, light=light, air_c=air_c, wind_m_s=wind_m_s, pots=pots, hours=12)
    water = _water_c(trace, pots)
    if water[-1] < span_c[1]:
        return None
    cold, hot = (_rises_to(water, level) for level in span_c)
    return STEP_S * (hot - cold)


def _water_c(trace: Trace, pots: Sequence[PotCharge]) -> NDArray[np.float64]:
    """Return the mean temperature of the water, each pot by its store.  [C]"""
    stores = np.array([pot.pot_j_k for pot in pots])
    return np.asarray(stores @ trace.pots_c[0] / stores.sum())


@dataclass(frozen=True, slots=True, kw_only=True)
class Standstill:
    """The empty box in steady sun, when it no longer rises."""

    air_c: float
    """Air in the box when nothing changes any more.  [C]"""
    lining_c: float
    """Black lining then.  [C]"""
    oven_c: float
    """What an oven thermometer shows.  [C]"""
    wall_c: float
    """Inner half of the wall.  [C]"""
    top_panes_c: tuple[float, float]
    """Inner and outer glass of the top, or the two faces of its one.  [C]"""
    front_panes_c: tuple[float, float] | None
    """The same in front; None for a solid front.  [C]"""
    lost_w: dict[str, float]
    """Through top, front, walls and leak.  [W]"""
    cooling_s: float
    """Time in which the lining loses 63 % of its excess once the sun is gone.  [s]"""

    @property
    def shares(self) -> dict[str, float]:
        """Each loss as a share of all.  [-]"""
        total = sum(self.lost_w.values())
        return {name: lost / total for name, lost in self.lost_w.items()}


def standstill(
    thermal: Thermal, *, light: BoxLight, air_c: float = 25.0, wind_m_s: float = 1.0
) -> Standstill:
    """Return where the empty box stops in steady sun, what it loses, how it cools.

    Parameters
    ----------
    thermal : Thermal
        The box.  [-]
    light : BoxLight
        What it takes in at one moment; that moment is kept up.  [W]
    air_c : float
        Outdoors.  [C]
    wind_m_s : float
        At the box.  [m/s]

    Returns
    -------
    standstill : Standstill
        After twelve hours of this sun.
    """
    sunny = _steady(thermal, light=light, air_c=air_c, wind_m_s=wind_m_s, hours=12)
    longer = _steady(thermal, light=light, air_c=air_c, wind_m_s=wind_m_s, hours=13)
    dark = _steady(thermal, light=light, air_c=air_c, wind_m_s=wind_m_s, hours=24, sun_h=12)
    excess = dark.lining_c[0, 12 * 60 :] - air_c
    return Standstill(
        air_c=float(sunny.air_c[0, -1]),
        lining_c=float(sunny.lining_c[0, -1]),
        oven_c=float(sunny.oven_c[0, -1]),
        wall_c=float(sunny.wall_c[0, -1]),
        top_panes_c=_last_pair(sunny.top_panes_c),
        front_panes_c=_last_pair(sunny.front_panes_c) if sunny.front_panes_c.shape[1] else None,
        lost_w=_lost_w(sunny.ledger, longer.ledger),
        cooling_s=STEP_S * _falls_to(excess, excess[0] * np.exp(-1.0)),
    )


def _last_pair(panes_c: NDArray[np.float64]) -> tuple[float, float]:
    """Return inner and outer glass at the end of the first run.  [C]"""
    return float(panes_c[0, 0, -1]), float(panes_c[0, 1, -1])


def _lost_w(before: Ledger, after: Ledger) -> dict[str, float]:
    """Return what is lost in the hour between two ledgers.  [W]"""
    names = {name: f"lost_{name}_j" for name in ("top", "front", "walls", "leak")}
    return {
        name: float((getattr(after, field) - getattr(before, field))[0] / 3600.0)
        for name, field in names.items()
    }


def _falls_to(values: NDArray[np.float64], level: float) -> float:
    """Return where a falling curve meets a level, between samples by a straight line."""
    after = int(np.argmax(values <= level))
    return float(after - (level - values[after]) / (values[after - 1] - values[after]))


def _rises_to(values: NDArray[np.float64], level: float) -> float:
    """Return where a rising curve meets a level, between samples by a straight line."""
    return _falls_to(-values, -level)


def _steady(
    thermal: Thermal,
    *,
    light: BoxLight,
    air_c: float,
    wind_m_s: float,
    pots: Sequence[PotCharge] = (),
    hours: int,
    sun_h: int | None = None,
) -> Trace:
    """Return so many hours of one moment's light, in steps of a minute; dark after `sun_h`."""
    steps = 60 * hours
    on = np.arange(steps) < 60 * (hours if sun_h is None else sun_h)
    parts = {
        name: np.ravel(getattr(light, name))[:1] * on
        for name in ("inside_w", "top_w", "front_w", "mirror_w")
    }
    panes = {
        name: np.atleast_1d(np.squeeze(getattr(light, name)))[None, :] * on[:, None]
        for name in ("top_panes_w", "front_panes_w")
    }
    flat = np.ones((1, steps))
    climate = Climate(
        air_c=air_c * flat, sky_c=float(swinbank_sky_c(air_c)) * flat, wind_m_s=wind_m_s * flat
    )
    return simulate(
        thermal,
        light=BoxLight(**parts, **panes),
        climate=climate,
        pots=pots,
        step_s=STEP_S,
        start_c=air_c,
    )
