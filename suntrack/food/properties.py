"""What food is to heat: specific heat, conductivity, density; and where water boils.

Component equations of Choi and Okos (1986), in "Food Engineering and Process
Applications" vol. 1, 93-101, with the water constant 4.1762: the one with which the
specific heats of the ASHRAE table come out (the 4.1289 in some reprints is 1 % low).
How heat moves through a piece is in `suntrack.food.core`.
"""

from __future__ import annotations

from dataclasses import dataclass, fields
from typing import TYPE_CHECKING

import numpy as np

from suntrack.food.dish import Composition

if TYPE_CHECKING:
    from numpy.typing import ArrayLike, NDArray

# Coefficients of 1, T, T^2 with T in C; specific heat in kJ/(kg K), conductivity in
# W/(m K), density in kg/m3.  All but water's 4.1762 (from memory) were found in CoolProp.
SPECIFIC_HEAT = {
    "water": (4.1762, -9.0864e-5, 5.4731e-6),
    "protein": (2.0082, 1.2089e-3, -1.3129e-6),
    "fat": (1.9842, 1.4733e-3, -4.8008e-6),
    "carbohydrate": (1.5488, 1.9625e-3, -5.9399e-6),
    "fibre": (1.8459, 1.8306e-3, -4.6509e-6),
    "ash": (1.0926, 1.8896e-3, -3.6817e-6),
}
CONDUCTIVITY = {
    "water": (5.7109e-1, 1.7625e-3, -6.7036e-6),
    "protein": (1.7881e-1, 1.1958e-3, -2.7178e-6),
    "fat": (1.8071e-1, -2.7604e-4, -1.7749e-7),
    "carbohydrate": (2.0141e-1, 1.3874e-3, -4.3312e-6),
    "fibre": (1.8331e-1, 1.2497e-3, -3.1683e-6),
    "ash": (3.2962e-1, 1.4011e-3, -2.9069e-6),
}
DENSITY = {
    "water": (9.9718e2, 3.1439e-3, -3.7574e-3),
    "protein": (1.3299e3, -5.1840e-1, 0.0),
    "fat": (9.2559e2, -4.1757e-1, 0.0),
    "carbohydrate": (1.5991e3, -3.1046e-1, 0.0),
    "fibre": (1.3115e3, -3.6589e-1, 0.0),
    "ash": (2.4238e3, -2.8063e-1, 0.0),
}
COMPONENTS = tuple(field.name for field in fields(Composition))

# Antoine's equation for water, 1 to 100 C, pressure in mmHg (Dortmund/Lange constants,
# from memory; within 0.05 C of IAPWS-95 up to 3000 m).
ANTOINE_A, ANTOINE_B, ANTOINE_C = 8.07131, 1730.63, 233.426
PA_PER_MMHG = 133.322
SEA_LEVEL_PA = 101325.0


@dataclass(frozen=True, slots=True, kw_only=True)
class FoodProperties:
    """A food as a material."""

    specific_heat_j_kgk: float
    """Heat for a degree.  [J/(kg K)]"""
    conductivity_w_mk: float
    """How readily heat passes.  [W/(m K)]"""
    density_kg_m3: float
    """Mass for its size.  [kg/m3]"""

    @property
    def diffusivity_m2_s(self) -> float:
        """How fast temperature spreads in it.  [m2/s]"""
        return self.conductivity_w_mk / (self.density_kg_m3 * self.specific_heat_j_kgk)


def food_properties(composition: Composition, *, temperature_c: float = 60.0) -> FoodProperties:
    """Return the properties of a food from what it is made of.

    Parameters
    ----------
    composition : Composition
        Mass shares that sum to 1.  [-]
    temperature_c : float
        0 to 150, unfrozen; 60 stands for a food on its way to the boil.  [C]

    Returns
    -------
    properties : FoodProperties
        See the fields for units.

    Raises
    ------
    ValueError
        If the shares do not sum to 1.

    Notes
    -----
    Mixing by mass for specific heat, by volume for density and conductivity (the parallel
    model).  Air in dough or crumb is not counted.
    """
    shares = np.array([getattr(composition, name) for name in COMPONENTS])
    if not abs(shares.sum() - 1.0) < 1e-6:
        msg = f"the shares of a food sum to {shares.sum():g}; they have to sum to 1"
        raise ValueError(msg)
    heat, conductivity, density = (
        np.array([np.polyval(table[name][::-1], temperature_c) for name in COMPONENTS])
        for table in (SPECIFIC_HEAT, CONDUCTIVITY, DENSITY)
    )
    volumes = shares / density
    return FoodProperties(
        specific_heat_j_kgk=float(1000.0 * (shares * heat).sum()),
        conductivity_w_mk=float((volumes * conductivity).sum() / volumes.sum()),
        density_kg_m3=float(1.0 / volumes.sum()),
    )


def standard_pressure_pa(elevation_m: ArrayLike) -> NDArray[np.float64]:
    """Return the pressure of the standard atmosphere.

    Parameters
    ----------
    elevation_m : array_like
        Above sea level, up to 11000.  [m]

    Returns
    -------
    pressure_pa : ndarray
        In the shape of `elevation_m`; ICAO/US 1976, formula from memory.  [Pa]
    """
    height = np.asarray(elevation_m, np.float64)
    return np.asarray(SEA_LEVEL_PA * (1.0 - 2.25577e-5 * height) ** 5.25588)


def boiling_at_pressure_c(pressure_pa: ArrayLike) -> NDArray[np.float64]:
    """Return the temperature at which water boils at a pressure.

    Parameters
    ----------
    pressure_pa : array_like
        Of the air at the site itself, not reduced to sea level; above 0.  [Pa]

    Returns
    -------
    boiling_c : ndarray
        In the shape of `pressure_pa`, by Antoine's equation.  [C]
    """
    mmhg = np.asarray(pressure_pa, np.float64) / PA_PER_MMHG
    return np.asarray(ANTOINE_B / (ANTOINE_A - np.log10(mmhg)) - ANTOINE_C)


def boiling_c(*, elevation_m: float) -> float:
    """Return the temperature at which water boils at an elevation, in standard air.

    Parameters
    ----------
    elevation_m : float
        Above sea level.  [m]

    Returns
    -------
    boiling_c : float
        About one degree lower for every 300 m.  [C]
    """
    return float(boiling_at_pressure_c(standard_pressure_pa(elevation_m)))
