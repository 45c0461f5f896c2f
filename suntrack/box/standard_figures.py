"""Figures of merit: how good is this box, in the terms that test standards use.

The formulas of IS 13429 (after Mullick, Kandpal and Saxena 1987) and of ASAE S580.1; the
tests themselves, run on the simulator, are in `suntrack.bench.simulated_tests`.  Keep two kinds of
sunlight apart: IS 13429 counts what falls on a level square metre, mirror unused; S580
what falls on one square to the sun.
"""

from __future__ import annotations

from dataclasses import dataclass
from math import log
from typing import TYPE_CHECKING

import numpy as np

if TYPE_CHECKING:
    from numpy.typing import ArrayLike, NDArray

WATER_J_KGK = 4186.0
"""As S580 has it.  [J/(kg K)]"""
INTERVAL_S = 600.0
STANDARD_W_M2 = 700.0
STANDARD_DIFFERENCE_K = 50.0
GRADE_A_K_M2_W, GRADE_B_K_M2_W = 0.12, 0.11
"""Least F1 of the two grades of IS 13429 (from memory).  [K m2/W]"""
SECOND_LEAST = 0.40
"""Least F2 of IS 13429 (from memory; one paper has 0.42).  [-]"""
FIRST_SEEN_K_M2_W = (0.11, 0.16)
"""F1 of measured boxes, lowest and highest usually published (from memory).  [K m2/W]"""
SECOND_SEEN = (0.25, 0.47)
"""F2 of measured boxes; it grows with the load and the number of pots: Mullick, Kandpal and
Kumar, Solar Energy 57 (1996) 409 (from memory).  [-]"""
FIRST_LOAD_KG_M2, POWER_LOAD_KG_M2 = 8.0, 7.0
"""Water in the pots: IS 13429 for each square metre of glass, S580 for each square metre of
sun caught (from memory).  [kg/m2]"""
LEAST_R2 = 0.75
"""S580 asks for a line that explains more than this (from memory).  [-]"""
MIRROR_RISE_SEEN = (1.21, 1.23)
"""Rise over the air with a mirror to that without, in one measured box with a double-glazed
lid: 138 and 119 C in air of 27 to 35 C; Ekechukwu and Ugwuoke, Renewable Energy 28 (2003)
1935 (abstract, from memory).  [-]"""


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


def grade_of(f1_k_m2_w: float) -> str | None:
    """Return the grade of IS 13429 that an F1 reaches, A or B; None below both."""
    if f1_k_m2_w >= GRADE_A_K_M2_W:
        return "A"
    return "B" if f1_k_m2_w >= GRADE_B_K_M2_W else None


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
