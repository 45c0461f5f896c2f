"""Figures of merit: how good is this box, in the terms that test standards use.

The formulas of IS 13429 (after Mullick, Kandpal and Saxena 1987) and of ASAE S580.1, and
tests run on the simulator: the power line of S580, the empty box in steady sun, how long
it stays warm.  Keep two kinds of sunlight apart: IS 13429 counts what falls on a level
square metre, mirror unused; S580 what falls on one square to the sun.
"""

from __future__ import annotations

from dataclasses import dataclass
from math import log
from typing import TYPE_CHECKING

import numpy as np

from suntrack.box.film import swinbank_sky_c
from suntrack.box.gain import BoxLight
from suntrack.box.heat import Climate, Trace, simulate

if TYPE_CHECKING:
    from collections.abc import Sequence

    from numpy.typing import ArrayLike, NDArray

    from suntrack.box.heat import PotCharge
    from suntrack.box.thermal import Thermal

WATER_J_KGK = 4186.0
"""As S580 has it.  [J/(kg K)]"""
INTERVAL_S = 600.0
STANDARD_W_M2 = 700.0
STANDARD_DIFFERENCE_K = 50.0
WATER_SPAN_C = (40.0, 90.0)
"""Temperatures of the water that S580's intervals may lie between (from memory).  [C]"""


def first_figure_k_m2_w(plate_c: float, *, air_c: float, level_w_m2: float) -> float:
    """Return F1 of IS 13429: how far the empty box gets above the air, for its light.

    Parameters
    ----------
    plate_c : float
        Lining of the empty box when it no longer rises, mirror covered.  [C]
    air_c : float
        Outdoors.  [C]
    level_w_m2 : float
        Sunlight on a level surface; the standard asks for 600 or more.  [W/m2]

    Returns
    -------
    f1 : float
        0.12 and more is grade A, 0.11 and more grade B (from memory).  [K m2/W]
    """
    return (plate_c - air_c) / level_w_m2


def second_figure(
    f1_k_m2_w: float,
    *,
    water_j_k_m2: float,
    heating_s: float,
    cold_c: float,
    hot_c: float,
    air_c: float,
    level_w_m2: float,
) -> float:
    """Return F2 of IS 13429: how well the heat of the box gets into the pots.

    Parameters
    ----------
    f1_k_m2_w : float
        The first figure.  [K m2/W]
    water_j_k_m2 : float
        Water in the pots for each square metre of glass; the standard takes 8 kg.
        [J/(K m2)]
    heating_s : float
        From `cold_c` to `hot_c`.  [s]
    cold_c : float
        The standard takes 60.  [C]
    hot_c : float
        The standard takes 90.  [C]
    air_c : float
        Mean outdoors.  [C]
    level_w_m2 : float
        Mean sunlight on a level surface.  [W/m2]

    Returns
    -------
    f2 : float
        About 0.40 and more passes (from memory; 0.42 in one paper).  [-]

    Raises
    ------
    ValueError
        If a box with this F1 cannot get so hot.
    """
    span = _span(f1_k_m2_w, cold_c=cold_c, hot_c=hot_c, air_c=air_c, level_w_m2=level_w_m2)
    return f1_k_m2_w * water_j_k_m2 / heating_s * span


def heating_time_s(
    f1_k_m2_w: float,
    *,
    f2: float,
    water_j_k_m2: float,
    cold_c: float,
    hot_c: float,
    air_c: float,
    level_w_m2: float,
) -> float:
    """Return how long the water takes, from the two figures: `second_figure` turned round.

    Parameters
    ----------
    f1_k_m2_w : float
        The first figure.  [K m2/W]
    f2 : float
        The second figure.  [-]
    water_j_k_m2 : float
        Water in the pots for each square metre of glass.  [J/(K m2)]
    cold_c : float
        Where the water starts.  [C]
    hot_c : float
        Where it should get.  [C]
    air_c : float
        Mean outdoors.  [C]
    level_w_m2 : float
        Mean sunlight on a level surface.  [W/m2]

    Returns
    -------
    heating_s : float
        [s]

    Raises
    ------
    ValueError
        If a box with this F1 cannot get so hot.
    """
    span = _span(f1_k_m2_w, cold_c=cold_c, hot_c=hot_c, air_c=air_c, level_w_m2=level_w_m2)
    return f1_k_m2_w * water_j_k_m2 / f2 * span


def _span(
    f1_k_m2_w: float, *, cold_c: float, hot_c: float, air_c: float, level_w_m2: float
) -> float:
    """Return the logarithm in both formulas.  [-]"""
    highest_k = f1_k_m2_w * level_w_m2
    if hot_c - air_c >= highest_k:
        msg = (
            f"hot_c is {hot_c}; with this F1 and light it has to be below "
            f"{air_c + highest_k:.1f}, where the empty box stops"
        )
        raise ValueError(msg)
    return log((1 - (cold_c - air_c) / highest_k) / (1 - (hot_c - air_c) / highest_k))


def cooking_power_w(rise_k: ArrayLike, *, water_kg: float) -> NDArray[np.float64]:
    """Return S580's cooking power of each 10-minute interval (equation 1).

    Parameters
    ----------
    rise_k : array_like
        Rise of the water in the interval.  [K]
    water_kg : float
        Water in all pots.  [kg]

    Returns
    -------
    power : ndarray
        In the shape of `rise_k`.  [W]
    """
    return np.asarray(rise_k, np.float64) * water_kg * WATER_J_KGK / INTERVAL_S


def standard_power_w(power_w: ArrayLike, *, normal_w_m2: ArrayLike) -> NDArray[np.float64]:
    """Return S580's power as it would be in 700 W/m2 (equation 2).

    Parameters
    ----------
    power_w : array_like
        Cooking power of each interval.  [W]
    normal_w_m2 : array_like
        Its mean sunlight on a surface square to the sun.  [W/m2]

    Returns
    -------
    power : ndarray
        In the broadcast shape.  [W]
    """
    scale = STANDARD_W_M2 / np.asarray(normal_w_m2, np.float64)
    return np.asarray(power_w, np.float64) * scale


@dataclass(frozen=True, slots=True, kw_only=True)
class PowerLine:
    """S580's straight line of standard power against water less air."""

    still_w: float
    """Power with the water as warm as the air.  [W]"""
    slope_w_k: float
    """Power lost for each degree that the water is warmer.  [W/K]"""
    r2: float
    """Share of the scatter that the line explains; S580 asks for more than 0.75.  [-]"""

    @property
    def at_50_w(self) -> float:
        """The one figure that S580 reports: power at 50 K above the air.  [W]"""
        return self.still_w - STANDARD_DIFFERENCE_K * self.slope_w_k


def power_line(standard_w: ArrayLike, *, difference_k: ArrayLike) -> PowerLine:
    """Return the straight line through the intervals (S580, 7.6 and 7.7).

    Parameters
    ----------
    standard_w : array_like
        Standard power of each interval.  [W]
    difference_k : array_like
        Its mean water temperature less that of the air.  [K]

    Returns
    -------
    line : PowerLine
        By least squares.

    Raises
    ------
    ValueError
        If there are fewer than three intervals.
    """
    power, difference = np.asarray(standard_w, np.float64), np.asarray(difference_k, np.float64)
    if power.size < 3:
        msg = f"{power.size} intervals are too few for a line; it takes 3 or more"
        raise ValueError(msg)
    slope, still = np.polyfit(difference, power, 1)
    left = power - (still + slope * difference)
    r2 = 1.0 - float(left @ left) / float(np.sum((power - power.mean()) ** 2))
    return PowerLine(still_w=float(still), slope_w_k=-float(slope), r2=r2)


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
    stores = np.array([pot.pot_j_k for pot in pots])
    water = (stores @ trace.pots_c[0] / stores.sum())[:: int(INTERVAL_S / 60.0)]
    cold, hot = water[:-1], water[1:]
    used = (cold >= WATER_SPAN_C[0]) & (hot <= WATER_SPAN_C[1])
    power = cooking_power_w((hot - cold)[used], water_kg=water_kg)
    standard = standard_power_w(power, normal_w_m2=normal_w_m2)
    return power_line(standard, difference_k=((cold + hot) / 2)[used] - air_c)


@dataclass(frozen=True, slots=True, kw_only=True)
class Standstill:
    """The empty box in steady sun, when it no longer rises."""

    air_c: float
    lining_c: float
    oven_c: float
    """What an oven thermometer shows.  [C]"""
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
        lost_w={
            name: float((after - before)[0] / 3600.0)
            for name, before, after in (
                ("top", sunny.ledger.lost_top_j, longer.ledger.lost_top_j),
                ("front", sunny.ledger.lost_front_j, longer.ledger.lost_front_j),
                ("walls", sunny.ledger.lost_walls_j, longer.ledger.lost_walls_j),
                ("leak", sunny.ledger.lost_leak_j, longer.ledger.lost_leak_j),
            )
        },
        cooling_s=60.0 * _falls_to(excess, excess[0] * np.exp(-1.0)),
    )


def _falls_to(values: NDArray[np.float64], level: float) -> float:
    """Return where a falling curve meets a level, between samples by a straight line."""
    after = int(np.argmax(values <= level))
    return after - (level - values[after]) / (values[after - 1] - values[after])


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
        step_s=60.0,
        start_c=air_c,
    )
